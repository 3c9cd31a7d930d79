import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge

PRINCESS = {
    "piece": "front", "begins": "armhole", "ends": "hem",
    "through": "bust waist", "line": "princess",
}  # fmt: skip


def cut(draft: Draft) -> Draft:
    return kind_named("cut-apart")(**PRINCESS).apply(draft)


def trued(draft: Draft, **values: object) -> Draft:
    return kind_named("true-line")(**values).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.floats(-6, 6).filter(lambda by: abs(by) > 0.2))
@settings(max_examples=30)
def test_a_line_changes_by_the_amount_and_its_other_end_stays(draft: Draft, by: float) -> None:
    before = cut(draft)
    after = trued(before, edge="front-centre.princess", by=by)
    old, new = (each.edge("front-centre", "princess") for each in (before, after))
    assert length(new) == pytest.approx(length(old) + by, abs=0.01)
    assert new.start == old.start  # the armhole
    assert after.piece("front-side") == before.piece("front-side")
    for name in ("neck", "shoulder", "armhole", "centre"):
        assert after.edge("front-centre", name) == before.edge("front-centre", name)


def test_without_an_amount_its_seam_comes_out_even() -> None:
    uneven = trued(cut(block()), edge="front-centre.princess", by=5.0)
    assert ("seam", "princess") in {(f.code, f.edge) for f in check(uneven)}
    for edge in ("front-centre.princess", "front-side.princess"):
        even = trued(uneven, edge=edge)
        sides = (length(even.edge(f"front-{part}", "princess")) for part in ("side", "centre"))
        assert next(sides) == pytest.approx(next(sides), abs=0.01)
        assert ("seam", "princess") not in {(f.code, f.edge) for f in check(even)}


def test_it_is_done_at_the_corner_that_is_named() -> None:
    before = cut(block())
    after = trued(before, edge="front-centre.princess", at="princess-armhole", by=-4.0)
    assert after.edge("front-centre", "princess").end == before.edge("front-centre", "princess").end
    assert after.edge("front-centre", "hem") == before.edge("front-centre", "hem")
    with pytest.raises(NoSuchName):
        trued(before, edge="front-centre.princess", at="waist", by=-4.0)


def test_a_line_on_the_fold_or_sewn_to_nothing_is_refused() -> None:
    with pytest.raises(CannotChange):
        trued(block(), edge="front.centre", by=4.0)
    with pytest.raises(CannotChange):
        trued(block(), edge="front.neck")
