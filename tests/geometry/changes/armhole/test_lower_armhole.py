import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

BODICE = ("front", "back")


def lower(draft: Draft, by: float) -> Draft:
    return kind_named("lower-armhole")(by=by).apply(draft)


def turned_to_side(draft: Draft) -> Draft:
    at = Position("underarm", distance=60.0)
    draft = kind_named("release-dart")(dart="front.waist-side").apply(draft)
    return kind_named("rotate-dart")(dart="front.bust", edge="front.side", at=at).apply(draft)


@given(drafts(), st.floats(-40, 80))
@settings(max_examples=50)
def test_front_and_back_underarm_drop_together_along_the_side(draft: Draft, by: float) -> None:
    after = lower(draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert new.edge("side").length == pytest.approx(old.edge("side").length - by, abs=1e-6)
        along = old.edge("side").parts[0].start_tangent * by
        assert abs(new.corner("underarm") - old.corner("underarm") - along) < 2e-6
        assert new.corner("shoulder-point") == old.corner("shoulder-point")
        assert all(new.edge(e) is old.edge(e) for e in ("neck", "shoulder", "hem", "centre"))
        assert new.is_simple
    assert measure(after, "side-seam.ease") == pytest.approx(0, abs=1e-6)
    assert after.piece("sleeve") is draft.piece("sleeve")


@given(drafts(), st.floats(-25, 40))
@settings(max_examples=30)
def test_the_armhole_meets_the_side_as_before_and_is_smooth(draft: Draft, by: float) -> None:
    after = lower(draft, by)
    for name in BODICE:
        for corner in ("underarm", "shoulder-point"):
            assert corner_degrees(after.piece(name), corner) == pytest.approx(
                corner_degrees(draft.piece(name), corner), abs=1e-4
            )
        assert sharpest_bend(after.piece(name), "armhole") < 0.01


@given(drafts(), st.floats(1, 60))
@settings(max_examples=30)
def test_a_lowered_armhole_is_longer_and_eats_cap_ease_one_for_one(draft: Draft, by: float) -> None:
    before, after = measures(draft), measures(lower(draft, by))
    gained = [after[f"{p}.armhole"] - before[f"{p}.armhole"] for p in BODICE]
    assert min(gained) > 0
    assert before["sleeve.cap-ease"] - after["sleeve.cap-ease"] == pytest.approx(
        sum(gained), abs=1e-6
    )


def test_lowering_and_raising_again_brings_the_side_back() -> None:
    again = lower(lower(block(), 20), -20)
    for name in ("front.side", "back.side", "front.underarm-depth"):
        assert measure(again, name) == pytest.approx(measure(block(), name), abs=1e-6)


def test_the_bust_is_measured_below_a_lowered_armhole_not_across_its_opening() -> None:
    before, after = measures(block()), measures(lower(block(), 30))
    assert before["front.bust-width"] - after["front.bust-width"] < 8


def test_lowering_past_a_side_dart_is_refused_with_what_is_possible() -> None:
    draft = turned_to_side(block())
    with refusing(CannotChange, match=r"lower-armhole cannot be done on front\.side") as error:
        lower(draft, 100)
    largest = error.value.largest
    assert largest is not None
    assert 40 < largest < 60
    assert lower(draft, largest).piece("front").is_simple


@given(drafts(), st.floats(-3000, 3000))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float) -> None:
    try:
        after = lower(draft, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_a_back_alone_is_lowered_and_a_sleeve_alone_is_refused() -> None:
    back = block().only(["back"])
    assert measure(lower(back, 5), "back.side") == pytest.approx(measure(back, "back.side") - 5)
    with pytest.raises(NoSuchName):
        lower(block().only(["sleeve"]), 5)


def test_it_means_the_sides_that_are_there() -> None:
    change = kind_named("lower-armhole")(by=5)
    assert change.meant(block()) == ("front.side", "back.side")
    assert change.meant(block().only(["back"])) == ("back.side",)
    assert set(change.knock_on(block())) <= set(measures(block()))
