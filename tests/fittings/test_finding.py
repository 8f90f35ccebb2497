"""What a tiler says, and the fitting that is meant. Diameters are those of the standards named beside each."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutmarks.fittings import Fitting, FittingChoice, find
from cutmarks.fittings.finding import Dialect
from cutmarks.units import Unit

MM, INCH = Unit.MM, Unit.INCH


def found(what: str, say: Dialect = "uk", default: Unit = MM) -> Fitting:
    fitting = find(what, say, default)
    assert fitting is not None
    return fitting


@pytest.mark.parametrize(
    ("what", "say", "default", "family", "od"),
    [
        ("15 copper", "uk", MM, "copper", 15.0),  # EN 1057
        ("copper 15", "uk", MM, "copper", 15.0),
        ("Copper pipe, 15mm, cold", "uk", MM, "copper", 15.0),
        ("1.5 cm copper", "uk", Unit.CM, "copper", 15.0),
        ("15 copper", "us", INCH, "copper", 15.0),  # over 12: not inches
        ("67 copper", "uk", MM, "copper", 66.7),  # EN 1057
        ("67 copper", "us", MM, "copper", 67.0),  # ASTM B88M
        ("1/2 copper", "us", INCH, "copper", 15.875),  # ASTM B88: 1/2 + 1/8 = 0.625 in
        ("½ copper", "us", INCH, "copper", 15.875),
        ("1/2 copper", "us", MM, "copper", 15.875),
        ("1/2 in copper", "uk", MM, "copper", 15.875),
        ("US 1/2 copper", "uk", MM, "copper", 15.875),
        ("1 copper", "us", INCH, "copper", 28.575),  # 1.125 in
        ("1/2 iron pipe", "us", INCH, "iron pipe", 21.336),  # ASME B36.10M: 0.840 in
        ("1/2 iron pipe", "uk", MM, "iron pipe", 21.3),  # ISO 7-1 sizes
        ("galvanised 3/4", "uk", MM, "iron pipe", 26.9),
        ("DN 65", "uk", MM, "iron pipe", 76.1),
        ("dn15 steel", "us", INCH, "iron pipe", 21.3),
        ("1/2 PEX", "us", INCH, "PEX", 15.875),  # ASTM F876
        ("16 pe-x", "uk", MM, "PEX", 16.0),
        ("16 multilayer", "uk", MM, "multilayer", 16.0),
        ("16 x 2 multilayer", "uk", MM, "multilayer", 16.0),
        ("16x2 pex-al-pex", "uk", MM, "multilayer", 16.0),
        ("110 soil", "uk", MM, "soil", 110.0),  # BS 4514
        ("DN 110 waste", "uk", MM, "waste", 110.0),  # EN 1329-1: DN/OD is the diameter
        ("40 solvent weld waste", "uk", MM, "waste", 43.0),  # BS EN 1329-1 foreword
        ("push-fit 40 waste", "uk", MM, "waste", 41.0),
        ("35 chrome waste", "uk", MM, "waste", 35.0),
        ("21.5 overflow", "uk", MM, "waste", 21.5),  # BS 5255
        ("1-1/2 waste", "us", INCH, "waste", 48.26),  # ASTM D2665: 1.900 in
        ("3 in ABS drain", "us", INCH, "waste", 88.9),  # ASTM D2661: 3.500 in
        ("4 sewer", "us", INCH, "sewer pipe", 107.061),  # 4.215 in
        ("1/2 EMT", "us", INCH, "conduit", 17.9324),  # 0.706 in
        ("G1/2", "uk", MM, "BSP thread", 20.955),  # ISO 228-1
        ("3/4 BSP", "us", INCH, "BSP thread", 26.441),
        ("1 BSP", "uk", MM, "BSP thread", 33.249),  # sold in inches alone: no doubt in a metric job
        ("2 galvanised", "uk", MM, "iron pipe", 60.3),
    ],
)
def test_a_size_and_a_kind_in_any_order(what: str, say: Dialect, default: Unit, family: str, od: float) -> None:
    fitting = found(what, say, default)
    assert fitting.family == family
    assert fitting.od == pytest.approx(od, abs=1e-9)
    assert fitting.source


@pytest.mark.parametrize(
    ("what", "default", "od"),
    [
        ("20.955", MM, 20.955),
        ("15", MM, 15.0),  # every pipe called 15 measures 15
        ("110 pipe", MM, 110.0),
        ("21.3 outside", MM, 21.3),
        ("40 outside diameter", MM, 40.0),  # said to be the diameter, so not the 43 of a 40 waste
        ("0.84", INCH, 21.336),
    ],
)
def test_a_size_alone_is_the_diameter(what: str, default: Unit, od: float) -> None:
    fitting = found(what, "us" if default is INCH else "uk", default)
    assert fitting.od == pytest.approx(od)
    assert (fitting.family, fitting.mark, fitting.measure_yours) == ("", "own", False)


@pytest.mark.parametrize("what", ["mixer valve", "socket box", "copper", "", "?", "thermostatic shower"])
def test_a_description_without_a_size_is_no_fault(what: str) -> None:
    assert find(what, "uk", MM) is None


def test_a_name_of_several_pipes_comes_back_open() -> None:
    fitting = found("40 waste")
    assert fitting.od is None
    assert {choice.words: choice.od for choice in fitting.choices} == {
        "solvent weld": 43.0,  # BS EN 1329-1, national foreword
        "push-fit": 41.0,  # British push-fit waste
        "DN/OD": 40.0,  # EN 1329-1
    }
    assert fitting.mark == "C"
    assert fitting.measure_yours


def test_soil_pipe_of_82_differs_by_standard() -> None:
    # BS EN 1329-1:2014, national foreword: 82.0 and 82.4 are not interchangeable.
    assert [choice.od for choice in found("82 soil").choices] == [82.0, 82.4]


@pytest.mark.parametrize(
    ("what", "say", "width", "height"),
    [
        ("1 gang plate", "uk", 86.0, 86.0),
        ("2-gang plate", "uk", 146.0, 86.0),
        ("double socket plate", "uk", 146.0, 86.0),
        ("1 gang plate", "us", 69.85, 114.3),  # WD 6: 2-3/4 x 4-1/2 in
        ("US single plate", "uk", 69.85, 114.3),
        ("Australian single plate", "uk", 116.0, 76.0),
        ("Italian 503 box", "uk", 106.0, 71.0),
        ("147 x 86", "uk", 147.0, 86.0),
        ("72 x 72 box", "uk", 72.0, 72.0),
        ("2 x 3 in box", "uk", 50.8, 76.2),
    ],
)
def test_boxes_and_plates(what: str, say: Dialect, width: float, height: float) -> None:
    fitting = found(what, say)
    assert fitting.w == pytest.approx(width)
    assert fitting.h == pytest.approx(height)


def test_a_box_that_differs_by_maker_is_to_be_measured() -> None:
    fitting = found("single socket box")
    assert fitting.choices == (FittingChoice("smallest", None, 70.0, 70.0), FittingChoice("largest", None, 73.0, 73.0))
    assert fitting.w is None
    assert fitting.depths == (16.0, 25.0, 35.0, 47.0)
    assert fitting.measure_yours


def test_a_round_box_has_a_hole_and_no_outline() -> None:
    fitting = found("round box")
    assert (fitting.hole, fitting.od, fitting.centres) == (68.0, None, 60.0)  # DIN 49073


@pytest.mark.parametrize(
    ("what", "say", "default", "sentence"),
    [
        (
            "1/2",
            "us",
            INCH,
            '"1/2" alone can be several pipes: copper, iron pipe or PEX? Write size and kind, as in "1/2 copper", '
            'or the true diameter with "outside" behind it.',
        ),
        (
            "40",
            "uk",
            MM,
            '"40" alone can be several pipes: copper, PEX, multilayer or waste? Write size and kind, '
            'as in "40 copper", or the true diameter with "outside" behind it.',
        ),
        (
            "17 copper",
            "uk",
            MM,
            '"17 copper" is no size of copper that is known: the nearest sizes are 16 mm and 18 mm; '
            "else write the diameter alone.",
        ),
        # What is measured outside and then named by it: BS EN 1329-1 has DN/OD 43 for 1-1/2; ASTM B88 has 1-1/8 for 1.
        (
            "43 waste",
            "uk",
            MM,
            '"43 waste" is no size of waste by name, but 40 mm solvent weld waste measures so outside: write '
            '"40 mm solvent weld waste", or the diameter alone.',
        ),
        (
            "28.6 mm copper",
            "us",
            INCH,
            '"28.6 mm copper" is no size of copper by name, but 1 in copper measures so outside: write "1 in copper", '
            "or the diameter alone.",
        ),
        ("15 coper", "uk", MM, '"15 coper" is not known: did you mean "15 copper"?'),
        (
            "22 heating tail",
            "uk",
            MM,
            '"22 heating tail" has a size but no kind that is known: write copper, iron pipe, PEX, multilayer, waste '
            "or soil, or the diameter alone, or leave the size out.",
        ),
        (
            "15 copper" + "r" * 5000,
            "uk",
            MM,
            f'"15 copper{"r" * 51}..." has a size but no kind that is known: write copper, iron pipe, PEX, multilayer, '
            "waste or soil, or the diameter alone, or leave the size out.",
        ),
        (
            "1/2 copper",
            "uk",
            MM,
            '"1/2 copper" is known as US alone, 15.875 mm outside: write "US 1/2 copper" if it is that, '
            "else the size itself.",
        ),
        ("2 waste", "uk", MM, '"2 waste" is read in mm here, and waste comes in 2 in: write "2 in waste".'),
        ("8 copper", "us", INCH, '"8 copper" is read in inches here, and copper comes in 8 mm: write "8 mm copper".'),
        ("15", "us", INCH, '"15" is read in inches here: write "15 mm" or "15 in".'),
        ("0", "uk", MM, '"0" has a size of 0: write the size of what comes through.'),
        ("15 copper pex", "uk", MM, '"15 copper pex" names copper and PEX: write one kind, as in "15 copper".'),
        (
            "15 copper 22",
            "uk",
            MM,
            '"15 copper 22" has more than one size: write one, as in "15 copper"; what was measured stands under '
            "diameter or size, and two things are two holes.",
        ),
        ("12,7 copper", "uk", MM, '"12,7" has a comma in a number: write 12.7.'),
        (
            "7/16",
            "uk",
            MM,
            '7/16 is a fraction with no unit, and lengths here are in mm: write 7/16" if it is inches, else a decimal.',
        ),
        (
            "2 gang box",
            "us",
            INCH,
            '"2 gang box" is known as British alone: write "British 2 gang box" if it is that, else the size itself.',
        ),
        (
            "European 1/2 copper",
            "uk",
            MM,
            '"European 1/2 copper" is no European size that is known: leave that word out, or write the size itself.',
        ),
    ],
)
def test_faults_say_what_to_write(what: str, say: Dialect, default: Unit, sentence: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        find(what, say, default)
    assert str(caught.value) == sentence


def test_a_sign_is_not_lost() -> None:
    with pytest.raises(ValueError, match="has a sign"):
        find("-15 copper", "uk", MM)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.sampled_from(
            [
                "15",
                "1/2",
                "½",
                "-",
                "copper",
                "dn",
                "x",
                "2",
                "gang",
                "plate",
                "in",
                "mm",
                "us",
                "pex",
                "waste",
                ",5",
                "?",
            ]
        ),
        max_size=6,
    )
)
def test_any_words_are_a_fitting_or_a_sentence(words: list[str]) -> None:
    sayings: list[tuple[Dialect, Unit]] = [("uk", MM), ("us", INCH)]
    for say, default in sayings:
        fitting, fault = None, ""
        try:
            fitting = find(" ".join(words), say, default)
        except ValueError as raised:
            fault = str(raised)
        assert fault == "" or fault.endswith((".", "?"))
        assert fitting is None or fitting.od is None or fitting.od > 0
