import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changes.darts.test_deepen_dart import panel
from tests.refusals import refusing
from tests.sound import assert_sound, outcome
from tests.strategies import drafts
from trueup.geometry.changes.darts.move_apex import MoveApex
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.darts import room_for_tip

DARTS = st.sampled_from(block().dart_names)


@given(drafts(), DARTS, st.floats(0.01, 0.99))
@settings(max_examples=60)
def test_backing_the_tip_off_shortens_the_legs_and_nothing_else(
    draft: Draft, dart: str, share: float
) -> None:
    before = draft.mouth(dart)
    by = (room_for_tip(before) - before.dart.setback) * share
    moved = MoveApex(dart=dart, by=by).apply(draft)
    after = moved.mouth(dart)
    assert_sound(moved)
    assert (after.first, after.second, after.angle) == (before.first, before.second, before.angle)
    assert after.legs[0] < before.legs[0]
    assert abs(after.tip - before.tip) == pytest.approx(by)
    old, new = measures(draft), measures(moved)
    leg = {f"{dart}.leg"}
    widths = {name for name in old if name.endswith("-width")}
    assert {name for name in old if old[name] != new[name]} <= leg | widths


@given(drafts(), DARTS, st.floats(1, 60))
@settings(max_examples=40)
def test_there_and_back_is_the_same_dart(draft: Draft, dart: str, by: float) -> None:
    there = MoveApex(dart=dart, by=by).apply(draft)
    back = MoveApex(dart=dart, by=-by).apply(there)
    assert back.mouth(dart).tip == pytest.approx(draft.mouth(dart).tip)


def test_the_tip_never_passes_the_pivot() -> None:
    there = MoveApex(dart="front.bust", by=25).apply(block())
    with refusing(CannotChange, match="pass the pivot") as caught:
        MoveApex(dart="front.bust", by=-30).apply(there)
    assert caught.value.largest == -25
    back = MoveApex(dart="front.bust", by=caught.value.largest).apply(there)
    assert back.mouth("front.bust") == block().mouth("front.bust")


def test_a_tip_on_its_pivot_stays_there() -> None:
    with refusing(CannotChange, match="leave it where it is"):
        MoveApex(dart="front.bust", by=-5).apply(block())


@given(drafts(), DARTS)
@settings(max_examples=30)
def test_the_tip_never_leaves_the_dart(draft: Draft, dart: str) -> None:
    with refusing(CannotChange, match="leave the dart") as caught:
        MoveApex(dart=dart, by=abs(draft.mouth(dart).first - draft.mouth(dart).tip)).apply(draft)
    assert_sound(MoveApex(dart=dart, by=caught.value.largest).apply(draft))


@given(st.floats() | st.sampled_from([math.nan, math.inf]), DARTS)
@settings(max_examples=40)
def test_absurd_amounts_raise_only_errors_of_the_geometry(by: float, dart: str) -> None:
    outcome(lambda: MoveApex(dart=dart, by=by).apply(block()))


def test_it_names_the_leg_and_knows_its_darts() -> None:
    assert MoveApex(dart="front.bust", by=25).meant(block()) == ("front.bust.leg",)
    with pytest.raises(NoSuchName):
        MoveApex(dart="front.shoulder", by=25).apply(block())


@given(st.floats(-25, 85), st.sampled_from(["upper", "lower"]))
def test_one_tip_of_a_dart_inside_a_piece_moves_along_its_centre(by: float, tip: str) -> None:
    change = MoveApex(dart="skirt.waist", by=by, tip=tip)
    before, after = (d.piece("skirt").inner_darts[0] for d in (panel(), change.apply(panel())))
    down = by if tip == "upper" else -by
    assert getattr(after, tip) - getattr(before, tip) == pytest.approx(complex(0, down))
    other = "lower" if tip == "upper" else "upper"
    assert getattr(after, other) == getattr(before, other)
    assert (after.left, after.right) == (before.left, before.right)


def test_a_dart_on_an_edge_has_one_tip() -> None:
    with refusing(BadParameter, match="one tip"):
        MoveApex(dart="front.bust", by=5, tip="lower").apply(block())


def test_the_tips_of_a_dart_inside_a_piece_stay_in_the_cloth_and_off_the_mouth() -> None:
    with refusing(CannotChange, match="at most 89"):
        MoveApex(dart="skirt.waist", by=95).apply(panel())
    with refusing(CannotChange, match="would run over another line"):
        MoveApex(dart="skirt.waist", by=-40).apply(panel())
