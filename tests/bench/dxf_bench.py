"""What the drawings of 1,000 pieces take, against ezdxf alone for the same entities, in one run.

    python -m tests.bench.dxf_bench --pieces 1000 --rounds 3

Processor time, both sides in turns of a hundred pieces. Ours makes the contours from the plan, names, writes and, the
first of each kind, opens and measures the files; ezdxf's makes a document for each file, adds what is in it and writes
it. Ends with 1 where ours takes more than 1.3 times as long.
"""

from __future__ import annotations

import argparse
import io
import sys
import time
from collections.abc import Iterator, Sequence
from random import Random

from ezdxf.filemanagement import new, read
from msgspec.structs import replace

from cutmarks.openings.model import CutPiece
from cutmarks.writers.dxf import dxf_files
from tests.bench.cutting_campaign import pieces
from tests.handmade import plan_of

MOST = 1.3
AT_ONCE = 100


def named(count: int, seed: int) -> Iterator[CutPiece]:
    """So many different pieces, each with a name of its own."""
    for number, piece in enumerate(pieces(Random(seed), count)):
        name = f"splash {number // 90 + 1}-{number % 90 + 1}"
        yield replace(piece, name=name, piece=replace(piece.piece, name=name))


def ours(some: Sequence[CutPiece]) -> list[bytes]:
    """The files of some pieces, as a run writes them."""
    plan = plan_of(some, sheets=False)
    return [data for one in dxf_files(plan) for data in (one.data, one.open_data)]


def entities_of(data: bytes) -> tuple[list[str], list[tuple[str, object, bool]]]:
    """Layers and entities of a file: circles as (x, y, r), polylines as their points."""
    document = read(io.StringIO(data.decode("ascii")))
    found: list[tuple[str, object, bool]] = []
    for one in document.modelspace():
        if one.dxftype() == "CIRCLE":
            found.append((one.dxf.layer, (one.dxf.center.x, one.dxf.center.y, one.dxf.radius), False))
        else:
            found.append((one.dxf.layer, one.get_points("xyb"), one.closed))  # type: ignore[attr-defined]
    return [layer.dxf.name for layer in document.layers], found


def theirs(held: Sequence[tuple[list[str], list[tuple[str, object, bool]]]]) -> int:
    """The same entities put into documents of ezdxf's and written; how many bytes."""
    written = 0
    for layers, entities in held:
        document = new("R2000", setup=False, units=4)
        for layer in layers:
            if layer not in document.layers:
                document.layers.add(layer)
        space = document.modelspace()
        for layer, shape, closed in entities:
            if isinstance(shape, tuple):
                x, y, r = shape
                space.add_circle((x, y), r, dxfattribs={"layer": layer})
            else:
                space.add_lwpolyline(shape, format="xyb", close=closed, dxfattribs={"layer": layer})  # type: ignore[arg-type]
        out = io.StringIO(newline="\n")
        document.write(out)
        written += len(out.getvalue())
    return written


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pieces", type=int, default=1000)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    all_pieces = list(named(given.pieces, given.seed))
    parts = [all_pieces[start : start + AT_ONCE] for start in range(0, len(all_pieces), AT_ONCE)]
    held = [[entities_of(data) for data in ours(part)] for part in parts]
    spent = {"ours": 0.0, "ezdxf": 0.0}
    files = sum(map(len, held))
    for _ in range(given.rounds):
        for part, entities in zip(parts, held, strict=True):
            start = time.process_time()
            ours(part)
            between = time.process_time()
            theirs(entities)
            spent["ours"] += between - start
            spent["ezdxf"] += time.process_time() - between
    ratio = spent["ours"] / spent["ezdxf"]
    own, other = (1000.0 * spent[name] / given.rounds / files for name in ("ours", "ezdxf"))
    print(f"{files} files of {given.pieces} pieces: ours {own:.2f} ms a file, ezdxf {other:.2f}: {ratio:.2f}")
    return 1 if ratio > MOST else 0


if __name__ == "__main__":
    sys.exit(main())
