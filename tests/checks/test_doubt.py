"""How sure a cut is, against drillings simulated one by one: readings, lines, pitch, paper, marking and core."""

from __future__ import annotations

import math
import textwrap

import numpy as np
import pytest
from msgspec import Struct

from cutmarks.checks.doubt import in_words, rotated
from cutmarks.job import parse_job
from cutmarks.locating.model import Doubt
from cutmarks.plan import Plan, make_plan
from cutmarks.registering.error import axis_error
from cutmarks.registering.sides import mark_sides
from cutmarks.sheets.build import build_pack
from tests.properties.wall import plan_of
from tests.sheets.drawn import texts

DRILLINGS = 200_000
QUANTILE = 3.2905
"""Of the normal distribution for 99.9 % between two sides (tables)."""
# One standard deviation each, mm: half of what common practice gives as give or take.
LINE, PITCH, NEIGHBOUR, MARKING, CORE = 0.3, 0.5, 0.5, 0.5, 0.5
TAPE, NAIL = 0.75, 1.0
"""A tape, and each of the two readings of the nail that it is held to."""


class Case(Struct, frozen=True):
    """A hole on a wall of 248 x 398 tiles, joint 2: how it is written, and how its middle is read.

    sigma  standard deviation of the readings of the middle, across and up, mm; or `gain`, by which the errors of the
           network's readings (`sigma` of each) move the middle.
    """

    hole: str
    sigma: tuple[float, ...]
    area: str = ""
    cut: str = "on the day"
    gain: tuple[tuple[float, ...], ...] = ()


def both(x: float, y: float, w: float, h: float) -> str:
    """Both sides across and up, of a thing w by h about (x, y)."""
    return f"across: {x - w / 2:g} to {x + w / 2:g} right of V, up: {y - h / 2:g} to {y + h / 2:g} above B"


BOTH, EYE = (0.5, 0.5), (1.0, 1.0)


ALONG = np.array([[600.0, -900.0], [-600.0, -900.0]]) / math.hypot(600.0, 900.0)
"""The ways of the tapes from the nails at (100, 1900) and (1300, 1900) to the middle at (700, 1000)."""


def network_gain() -> tuple[tuple[float, ...], ...]:
    """How errors of two tapes and a reading across move that middle: weighted least squares by numpy.

    A nail that is out is as a tape that is out by as much along its way, so that a tape weighs as both together do.
    """
    design = np.array([*ALONG, [1.0, 0.0]])
    tape = TAPE**2 + NAIL**2
    weights = np.diag([1 / tape, 1 / tape, 1.0])
    gain = np.linalg.inv(design.T @ weights @ design) @ design.T @ weights
    return tuple(tuple(float(value) for value in row) for row in gain)


LEG = math.hypot(600, 900)
NETWORK = f"readings: [centre {LEG:.6f} from P1, centre {LEG:.6f} from P2, centre 700 right of V]"

CASES = [
    Case(f"what: 15 copper, {both(325, 912, 15, 15)}, opening: 18, cover: 40", BOTH),
    Case(f"what: 15 copper, {both(325, 912, 15, 15)}, opening: 20, cover: 24", BOTH),
    Case(f"what: 15 copper, {both(325, 912, 15, 15)}, opening: 21, cover: 60 x 26", BOTH),
    Case(f"what: 22 copper, {both(1325, 1912, 22, 22)}, opening: 27, cover: 32", BOTH),
    Case(f"what: 22 copper, {both(1325, 1912, 22, 22)}, opening: 27, cover: 31", BOTH, cut="ahead"),
    Case("what: 15 copper, across: centre 325 right of V, up: centre 912 above B, opening: 22, cover: 28", EYE),
    Case("what: 15 copper, across: centre 325 right of V, up: 905 to 919 above B, opening: 22", (1.0, 0.5)),
    Case(f"what: 110 soil, {both(600, 620, 110, 110)}, opening: 116", BOTH),
    Case(f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}", BOTH),
    Case(f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}, play: 3, cover: 82 x 82", BOTH),
    Case(f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}, play: 3, cover: 80 x 79", BOTH),
    Case(f"what: box, size: 133 x 72, {both(600, 620, 133, 72)}, play: 2, cover: 147 x 86", BOTH),
    Case(f"what: 15 copper, {both(325, 912, 15, 15)}, opening: 20, cover: 26", BOTH, "turn: 30"),
    Case(f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}, cover: 80 x 80", BOTH, "turn: -20"),
    Case("what: 15 copper, across: near 317.5 right of V, up: 904.5 to 919.5 above B, opening: 20", (0.75, 0.5)),
    Case("what: 15 copper, across: 2767.5 to 2782.5 right of V, up: centre 912 above B, opening: 21", (0.5, 1.0)),
    Case(f"what: 15 copper, {both(2775, 912, 15, 15)}, opening: 21", BOTH, cut="ahead"),
    Case(f"what: 15 copper, {NETWORK}, opening: 20, cover: 25", (TAPE, TAPE, 1.0), gain=network_gain()),
    Case(f"what: 15 copper, {NETWORK}, opening: 18", (TAPE, TAPE, 1.0), gain=network_gain()),
    Case(f"what: socket box, size: 70 x 70, lean: 12, {both(600, 620, 83, 83)}, play: 3, cover: 79 x 82", BOTH),
]


