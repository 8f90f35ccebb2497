"""Blocks over pages."""

from __future__ import annotations

from msgspec.structs import replace

from cutmarks.sheets.flow import Block, Column, TextBlock, on_page, paginate, paragraph, table
from tests.sheets.drawn import words_of


def heights(pages):
    return [[one.height for one, _ in page] for page in pages]


def test_blocks_go_one_under_the_other_until_the_page_is_full():
    pages = list(paginate([Block(30.0), Block(40.0), Block(35.0)], 100.0))
    # 30 + 40 = 70; 70 + 35 is over 100
    assert heights(pages) == [[30.0, 40.0], [35.0]]
    assert [top for _, top in pages[0]] == [0.0, 30.0]


def test_a_heading_goes_with_what_follows():
    pages = list(paginate([Block(80.0), Block(10.0, keep=True), Block(20.0)], 100.0))
    assert heights(pages) == [[80.0], [10.0, 20.0]]


def test_what_just_fits_stays():
    assert heights(paginate([Block(60.0), Block(40.0)], 100.0)) == [[60.0, 40.0]]


def test_a_chain_higher_than_a_page_is_broken():
    chain = [Block(60.0, keep=True), Block(60.0, keep=True), Block(60.0)]
    assert heights(paginate(chain, 100.0)) == [[60.0], [60.0], [60.0]]


def test_a_table_has_its_title_row_on_every_page():
    columns = (Column(("name",), 50.0), Column(("size",), 50.0, "end"))
    band = Block(10.0, keep=True)
    rows = [[[TextBlock(f"piece {number}")], [TextBlock("297 x 597")]] for number in range(40)]
    pages = list(paginate([band, *table(columns, rows, (band,))], 100.0))
    assert len(pages) > 2
    for page in pages:
        assert page[0][0] is band
        assert [one.text for one in words_of(page[1][0].marks)] == ["name", "size"]
    said = [mark.text for page in pages for one, _ in page for mark in words_of(one.marks)]
    assert [text for text in said if text.startswith("piece")] == [f"piece {number}" for number in range(40)]


def test_nothing_is_higher_than_the_page():
    blocks = [Block(float(7 + number % 5), keep=number % 3 == 0) for number in range(200)]
    for page in paginate(blocks, 60.0):
        assert sum(one.height for one, _ in page) <= 60.0


def test_a_long_sentence_may_go_on_over_the_page():
    blocks = paragraph("a tile that is cut " * 60, 60.0, label="NOTE", indent=16.0)
    assert len(blocks) > 10
    assert len(list(paginate(blocks, 30.0))) > 1
    assert sum(1 for one in blocks for mark in words_of(one.marks) if mark.text == "NOTE") == 1


def test_a_picture_is_made_lower_rather_than_leave_a_page_half_blank():
    drawn: list[float] = []

    def draw(height: float) -> tuple[()]:
        drawn.append(height)
        return ()

    def picture(height: float) -> Block:
        return Block(height, picture=draw, least=50.0)

    # 40 are used: 60 are left for a picture of 90
    assert heights(paginate([Block(40.0), picture(90.0)], 100.0)) == [[40.0, 60.0]]
    # 55 are used: the 45 that are left are less than it can do with
    assert heights(paginate([Block(55.0), picture(90.0)], 100.0)) == [[55.0], [90.0]]
    # its heading stays with it
    assert heights(paginate([Block(20.0), Block(10.0, keep=True), picture(90.0)], 100.0)) == [[20.0, 10.0, 70.0]]
    # it is drawn when it stands, in the height that it then has, and not before
    assert drawn == []
    (page,) = paginate([Block(40.0), picture(90.0)], 100.0)
    assert list(on_page(page, 0.0, 100.0)) == []
    assert drawn == [60.0]


def _rows(count: int, height: float = 10.0):
    columns = (Column(("name",), 50.0),)
    rows = [[[TextBlock(f"row {number}")]] for number in range(count)]
    title, *made = table(columns, rows)
    return [title, *(replace(one, height=height) for one in made)]


def test_a_last_page_of_too_few_rows_takes_some_of_the_page_before():
    title, *rows = _rows(10)
    # The titles take title.height, and nine rows of 10 fit beside them: the tenth would stand alone.
    pages = list(paginate([title, *rows], title.height + 90.0, least=3))
    assert [sum(bool(one.head) for one, _ in page) for page in pages] == [7, 3]
    assert [one for page in pages for one, _ in page if one.head] == rows
    # The title row stands over those that were moved, and each below the one before it.
    assert pages[1][0][0] is title
    assert [top for _, top in pages[1]] == [0.0, title.height, title.height + 10.0, title.height + 20.0]


def test_a_last_page_that_holds_more_than_rows_is_left_as_it_is():
    title, *rows = _rows(10)
    words = paragraph("what stands below the table", 80.0)
    pages = list(paginate([title, *rows, *words], title.height + 90.0, least=3))
    assert [sum(bool(one.head) for one, _ in page) for page in pages] == [9, 1]
    # A blank below it is nothing.
    pages = list(paginate([title, *rows, Block(5.0)], title.height + 90.0, least=3))
    assert [sum(bool(one.head) for one, _ in page) for page in pages] == [7, 3]


def test_no_row_is_taken_from_a_table_that_then_had_its_titles_alone():
    title, *rows = _rows(2)
    pages = list(paginate([Block(80.0), title, *rows], title.height + 90.0, least=2))
    assert [sum(bool(one.head) for one, _ in page) for page in pages] == [1, 1]


def test_the_first_page_may_have_less_room():
    # 100 a page, but 60 on the first: 30 + 30, then 30 + 30 + 30
    assert heights(paginate([Block(30.0)] * 5, 100.0, first=60.0)) == [[30.0, 30.0], [30.0, 30.0, 30.0]]
