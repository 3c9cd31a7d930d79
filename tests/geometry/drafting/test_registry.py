import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import trueup.geometry.drafting
from tests.builders import SYSTEM, block, body
from tests.refusals import refusing
from trueup.geometry.drafting import SYSTEMS, draft_block, system_named
from trueup.geometry.errors import BadParameter, GeometryError, NoSuchName
from trueup.geometry.pieces.draft import Draft

NAMES = ("bust", "waist", "back-length", "sleeve-length")


def test_every_system_stands_under_its_own_name_and_asks_for_measurements_with_help():
    assert SYSTEM in SYSTEMS
    for name, system in SYSTEMS.items():
        assert name == system.name
        assert system.summary
        for measurement in system.measurements:
            assert measurement.help
            assert 0 < measurement.low < measurement.high


def test_the_system_asks_for_four_measurements():
    assert tuple(m.name for m in system_named(SYSTEM).measurements) == NAMES


def test_an_unknown_system_is_refused_with_those_there_are():
    with pytest.raises(NoSuchName, match=SYSTEM):
        draft_block("bust-proportions", body())


def test_a_measurement_the_system_does_not_ask_for_is_refused_with_the_nearest():
    with pytest.raises(NoSuchName, match="waist"):
        draft_block(SYSTEM, {**body(), "waste": 640.0})


@pytest.mark.parametrize("name", NAMES)
def test_a_missing_measurement_is_named(name: str):
    rest = {key: value for key, value in body().items() if key != name}
    with refusing(BadParameter, match=f"^{name} cannot be left out: .*needs it") as caught:
        draft_block(SYSTEM, rest)
    assert caught.value.name == name


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 0.0, -830.0, 83.0, 8300.0, 1e300])
def test_an_absurd_measurement_is_named_with_its_sane_range(name: str, value: float):
    with refusing(BadParameter, match=f"^{name} cannot be .*between") as caught:
        draft_block(SYSTEM, {**body(), name: value})
    assert caught.value.name == name


def test_a_waist_too_large_for_the_bust_is_refused_with_what_would_do():
    with refusing(BadParameter, match=r"^waist cannot be 950 mm: .*800 mm.*830 mm\.$"):
        draft_block(SYSTEM, body(bust=800, waist=950))
    block(800, 830)


def test_a_waist_too_small_for_the_bust_is_refused_with_what_would_do():
    with refusing(BadParameter, match=r"^waist cannot be 600 mm: .*1100 mm.*720 mm and"):
        draft_block(SYSTEM, body(bust=1100, waist=600, back_length=420))
    block(1100, 720, 420)


def test_a_back_too_short_for_the_bust_is_refused_with_what_would_do():
    with refusing(BadParameter, match=r"^back-length cannot be 325 mm: .*at least 336 mm\.$"):
        draft_block(SYSTEM, body(bust=1180, waist=1100, back_length=325))
    block(1180, 1100, 336)


@given(st.fixed_dictionaries({name: st.floats() for name in NAMES}))
def test_whatever_the_numbers_only_declared_errors_escape(wild: dict[str, float]):
    with contextlib.suppress(GeometryError):
        assert isinstance(draft_block(SYSTEM, wild), Draft)


@given(
    st.fixed_dictionaries(
        {
            "bust": st.floats(700, 1250),
            "waist": st.floats(480, 1250),
            "back-length": st.floats(320, 480),
            "sleeve-length": st.floats(400, 700),
        }
    )
)
def test_within_the_sane_ranges_there_is_a_simple_draft_or_a_refusal(wild: dict[str, float]):
    with contextlib.suppress(BadParameter):
        assert all(piece.is_simple for piece in draft_block(SYSTEM, wild).pieces)


def test_the_same_body_gives_the_same_draft_to_the_last_bit():
    assert draft_block(SYSTEM, body()) == draft_block(SYSTEM, body())
    assert block() is block()


def test_the_package_names_what_it_offers():
    assert all(hasattr(trueup.geometry.drafting, name) for name in trueup.geometry.drafting.__all__)
