"""Where an output may go: the folder, the names in it, and what has changed since the one before."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace

from cutmarks.errors import OutputError
from cutmarks.plan import Plan
from cutmarks.writers.folder import changed_pieces, earlier_plan, moved_names
from cutmarks.writers.folder import publish as publish_contents
from cutmarks.writers.folder_record import MARKER
from cutmarks.writers.folder_swap import Content
from cutmarks.writers.plan_json import PLAN_FILE, to_json
from tests.writers.folders import (
    JOB,
    NEW,
    OLD,
    QUAY,
    contents,
    listed,
    output,
    publish,
    refused,
)
from tests.writers.plans import boxed, cut_piece, plain, plan_of, raking

# Where an output may go.


@pytest.mark.parametrize("exists", [False, True])
def test_a_new_or_an_empty_folder_is_filled(out: Path, exists: bool) -> None:
    if exists:
        out.mkdir()
    published = publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert (published.carried, published.left) == ((), "")
    assert os.listdir(out.parent) == ["quay"]


def test_an_earlier_output_is_replaced_and_files_it_alone_had_are_gone(out: Path) -> None:
    publish(out, JOB, OLD)
    publish(out, JOB, NEW)
    assert contents(out) == NEW
    assert os.listdir(out.parent) == ["quay"]


def test_content_may_be_made_when_its_turn_comes(out: Path) -> None:
    told: list[tuple[str, int, int]] = []
    publish(out, JOB, {**NEW, "holes.csv": lambda: b"late"}, lambda *step: told.append(step))
    assert (out / "holes.csv").read_bytes() == b"late"
    assert told == [("holes.csv", 0, 3), ("sheets/splash_3-07_face_1.svg", 1, 3), ("plan.json", 2, 3)]


def test_a_folder_with_other_things_is_refused(out: Path) -> None:
    out.mkdir()
    for name in ("photo.jpg", "notes.txt", "offer.pdf", "z.txt"):
        (out / name).write_text("mine")
    assert refused(out) == (
        f"{out}: this folder holds things that are not cutmarks' own (notes.txt, offer.pdf, photo.jpg and 1 more): "
        "give a folder that is new, empty, or an earlier output of this job"
    )


def test_a_plan_json_of_another_program_makes_it_no_output(out: Path) -> None:
    out.mkdir()
    (out / PLAN_FILE).write_text('{"rooms": 3}')
    assert "plan.json: this is no plan that cutmarks wrote (schema: field required): give a folder" in refused(out)


def test_the_output_of_another_job_is_refused(out: Path) -> None:
    publish(out, "Mill Lane", output("aaaaaaaa", job="Mill Lane"))
    assert refused(out) == (
        f'{out}: this folder holds the output of another job, "Mill Lane": give this one a folder of its own, '
        "or say --replace to put it in the place of that one"
    )
    publish(out, JOB, NEW, replace=True)
    assert contents(out) == NEW
    assert os.listdir(out.parent) == ["quay"]


def test_a_file_a_link_and_a_missing_parent_are_refused(out: Path) -> None:
    out.write_text("mine")
    assert refused(out) == (
        f"{out}: this is a file: give a folder that is new, empty, or an earlier output of this job"
    )
    target = out.parent / "real"
    target.mkdir()
    link = out.parent / "link"
    link.symlink_to(target)
    assert refused(link) == f"{link}: this is a link to another place: give the folder itself, {target}"
    lost = out.parent / "no" / "where"
    assert refused(lost) == (
        f"{lost}: there is no folder {lost.parent} to put it in: make that first, or check the name"
    )
    with pytest.raises(OutputError, match="this is the root of the disk: give the output a folder of its own"):
        publish(Path(out.anchor), JOB, NEW)


@pytest.mark.parametrize("given", [".", "..", "../quay", "../../place"])
def test_the_folder_that_one_stands_in_is_refused(out: Path, given: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is exchanged for another: who stands in it would stand nowhere."""
    place = out.parent / "place" / "quay"
    place.mkdir(parents=True)
    monkeypatch.chdir(place)
    with pytest.raises(OutputError) as caught:
        publish(Path(given), JOB, NEW)
    assert str(caught.value) == (
        f"{Path(given)}: you are in this folder, and the output takes the place of it as a whole: "
        "go out of it first, or give another folder"
    )
    assert contents(out.parent) == {"place/quay": b"empty folder"}


