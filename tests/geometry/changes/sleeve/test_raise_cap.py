import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft

REST = ("back-seam", "hem", "front-seam")


def raise_cap(draft: Draft, by: float, gathers: float = 0.0) -> Draft:
    return kind_named("raise-cap")(by=by, gathers=gathers).apply(draft)


@given(drafts(), st.floats(-80, 120))
@settings(max_examples=50)
def test_the_crown_rises_by_exactly_the_amount_and_the_rest_stays(draft: Draft, by: float) -> None:
    after = raise_cap(draft, by)
    old, new = draft.piece("sleeve"), after.piece("sleeve")
    assert measure(after, "sleeve.cap-height") == pytest.approx(
        measure(draft, "sleeve.cap-height") + by, abs=1e-6
    )
    assert all(new.edge(edge) is old.edge(edge) for edge in REST)
    for corner in ("front-underarm", "back-underarm"):
        assert new.corner(corner) == old.corner(corner)
    assert measure(after, "sleeve.biceps-width") == pytest.approx(
        measure(draft, "sleeve.biceps-width"), abs=1e-6
    )
    assert sharpest_bend(new, "cap") < 0.01
    assert new.is_simple


@given(drafts(), st.floats(2, 80))
@settings(max_examples=30)
def test_a_higher_cap_is_longer_and_holds_as_much_more_ease(draft: Draft, by: float) -> None:
    before, after = measures(draft), measures(raise_cap(draft, by))
    longer = after["sleeve.cap"] - before["sleeve.cap"]
    assert longer > 0
    assert after["sleeve.cap-ease"] - before["sleeve.cap-ease"] == pytest.approx(longer, abs=1e-6)


def test_raising_and_lowering_again_brings_the_cap_back() -> None:
    again = raise_cap(raise_cap(block(), 40), -40)
    assert measure(again, "sleeve.cap") == pytest.approx(measure(block(), "sleeve.cap"), abs=1e-6)


def test_gathers_let_the_armhole_seam_take_more_ease() -> None:
    before = block().seam("armhole-seam")
    after = raise_cap(block(), 50, gathers=70).seam("armhole-seam")
    assert after.allowed.high == before.allowed.high + 70
    assert after.allowed.low > before.allowed.low
    assert raise_cap(block(), 5).seam("armhole-seam") is before


def test_a_cap_lowered_to_nothing_is_refused_with_what_is_possible() -> None:
    with refusing(CannotChange, match=r"sleeve\.cap") as error:
        raise_cap(block(), -190)
    largest = error.value.largest
    assert largest is not None
    assert largest < -100
    assert raise_cap(block(), largest).piece("sleeve").is_simple


@given(drafts(), st.floats(-3000, 3000))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_sleeve(draft: Draft, by: float) -> None:
    try:
        after = raise_cap(draft, by)
    except GeometryError:
        return
    assert after.piece("sleeve").is_simple


def test_it_needs_a_sleeve_and_no_armhole() -> None:
    with pytest.raises(NoSuchName):
        raise_cap(block().only(["front", "back"]), 5)
    assert raise_cap(block().only(["sleeve"]), 5, gathers=10).piece("sleeve").is_simple


def test_it_means_the_height_of_the_cap() -> None:
    change = kind_named("raise-cap")(by=5)
    assert change.meant(block()) == ("sleeve.cap-height",)
    assert set(change.knock_on(block())) <= set(measures(block()))
