import doctest
import math
import pickle
import unicodedata
from fractions import Fraction

import numpy
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import trueup.geometry.errors
import trueup.geometry.units
from tests.refusals import refusing
from trueup.cli.wording.words import worded_error
from trueup.geometry.errors import BadLength, GeometryError
from trueup.geometry.limits import LARGEST_LENGTH
from trueup.geometry.said import said
from trueup.geometry.units import Unit, as_printed, format_length, parse_length, write_length

LENGTHS = st.floats(min_value=-LARGEST_LENGTH, max_value=LARGEST_LENGTH)
PRINTING_STEPS = {
    Unit.MILLIMETRE: Fraction(1, 10),
    Unit.CENTIMETRE: Fraction(1),
    Unit.INCH: Fraction(254, 160),
}
ALMOST_LENGTHS = st.text(alphabet="0123456789.,/ -+−–eE½⅜⁄\"″'mcinft\t\u00a0\n", max_size=14)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12mm", 12.0),
        ("12 mm", 12.0),
        ("  12mm\n", 12.0),
        ("12MM", 12.0),
        ("1.2cm", 12.0),
        ("1.2 cm", 12.0),
        ("1,2cm", 12.0),
        ("0,125in", 3.175),
        (".5in", 12.7),
        (",5cm", 5.0),
        ("-5mm", -5.0),
        ("−5mm", -5.0),
        ("+5mm", 5.0),
        ("1in", 25.4),
        ("0.5in", 12.7),
        ("1/2in", 12.7),
        ('1/2"', 12.7),
        ("1/2″", 12.7),
        ("1/2”", 12.7),
        ("3/2in", 38.1),
        ('1 1/2"', 38.1),
        ("1 1/2 in", 38.1),
        ("1  1/2\u00a0IN", 38.1),
        ("-1 1/2in", -38.1),
        ("3 3/8 in", 85.725),
        ("½in", 12.7),
        ("-½in", -12.7),
        ("1½in", 38.1),
        ("1 ½ in", 38.1),
        ("1⁄2in", 12.7),
        ("3⅜″", 85.725),
        ("1/2cm", 5.0),
        ("0/4in", 0.0),
        ("1e-3mm", 0.001),
        ("10000mm", 10_000.0),
        ("-1000cm", -10_000.0),
    ],
)
def test_a_length_is_read_as_a_maker_writes_it(text: str, mm: float) -> None:
    assert parse_length(text) == mm


@pytest.mark.parametrize(
    ("unit", "mm"), [(Unit.MILLIMETRE, 1.5), (Unit.CENTIMETRE, 15.0), (Unit.INCH, 38.1)]
)
def test_a_bare_number_takes_the_wardrobes_unit(unit: Unit, mm: float) -> None:
    assert [parse_length(text, unit) for text in ("1.5", "1,5", "1 1/2", "1½")] == [mm] * 4
    assert parse_length("7mm", unit) == 7.0


@pytest.mark.parametrize("text", ["-0mm", "-0/4in", "-1e-999mm"])
def test_minus_nothing_is_nothing(text: str) -> None:
    assert math.copysign(1.0, parse_length(text)) == 1.0


def test_without_a_wardrobe_a_bare_number_is_millimetres() -> None:
    assert parse_length("12") == 12.0


