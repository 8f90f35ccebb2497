"""The walk from a tree to frozen values: what is wrong is told where it stands, and all that can be read is read."""

import pickle
from collections.abc import Mapping
from typing import Annotated, cast

import pytest
from msgspec import field
from msgspec.structs import replace

from cutmarks.errors import Fault, Faults
from cutmarks.job.declared import Key, Made
from cutmarks.job.entries import MOST_LOOKED_UP, Reader
from cutmarks.job.faults import TreeFaults
from cutmarks.job.fields import NameField, WordsField, length, parsed
from cutmarks.job.model import JobModel, TypedKeys
from cutmarks.job.tree import Entry, Places, planted
from cutmarks.job.words import Setting
from cutmarks.units import Unit
from tests.job.jobs import WALL, job

Long = Annotated[float, parsed(length(1.0, 500.0, "A length"))]


class Peg(JobModel, frozen=True, kw_only=True):
    """A thing on a rail."""

    at: Annotated[Long, Key("where it is", ("20",), short=True)]
    high: Annotated[Long | None, Key("how high", ("30",), floor=("in", "30"))] = None


class Rail(JobModel, frozen=True, kw_only=True):
    """A thing with others under it."""

    name: Annotated[NameField, Key("what it is called", ("oak",), word="rail")]
    words: Annotated[WordsField, Key("words", ("left",), also=("saying",))] = ""
    said: Annotated[bool, Made("words")] = False
    pegs: Annotated[tuple[Peg, ...], Key("what hangs on it", ("[20, 40]",))] = ()
    ends: Annotated[Mapping[NameField, Long], Key("by name", ("{a: 3}",))] = field(default_factory=dict)

    @classmethod
    def prepare(cls, written: TypedKeys, setting: Setting) -> None:
        """Whether there are words."""
        written.keys["said"] = "words" in written.keys

    def check(self) -> None:
        """No two pegs in one place."""
        if len({peg.at for peg in self.pegs}) < len(self.pegs):
            raise ValueError("Two pegs are in one place.")


def read(keys: Mapping[str, object], setting: Setting | None = None) -> tuple[Rail | None, list[str], Reader]:
    tree = cast("Entry", planted(keys))
    faults = TreeFaults(tree, Places())
    reader = Reader(faults)
    made = reader.read(Rail, tree, setting or Setting())
    return made, [fault.sentence for fault in faults], reader


def test_a_thing_is_read_with_all_that_hangs_on_it() -> None:
    made, told, reader = read(
        {"Rail": " oak  rail ", "saying": "left", "pegs": ["20", {"at": "4 cm"}], "ends": {"a": 3}}
    )
    assert told == []
    assert made == Rail(
        name="oak rail",
        words="left",
        said=True,
        pegs=(Peg(at=20.0, where=("pegs", 0)), Peg(at=40.0, where=("pegs", 1))),
        ends={"a": 3.0},
    )
    assert [type(one).__name__ for one, _ in reader.made] == ["Peg", "Peg", "Rail"]


def test_a_figure_without_a_unit_is_in_the_unit_of_the_setting() -> None:
    made, _, _ = read({"rail": "oak", "pegs": [2]}, Setting(unit=Unit.INCH))
    assert made is not None
    assert made.pegs[0].at == pytest.approx(50.8)  # two inches of 25.4


def test_each_fault_is_told_where_it_stands_and_what_stands_beside_it_is_read_on() -> None:
    pegs = [{"at": "9 m"}, {"hihg": 3}, "40"]
    tree = cast("Entry", planted({"words": ["a"], "pegs": pegs, "ends": {"=a": "x"}, "b": 1}))
    faults = Faults(lambda path, _, sentence: Fault(sentence, "/".join(map(str, path))))
    reader = Reader(faults)
    assert reader.read(Rail, tree, Setting()) is None
    assert [(fault.about, fault.sentence.split(":")[0]) for fault in faults] == [
        ("", '"rail" is missing'),
        ("words", "A list stands where one value is wanted"),
        ("pegs/0/at", '"9 m" is out of range for a length'),
        ("pegs/1", '"at" is missing'),
        ("pegs/1/hihg", '"hihg" is no key here'),
        ("ends/=a", '"=a" begins with =, which a spreadsheet runs as a formula'),
        ("ends/=a", '"x" is no length'),
        ("b", '"b" is no key here'),
    ]
    assert [one.where for one, _ in reader.made] == [("pegs", 2)]


