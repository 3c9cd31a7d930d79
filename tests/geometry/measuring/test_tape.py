"""A tape reads the same wherever the darts were turned to on the table."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.darts.rotate_dart import RotateDart
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.tape import level_width, tape_at
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

PLACES = st.sampled_from(
    [
        ("front.side", "underarm"),
        ("front.shoulder", "neck-point"),
        ("front.neck", "neck-point"),
        ("front.hem", "hem-centre"),
    ]
)
WIDTHS = ("front.chest-width", "front.bust-width")


def turned(draft: Draft, edge: str, corner: str, share: float) -> Draft | None:
    at = Position(corner, share=share)
    try:
        return RotateDart(dart="front.bust", edge=edge, at=at).apply(draft)
    except CannotChange:
        return None


@settings(max_examples=60)
@given(drafts(), PLACES, st.floats(0.2, 0.8))
def test_widths_do_not_depend_on_where_the_bust_dart_opens(
    draft: Draft, place: tuple[str, str], share: float
) -> None:
    after = turned(draft, *place, share)
    if after is None:
        return
    before, now = measures(draft), measures(after)
    for name in WIDTHS:
        assert now[name] == pytest.approx(before[name], abs=0.02)


def test_a_hollowed_armhole_reads_the_same_with_the_dart_in_the_shoulder() -> None:
    scoop = kind_named("scoop-armhole")(piece="front", by=10.0)
    draft = block()
    after = turned(draft, "front.shoulder", "neck-point", 0.5)
    assert after is not None
    straight = measures(scoop.apply(draft))["front.chest-width"]
    assert measures(scoop.apply(after))["front.chest-width"] == pytest.approx(straight, abs=0.02)


@given(drafts())
def test_without_a_dart_in_the_way_the_tape_reads_the_flat_width(draft: Draft) -> None:
    front = draft.piece("front")
    level = front.level("chest")
    assert level_width(front, level) == pytest.approx(front.width_at(level.y), abs=0.1)


@given(drafts())
def test_a_tape_across_the_waist_darts_leaves_their_intake_out(draft: Draft) -> None:
    back = draft.piece("back")
    y = back.corner("hem-side").imag - 5
    tape = tape_at(back, y)
    assert tape is not None
    assert tape.leaves_at == "side"
    assert tape.width == pytest.approx(back.width_at(y), abs=0.1)


def test_the_bust_of_a_lowered_armhole_is_measured_under_the_arm() -> None:
    lowered = kind_named("lower-armhole")(by=20.0).apply(block())
    front = lowered.piece("front")
    level = front.level("bust")
    across = tape_at(front, level.y)
    assert across is not None
    assert across.leaves_at == "armhole"
    underarm = tape_at(front, front.corner("underarm").imag)
    assert underarm is not None
    assert level_width(front, level) == pytest.approx(underarm.width)


def test_where_there_is_no_cloth_there_is_no_tape() -> None:
    assert tape_at(block().piece("front"), 5000.0) is None


@pytest.mark.parametrize("by", [5.0, 10.0, 15.0, 20.0])
@pytest.mark.parametrize("share", [0.2, 0.25, 0.3, 0.4])
@pytest.mark.parametrize("bust", [760.0, 880.0, 1040.0])
def test_a_tape_that_meets_the_mouth_of_a_dart_exactly_reads_the_width_all_the_same(
    bust: float, share: float, by: float
) -> None:
    lower = kind_named("lower-armhole")(by=by)
    draft = block(bust, bust * 0.77)
    after = turned(draft, "front.side", "underarm", share)
    if after is None:
        return
    straight = measures(lower.apply(draft))["front.bust-width"]
    assert measures(lower.apply(after))["front.bust-width"] == pytest.approx(straight, abs=0.1)
