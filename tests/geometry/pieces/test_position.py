import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import bounded
from tests.refusals import refusing
from trueup.geometry.errors import BadLength, BadPosition, GeometryError, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

SIDE = Edge("side", "underarm", "hem-side", (Chain.line(0j, 200j),))


@pytest.mark.parametrize(
    ("text", "along"),
    [
        ("60mm from underarm", 60.0),
        ("6 cm from underarm", 60.0),
        ("60mm from hem-side", 140.0),
        ("25% from underarm", 50.0),
        ("25 % from hem-side", 150.0),
        ("12,5% from underarm", 25.0),
        ("1/2in from underarm", 12.7),
        ("  60   FROM  Underarm ", 60.0),
        ("0mm from underarm", 0.0),
        ("100% from underarm", 200.0),
        ("200mm from hem-side", 0.0),
    ],
)
def test_a_maker_measures_along_an_edge_from_a_corner(text, along):
    assert Position.parse(text).along(SIDE) == pytest.approx(along)


def test_a_bare_number_takes_the_unit_it_is_given():
    assert Position.parse("2 from underarm", Unit.INCH).distance == pytest.approx(50.8)


@pytest.mark.parametrize(
    "text",
    ["", "60mm", "from underarm", "60mm to underarm", "60mm from", "120% from a", "-5mm from a"],
)
def test_what_is_no_place_is_refused_with_an_example(text):
    with refusing(BadPosition, match="is not a place on an edge"):
        Position.parse(text)


def test_a_place_with_no_length_in_it_says_what_is_wrong_with_the_length():
    with pytest.raises(BadLength):
        Position.parse("a bit from underarm")


@pytest.mark.parametrize(
    "wrong",
    [
        {},
        {"distance": 1.0, "share": 0.5},
        {"distance": -1.0},
        {"distance": math.nan},
        {"distance": math.inf},
        {"share": 1.01},
        {"share": -0.1},
        {"share": math.nan},
    ],
)
def test_a_place_is_one_sensible_amount(wrong):
    with pytest.raises(BadPosition):
        Position("underarm", **wrong)


def test_a_corner_of_another_edge_is_refused_with_the_two_there_are():
    with pytest.raises(NoSuchName) as refused:
        Position.parse("60mm from shoulder-point").along(SIDE)
    assert refused.value.candidates == ("underarm", "hem-side")


def test_a_place_beyond_the_edge_is_refused_with_its_length():
    with refusing(BadPosition, match=r"only 200 mm"):
        Position.parse("201mm from underarm").along(SIDE)


def test_rounding_noise_does_not_reach_beyond_the_edge():
    assert Position("underarm", distance=200 + 1e-9).along(SIDE) == 200


@given(st.floats(0, 1))
def test_a_share_is_written_and_read_to_the_last_bit(share):
    place = Position("underarm", share=share)
    assert Position.parse(str(place)) == place


@given(st.floats(0, 10_000))
def test_a_distance_is_written_and_read_to_the_last_bit(distance):
    place = Position("underarm", distance=distance)
    assert Position.parse(str(place)) == place


@given(st.text(max_size=40))
def test_only_declared_errors_escape(text):
    for written in (text, f"{text} from underarm", f"{text}% from underarm"):
        with contextlib.suppress(GeometryError):
            assert Position.parse(written).corner


@pytest.mark.parametrize("blank", [" ", "\t", "\u00a0", " \u2009"])
def test_a_place_among_any_number_of_blanks_is_read_or_refused(blank):
    told = bounded.python(
        """
        import sys
        from trueup.geometry.errors import GeometryError
        from trueup.geometry.pieces.position import Position
        blanks = sys.argv[1] * 20_000
        print(Position.parse(f"{blanks}1{blanks[:9]}1/2in{blanks}from{blanks}hem{blanks}"))
        for text in (blanks, f"60mm{blanks}", f"{blanks}from{blanks}", f"1 from{blanks}!"):
            try:
                Position.parse(text)
            except GeometryError as error:
                print(type(error).__name__)
        """,
        blank,
    )
    assert told.splitlines() == ["38.1mm from hem", *["BadPosition"] * 4]
