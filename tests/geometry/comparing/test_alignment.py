import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.comparing.alignment import BY_CENTRE, Alignment, alignment, laid_under
from trueup.geometry.comparing.laying import moved
from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.points import Motion


def test_a_draft_lies_on_itself_as_it_is():
    assert laid_under(block(), block(), BY_CENTRE).pieces == block().pieces


@given(drafts(), drafts())
@settings(max_examples=15)
def test_by_centre_the_centre_and_the_bust_level_lie_on_each_other(old, new):
    laid = laid_under(old, new, BY_CENTRE)
    for name in ("front", "back"):
        assert laid.piece(name).corner("neck-centre").real == pytest.approx(
            new.piece(name).corner("neck-centre").real
        )
        step = old.piece(name).level("bust").y - new.piece(name).level("bust").y
        lowered = old.piece(name).corner("underarm").imag - step
        assert laid.piece(name).corner("underarm").imag == pytest.approx(lowered)


@given(drafts(), drafts())
@settings(max_examples=15)
def test_a_corner_lies_on_itself(old, new):
    laid = laid_under(old, new, alignment("front.shoulder-point", old, new))
    there = new.piece("front").corner("shoulder-point")
    assert laid.piece("front").corner("shoulder-point") == pytest.approx(there)


@given(drafts(), st.floats(-3, 3), st.floats(-200, 200))
@settings(max_examples=15)
def test_an_edge_lies_on_itself_however_the_piece_was_turned(draft, radians, aside):
    motion = Motion(shift=complex(aside, -aside)).after(Motion.turn(100j, radians))
    elsewhere = draft.with_pieces(moved(draft.piece("front"), motion))
    laid = laid_under(elsewhere, draft, Alignment("front", edge="side"))
    for corner in ("underarm", "hem-side", "neck-point"):
        assert abs(laid.piece("front").corner(corner) - draft.piece("front").corner(corner)) < 1e-6


def test_what_is_not_there_cannot_be_laid_on_itself():
    for text in ("nowhere", "front.nowhere", "front", "front.side.side", ""):
        with pytest.raises(NoSuchName):
            alignment(text, block(), block())


def test_a_piece_that_only_one_draft_has_cannot_be_aligned_by():
    with pytest.raises(NoSuchName):
        alignment("sleeve.cap", block(), block().only(["front"]))
