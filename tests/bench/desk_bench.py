"""From a key that is typed to the new elevation: `python -m tests.bench.desk_bench`.

For the examples, and for a wall of 5,000 tiles with 60 holes: one figure of one hole is typed over again and again, and
the drawing made anew. First what it takes of the processor, beside what the plan alone takes, in turns; with
--browser also the time in chromium, from the key to the new picture, the pause after the last key (150 ms) included.
"""

from __future__ import annotations

import argparse
import json
import shutil
import statistics
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from cutmarks.desk.calls import call
from cutmarks.desk.form import fields_in, form_of
from cutmarks.job.load import read_job
from cutmarks.job.reading import read_tree
from cutmarks.plan import make_plan

ROOT = Path(__file__).parents[2]
TIMES = 100
MOST = 6.0
"""What a key takes of the processor may be so many times what the plan alone takes, by the medians, or `LEAST_MS`."""
LEAST_MS = 150.0


def large_wall() -> str:
    """A wall of 100 x 50 tiles of 97 with joints of 3, with 60 pipes on it."""
    holes = "".join(
        f"      - {{name: p{number}, what: 15 copper, across: {310 + across} to {325 + across} right of V, "
        f"up: {210 + up} to {225 + up} above B, cover: 65}}\n"
        for number in range(60)
        for across, up in [(900 * (number % 10), 800 * (number // 10))]
    )
    return f"""\
job: large
tiles: {{rib: {{size: 97 x 97, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, the corner", B: "level, the batten"}}
    edges:
      left: {{at: on V, true: plumb}}
      right: {{at: 10000 right of V, true: plumb}}
      bottom: {{at: on B, true: level}}
      top: {{at: 5000 above B, true: level}}
    areas:
      - {{name: field, tile: rib, joint: 3, from: B, start: {{across: joint on V, up: sits on B}}}}
    holes:
{holes}"""


def jobs(folder: Path) -> Iterator[Path]:
    """The jobs that are timed, in a folder of their own."""
    for path in sorted((ROOT / "examples").glob("*/*.yaml")):
        text = path.read_text("utf-8")
        if "surfaces:" in text and ".found." not in path.name:
            here = folder / path.parent.name
            shutil.copytree(path.parent, here, ignore=shutil.ignore_patterns("*.png", "*.svg"), dirs_exist_ok=True)
            yield here / path.name
    large = folder / "large.yaml"
    large.write_text(large_wall(), encoding="utf-8")
    yield large


def typed_over(path: Path) -> tuple[list[object], tuple[str, str]] | None:
    """A field with the reading of a hole, and two things that it says in turn; None: the job has no such hole."""
    text = path.read_text("utf-8")
    for one in fields_in(form_of(read_tree(text, "")[0])):
        if one.path[-2:-1] and isinstance(one.path[-2], int) and one.word == "cover" and one.value.isdecimal():
            return list(one.path), (one.value, str(int(one.value) + 1))
    return None


def by_processor(path: Path, times: int) -> tuple[list[float], list[float]]:
    """What a key and what the plan alone take of the processor, ms each, in turns."""
    place, values = typed_over(path) or (["job"], ("one", "other"))
    text, keys, plans = path.read_text("utf-8"), [], []
    for turn in range(times):
        begun = time.process_time()
        text = call("change", {"text": text, "file": str(path), "path": place, "value": values[turn % 2]})["text"]
        seen = call("look", {"text": text, "file": str(path)})
        keys.append((time.process_time() - begun) * 1000)
        assert seen["faults"] or seen["drawings"], path
        begun = time.process_time()
        read = read_job(text, path)
        assert read.job is not None, read.faults
        make_plan(read.job, undecided=True)
        plans.append((time.process_time() - begun) * 1000)
    return keys, plans


WATCH = """([key, value]) => new Promise((done) => {
  const field = document.querySelector(`[data-path='${key}']`);
  const begun = performance.now();
  const watch = new MutationObserver(() => { watch.disconnect(); done(performance.now() - begun); });
  watch.observe(document.body, {attributes: true, attributeFilter: ["data-drawn"]});
  field.value = value;
  field.dispatchEvent(new Event("input", {bubbles: true}));
})"""


def in_the_browser(folder: Path, paths: Sequence[Path], times: int) -> None:
    """The time from a key to the new picture, in chromium."""
    from tests.browser.desk import desk_page, served
    from tests.browser.phone import browser

    with served(folder) as serving, browser() as opened, desk_page(opened, serving.address) as desk:
        for path in paths:
            found = typed_over(path)
            if found is None:
                continue
            place, values = found
            desk.open(path.relative_to(folder).as_posix())
            desk.page.locator("body[data-drawn]").wait_for(timeout=120_000)
            desk.page.wait_for_timeout(1000)
            took = [desk.page.evaluate(WATCH, [json.dumps(place), values[1 - turn % 2]]) for turn in range(times)]
            print(
                f"{path.stem:<16} key to picture: median {statistics.median(took):7.0f} ms, worst {max(took):7.0f} ms"
            )


def main() -> int:
    """Time all of it; 1 where a bar does not hold."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=TIMES)
    parser.add_argument("--browser", action="store_true")
    parser.add_argument("--only", default="", help="This job alone: large, laundry, ...")
    given = parser.parse_args()
    failed = 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        paths = [path for path in jobs(folder) if given.only in ("", path.stem)]
        for path in paths:
            keys, plans = by_processor(path, given.times)
            key, plan = statistics.median(keys), statistics.median(plans)
            holds = key <= max(MOST * plan, LEAST_MS)
            failed += not holds
            print(
                f"{path.stem:<16} key to elevation: median {key:7.1f} ms, worst {max(keys):7.1f} ms of the processor; "
                f"read and planned alone {plan:7.1f} ms: {key / plan:4.1f} times{'' if holds else '  FAILED'}",
                flush=True,
            )
        if given.browser:
            in_the_browser(folder, paths, given.times)
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main())
