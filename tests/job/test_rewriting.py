"""A job's text with another start in it: all else stays as it was typed."""

from __future__ import annotations

import pytest

from cutmarks.errors import JobError
from cutmarks.job.rewriting import with_area_keys

NO_START = """\
        # No start yet: cutmarks setout says where to start, and --take writes it here.
        # start: {across: joint on V, up: sits on B}"""
"""As cutmarks new writes it."""
START = {"start": {"across": "joint on V", "up": "sits on B"}}


def text(area: str, tail: str = "") -> str:
    return f"""# Reed House
job: Reed House   # invented
surfaces:
  - name: tap wall
    # the areas, from the floor up
    areas:
{area}{tail}
"""


def changed(area: str, keys: object = START, tail: str = "") -> str:
    return with_area_keys(text(area, tail), "tap wall", {"splash": keys})  # type: ignore[dict-item]


def test_in_braces_it_stands_behind_the_other_keys() -> None:
    found = changed("      - {name: splash, tile: rib, joint: 3}   # ribbed")
    assert found == text(
        "      - {name: splash, tile: rib, joint: 3, start: {across: joint on V, up: sits on B}}   # ribbed"
    )


def test_key_by_key_it_stands_on_a_line_of_its_own_behind_the_last_one() -> None:
    found = changed(
        "      - name: splash   # ribbed\n        tile: rib\n        joint: 3   # as they run", tail="\n    holes: []"
    )
    assert found == text(
        "      - name: splash   # ribbed\n        tile: rib\n        joint: 3   # as they run\n"
        "        start: {across: joint on V, up: sits on B}",
        "\n    holes: []",
    )


def test_a_start_that_is_there_is_written_over_and_its_remark_stays() -> None:
    found = changed("      - {name: splash, tile: rib, start: {across: middle on V, up: ?}, joint: 3}  # to be seen")
    assert found == text(
        "      - {name: splash, tile: rib, start: {across: joint on V, up: sits on B}, joint: 3}  # to be seen"
    )


def test_a_start_in_one_phrase_becomes_its_two_keys() -> None:
    found = changed("      - name: splash\n        start: middle on V, sits on B   # for now\n        tile: rib")
    assert "        start: {across: joint on V, up: sits on B}   # for now\n        tile: rib" in found


def test_a_start_of_two_lines_keeps_them() -> None:
    found = changed(
        "      - name: splash\n        start:\n          across: middle on V   # the sink\n          up: sits on B"
    )
    assert "        start:\n          across: joint on V   # the sink\n          up: sits on B" in found


def test_a_key_without_a_value_gets_one() -> None:
    assert "        start: {across: joint on V, up: sits on B}\n" in changed(
        "      - name: splash\n        start:\n        joint: 3"
    )


def test_on_a_floor_its_in_stays_in() -> None:
    found = changed("      - {name: splash, start: {across: middle on V, in: sits on D}}", START)
    assert "start: {across: joint on V, in: sits on B}" in found


def test_what_would_be_read_otherwise_is_put_in_quotes() -> None:
    found = changed("      - {name: splash}", {"start": {"across": "left on 3 right of A: b", "up": "sits on B"}})
    assert 'across: "left on 3 right of A: b"' in found


def test_lines_that_end_as_on_another_system_still_do() -> None:
    area = "      - name: splash\n        joint: 3"
    found = with_area_keys(text(area).replace("\n", "\r\n"), "tap wall", {"splash": START})
    assert "joint: 3\r\n        start: {across: joint on V, up: sits on B}\r\n" in found
    assert "\n" not in found.replace("\r\n", "")


def test_an_area_that_is_not_there_is_said() -> None:
    with pytest.raises(JobError, match='Area "upper" of tap wall is not written under its areas by this name'):
        with_area_keys(text("      - {name: splash}"), "tap wall", {"upper": START})


def test_that_there_is_no_start_yet_goes_when_there_is_one() -> None:
    area = "      - name: splash\n        bond: stack   # as always"
    own = "\n        # my own remark"
    found = changed(area, tail=f"\n{NO_START}{own}")
    assert found == text(f"{area}\n        start: {{across: joint on V, up: sits on B}}", own)
    kept = changed(area, {"bond": "half"}, tail=f"\n{NO_START}")
    assert NO_START in kept  # no start was written


def test_an_area_said_in_one_line_keeps_its_words_and_its_remark_and_gets_a_start() -> None:
    found = changed("      - splash, rib, joint 3, brick   # as they run")
    assert found == text(
        '      - {said: "splash, rib, joint 3, brick", start: {across: joint on V, up: sits on B}}   # as they run'
    )


def test_an_area_said_in_one_line_that_has_keys_beside_it_gets_its_start_behind_them() -> None:
    found = changed('      - {said: "splash, rib, brick", joint: 3}   # as they run')
    assert found == text(
        '      - {said: "splash, rib, brick", joint: 3, start: {across: joint on V, up: sits on B}}   # as they run'
    )


def test_an_area_that_is_not_found_by_its_name_is_said_with_what_to_write() -> None:
    with pytest.raises(JobError, match=r"write start: \{across: joint on V, up: sits on B\} beside it by hand"):
        changed("      - other, rib, joint 3, brick")
