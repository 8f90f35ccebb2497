"""The clearance round of a site: every fitting of every room on one page, nothing but what is wrong first."""

from __future__ import annotations

from pathlib import Path

from cutmarks.job import load_job
from cutmarks.job.rooms_file import load_rooms
from cutmarks.rooms.flow import Rooms
from cutmarks.rooms.model import RoomsReport
from cutmarks.rooms.report import report_of
from cutmarks.sheets.rooms_page import clearance_round_pages
from tests.sheets.drawn import texts

TYPE = Path(__file__).parents[2] / "examples" / "treatment-room" / "treatment-room.yaml"
SITE = "site: Larch House\ntype: treatment-room.yaml\nrooms:\n"


def round_of(tmp_path, rooms: str) -> tuple[int, str, RoomsReport]:
    path = tmp_path / "rooms.yaml"
    path.write_text(SITE + rooms, encoding="utf-8")
    all_rooms = Rooms(load_rooms(path), lambda _: load_job(TYPE))
    report = report_of(all_rooms, {room.name: all_rooms.room(room).fits for room in all_rooms.specs})
    pages = clearance_round_pages(report)
    return len(pages), " ".join(text for page in pages for text in texts(page.marks)), report


def test_what_is_wrong_is_said_once_for_all_its_rooms_before_how_many_pass(tmp_path):
    hands = ("as drawn", "mirrored")
    listed = "".join(f'  - {{name: "{number}", hand: {hands[number % 2]}}}\n' for number in range(40))
    pages, said, report = round_of(tmp_path, listed)
    assert pages == 1
    assert "40 rooms, 200 fittings, 120 pass." in said  # five a room, two of which are wrong: shut-off and pull cord
    assert said.count("to be serviced it needs 140 clear") == 1
    assert said.index("STOP") < said.index("CHECK") < said.index("ALL ROOMS") < said.index("3 of 5 pass")
    assert all(not room.verdicts and not room.specials for room in report.rooms)


def test_a_reading_in_a_room_is_looked_at_where_it_is(tmp_path):
    # The valve needs 190 about V, 95 to its right; a hand round the shut-off 140: at 210 its 70 end at 140.
    moved = '  - name: "1"\n  - name: "2"\n    read: [{hole: shut-off, across: 202 to 218 right of V}]\n'
    _, said, report = round_of(tmp_path, moved)
    wrong = {room.room: {one.name for one in room.cleared if not one.passes} for room in report.rooms}
    assert wrong == {"1": {"shut-off", "pull cord"}, "2": {"pull cord"}}
    assert "Room 1: basin wall, shut-off: to be serviced it needs 140" in said
    assert report.rooms[1].verdicts == ()
