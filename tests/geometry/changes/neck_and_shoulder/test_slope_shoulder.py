import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import across_the_shoulder, amounts, corner_degrees, sharpest_bend
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft

BODICE = ("front", "back")
AMOUNTS = amounts(-15, 15)


def slope(draft: Draft, by: float, with_underarm: bool = False) -> Draft:
    return kind_named("slope-shoulder")(by=by, with_underarm=with_underarm).apply(draft)


@given(drafts(), AMOUNTS, st.booleans())
@settings(max_examples=40)
def test_sloping_keeps_both_shoulder_lengths_and_lowers_by_the_amount(
    draft: Draft, by: float, with_underarm: bool
) -> None:
    # common practice, no source
    after = slope(draft, by, with_underarm)
    old, new = measures(draft), measures(after)
    for name in BODICE:
        assert new[f"{name}.shoulder"] == pytest.approx(old[f"{name}.shoulder"], abs=1e-6)
        assert new[f"{name}.shoulder-drop"] == pytest.approx(
            old[f"{name}.shoulder-drop"] + by, abs=1e-6
        )
        piece = after.piece(name)
        assert piece.corner("neck-point") == draft.piece(name).corner("neck-point")
        assert piece.corner("neck-centre") == draft.piece(name).corner("neck-centre")
        assert piece.is_simple


@given(drafts(), AMOUNTS, st.booleans())
@settings(max_examples=30)
def test_armhole_and_neck_keep_their_angles_to_the_shoulder(
    draft: Draft, by: float, with_underarm: bool
) -> None:
    after = slope(draft, by, with_underarm)
    for corner in ("shoulder-point", "neck-point"):
        assert across_the_shoulder(after, corner) == pytest.approx(
            across_the_shoulder(draft, corner), abs=1e-4
        )
    for name in BODICE:
        for corner in ("shoulder-point", "neck-point", "underarm", "neck-centre"):
            assert corner_degrees(after.piece(name), corner) == pytest.approx(
                corner_degrees(draft.piece(name), corner), abs=1e-4
            )
        assert sharpest_bend(after.piece(name), "armhole") < 0.01
        assert sharpest_bend(after.piece(name), "neck") < 0.01


@given(drafts(), AMOUNTS)
@settings(max_examples=20)
def test_without_the_underarm_the_side_stays(draft: Draft, by: float) -> None:
    after = slope(draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert all(new.edge(edge) is old.edge(edge) for edge in ("side", "hem", "centre"))
        assert new.corner("underarm") == old.corner("underarm")


@given(drafts(), AMOUNTS)
@settings(max_examples=20)
def test_with_the_underarm_both_sides_change_by_the_amount_and_still_match(
    draft: Draft, by: float
) -> None:
    after = slope(draft, by, with_underarm=True)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert new.edge("side").length == pytest.approx(old.edge("side").length - by, abs=1e-6)
    assert measures(after)["side-seam.ease"] == pytest.approx(
        measures(draft)["side-seam.ease"], abs=1e-6
    )


def test_lowering_shortens_the_armhole_unless_the_underarm_goes_along() -> None:
    before = measures(block())
    alone, together = measures(slope(block(), 10)), measures(slope(block(), 10, True))
    for name in BODICE:
        assert alone[f"{name}.armhole"] < before[f"{name}.armhole"] - 5
        assert together[f"{name}.underarm-depth"] == pytest.approx(
            before[f"{name}.underarm-depth"], abs=1.0
        )


def test_the_back_dart_opens_again_with_its_apex_and_angle() -> None:
    before = block().edge("back", "shoulder").mouths[0]
    after = slope(block(), 10).edge("back", "shoulder").mouths[0]
    assert after.dart == before.dart
    assert after.angle == pytest.approx(before.angle)
    assert after.legs[0] == pytest.approx(after.legs[1])


def test_a_straight_neck_line_is_left_as_it_is() -> None:
    v = kind_named("shape-neck")(piece="front", shape="v").apply(block())
    old, new = v.edge("front", "neck"), slope(v, 10).edge("front", "neck")
    assert new.length == pytest.approx(old.length)
    assert new.parts[0].cubics[0].is_straight


def test_a_shoulder_on_end_is_refused_with_the_largest_amount() -> None:
    with pytest.raises(CannotChange) as refused:
        slope(block(), 140)
    largest = refused.value.largest
    assert largest is not None
    assert all(piece.is_simple for piece in slope(block(), largest).pieces)


@given(drafts(), amounts(-2000, 2000), st.booleans())
@settings(max_examples=50)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float, with_underarm: bool) -> None:
    try:
        after = slope(draft, by, with_underarm)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_a_sleeve_alone_is_refused() -> None:
    with pytest.raises(NoSuchName):
        slope(block().only(["sleeve"]), 5)


def test_it_means_the_drop_of_the_shoulder_points() -> None:
    change = kind_named("slope-shoulder")(by=5, with_underarm=True)
    assert change.meant(block()) == ("front.shoulder-drop", "back.shoulder-drop")
    assert set(change.meant(block())) | set(change.knock_on(block())) <= set(measures(block()))