def planned(case: Case) -> Plan:
    start = "middle on V and B" if case.area else "{across: joint on V, up: sits on B}"
    return make_plan(
        parse_job(
            textwrap.dedent(f"""
                job: doubt
                cut: {case.cut}
                tiles: {{upright: {{size: 248 x 398, measured: yes}}}}
                surfaces:
                  - name: wall
                    kind: wall
                    lines: {{V: "plumb, middle", B: "level, batten"}}
                    points: {{P1: "100 right of V, 1900 above B", P2: "1300 right of V, 1900 above B"}}
                    areas:
                      - {{name: field, tile: upright, joint: 2, start: {start}{", " if case.area else ""}{case.area}}}
                    holes:
                      - {{name: it, {case.hole}{", lies: below" if case.gain else ""}}}
            """)
        )
    )


def simulated(case: Case, plan: Plan, which: int, seed: int) -> float:
    """How often the hole, made with every error drawn anew, holds the thing and stays under its cover."""
    rng = np.random.default_rng(seed)
    sure = plan.sure[which]
    piece = next(piece for piece in plan.pieces if piece.name == sure.piece)
    index, cut = next((i, cut) for i, cut in enumerate(piece.cuts) if cut.opening.name == sure.hole)
    sheet = next(sheet for sheet in plan.registrations if sheet.piece == piece.name and index in sheet.cuts)

    def drawn(sigma: float) -> np.ndarray:
        return rng.normal(0.0, sigma, DRILLINGS)

    if case.gain:
        errors = np.array([drawn(sigma) for sigma in case.sigma])
        for tape, way in enumerate(ALONG):
            # Where the nail is further along than it was read, the tape reads that much less.
            errors[tape] -= way[0] * drawn(NAIL) + way[1] * drawn(NAIL)
        read = np.array(case.gain) @ errors
    else:
        read = np.array([drawn(sigma) for sigma in case.sigma])
    across = []
    for places, side in zip(piece.piece.place, mark_sides(cut), strict=True):
        tiles = abs(places) if case.cut == "ahead" else min(abs(places), 4)
        paper = axis_error(piece, cut, sheet, side).total / 2
        across.append(drawn(PITCH * tiles / 4) + drawn(NEIGHBOUR) + drawn(paper) + drawn(MARKING) + drawn(CORE))
    turn = math.radians(piece.piece.turn)
    c, s = math.cos(turn), math.sin(turn)
    dx = read[0] + drawn(LINE) + c * across[0] - s * across[1]
    dy = read[1] + drawn(LINE) + s * across[0] + c * across[1]
    return float(np.mean(fits(case.hole, dx, dy)))


def fits(hole: str, dx: np.ndarray, dy: np.ndarray) -> np.ndarray:
    """Corner by corner and circle by circle, from the words of the case alone."""
    words = dict(part.split(": ") for part in hole.split(", ") if ": " in part)
    cover = words.get("cover")
    plate = [float(side) for side in cover.split(" x ")] if cover else []
    if "opening" in words:
        size = float(words["opening"])
        thing = float(words["what"].split()[0])
        off = np.hypot(dx, dy)
        good = off + thing / 2 <= size / 2
        if len(plate) == 1:
            good &= off + size / 2 <= plate[0] / 2
        elif plate:
            good &= (np.abs(dx) + size / 2 <= plate[0] / 2) & (np.abs(dy) + size / 2 <= plate[1] / 2)
        return good
    w, h = (float(side) for side in words["size"].split(" x "))
    play, lean = float(words.get("play", "2")), math.radians(float(words.get("lean", "0")))
    c, s = math.cos(lean), math.sin(lean)
    u, v = c * dx + s * dy, c * dy - s * dx
    good = (np.abs(u) <= play) & (np.abs(v) <= play)
    if plate:
        good &= (np.abs(u) + w / 2 + play <= plate[0] / 2) & (np.abs(v) + h / 2 + play <= plate[1] / 2)
    return good


