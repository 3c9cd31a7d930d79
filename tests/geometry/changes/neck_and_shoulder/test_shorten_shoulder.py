import numpy as np
import pytest
from hypothesis import given, settings

from tests.as_far import as_far_as_it_goes
from tests.builders import block
from tests.corners import across_the_shoulder, amounts, corner_degrees, sharpest_bend
from tests.fair import sampled
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import parse_length

BODICE = ("front", "back")


def shorten(draft: Draft, by: float) -> Draft:
    return kind_named("shorten-shoulder")(by=by).apply(draft)


def test_shortening_by_half_an_inch_moves_each_shoulder_by_exactly_12_7_mm() -> None:
    # common practice, no source
    before, after = block(), shorten(block(), parse_length("1/2in"))
    for piece in BODICE:
        name = f"{piece}.shoulder"
        assert measure(before, name) - measure(after, name) == pytest.approx(12.7, abs=1e-6)


@given(drafts(), amounts(-40, 50))
@settings(max_examples=40)
def test_both_shoulders_change_by_the_amount_and_the_rest_of_the_ring_stays(
    draft: Draft, by: float
) -> None:
    after, by = as_far_as_it_goes("shorten-shoulder", draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert new.edge("shoulder").length == pytest.approx(
            old.edge("shoulder").length - by, abs=1e-6
        )
        assert new.corner("neck-point") == old.corner("neck-point")
        assert new.corner("underarm") == old.corner("underarm")
        untouched = ("neck", "side", "hem", "centre")
        assert all(new.edge(edge) is old.edge(edge) for edge in untouched)
        assert new.is_simple
    assert after.piece("sleeve") is draft.piece("sleeve")


@given(drafts(), amounts(-25, 25))
@settings(max_examples=30)
def test_the_armhole_runs_on_smoothly_across_the_shoulder_and_the_underarm(
    draft: Draft, by: float
) -> None:
    after = shorten(draft, by)
    assert across_the_shoulder(after, "shoulder-point") == pytest.approx(
        across_the_shoulder(draft, "shoulder-point"), abs=1e-4
    )
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert corner_degrees(new, "underarm") == pytest.approx(
            corner_degrees(old, "underarm"), abs=1e-4
        )
        assert sharpest_bend(new, "armhole") < 0.01


def test_a_shorter_shoulder_lengthens_the_armhole_and_eats_cap_ease() -> None:
    before, after = measures(block()), measures(shorten(block(), 10))
    gained = sum(after[f"{p}.armhole"] - before[f"{p}.armhole"] for p in BODICE)
    assert gained > 0
    assert before["sleeve.cap-ease"] - after["sleeve.cap-ease"] == pytest.approx(gained)


def test_the_back_keeps_its_shoulder_dart() -> None:
    before, after = (
        block().edge("back", "shoulder"),
        shorten(block(), 12.7).edge("back", "shoulder"),
    )
    assert after.mouths == before.mouths


def test_shortening_as_far_as_the_dart_is_refused_with_the_largest_amount() -> None:
    with refusing(CannotChange, match=r"back\.shoulder.*reach the dart shoulder") as refused:
        shorten(block(), 100)
    largest = refused.value.largest
    assert largest is not None
    assert shorten(block(), largest).piece("back").is_simple
    with pytest.raises(CannotChange):
        shorten(block(), largest + 0.2)


def test_shortening_the_whole_shoulder_away_is_refused() -> None:
    with refusing(CannotChange, match="nothing would be left"):
        shorten(block().only(["front"]), 149)


@given(drafts(), amounts(-2000, 2000))
@settings(max_examples=50)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float) -> None:
    try:
        after = shorten(draft, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_a_front_alone_is_shortened_and_a_sleeve_alone_is_refused() -> None:
    front = block().only(["front"])
    assert measure(shorten(front, 5), "front.shoulder") == pytest.approx(
        measure(front, "front.shoulder") - 5
    )
    with pytest.raises(NoSuchName):
        shorten(block().only(["sleeve"]), 5)


def test_it_means_the_shoulders_that_are_there() -> None:
    change = kind_named("shorten-shoulder")(by=5)
    assert change.meant(block()) == ("front.shoulder", "back.shoulder")
    assert change.meant(block().only(["back"])) == ("back.shoulder",)
    assert set(change.knock_on(block())) <= set(measures(block()))


@pytest.mark.parametrize(("below", "narrower"), [(40, 8.0), (60, 6.5), (100, 3.0)])
def test_it_reaches_as_far_down_the_armhole_as_its_help_says(below: float, narrower: float) -> None:
    draft = block(880.0, 680.0)
    after = kind_named("shorten-shoulder")(by=10.0).apply(draft)
    was, now = (sampled(each.edge("front", "armhole").parts[0]) for each in (draft, after))
    level = was[0].imag + below
    came_in = np.interp(level, now.imag, now.real) - np.interp(level, was.imag, was.real)
    assert abs(came_in) == pytest.approx(narrower, abs=0.2)
