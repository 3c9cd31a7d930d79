"""true-shoulder, read from sampled curves alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changing import changed
from tests.judging.sampled import edge_of, laid_closed, length
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft


def sewn(draft: Draft, name: str) -> float:
    edge = edge_of(draft, name)
    assert edge is not None
    return length(edge)


def uneven(by: float) -> Draft:
    """A draft whose back shoulder is shorter by what its dart takes in more, or longer."""
    return changed(block(), "deepen-dart", dart="back.shoulder", by=by)


@given(st.floats(-8, 8).filter(lambda by: abs(by) > 1), st.sampled_from(["front", "back"]))
def test_the_shoulders_sew_together_and_all_else_of_the_other_piece_stays(by: float, piece: str):
    before = uneven(by)
    after = changed(before, "true-shoulder", piece=piece)
    other = "back" if piece == "front" else "front"
    assert after.piece(other) is before.piece(other)
    assert sewn(after, "front.shoulder") == pytest.approx(sewn(after, "back.shoulder"), abs=0.05)
    assert not [each for each in check(after) if each.code in ("seam", "legs", "outline")][1:]


@given(st.floats(-20, 20).filter(lambda by: abs(by) > 1))
def test_by_an_amount_the_shoulder_point_moves_along_the_seam(by: float):
    before = block()
    after = changed(before, "true-shoulder", piece="front", by=by)
    old, new = (draft.piece("front") for draft in (before, after))
    assert sewn(after, "front.shoulder") - sewn(before, "front.shoulder") == pytest.approx(
        by, abs=0.02
    )
    line, longer = (laid_closed(piece.edge("shoulder")) for piece in (old, new))
    assert longer[0] == line[0]
    along = (line[-1] - line[0]) / np.abs(line[-1] - line[0])
    assert abs(longer[-1] - (line[-1] + along * by)) < 0.1
    assert new.edge("armhole").end == old.edge("armhole").end
    assert new.edge("side") is old.edge("side")


def test_even_shoulders_are_left_alone():
    draft = block()
    assert changed(draft, "true-shoulder", piece="back") is draft


def test_a_shoulder_cannot_be_shortened_away():
    with pytest.raises(CannotChange) as refused:
        changed(block(), "true-shoulder", piece="front", by=-149.0)
    assert refused.value.largest is not None
