"""How well a nail was read comes into every tape that is held to it."""

from __future__ import annotations

import math

import pytest

from cutmarks.locating.model import Located
from tests.locating.taped import located


def nailed(nail: str, *readings: str) -> Located:
    """A pipe at 300 right and 800 up, read from a nail N that was read as `nail` says."""
    rows = "".join(f"\n          - {reading}" for reading in readings)
    found = located(
        f"""
    holes:
      - name: riser
        what: 15 copper
        lies: right
        readings:{rows}
    """,
        f"  N: {nail}",
    )
    return found["riser"]


def test_a_nail_that_is_out_moves_the_hole() -> None:
    tape = ("centre 600 from N", "centre 800 above B")
    at = nailed("300 left of V, 800 above B", *tape)
    out = nailed("297 left of V, 800 above B", *tape)
    # Nothing else says where it is across: it moves by all of the 3.
    assert (at.at.x, out.at.x) == (pytest.approx(300), pytest.approx(303))
    # Both sides from V too, sigma 0.5, against the tape's way of sqrt(0.75^2 + 1^2): 3 x 0.25 / (0.25 + 1.5625).
    both = nailed("297 left of V, 800 above B", *tape, "292.5 to 307.5 right of V")
    assert both.at.x == pytest.approx(300 + 3 * 0.25 / 1.8125, abs=1e-4)
    assert both.doubt.xx == pytest.approx(0.25 * 1.5625 / 1.8125, rel=1e-4)


def test_how_well_a_nail_was_read_is_in_the_doubt() -> None:
    tape = ("centre 600 from N", "centre 800 above B")
    # By eye 2 at two sigma, or what the tiler says: 0.75^2 + 1^2 and 0.75^2 + 0.5^2; its height does not come in, since
    # the tape is level.
    by_eye = nailed("300 left of V, 800 above B", *tape)
    assert (by_eye.doubt.xx, by_eye.doubt.yy) == (pytest.approx(1.5625), pytest.approx(1.0))
    said = nailed("300 left of V, 800 above B, within 1", *tape)
    assert said.doubt.xx == pytest.approx(0.8125)
    assert said.at == by_eye.at


def test_a_nail_is_among_the_readings_and_its_tape_stands_for_it() -> None:
    riser = nailed(
        "290 left of V, 800 above B",
        "centre 600 from N",
        "292.5 to 307.5 right of V",
        "centre 300 right of V",
        "792.5 to 807.5 above B",
    )
    assert riser.fit is not None
    assert [(one.about, one.text, one.point) for one in riser.fit.readings[4:]] == [
        (("N",), "290 left of V", "N"),
        (("N",), "800 above B", "N"),
    ]
    misfit = riser.fit.misfit
    assert misfit is not None
    # The nail is 10 out, and nothing tells that from a tape that was read 10 long: 600 for 300 + 290.
    assert riser.fit.readings[misfit.reading].text == "centre 600 from N"
    assert misfit.off == pytest.approx(10.0)
    assert [riser.fit.readings[index].text for index in misfit.mirrored] == ["290 left of V"]
    # The tape's way 0.75^2 + 1^2, the others together 1 / (1 / 0.25 + 1 / 1).
    assert misfit.figure == pytest.approx(10 / math.sqrt(1.5625 + 0.2), rel=1e-4)


@pytest.mark.parametrize(
    ("to_hot", "named"),
    [
        # From 300 left to 75 left it is 225, to 75 right 375: only the one tape is 10 long.
        (225, ("", "centre 385 from P1")),
        # Both 10 long: it is the nail that lies 10 further left than was read.
        (235, ("P1", "300 left of V")),
    ],
)
def test_a_nail_that_two_tapes_contradict_is_named_itself(to_hot: int, named: tuple[str, str]) -> None:
    fit = located(f"""
        pairs:
          - {{of: hot and cold, level: yes}}
        holes:
          - name: hot
            what: 15 copper
            readings: [centre {to_hot} from P1, 67.5 to 82.5 left of V, centre 75 left of V, centre 1600 above B]
          - name: cold
            what: 15 copper
            readings: [centre 385 from P1, 67.5 to 82.5 right of V, centre 75 right of V, centre 1600 above B]
    """)["hot"].fit
    assert fit is not None
    assert fit.misfit is not None
    reading = fit.readings[fit.misfit.reading]
    assert (reading.point, reading.text) == named
    assert fit.misfit.off == pytest.approx(10.0)
