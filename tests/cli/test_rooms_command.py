"""cutmarks rooms: the table, the folder, and a batch that goes on where it was stopped."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pypdfium2
import pytest

import cutmarks
from cutmarks.cli import batch
from cutmarks.writers.disk import open_parent

EXAMPLE = Path(__file__).parents[2] / "examples" / "harbour-view" / "site"


@pytest.fixture
def site(tmp_path):
    folder = tmp_path / "site"
    shutil.copytree(EXAMPLE, folder)
    return folder / "rooms.yaml"


def everything(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_table_has_what_is_wrong_first_and_ends_with_1(run, site):
    result = run("rooms", str(site))
    assert result.exit_code == 1
    said = " ".join(result.stdout.split())
    # By hand: cold was read 84 to 100, its type has it 67 to 83: 17 further right, and (35 - 15) / 2 = 10 may be.
    assert said.startswith("Harbour View: 4 rooms, 1 with something to cut anew 103 (wash-room): CUT ANEW")
    assert (
        "it is 17 right of where the type has it, and 10 is allowed that way: it does not go through the hole." in said
    )
    assert "104 (wash-room, mirrored): as its type" in said


def test_types_and_specials_are_written_and_the_lists_name_them(run, site, tmp_path):
    out = tmp_path / "out"
    result = run("rooms", str(site), "--out", str(out))
    assert result.exit_code == 1, result.output
    made = everything(out)
    assert {"rooms.pdf", "rooms.csv", "alike.csv", "rooms/103/pack.pdf", "rooms/103.json", "rooms/101.json"} <= set(
        made
    )
    assert "rooms/103-labels.pdf" in made
    assert {"types/wash-room/pack.pdf", "types/wash-room_mirrored/pack.pdf"} <= set(made)
    assert not any(name.startswith(("rooms/101/", "rooms/102/", "rooms/104/")) for name in made)
    rows = list(csv.DictReader(io.StringIO(made["rooms.csv"].decode("utf-8-sig"))))
    (cold,) = [row for row in rows if row["room"] == "103" and row["what"] == "cold"]
    assert (cold["says"], cold["right mm"], cold["may be mm"]) == ("CUT ANEW", "17", "10")
    # What is cut anew for 103 is named for it alone.
    assert all("103" in name for name in made if name.startswith("rooms/103/dxf/"))


def test_a_stopped_batch_goes_on_and_gives_the_same_bytes(run, site, tmp_path, monkeypatch):
    whole, stopped = tmp_path / "whole", tmp_path / "stopped"
    run("rooms", str(site), "--out", str(whole))
    done = batch.one_room
    calls: list[int] = []

    def stops(rooms, number, out):
        if len(calls) == 2:
            raise KeyboardInterrupt
        calls.append(number)
        return done(rooms, number, out)

    monkeypatch.setattr(batch, "one_room", stops)
    assert run("rooms", str(site), "--out", str(stopped)).exit_code != 0
    assert (stopped / "rooms" / "102.json").exists()
    assert not (stopped / "rooms" / "103.json").exists()
    monkeypatch.undo()
    planned: list[str] = []
    make_plan = cutmarks.make_plan

    def plans(job, **wishes):
        planned.append(job.name)
        return make_plan(job, **wishes)

    monkeypatch.setattr("cutmarks.rooms.flow.make_plan", plans)
    run("rooms", str(site), "--out", str(stopped))
    assert everything(stopped) == everything(whole)
    # The two hands, and room 103: what was done before is not done again.
    assert len(planned) == 3


def test_several_at_once_give_what_one_gives(run, tmp_path, monkeypatch, site):
    text = site.read_text(encoding="utf-8")
    more = "".join(
        f'  - name: "2{number:02}"\n'
        f"    read: [{{hole: hot, across: {68 + 3 * number} to {84 + 3 * number} left of V}}]\n"
        for number in range(8)
    )
    site.write_text(text + more, encoding="utf-8")
    one, two = tmp_path / "one", tmp_path / "two"
    run("rooms", str(site), "--out", str(one), "--at-once", "1")
    run("rooms", str(site), "--out", str(two), "--at-once", "2")
    assert everything(one) == everything(two)
    assert any(name.startswith("rooms/207/") for name in everything(one))


def test_a_room_that_fails_is_named_and_the_others_are_written(run, site, tmp_path):
    text = site.read_text(encoding="utf-8")
    site.write_text(text.replace("across: 84 to 100 right of V", "across: 84 to 100 right of W"), encoding="utf-8")
    out = tmp_path / "out"
    result = run("rooms", str(site), "--out", str(out))
    assert result.exit_code == 1
    assert "103: NOT DONE. rooms.yaml line" in " ".join(result.stdout.split())
    assert '"W" is no set-out line of this surface' in " ".join(result.stdout.split())
    assert (out / "rooms" / "102.json").exists()
    assert not (out / "rooms" / "103.json").exists()


def test_two_runs_do_not_write_into_one_folder(run, site, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    with open_parent(out, out) as held:
        assert held.lock()
        result = run("rooms", str(site), "--out", str(out))
    assert result.exit_code == 2
    assert "another run writes there" in " ".join(result.stderr.split())
    assert list(out.iterdir()) == []


def test_a_link_in_place_of_a_folder_is_refused(run, site, tmp_path):
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    out.mkdir()
    elsewhere.mkdir()
    (out / "rooms").symlink_to(elsewhere)
    result = run("rooms", str(site), "--out", str(out))
    assert result.exit_code == 2
    assert "this is a link of your own" in " ".join(result.stderr.split())
    assert list(elsewhere.iterdir()) == []


def test_faults_of_all_types_are_told_at_once_and_nothing_is_written(run, site, tmp_path):
    text = (site.parent / "wash-room.yaml").read_text(encoding="utf-8")
    site.parent.joinpath("other.yaml").write_text(text.replace("cover: 65", "cover: no idea", 1), encoding="utf-8")
    site.parent.joinpath("wash-room.yaml").write_text(text.replace("bed: 4", "bed: none at all"), encoding="utf-8")
    with site.open("a", encoding="utf-8") as file:
        file.write('  - name: "105"\n    type: other.yaml\n')
    result = run("rooms", str(site), "--out", str(tmp_path / "out"))
    said = " ".join(result.stderr.split())
    assert result.exit_code == 2
    assert "wash-room.yaml line 4" in said
    assert "other.yaml line" in said
    assert not (tmp_path / "out").exists()


def test_what_is_cut_anew_has_a_label_of_its_room_for_each_piece(run, site, tmp_path):
    out = tmp_path / "out"
    run("rooms", str(site), "--out", str(out))
    (page,) = pypdfium2.PdfDocument(out / "rooms" / "103-labels.pdf")
    said = page.get_textpage().get_text_range()
    # Seven pieces: the two with cold and the socket, and the five that end at the left edge.
    assert said.count("room 103") == said.count("on the FACE") == 7


def test_a_folder_of_the_users_own_in_the_way_of_one_room_holds_up_no_other(run, site, tmp_path):
    own = tmp_path / "out" / "rooms" / "103" / "own.txt"
    own.parent.mkdir(parents=True)
    own.write_text("kept", encoding="utf-8")
    with site.open("a", encoding="utf-8") as file:
        file.write('  - name: "105"\n    read: [{hole: hot, across: 90 to 106 left of V}]\n')
    result = run("rooms", str(site), "--out", str(tmp_path / "out"))
    assert result.exit_code == 1
    assert "103: NOT DONE." in " ".join(result.stdout.split())
    assert own.read_text(encoding="utf-8") == "kept"
    assert not (tmp_path / "out" / "rooms" / "103.json").exists()
    assert (tmp_path / "out" / "rooms" / "105" / "pack.pdf").exists()


def test_what_is_not_cut_anew_any_more_is_set_aside_and_not_lost(run, site, tmp_path):
    out = tmp_path / "out"
    run("rooms", str(site), "--out", str(out))
    text = site.read_text(encoding="utf-8")
    i = text.index('  - name: "103"')
    site.write_text(text[:i] + '  - name: "103"\n' + text[text.index('  - name: "104"') :], encoding="utf-8")
    run("rooms", str(site), "--out", str(out))
    assert not (out / "rooms" / "103").exists()
    assert not (out / "rooms" / "103-labels.pdf").exists()
    assert (out / "rooms" / "103.earlier" / "pack.pdf").exists()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("site: A\nrooms: []\n", "It has no rooms"),
        ('site: A\nrooms:\n  - name: "1"\n', 'It is not said of which type "1" is'),
        ('site: A\ntype: ../bath.yaml\nrooms:\n  - name: "1"\n', "lies elsewhere"),
        ('site: A\ntype: b.yaml\nrooms:\n  - name: "1"\n  - name: "1"\n', 'Two rooms are called "1"'),
        ('site: A\ntype: b.yaml\nrooms:\n  - name: "1"\n    read: [{hole: hot}]\n', "It says where hot is with across"),
        ('site: A\ntype: b.yaml\nrooms:\n  - name: "1"\n    hand: turned\n', "write as drawn or mirrored"),
        (
            'site: A\ntype: b.yaml\nrooms:\n  - name: "1"\n    read: [{edge: left, at: 3 left of V, hole: hot}]\n',
            "one of them",
        ),
    ],
)
def test_a_file_of_rooms_that_cannot_be_taken(run, tmp_path, text, sentence):
    path = tmp_path / "rooms.yaml"
    path.write_text(text, encoding="utf-8")
    result = run("rooms", str(path))
    assert result.exit_code == 2
    assert sentence in " ".join(result.stderr.split())