@pytest.mark.parametrize("sign", "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒")
def test_every_fraction_sign_is_worth_what_it_shows(sign: str) -> None:
    share = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
    assert parse_length(f"{sign}mm") == float(share)
    assert parse_length(f"2{sign}in") == float((2 + share) * Fraction(254, 10))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("nan", "one number and its unit"),
        ("NaNmm", "one number and its unit"),
        ("inf", "one number and its unit"),
        ("-inf mm", "one number and its unit"),
        ("mm", "one number and its unit"),
        ('"', "one number and its unit"),
        ("12mm 3mm", "one number and its unit"),
        ("--5mm", "one number and its unit"),
        ("- 5mm", "one number and its unit"),
        ("5.mm", "one number and its unit"),
        ("1.2.3mm", "one number and its unit"),
        ("1,200.5mm", "one number and its unit"),
        ("1.5/2in", "one number and its unit"),
        ("1.5 1/2in", "one number and its unit"),
        ("1/2/3in", "one number and its unit"),
        ("1/2½in", "one number and its unit"),
        ("1_000mm", "_"),
        ("0x10mm", "one number and its unit"),
        ("1\n1/2in", "one number and its unit"),
        ("１２mm", "one number and its unit"),
        ("١٢mm", "one number and its unit"),
        ("1e99999mm", "one number and its unit"),
        ("12ft", "ft is not a known unit"),
        ("12m", "m is not a known unit"),
        ("12'", "' is not a known unit"),
        ("12inches", "inches is not a known unit"),
        ("1/0in", "divided by 0"),
        ("2 3/0in", "divided by 0"),
        ("0/0", "divided by 0"),
        ("1 3/2in", "not less than one"),
        ("1-1/2in", "could be a minus"),
        ('1-1/2"', "could be a minus"),
        ("1–½in", "could be a minus"),
        ("1 - 1/2in", "could be a minus"),
        ("1,200mm", "write 1.200 or 1200"),
        ("10000.0001mm", "more than 10 m"),
        ("-10001mm", "more than 10 m"),
        ("394in", "more than 10 m"),
        ("1e400", "more than 10 m"),
        ("-1e400mm", "more than 10 m"),
        ("9" * 60, "more than 10 m"),
        ("9" * 1_000_000, "far too long"),
        (" " * 1_000_000, "far too long"),
        ("1" + "/1" * 500_000, "far too long"),
    ],
)
def test_what_is_not_a_length_is_refused_with_the_reason(text: str, says: str) -> None:
    with pytest.raises(BadLength) as caught:
        parse_length(text)
    assert says in worded_error(caught.value)
    assert caught.value.text == text


def test_an_unknown_unit_is_answered_with_the_known_ones() -> None:
    with pytest.raises(BadLength) as caught:
        parse_length("12ft")
    assert worded_error(caught.value) == (
        '"12ft" is not a length: ft is not a known unit; '
        'write a number with mm, cm or in ("), as in 12mm, 1.2cm or 1 1/2in.'
    )


def test_every_example_in_the_advice_is_itself_understood() -> None:
    assert [parse_length(text) for text in ("12mm", "1.2cm", "1 1/2in")] == [12.0, 12.0, 38.1]


@given(st.one_of(st.text(), ALMOST_LENGTHS), st.sampled_from(Unit))
@example("1e400", Unit.MILLIMETRE)
@example("1e-999", Unit.INCH)
@example("\ud800mm", Unit.MILLIMETRE)
@example("12\udcff", Unit.MILLIMETRE)
def test_any_text_is_a_length_or_is_refused_in_one_short_sentence(text: str, unit: Unit) -> None:
    try:
        mm = parse_length(text, unit)
    except BadLength as refused:
        told = worded_error(refused)
        assert told.isprintable()
        told.encode()
        assert len(told) < 600
        assert told.endswith(".")
    else:
        assert math.isfinite(mm)
        assert abs(mm) <= LARGEST_LENGTH


@given(
    st.integers(0, 300), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), st.booleans()
)
def test_inch_fractions_are_exact_to_the_last_bit(
    whole: int, top: int, bottom: int, minus: bool
) -> None:
    top %= bottom
    wanted = (whole + Fraction(top, bottom)) * Fraction(254, 10) * (-1 if minus else 1)
    assert parse_length(f"{'-' if minus else ''}{whole} {top}/{bottom}in") == float(wanted)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (12.0, Unit.MILLIMETRE, "12 mm"),
        (12.34, Unit.MILLIMETRE, "12.3 mm"),
        (12.35, Unit.MILLIMETRE, "12.4 mm"),
        (-12.35, Unit.MILLIMETRE, "-12.4 mm"),
        (12.96, Unit.MILLIMETRE, "13 mm"),
        (-0.01, Unit.MILLIMETRE, "0 mm"),
        (-0.0, Unit.MILLIMETRE, "0 mm"),
        (12.0, Unit.CENTIMETRE, "1.2 cm"),
        (10.0, Unit.CENTIMETRE, "1 cm"),
        (-4.0, Unit.CENTIMETRE, "-0.4 cm"),
        (38.1, Unit.INCH, "1 1/2 in"),
        (9.525, Unit.INCH, "3/8 in"),
        (0.0, Unit.INCH, "0 in"),
        (-12.7, Unit.INCH, "-1/2 in"),
        (-38.1, Unit.INCH, "-1 1/2 in"),
        (50.8, Unit.INCH, "2 in"),
        (1.5875, Unit.INCH, "1/16 in"),
        (0.79375, Unit.INCH, "1/16 in"),
        (0.79, Unit.INCH, "0 in"),
        (50.7, Unit.INCH, "2 in"),
        (10_001.0, Unit.CENTIMETRE, "1000.1 cm"),
    ],
)
def test_a_length_is_printed_as_a_maker_reads_it(mm: float, unit: Unit, text: str) -> None:
    assert format_length(mm, unit) == text


