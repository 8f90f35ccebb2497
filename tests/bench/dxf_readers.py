"""The drawings for shops read by GDAL, which shares no line with the library that writes them.

    python -m tests.bench.dxf_readers --pieces 60 --seed 1            # with pyogrio in the environment
    python -m tests.bench.dxf_readers --pieces 60 --write /tmp/dxf    # the files and what they hold, for another reader

Every piece is written in R2000, R12 and R12 plain, corners sharp, round and with small holes. GDAL gives each entity as
lines, its arcs cut to chords: what is counted are entities by layer, and what is measured are areas, which chords under
five degrees make smaller by less than 1 part in 700 of what the arcs enclose, and the bounds. Ends with 1 where
anything differs; says so, and ends with 0, where GDAL is not there.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from itertools import product
from pathlib import Path, PurePosixPath
from random import Random

from msgspec.structs import replace

from cutmarks.cutting.paths import cuttings
from cutmarks.plan import Plan
from cutmarks.readings import Corners, DxfRelease, ShopWishes
from cutmarks.writers.dxf import dxf_files
from tests.bench.cutting_campaign import pieces
from tests.handmade import plan_of

RELEASES: tuple[DxfRelease, ...] = ("R2000", "R12", "R12 plain")
CORNERS = (Corners(), Corners("round", 5.0), Corners("holes", 6.0))


def drawings(count: int, seed: int) -> Iterator[tuple[str, bytes, dict[str, object]]]:
    """Each file with what it holds: entities by kind and layer, the area of the piece, its bounds."""
    for number, piece in enumerate(pieces(Random(seed), count)):
        plan = plan_of([piece], sheets=False)
        for release, corners in product(RELEASES, CORNERS):
            wishes = replace(ShopWishes(), dxf=release, corners=corners)
            made: Plan = replace(plan, shop=wishes, cuttings=cuttings(plan.pieces, 5.0, wishes))
            for one in dxf_files(made):
                cutting = made.cuttings[piece.name]
                held = {
                    "area": cutting.outline.area,
                    "bounds": list(cutting.finished),
                    "outer": sum(not path.is_inner for path in cutting.contours),
                    "inner": sum(path.is_inner for path in cutting.contours),
                    "holes": len(cutting.holes),
                    "plain": release == "R12 plain",
                }
                stem = f"{number:03d}_{release.replace(' ', '_')}_{corners.way}"
                yield f"{stem}_{PurePosixPath(one.name).name}", one.data, held


def wrong_in(path: Path, held: dict[str, object]) -> Iterator[str]:
    """What GDAL reads otherwise."""
    import pyogrio  # type: ignore[import-not-found, import-untyped, unused-ignore]
    import shapely

    _, _, geometries, fields = pyogrio.raw.read(path, columns=["Layer"])
    layers = Counter(fields[0].tolist())
    shapes = [(layer, shapely.from_wkb(one)) for layer, one in zip(fields[0], geometries, strict=True)]
    if not held["plain"]:
        expected = Counter(
            {"OUTER-NOMINAL": held["outer"], "INNER-NOMINAL": held["inner"], "HOLES-NOMINAL": held["holes"]}
        )
        if layers != +expected:
            yield f"{dict(layers)} entities, and {dict(+expected)} were drawn"
    area = 0.0
    for layer, sign in (("OUTER-NOMINAL", 1.0), ("INNER-NOMINAL", -1.0)):
        own = [shape for name, shape in shapes if name == layer]
        lines = [shape if shape.geom_type == "LineString" else shape.exterior for shape in own]
        found = shapely.get_parts(shapely.polygonize([shapely.set_precision(one, 1e-4) for one in lines]))
        area += sign * sum(one.area for one in found)
    want = float(str(held["area"]))
    if abs(area - want) > 0.002 * want:
        yield f"an area of {area:.2f}, and {want:.2f} was drawn"
    bounds = shapely.union_all([shape for layer, shape in shapes if layer == "OUTER-NOMINAL"]).bounds
    if max(abs(a - b) for a, b in zip(bounds, held["bounds"], strict=True)) > 0.001:  # type: ignore[call-overload]
        yield f"bounds {bounds}, and {held['bounds']} were drawn"


def main() -> int:
    """The command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pieces", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--write", type=Path)
    given = parser.parse_args()
    if given.write is not None:
        given.write.mkdir(parents=True, exist_ok=True)
        index = {}
        for name, data, held in drawings(given.pieces, given.seed):
            (given.write / name).write_bytes(data)
            index[name] = held
        (given.write / "index.json").write_text(json.dumps(index), encoding="utf-8")
        print(f"{len(index)} files written to {given.write}")
        return 0
    try:
        import pyogrio  # type: ignore[import-not-found, import-untyped, unused-ignore]
    except ImportError:
        print("SKIPPED: GDAL is not there (pip install pyogrio); nothing was read.")
        return 0
    wrong = files = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, data, held in drawings(given.pieces, given.seed):
            path = Path(folder) / name
            path.write_bytes(data)
            files += 1
            for fault in wrong_in(path, held):
                wrong += 1
                print(f"{name}: {fault}")
    print(f"GDAL {pyogrio.__gdal_version__}: {files} files, {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
