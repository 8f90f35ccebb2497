"""The wall page of 10, 50 and 500 tiles with holes: how large it is, and how long until the first figure can be read.

    python -m tests.bench.wall_page_bench

Times are the browser's own, from the beginning of the page to the first frame behind the script, the least of a few;
the bars are on size, and on how both grow: a ratio within the run.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from cutmarks import load_job, make_plan
from tests.bench.jobs import write_square_wall
from tests.bench.measured import Bar, told
from tests.browser.phone import browser, missing, phone
from tests.writers.as_bytes import wall_page

TILES = (10, 50, 500)
SIDE = {10: 10, 50: 20, 500: 50}
TRIES = 5
MOST_AT_FIFTY = 300_000
MOST_GROWTH = 2.0
"""What is ten times as many may be twice as dear each: with the square of the tiles it would be ten times."""
SHOWN = """() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() =>
  done(performance.now()))))"""


def first_figure(opened: object, page: Path) -> float:
    """Milliseconds from the beginning of the page to the first frame with a figure in it, the least of a few."""
    times = []
    for _ in range(TRIES):
        with phone(opened) as held:  # type: ignore[arg-type]
            held.open(page)
            times.append(held.page.evaluate(SHOWN))
            assert held.sees(".view.shown .figure")
    return min(times)


def main() -> int:
    """Measure, and print each figure beside its bar."""
    why = missing()
    if why:
        print(why)
        return 2
    sizes, times = {}, {}
    with TemporaryDirectory() as folder, browser() as opened:
        for tiles in TILES:
            job = write_square_wall(Path(folder) / str(tiles), SIDE[tiles], tiles)
            page = Path(folder) / f"{tiles}.html"
            page.write_bytes(wall_page(make_plan(load_job(job))))
            sizes[tiles] = page.stat().st_size
            times[tiles] = first_figure(opened, page)
            print(f"{tiles} tiles: {sizes[tiles]:,} bytes, first figure after {times[tiles]:.0f} ms")
    bars = [
        Bar("bytes of fifty tiles", sizes[50], most=MOST_AT_FIFTY),
        Bar("bytes a tile, 500 against 50", (sizes[500] / 500) / (sizes[50] / 50), most=MOST_GROWTH),
        Bar("time a tile, 500 against 50", (times[500] / 500) / (times[50] / 50), most=MOST_GROWTH),
    ]
    return 0 if told(bars) else 1


if __name__ == "__main__":
    sys.exit(main())
