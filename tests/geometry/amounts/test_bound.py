"""Amounts bound to the body: what is written comes to what it says, and to nothing else."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.geometry.amounts import BoundLength, is_bound, read_length, written_length
from trueup.geometry.changes import kind_named, read_change, write_change
from trueup.geometry.errors import BadLength, GeometryError
from trueup.geometry.units import Unit

BODY = {"bust": (880.0,), "waist": (700.0,), "back-length": (400.0,), "hip": (940.0, 1000.0)}


def read(text: str) -> float:
    return read_length(text, Unit.CENTIMETRE, BODY)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("bust/8", 110.0),
        ("4% of waist", 28.0),
        ("bust/24 + 1cm", 880 / 24 + 10),
        ("1/8 bust", 110.0),
        ("½ bust", 440.0),
        ("(bust - waist)/4", 45.0),
        ("back-length * 0,5", 200.0),
        ("-4% of waist", -28.0),
        ("bust/8 + 1 1/2in", 148.1),
        ("bust ÷ 8 − 1/2in", 110 - 12.7),
        ("BUST/8", 110.0),
        ("2 * (waist/10 + (bust - 80cm)/4)", 2 * (70 + 20)),
    ],
)
def test_it_comes_to_what_a_draft_would_say(text: str, mm: float) -> None:
    assert read(text) == pytest.approx(mm, abs=1e-9)
    assert written_length(read(text)) == text


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("bust/0", "bound-nought"),
        ("waist/(bust - 88cm)", "bound-nought"),
        ("bsut/8", "bound-unknown"),
        ("bust/24 + 1", "bound-adds"),
        ("bust*bust", "bound-no-length"),
        ("bust/waist", "bound-no-length"),
        ("bust/8 waist", "bound-unread"),
        ("bust +", "bound-ends"),
        ("(bust/8", "bound-open"),
        ("hip/8", "bound-two-bodies"),
        ("(" * 9 + "bust" + ")" * 9, "bound-too-deep"),
        ("bust/" * 200 + "2", "far-too-long"),
        ("__import__('os').system('true')/8", "no-number-and-unit"),
        ("bust.real/8", "bound-unread"),
        ("bust*100", "more-than"),
        ("bust/nan", "bound-unknown"),
        ("bust**9", "bound-unread"),
    ],
)
def test_what_cannot_be_one_is_refused_with_its_reason(text: str, reason: str) -> None:
    with pytest.raises(BadLength) as caught:
        read(text)
    assert caught.value.reason.what == reason


def test_a_block_without_measurements_is_told_of() -> None:
    with pytest.raises(BadLength) as caught:
        read_length("bust/8", Unit.MILLIMETRE)
    assert caught.value.reason.what == "bound-no-body"


@pytest.mark.parametrize(
    "text", ["12mm", "1 1/2in", "-5", "1/2in", "40% from underarm", "12 ft", "front.neck", "x-y"]
)
def test_a_plain_length_and_other_values_are_not_bound(text: str) -> None:
    assert not is_bound(text)


@given(st.text(alphabet='bustwaihp0123456789.,+-*/%()½ ofcmin"−×^!é', max_size=140))
def test_no_text_does_more_than_be_refused(text: str) -> None:
    try:
        mm = read(text)
    except GeometryError:
        return
    assert isinstance(mm, float)
    assert abs(mm) <= 10_000


_LEAF = st.one_of(
    st.sampled_from([("bust", Fraction(880)), ("waist", Fraction(700))]),
    st.integers(1, 400).map(lambda mm: (f"{mm}mm", Fraction(mm))),
)


Made = st.SearchStrategy[tuple[str, Fraction]]


def _joined(inner: Made) -> Made:
    sums = st.tuples(inner, st.sampled_from("+-"), inner).map(
        lambda t: (f"({t[0][0]} {t[1]} {t[2][0]})", t[0][1] + (1 if t[1] == "+" else -1) * t[2][1])
    )
    shares = st.tuples(inner, st.integers(1, 30)).map(
        lambda t: (f"{t[0][0]}/{t[1]}", t[0][1] / t[1])
    )
    percents = st.tuples(st.integers(1, 99), inner).map(
        lambda t: (f"{t[0]}% of {t[1][0]}", t[1][1] * t[0] / 100)
    )
    return st.one_of(sums, shares, percents)


@given(st.recursive(_LEAF, _joined, max_leaves=5))
def test_it_is_worked_out_exactly(made: tuple[str, Fraction]) -> None:
    text, worth = made
    if is_bound(text) and len(text) <= 120 and abs(worth) < 9_000 and text.count("(") < 8:
        assert read(text) == float(worth)


def test_a_change_keeps_how_its_amount_is_written() -> None:
    lower = kind_named("lower-neck")
    change = read_change(lower, {"piece": "front", "by": "bust/22"}, Unit.CENTIMETRE, BODY)
    assert isinstance(change.by, BoundLength)  # type: ignore[attr-defined]
    assert change.by == 40.0  # type: ignore[attr-defined]
    assert write_change(change) == {"piece": "front", "by": "bust/22"}


def test_a_bound_amount_lies_in_the_range_of_any_other() -> None:
    with pytest.raises(GeometryError):
        read_change(
            kind_named("lower-neck"), {"piece": "front", "by": "10 * bust"}, Unit.CENTIMETRE, BODY
        )