@pytest.mark.parametrize("number", range(len(CASES)))
def test_the_chance_is_that_of_simulated_drillings(number: int) -> None:
    case = CASES[number]
    plan = planned(case)
    assert plan.sure
    part = plan.sure[0].chance
    seen = simulated(case, plan, 0, seed=number)
    spread = math.sqrt(seen * (1 - seen) / DRILLINGS)
    # The cases are such that it can go wrong, or nothing would be tested.
    assert 0.05 < seen < 0.9999
    assert abs(part - seen) <= QUANTILE * spread + 5e-5


def test_there_are_twenty_cases() -> None:
    assert len(CASES) == 20


def test_a_doubt_turned_by_a_right_angle_changes_its_axes() -> None:
    turned = rotated(Doubt(4.0, 0.5, 1.0), 90.0)
    assert (turned.xx, turned.xy, turned.yy) == (1.0, -0.5, 4.0)
    assert Doubt(4.0, 0.0, 1.0).ellipse == (2.0, 1.0, 0.0)


def test_a_chance_is_never_said_more_sure_than_it_is() -> None:
    assert in_words(1.0) == "over 99.9 % sure"
    assert in_words(0.9989) == "99.8 % sure"
    assert in_words(0.0004) == "under 0.1 % sure"


def test_one_sentence() -> None:
    sentence = planned(CASES[0]).sure[0].sentence
    assert sentence.startswith("it in field 3-R2: ")
    assert " % sure that it goes over and stays covered (it may come " in sentence
    assert "you have 1½ any way" in sentence


def written(hole: str) -> Plan:
    """A hole of the first case's wall, written so."""
    return planned(Case(hole, BOTH))


@pytest.mark.parametrize(
    ("hole", "least", "most"),
    [
        # A box 70 x 70 has its corners 49.497 from the middle: a round cut of 98 does not hold it, one of 120 does.
        (f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}, opening: 98", 0.0, 0.0),
        (f"what: box, size: 70 x 70, {both(600, 620, 70, 70)}, opening: 120", 0.99, 1.0),
        # A slot cut 2 larger all round: 2 any way at the least.
        ("what: tail, slot: 60 x 24, across: centre 600 right of V, up: centre 620 above B", 0.3, 0.9),
        ("what: tail, slot: 60 x 24, play: 9, across: centre 600 right of V, up: centre 620 above B", 0.999, 1.0),
    ],
)
def test_other_shapes(hole: str, least: float, most: float) -> None:
    assert least <= written(hole).sure[0].chance <= most


def hole_of(**keys: str) -> Plan:
    pipe = {"name": "hot", "what": "15 copper", "end": "comes off", **keys}
    pipe |= {"across": "143 to 158 right of V", "up": "142 to 157 above B"}
    return plan_of(tile={"size": "300 x 300"}, holes=[pipe])


@pytest.mark.parametrize(
    ("keys", "room"),
    [
        # (35 - 15) / 2 = 10 over the pipe, (65 - 35) / 2 - 3 = 12 under the cover.
        ({"cover": "65"}, "you have 10 any way"),
        # 0.25 all round the pipe.
        ({"cover": "65", "opening": "15.5"}, "you have under ½ any way"),
        # The cover laps 2.5, and should lap 3: what shows is not what ought to be, and the chance is of what shows.
        (
            {"cover": "40", "opening": "35"},
            "you have nothing to spare with the lap that its cover should have, 2½ until it shows",
        ),
    ],
)
def test_what_there_is_to_spare_does_not_contradict_the_chance(keys: dict[str, str], room: str) -> None:
    (one,) = hole_of(**keys).sure
    assert one.sentence.endswith(f"(it may come 2½ off, {room}).")
    shown = texts_of_sheets(hole_of(**keys))
    assert not [text for text in shown if "may be 0" in text or "have 0" in text or "only 0" in text]


def texts_of_sheets(plan: Plan) -> list[str]:
    return [text for sheet in build_pack(plan).templates for text in texts(sheet.marks)]
