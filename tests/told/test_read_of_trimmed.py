"""What is read for a trimmed piece is what a tape reads there; what comes off and on gives the cut."""

from __future__ import annotations

from tests.told.walls import piece_rows, wall

SIDES = "left: {at: 300 left of V, true: plumb, gap: 3}, right: {at: 800 right of V, true: plumb, gap: 3}"
TOP = "top: {at: 1000 above B, true: level, gap: 3}"
PIPE = "what: 15 copper, across: centre 700 right of V, up: centre 500 above B, cover: 65, end: comes off"


def reads(**parts: str) -> dict[str, str]:
    return {row["piece"]: row["read"] for row in piece_rows(wall(PIPE, **parts))}


def test_at_a_lined_window_the_tape_reads_the_bare_opening() -> None:
    # The window begins 330 up; course 1 ends at 198: 132. Tile passes the edge by lining 12 less trim 2.5 = 9.5:
    # 132 less the joint 2, and 9.5 more: 139.5.
    window = (
        "windows: [{name: bay, across: 100 to 500 right of V, up: 330 to 700 above B, lining: 12, corner: trim 2.5}]"
    )
    read = reads(edges=f"{SIDES}, bottom: {{at: 0 above B, true: level, gap: 0}}, {TOP}", surface=f"    {window}")
    assert "from the course below to the window bay 132, less joint 2, plus 9½ past it: keep 139½" in read["field 2-3"]


def test_the_side_of_a_step_is_read_to_itself() -> None:
    # A hearth 120 higher from 250 right of V on. The tile 1 to 299 of course 1 ends at its side, less the gap 4: 245
    # from its left edge. The piece on its left is not fixed before it, so it is read from V: 250, its own edge 1 in.
    steps = (
        "bottom: {steps: [{at: 0 above B, until: 250 right of V, what: floor, still to come: 0, gap: 4}, "
        "{at: 120 above B, what: hearth, gap: 4}]}"
    )
    read = reads(edges=f"{SIDES}, {steps}, {TOP}")
    assert not [words for words in read.values() if "joint 1" in words]
    assert any("250, less to its edge 1 and gap 4: keep 245" in words for words in read.values()), read


def test_a_piece_that_is_stopped_shows_no_cut_to_expect() -> None:
    # The wall ends 700 right of V, gap 3: the tile from 601 on is 96 wide. A hole of 35 about 630 leaves 11.5 beside
    # its maker's edge, under the 15 at which it cracks.
    edges = "left: {at: 0 right of V, true: plumb, gap: 1}, right: {at: 700 right of V, true: plumb, gap: 3}, "
    edges += "bottom: {at: 0 above B, true: level, gap: 0}, top: {at: 600 above B, true: level, gap: 2}"
    pipe = "what: tail, diameter: 15, opening: 35, up: centre 300 above B, cover: none, end: comes off, across: centre"
    rows = {row["piece"]: row for row in piece_rows(wall(f"{pipe} 630 right of V", edges=edges))}
    assert rows["field 2-3"]["stop"]
    assert rows["field 2-3"]["read"] == ""
    # The piece above it is not stopped: from the tile that ends at 599 to the wall 101, less the joint 2 and the gap 3.
    assert "101, less joint 2 and gap 3: keep 96" in rows["field 3-3"]["read"]