@given(LENGTHS, st.sampled_from(Unit))
@example(LARGEST_LENGTH, Unit.INCH)
@example(-0.05, Unit.MILLIMETRE)
def test_what_is_printed_reads_back_within_half_a_printing_step(mm: float, unit: Unit) -> None:
    text = format_length(mm, unit)
    read = parse_length(text)
    assert abs(Fraction(repr(read)) - Fraction(repr(mm))) <= PRINTING_STEPS[unit] / 2
    assert format_length(read, unit) == text
    assert parse_length(text.removesuffix(f" {unit}"), unit) == read


@given(LENGTHS)
@example(5e-324)
@example(-2.2250738585072014e-308)
@example(LARGEST_LENGTH)
@example(-0.0)
@example(0.1 + 0.2)
def test_what_is_written_reads_back_to_the_last_bit(mm: float) -> None:
    assert parse_length(write_length(mm)) == mm
    assert all(parse_length(write_length(mm), unit) == mm for unit in Unit)


@pytest.mark.parametrize(
    ("mm", "text"), [(12.0, "12mm"), (12.7, "12.7mm"), (-0.0, "0mm"), (-5.0, "-5mm"), (3, "3mm")]
)
def test_a_file_holds_the_shortest_exact_form(mm: float, text: str) -> None:
    assert write_length(mm) == text


def test_a_number_from_an_array_is_written_like_any_other() -> None:
    assert write_length(numpy.float64(12.7)) == "12.7mm"
    assert format_length(numpy.float64(12.7), Unit.INCH) == "1/2 in"


@pytest.mark.parametrize("mm", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_no_length_is_neither_printed_nor_written(mm: float) -> None:
    with refusing(BadLength, match="not a finite number"):
        format_length(mm, Unit.MILLIMETRE)
    with refusing(BadLength, match="not a finite number"):
        write_length(mm)


@pytest.mark.parametrize("mm", [10_000.000001, -20_000.0, 1e300])
def test_a_file_never_holds_a_length_that_could_not_be_read_back(mm: float) -> None:
    with refusing(BadLength, match="more than 10 m"):
        write_length(mm)


def test_catching_what_the_geometry_refuses_catches_a_bad_length() -> None:
    with pytest.raises(GeometryError):
        parse_length("twelve")


def test_a_refusal_keeps_its_facts_when_it_crosses_processes() -> None:
    reason, remedy = said("unknown-unit", unit="ft"), said("write-length")
    refused = BadLength("12ft", reason, remedy)
    again = pickle.loads(pickle.dumps(refused))
    assert isinstance(again, BadLength)
    assert (again.text, again.reason, again.remedy) == ("12ft", reason, remedy)
    assert str(again) == str(refused)


@pytest.mark.parametrize("module", [trueup.geometry.units, trueup.geometry.errors])
def test_the_examples_in_the_docstrings_run(module: object) -> None:
    result = doctest.testmod(module)  # type: ignore[arg-type]
    assert result.attempted > 0
    assert result.failed == 0


@given(st.floats(-LARGEST_LENGTH / 2, LARGEST_LENGTH / 2), st.sampled_from(Unit))
def test_what_is_printed_is_what_a_maker_reads_to_the_last_bit(mm, unit):
    assert as_printed(mm, unit) == parse_length(format_length(mm, unit))
