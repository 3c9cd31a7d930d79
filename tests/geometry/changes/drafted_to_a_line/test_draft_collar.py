from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit

NECK = {
    "to": "back.neck front.neck", "height": 60.0, "point": 70.0, "lean": 20.0, "fold": True,
}  # fmt: skip
STAND = {"to": "back.neck front.neck", "name": "stand", "height": 30.0, "rise": 12.0,
         "extension": 20.0, "fold": True}  # fmt: skip


def collar(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-collar")(**{**NECK, **values}).apply(draft)


def points(edge: Edge) -> np.ndarray:
    return np.concatenate([sampled(part) for part in edge.parts])


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def neck(draft: Draft) -> float:
    return length(draft.edge("back", "neck")) + length(draft.edge("front", "neck"))


def shirt(draft: Draft) -> Draft:
    """Return a draft with a stand at its neck and a collar on the stand."""
    with_stand = kind_named("draft-band")(**STAND).apply(draft)
    return collar(with_stand, to="stand.outer-edge", free=20.0, height=45.0, rise=-8.0)


@given(drafts(), st.floats(0, 20), st.floats(35, 90), st.floats(-0.4, 0.7), st.floats(0, 25))
@settings(max_examples=40)
def test_it_is_as_long_as_the_line_and_its_front_edge_as_long_as_asked(
    draft: Draft, rise: float, point: float, share: float, free: float
) -> None:
    lean = share * point
    after = collar(draft, rise=rise, point=point, lean=lean, free=free)
    sewn, front = after.edge("collar", "sewn-edge"), after.edge("collar", "front-edge")
    assert length(sewn) == pytest.approx(neck(draft) - free, abs=0.01)
    assert length(front) == pytest.approx(point, abs=1e-6)
    onward = np.diff(points(sewn)[-2:])[0]
    tip = (front.end - front.start) / onward * abs(onward)
    assert tip.real == pytest.approx(lean, abs=0.5)
    assert tip.imag < 0
    assert check(after) == check(draft)


@given(drafts(), st.floats(30, 90))
@settings(max_examples=30)
def test_at_the_back_it_is_as_wide_as_asked_and_its_outer_edge_never_bends_sharply(
    draft: Draft, height: float
) -> None:
    after = collar(draft, height=height)
    outer = points(after.edge("collar", "outer-edge"))
    sewn = points(after.edge("collar", "sewn-edge"))
    line = shapely.LineString(np.column_stack([sewn.real, sewn.imag]))
    back = outer[outer.real < length(draft.edge("back", "neck"))]
    apart = shapely.distance(shapely.points(np.column_stack([back.real, back.imag])), line)
    assert np.abs(apart - height).max() < 0.01
    headings = np.unwrap(np.angle(np.diff(outer)[np.abs(np.diff(outer)) > 1e-9]))
    assert np.abs(np.diff(headings)).max() < np.radians(3)
    # Mirrored at the fold, the outer edge runs on.
    assert outer[-1].imag == pytest.approx(outer[-2].imag, abs=1e-6)


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=60, deadline=None)
def test_on_a_stand_both_follow_the_neck_through_every_change(draft: Draft, seed: int) -> None:
    after = shirt(draft)
    assert check(after) == check(draft)
    dice = Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    stand, sewn = (after.edge(*each) for each in (("stand", "sewn-edge"), ("collar", "sewn-edge")))
    assert length(stand) == pytest.approx(neck(after), abs=0.02)
    upper = length(after.edge("stand", "outer-edge"))
    assert length(sewn) == pytest.approx(upper - 20, abs=0.02)


@given(drafts(), st.floats(3, 20))
@settings(max_examples=20)
def test_made_before_or_after_a_change_it_is_the_same(draft: Draft, by: float) -> None:
    lower = kind_named("lower-neck")(piece="front", by=by)
    assert fingerprint(lower.apply(shirt(draft))) == fingerprint(shirt(lower.apply(draft)))


def test_one_with_lines_of_its_own_keeps_them_and_its_seam_says_what_is_open() -> None:
    lower = kind_named("lower-neck")(piece="front", by=20.0)
    own = kind_named("redraw-edge")(edge="collar.outer-edge", through="50%:2mm")
    after = lower.apply(own.apply(collar(block())))
    assert [each.code for each in check(after)] == ["seam"]


@pytest.mark.parametrize(
    ("values", "error", "what"),
    [
        ({"lean": 60.0}, BadParameter, "lean-at-most"),
        ({"to": " "}, BadParameter, "name-lines"),
        ({"name": "A collar"}, BadParameter, "write-name"),
    ],
)
def test_what_no_collar_can_be_is_refused_as_it_is_written(
    values: dict[str, object], error: type[GeometryError], what: str
) -> None:
    with pytest.raises(error) as raised:
        kind_named("draft-collar")(**{**NECK, **values})
    assert what in str(raised.value.says)


def test_a_line_that_is_not_there_and_a_line_all_free_are_refused() -> None:
    with pytest.raises(NoSuchName):
        collar(block(), to="back.collar")
    with pytest.raises(CannotChange):
        collar(block(), to="sleeve.hem front.neck")
    with pytest.raises(CannotChange):
        collar(collar(block()))
    short = kind_named("draft-band")(to="back.shoulder", name="tab", height=20.0).apply(block())
    with pytest.raises(CannotChange):
        collar(short, to="tab.end", free=20.0)


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-collar")(**NECK).in_words(Unit.CENTIMETRE)
    assert told == "draft the collar to back.neck and front.neck, 6 cm wide, its point 7 cm"
