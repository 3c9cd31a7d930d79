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
AMOUNTS = amounts(-25, 25).filter(bool)


def shift(draft: Draft, by: float) -> Draft:
    return kind_named("shift-shoulder")(by=by).apply(draft)


def area(draft: Draft) -> float:
    return sum(draft.piece(name).area for name in BODICE)


@given(drafts(), AMOUNTS)
@settings(max_examples=40)
def test_nothing_is_taken_in_or_let_out(draft: Draft, by: float) -> None:
    # common practice, no source
    after = shift(draft, by)
    for name in BODICE:
        old, new = draft.piece(name), after.piece(name)
        assert new.edge("shoulder").length == pytest.approx(old.edge("shoulder").length, abs=1e-6)
        untouched = ("neck", "side", "hem", "centre")
        assert all(new.edge(edge) is old.edge(edge) for edge in untouched)
        assert new.corner("underarm") == old.corner("underarm")
        assert new.is_simple
    assert area(after) == pytest.approx(area(draft), abs=1e-3)


@given(drafts(), amounts(1, 12), st.sampled_from([1, -1]))
@settings(max_examples=30)
def test_the_sewn_armhole_keeps_its_length_within_a_trifle(
    draft: Draft, by: float, way: int
) -> None:
    before, after = measures(draft), measures(shift(draft, by * way))
    change = sum(after[f"{name}.armhole"] - before[f"{name}.armhole"] for name in BODICE)
    assert abs(change) < 1.0
    moved = after["back.armhole"] - before["back.armhole"]
    assert moved == pytest.approx(by * way, abs=0.1 * by + 0.1)


@given(drafts(), AMOUNTS)
@settings(max_examples=30)
def test_armhole_and_neck_run_on_across_the_seam_as_they_did(draft: Draft, by: float) -> None:
    after = shift(draft, by)
    for corner in ("shoulder-point", "neck-point"):
        assert across_the_shoulder(after, corner) == pytest.approx(
            across_the_shoulder(draft, corner), abs=0.02
        )
    for name in BODICE:
        assert sharpest_bend(after.piece(name), "armhole") < 0.02
        assert corner_degrees(after.piece(name), "underarm") == pytest.approx(
            corner_degrees(draft.piece(name), "underarm"), abs=1e-4
        )


@given(drafts(), AMOUNTS)
@settings(max_examples=20)
def test_the_front_shoulder_point_moves_by_the_amount_and_the_back_follows(
    draft: Draft, by: float
) -> None:
    after = shift(draft, by)
    points = [d.piece("front").corner("shoulder-point") for d in (draft, after)]
    assert abs(points[1] - points[0]) == pytest.approx(abs(by))
    change = {
        name: measures(after)[name] - measures(draft)[name]
        for name in ("front.shoulder-drop", "back.shoulder-drop")
    }
    assert change["front.shoulder-drop"] * by > 0
    assert change["back.shoulder-drop"] * by < 0


def test_the_back_dart_opens_again_with_its_apex_and_angle() -> None:
    before = block().edge("back", "shoulder").mouths[0]
    after = shift(block(), 10).edge("back", "shoulder").mouths[0]
    assert after.dart == before.dart
    assert after.angle == pytest.approx(before.angle)
    assert after.legs[0] == pytest.approx(after.legs[1])
    assert after.legs[0] > before.legs[0]


def test_the_front_loses_the_wedge_that_the_back_gains() -> None:
    before, after = block(), shift(block(), 10)
    lost = before.piece("front").area - after.piece("front").area
    gained = after.piece("back").area - before.piece("back").area
    assert gained == pytest.approx(lost, abs=1e-3)
    shoulder = before.edge("front", "shoulder").length
    assert lost == pytest.approx(10 * shoulder / 2, rel=0.1)


def test_the_crown_notch_moves_forward_with_the_seam() -> None:
    before, after = block().piece("sleeve"), shift(block(), 10).piece("sleeve")
    along = [
        next(n for n in piece.notches if n.name == "crown").at.along(piece.edge("cap"))
        for piece in (before, after)
    ]
    assert along[0] - along[1] == pytest.approx(10, abs=0.5)
    assert after.edges is before.edges


def test_forward_and_back_again_is_where_it_was() -> None:
    there = shift(shift(block(), 10), -10)
    for name in BODICE:
        old, new = block().piece(name), there.piece(name)
        assert new.corner("shoulder-point") == pytest.approx(old.corner("shoulder-point"), abs=1e-6)
        assert new.edge("armhole").length == pytest.approx(old.edge("armhole").length, abs=0.5)


def test_a_seam_cannot_be_taken_past_a_dart_in_the_armhole() -> None:
    with pytest.raises(CannotChange) as refused:
        shift(block(), 118)
    assert refused.value.largest is not None
    shift(block(), refused.value.largest)


@given(drafts(), amounts(-2000, 2000).filter(bool))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_piece(draft: Draft, by: float) -> None:
    try:
        after = shift(draft, by)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)
    assert area(after) == pytest.approx(area(draft), abs=1e-3)


def test_both_halves_are_needed() -> None:
    with pytest.raises(NoSuchName, match="back"):
        shift(block().only(["front"]), 5)


def test_it_means_the_drop_of_both_shoulder_points() -> None:
    change = kind_named("shift-shoulder")(by=5)
    assert change.meant(block()) == ("front.shoulder-drop", "back.shoulder-drop")
    assert set(change.meant(block())) | set(change.knock_on(block())) <= set(measures(block()))