def test_what_is_wrong_with_the_whole_is_told_once_its_parts_are_right() -> None:
    assert read({"rail": "oak", "pegs": [20, 20]})[1] == ["Two pegs are in one place."]
    assert read({"rail": "oak", "pegs": [20, 20, "900"]})[1] == [
        '"900" is out of range for a length: write 1 to 500 mm.'
    ]
    assert read({"rail": "oak", "pegs": "20"})[1] == [
        "A list is wanted here: begin each thing with - on a line of its own."
    ]
    keys = "Keys are wanted here, one a line, each with a colon and a blank behind it."
    assert read({"rail": "oak", "ends": ["a"]})[1] == [keys]
    assert read({"rail": "oak", "pegs": [""]})[1] == [keys]


def test_two_words_for_one_key_are_told_of_the_whole() -> None:
    assert read({"rail": "oak", "words": "a", "Saying": "b"})[1] == ['"words" and "Saying" say the same: keep one.']


@pytest.mark.parametrize(("kind", "word", "other"), [("wall", "high", "in"), ("floor", "in", "high")])
def test_a_key_has_the_word_of_its_kind_of_surface(kind: str, word: str, other: str) -> None:
    setting = Setting(kind="floor") if kind == "floor" else Setting()
    made, told, _ = read({"rail": "oak", "pegs": [{"at": 20, word: 30}]}, setting)
    assert told == []
    assert made is not None
    assert made.pegs[0].high == 30.0
    assert len(read({"rail": "oak", "pegs": [{"at": 20, other: 30}]}, setting)[1]) == 1


def test_what_is_not_known_is_as_if_it_were_not_written() -> None:
    made, told, _ = read({"rail": "oak", "words": "?", "pegs": [{"at": 20, "high": "?"}]})
    assert told == []
    assert made is not None
    assert (made.said, made.pegs[0].high) == (False, None)


def test_no_more_faults_are_looked_up_than_the_most() -> None:
    _, told, _ = read({"rail": "oak", **{f"odd {number}": 1 for number in range(MOST_LOOKED_UP + 50)}})
    assert len(told) == MOST_LOOKED_UP


class Bare(JobModel, frozen=True, kw_only=True):
    """A thing with a key that nothing reads."""

    long: Annotated[tuple[float, ...], Key("how long", ("[20]",))] = ()


def test_a_key_whose_type_says_not_how_it_is_read_is_no_key() -> None:
    with pytest.raises(TypeError, match=r"float.* has nothing beside it"):
        Reader(Faults(lambda path, _, sentence: Fault(sentence))).read(Bare, Entry(), Setting())


def test_a_job_is_a_value() -> None:
    one = job(WALL)
    assert one == job(WALL)
    assert pickle.loads(pickle.dumps(one)) == one
    assert replace(one, name="Mill Loft") != one
    assert hash(one.surfaces[0].holes[0]) == hash(job(WALL).surfaces[0].holes[0])


def test_a_fault_is_about_what_is_looked_at_and_told_once() -> None:
    faults = job(WALL).faults()
    hole = ("surfaces", 0, "holes", 0)
    with faults.about('area "splash"', ("surfaces", 0, "areas", 0)):
        with faults.about('hole "hot"', hole):
            faults.tell("Too high.", (*hole, "up"))
            faults.tell("Odd.")
        faults.tell("Too wide.")
        faults.tell("Too wide.")
    # Lines as they stand in WALL: the area begins in line 11, the hole in 16, its `up` in 19.
    assert [str(fault) for fault in faults] == [
        'job.yaml line 19, hole "hot": Too high.',
        'job.yaml line 16, hole "hot": Odd.',
        'job.yaml line 11, area "splash": Too wide.',
    ]
    assert len(faults) == 4
