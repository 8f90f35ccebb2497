"""The words of the wall page, the same for each of its parts: what its buttons say and what it answers.

They stand in the page as text, those that are not always shown hidden: its script has none of its own.
"""

from __future__ import annotations

NEXT = "NEXT"
TITLE = "wall page"
NO_SCRIPT = (
    "This page runs no script here: every tile can be read and nothing can be typed in. Write what you found on the "
    "sheet, and take it in with cutmarks found."
)
NOT_KEPT = (
    "NOT KEPT: this phone keeps nothing for a page opened so. What you tap stays in the address of this page alone: "
    "send it in before you close it, or open the page from the phone's own files."
)
HELD = "From an earlier page, held: these tiles have changed since, so what was read then moves nothing here."
PUT_AWAY = "put away"

ELEVATION, BEHIND = "elevation", "findings, set-out, order of work, what to buy"
FINDINGS, ASSUMED, NOTES, SET_OUT, CAUTIONS = "BEFORE YOU CUT", "Assumed", "NOTES", "Set-out", "CAUTIONS"
TO_BUY = "What to buy"
WHERE, SKETCH, AS_FACED = "where it is", "what is cut", "as you face it"
FACE, BACK, UP, PLUMB = "FACE", "BACK", "UP", "PLUMB"
READ, MARK, CHECK = "READ", "MARK", "check"
CUT_TO, TILE_AGAIN = "CUT TO", "TILE AGAIN FROM"
OPENING = "the opening"
AXIS = {"across": "wide", "up": "high"}
AS_PLANNED = "as planned: "
MORE = "Found MORE: the hole moves AWAY from it."
NEAR, FAR, MIDDLE = "near side", "far side", "to its middle"
LESS, PLUS, TYPE = "less", "more", "type it"
EXPECTED, FOUND, AS_EXPECTED = "expected", "found", "as expected"
NOT_YET = "NOT YET:"
ALL_READ = "all read"
"""How a tile is ticked in the list once all of it is read: READ, above the boxes, asks for it."""
MOVED_THERE = "MOVED"
HALF_READ = "Half read, so nothing of it goes back: "
MIRRORED = "BACK \u2013 MIRRORED: mark UP, turn it sideways like a page, UP stays up"
ON_ITS_FACE = "as seen on its face"
CLAMP_SCRAP = (
    "Its middle is off the tile: clamp scrap of the same thickness there, tight to the edge, for the core to start in."
)
NO_FIGURES = "Nothing is marked, cut or fixed until this is settled."
SIZE_HELD = "holes go on, its size is not known"
ALL_HELD = "do not cut this piece"

TICKS = (("cut", "CUT"), ("fixed", "FIXED"))
"""What a tile is ticked with, in the order in which it is done; that it is read is seen by its figures."""
UNDO, ONWARD, LIST, SEND = "undo", "next", "list", "send back"
LARGER, SMALLER = "larger", "smaller"
KEYPAD, ENTER, CANCEL, WIPE = "Type what the tape reads", "take it", "leave it", "wipe"
ALL_FIXED = "All tiles of this page are fixed."

INITIALS = "Your initials"
SENT = "What was read and done here, to send back: copy it into a message, keep it as a file, or share it."
COPY, SAVE, SHARE, REFRESH = "copy", "save as a file", "share", "write it anew"
COPIED = "Copied."
NOT_COPIED = "This phone lets no page copy: hold the text, take all of it, and copy it."
JOIN = "From the other phone: put what it sent here, or choose its file."
JOIN_FILE = "Its file"
JOIN_NOW = "join it"
JOINED = "Joined, tile by tile: "
NOT_JOINED = "Nothing was joined: this is not what a wall page of this job sent."
ASKED = "read differently on the two phones. Which is it?"
MINE, THEIRS = "mine", "the other"


def template_words(fingerprint: str) -> str:
    """Which print is the right one as long as nothing moved."""
    return f"The right print carries {fingerprint}."


def along_words(edge: str) -> str:
    """On which edge of the tile both ends of a measure lie."""
    return f"along the {edge}"


def read_so_far_words(read: str, of: str) -> str:
    """How many figures were read of those that it takes."""
    return f"{read} of {of} read"


def moved_template_words(fingerprint: str, right: str) -> str:
    """That the print is no longer the one to drill by, once what was read moves the hole, and which one is."""
    return f"{_MARK_BY_THESE} {_no_longer(fingerprint)}: the right one carries {right}. {_WHO_PRINTS}."


def moved_on_words(fingerprint: str, other: str) -> str:
    """The same of a tile whose sheet was made anew in another way than by moving: no page can tell its digits."""
    return f"{_MARK_BY_THESE} {_no_longer(fingerprint)}. {_WHO_PRINTS}, with other digits than {other}."


_MARK_BY_THESE = "MOVED: the figures here are the ones to mark by, with no wait for a print."
_WHO_PRINTS = "Who made this page prints it, once these readings are sent back"


def moves_too_words(hole: str, others: str) -> str:
    """That the rest of a hole, which lies in other tiles, moves with what was read here."""
    return f"The rest of {hole} moves too: read it in {others} as well, or carry it over, before you mark there."


def moved_there_words(hole: str, others: str) -> str:
    """The same on such a tile, until it is read there."""
    return f"{hole} was found moved at {others}: read it here too, or carry it over from there, before you mark."


def moving_words(fingerprint: str) -> str:
    """The same as soon as anything moves, before all is read."""
    return f"{_no_longer(fingerprint)}. Read the rest, and then mark."


def otherwise_words(fingerprint: str) -> str:
    """That a cut moved so far that its figures do not follow by adding."""
    return (
        "Moved so far it is not enough to add: the cut comes out otherwise, or leaves too little tile beside it. Do "
        f"not mark it. {_no_longer(fingerprint)}: send these readings back, and its sheet is made anew."
    )


def _no_longer(fingerprint: str) -> str:
    return f"The print {fingerprint} is no longer the one to drill through"