@pytest.mark.parametrize("name", ["../x.csv", "/x.csv", "Sheets/a.svg", "a//b", ".hidden", "a\\b", "ä.csv", "a/../b"])
def test_a_name_that_could_leave_the_folder_is_a_fault_of_ours(out: Path, name: str) -> None:
    with pytest.raises(ValueError, match="may not be a file of an output"):
        publish(out, JOB, output("aaaaaaaa", names=(name,)))
    assert not out.exists()


def test_the_list_in_plan_json_must_name_every_file(out: Path) -> None:
    with pytest.raises(ValueError, match="its lists must name every file as it is and no other"):
        publish(out, JOB, {**NEW, "extra.csv": b""})
    assert not out.exists()


def test_the_digests_in_plan_json_must_be_those_of_the_files(out: Path) -> None:
    with pytest.raises(ValueError, match="its lists must name every file as it is and no other"):
        publish_contents(out, QUAY, [*NEW], lambda _: {**NEW, "holes.csv": b"other"}.items())
    assert not out.exists()


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["holes.csv", "plan.json"], "'sheets/splash_3-07_face_1.svg' is not among the files that were said to come"),
        ([*NEW, "pieces.csv"], "its lists must name every file as it is and no other"),
        (["holes.csv"], "plan.json must be one of the files"),
    ],
)
@pytest.mark.parametrize("earlier", [False, True])
def test_what_comes_must_be_what_was_said_to_come(out: Path, names: list[str], said: str, earlier: bool) -> None:
    if earlier:
        publish(out, JOB, OLD)
    before = contents(out.parent)
    with pytest.raises(ValueError, match=said):
        publish_contents(out, QUAY, names, lambda _: iter(output("bbbbbbbb").items()))
    assert contents(out.parent) == before


def test_a_file_that_comes_twice_is_a_fault_of_ours(out: Path) -> None:
    twice = [*output("bbbbbbbb").items(), ("holes.csv", b"again")]
    with pytest.raises(ValueError, match="or comes twice"):
        publish_contents(out, QUAY, [*NEW], lambda _: twice)
    assert not out.exists()


def test_each_content_is_asked_for_when_the_last_is_on_the_disk(out: Path) -> None:
    seen: list[list[str]] = []

    def one_by_one(_: object) -> Iterator[tuple[str, bytes]]:
        for name, data in output("bbbbbbbb").items():
            seen.append(sorted(contents(out.with_name("quay.new"))))
            yield name, data

    publish_contents(out, QUAY, [*NEW], one_by_one)
    marker = MARKER
    assert seen == [[marker], [marker, "holes.csv"], [marker, "holes.csv", "sheets/splash_3-07_face_1.svg"]]


def test_content_may_write_itself_into_the_open_file(out: Path) -> None:
    made = listed({**NEW, "holes.csv": b"by itself"})
    given: dict[str, Content] = {**made, "holes.csv": lambda file: file.write(b"by itself")}
    publish_contents(out, QUAY, [*NEW], lambda _: given.items())
    assert (out / "holes.csv").read_bytes() == b"by itself"


# What has changed since.


def plans() -> tuple[Plan, Plan]:
    kept, other = plain(), cut_piece("splash 3-9", 248, 398, fingerprint="11111111")
    moved = cut_piece("splash 3-9", 248, 398, fingerprint="22222222")
    return plan_of(kept, other, raking()), plan_of(kept, boxed(), moved)


def test_the_pieces_that_changed_are_those_cut_otherwise_now_cut_or_not_cut_any_more() -> None:
    then, now = plans()
    assert changed_pieces(to_json(then, []), now) == ("upper 5-2", "splash 3-9", "field 1-3")
    assert changed_pieces(to_json(now, []), now) == ()


def test_nothing_has_changed_since_no_output() -> None:
    assert changed_pieces(None, plans()[1]) == ()
    assert changed_pieces(b"{}", plans()[1]) == ()


def test_the_earlier_plan_is_none_where_there_is_no_output(out: Path) -> None:
    assert earlier_plan(out) is None
    out.mkdir()
    assert earlier_plan(out) is None
    publish(out, JOB, NEW)
    assert earlier_plan(out) == NEW[PLAN_FILE]


def test_names_that_moved_are_told_by_the_place_in_the_grid():
    plan = plans()[1]
    first = plan.pieces[0]
    now = replace(plan, pieces=(first,))
    then = replace(plan, pieces=(replace(first, name="splash 9-9"),))
    assert moved_names(to_json(then, []), now) == {"splash 9-9": first.name}
    assert moved_names(to_json(now, []), now) == {}
    assert moved_names(None, now) == {}
    assert moved_names(b"{}", now) == {}
