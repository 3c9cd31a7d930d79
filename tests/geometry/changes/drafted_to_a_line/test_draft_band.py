from itertools import pairwise
from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
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
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

NECK = {"to": "back.neck front.neck", "name": "stand", "height": 35.0, "fold": True}
PRINCESS = {
    "piece": "front", "begins": "armhole", "ends": "hem",
    "through": "bust waist", "line": "princess",
}  # fmt: skip


def band(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-band")(**{**NECK, **values}).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def line(edge: Edge) -> shapely.LineString:
    points = np.concatenate([sampled(part) for part in edge.parts])
    return shapely.LineString(np.column_stack([points.real, points.imag]))


def neck(draft: Draft) -> float:
    return length(draft.edge("back", "neck")) + length(draft.edge("front", "neck"))


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(0, 25), st.floats(20, 60))
@settings(max_examples=40)
def test_it_is_as_long_as_the_line_and_as_wide_everywhere(
    draft: Draft, rise: float, height: float
) -> None:
    after = band(draft, rise=rise, height=height)
    sewn, outer = (after.edge("stand", f"{name}-edge") for name in ("sewn", "outer"))
    assert length(sewn) == pytest.approx(neck(draft), abs=0.01)
    apart = shapely.distance(shapely.points(shapely.get_coordinates(line(outer))), line(sewn))
    assert apart.min() > height - 0.3
    assert apart.max() < height + 0.3
    assert sewn.start.imag - sewn.end.imag == pytest.approx(rise, abs=1e-6)


@given(drafts(), st.floats(0, 25))
@example(block(), 0.001)
@settings(max_examples=20)
def test_its_corners_are_square_and_a_true_draft_stays_true(draft: Draft, rise: float) -> None:
    after = band(draft, rise=rise)
    edges = after.piece("stand").edges
    for before, now in pairwise((*edges, edges[0])):
        turn = before.parts[-1].end_tangent.conjugate() * now.parts[0].start_tangent
        assert turn.real == pytest.approx(0.0, abs=1e-6)
    assert check(after) == check(draft)


@given(drafts(), st.floats(10, 120))
@settings(max_examples=20)
def test_what_it_gathers_the_line_is_longer_and_the_seam_says_so(draft: Draft, by: float) -> None:
    cuff = {"to": "sleeve.hem", "name": "cuff", "height": 60.0, "fold": False}
    after = band(draft, **cuff, gathers=by, extension=20.0)
    hem = length(draft.edge("sleeve", "hem"))
    assert length(after.edge("cuff", "sewn-edge")) == pytest.approx(hem - by, abs=0.01)
    assert length(after.edge("cuff", "outer-edge")) == pytest.approx(hem - by + 20, abs=0.01)
    assert check(after) == check(draft)


@given(drafts(), st.integers(0, 2**32), st.booleans())
@settings(max_examples=100, deadline=None)
def test_it_follows_its_line_through_every_change(draft: Draft, seed: int, is_cut: bool) -> None:
    after = band(draft)
    if is_cut:
        after = kind_named("cut-apart")(**PRINCESS).apply(after)
    dice = Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    assert length(after.edge("stand", "sewn-edge")) == pytest.approx(neck(after), abs=0.02)


def test_made_before_or_after_a_change_it_is_the_same() -> None:
    lower = kind_named("lower-neck")(piece="front", by=12.0)
    first, second = lower.apply(band(block(), rise=10.0)), band(lower.apply(block()), rise=10.0)
    assert fingerprint(first) == fingerprint(second)


def test_one_with_lines_of_its_own_keeps_them_and_its_seam_says_what_is_open() -> None:
    lower = kind_named("lower-neck")(piece="front", by=20.0)
    own = kind_named("redraw-edge")(edge="stand.outer-edge", through="50%:2mm").apply(band(block()))
    after = lower.apply(own)
    assert after.edge("stand", "outer-edge") == own.edge("stand", "outer-edge")
    assert [(each.code, each.piece) for each in check(after)] == [("seam", "back")]


def test_its_allowances_stay_when_it_follows() -> None:
    wide = kind_named("seam-allowance")(piece="stand", by=10.0).apply(band(block()))
    after = kind_named("lower-neck")(piece="front", by=20.0).apply(wide)
    assert after.piece("stand").allowance("outer-edge") == 10.0
    assert after.edge("stand", "sewn-edge").length > wide.edge("stand", "sewn-edge").length


def test_a_notch_of_the_makers_own_stays_when_it_follows() -> None:
    at = Position("sewn-centre", distance=30.0)
    own = kind_named("mark-notch")(edge="stand.sewn-edge", at=at, name="label").apply(band(block()))
    after = kind_named("lower-neck")(piece="front", by=20.0).apply(own)
    assert {notch.name: notch.at for notch in after.piece("stand").notches}["label"] == at
    assert len(after.piece("stand").notches) == 2


def test_on_one_side_of_the_body_it_follows_that_side() -> None:
    after = kind_named("lower-neck")(piece="front", by=20.0, side="left").apply(band(block()))
    left, right = (after.edge(f"{side}-stand", "sewn-edge") for side in ("left", "right"))
    assert length(left) > length(right) + 5
    assert length(right) == pytest.approx(neck(block()), abs=0.01)


def test_it_is_notched_where_the_line_runs_over_a_seam() -> None:
    (notch,) = band(block()).piece("stand").notches
    assert notch.at.distance == pytest.approx(length(block().edge("back", "neck")), abs=0.01)


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"to": "back.neck front.hem"}, "lines-do-not-meet"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"rise": 190.0}, "rises-too-much"),
        ({"gathers": 900.0}, "nothing-left"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        band(block(), **values)
    assert reason in reasons(refused.value.says)


def test_a_line_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        band(block(), to="front.collar")


@pytest.mark.parametrize("values", [{"to": ""}, {"name": "Two Words"}, {"to": "a.b " * 9}])
def test_what_is_no_line_and_no_name_is_refused(values: dict[str, str]) -> None:
    with pytest.raises(BadParameter):
        kind_named("draft-band")(**{**NECK, **values})


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("draft-band")(**NECK).in_words(Unit.CENTIMETRE) == (
        "draft the stand to back.neck and front.neck, 3.5 cm wide"
    )
