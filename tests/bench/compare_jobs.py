"""The jobs that two checkouts are compared on: examples, starters, and seeded jobs of every kind, as files."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from random import Random
from typing import Any

from tests.properties.scene import said
from tests.properties.strategies import ALL, LEVEL_STACK, NO_JOINT, Taste, random_scene

TASTES: tuple[Taste, ...] = (ALL, ALL, LEVEL_STACK, NO_JOINT)
PIPES = (("15 copper", "65"), ("22 copper", "70"), ("35 copper", "75"), ("28 copper", "none"))
"""What a pipe may be, and the cover that hides its hole."""
PAPERS = ("A4", "A4", "A4", "A4", "Letter", "any", "A3")


def write_jobs(checkout: Path, seeded: int, seed: int, into: Path) -> None:
    """Write a folder for each job into `into`, the job file in it named as the folder.

    Examples and starters are those of `checkout`, with all that stands beside them; the seeded jobs are the same for
    the same numbers.
    """
    for path in sorted(checkout.glob("examples/*/*.yaml")):
        if path.stem == path.parent.name:
            shutil.copytree(path.parent, into / path.stem)
    for path in sorted(checkout.glob("templates/*.yaml")):
        (into / f"starter-{path.stem}").mkdir()
        shutil.copy(path, into / f"starter-{path.stem}" / f"starter-{path.stem}.yaml")
    for number in range(seed * 1_000_000, seed * 1_000_000 + seeded):
        folder = into / f"seed-{number}"
        folder.mkdir()
        text = json.dumps(seeded_job(number), indent=1, ensure_ascii=False)
        (folder / f"{folder.name}.yaml").write_text(text, encoding="utf-8")


def seeded_job(number: int) -> dict[str, Any]:
    """One random job: a scene of the campaigns, with fittings, covers, materials, papers and opened holes."""
    draw = Random(number)
    job = said(random_scene(draw, TASTES[number % len(TASTES)]))
    job["job"] = f"Seed {number}"
    job["paper"] = draw.choice(PAPERS)
    if draw.random() < 0.2:
        job["template"] = draw.choice(("back", "both"))
    if draw.random() < 0.2:
        job["sheets"] = "joined"
    if draw.random() < 0.15:
        job["say"] = "us"
    if draw.random() < 0.15:
        job["cut"] = "ahead"
    for tile in job["tiles"].values():
        tile |= {"thickness": draw.choice(("8", "9", "11")), "material": draw.choice(("ceramic", "porcelain", "stone"))}
    for surface in job["surfaces"]:
        for hole in surface["holes"]:
            _dressed(hole, draw)
    return job


def _dressed(hole: dict[str, Any], draw: Random) -> None:
    """Say more of a hole: what it is, its cover, how its pipe ends, to which side it is opened."""
    if "diameter" in hole:
        if draw.random() < 0.5:
            del hole["diameter"]
            hole["what"], hole["cover"] = draw.choice(PIPES)
            if draw.random() < 0.6:
                del hole["opening"]
            elif draw.random() < 0.3:
                hole["opening"] = f"{draw.randint(30, 60)} x {draw.randint(30, 60)}"
        elif draw.random() < 0.6:
            hole["cover"] = f"{draw.randint(30, 140)}"
        hole["end"] = draw.choice(("comes off", "runs on"))
    elif draw.random() < 0.6:
        hole["cover"] = draw.choice(("147 x 86", "86 x 86", "150", "none", f"{draw.randint(60, 160)} x 100"))
    if draw.random() < 0.12:
        hole["slot"] = f"towards the {draw.choice(('left', 'right', 'top', 'bottom'))}"
        for key in ("opening", "play"):
            hole.pop(key, None)
