from itertools import pairwise
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Said
from trueup.geometry.sides.parting import worn_on
from trueup.geometry.units import Unit

HOOD = {"height": 340.0, "depth": 240.0}


def hooded(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-hood")(**{**HOOD, **values}).apply(draft)


def length(line: np.ndarray) -> float:
    return float(np.abs(np.diff(line)).sum())


def sewn(edge: Edge) -> float:
    return sum(length(sampled(part)) for part in edge.parts)


def neck(draft: Draft) -> float:
    return sum(length(closed_points(draft.edge(piece, "neck"))) for piece in ("front", "back"))


def outline(piece: Piece) -> np.ndarray:
    return np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(310, 400), st.floats(205, 235), st.floats(0, 30), st.floats(0, 30))
@settings(max_examples=40)
def test_it_is_as_long_as_the_neck_and_as_high_and_as_deep_as_asked(
    draft: Draft, height: float, depth: float, dart: float, drop: float
) -> None:
    after = hooded(draft, height=height, depth=depth, dart=dart, drop=drop)
    piece = after.piece("hood")
    edge = piece.edge("sewn-edge")
    assert sewn(edge) == pytest.approx(neck(draft), abs=0.01)
    assert sewn(piece.edge("face-edge")) == pytest.approx(height, abs=1e-6)
    points = outline(piece)
    down = min(0.65 * depth, 0.45 * (height - drop))  # where it reaches farthest back
    upper = points[points.imag < edge.end.imag - height + down + 0.01]
    assert upper.real.max() - upper.real.min() == pytest.approx(depth, abs=0.05)
    assert edge.end.imag - edge.start.imag == pytest.approx(drop, abs=1e-4)
    if dart > 1e-6:
        (before, beyond), (mouth,) = edge.parts, edge.darts
        assert abs(beyond.start - before.end) == pytest.approx(dart, abs=1e-6)
        legs = abs(before.end - mouth.apex), abs(beyond.start - mouth.apex)
        assert legs == pytest.approx((90.0, 90.0), abs=1e-6)


@given(drafts(), st.floats(0, 30), st.floats(0, 30))
@settings(max_examples=30)
def test_its_neck_edge_is_one_smooth_line_with_the_dart_closed_and_square_at_both_ends(
    draft: Draft, dart: float, drop: float
) -> None:
    piece = hooded(draft, dart=dart, drop=drop).piece("hood")
    line = closed_points(piece.edge("sewn-edge"))
    steps = np.diff(line)
    headings = np.unwrap(np.angle(steps[np.abs(steps) > 1e-9]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 1.0
    for before, now in pairwise((*piece.edges, piece.edges[0])):
        arriving = np.diff(sampled(before.parts[-1])[-2:])[0]
        leaving = np.diff(sampled(now.parts[0])[:2])[0]
        corner = (leaving / arriving).real / abs(leaving / arriving)
        assert corner == pytest.approx(0.0, abs=0.02)


@given(drafts(), st.floats(205, 240))
@settings(max_examples=20)
def test_the_seam_over_the_head_never_bends_sharply_and_a_true_draft_stays_true(
    draft: Draft, depth: float
) -> None:
    after = hooded(draft, depth=depth)
    steps = np.diff(sampled(after.edge("hood", "crown").parts[0]))
    headings = np.unwrap(np.angle(steps[np.abs(steps) > 1e-9]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 2.0
    assert [f for f in check(after) if f not in check(draft) and f.code != "wave"] == []


def test_the_two_halves_are_sewn_over_the_head() -> None:
    seam = hooded(block()).seam("hood-crown-seam")
    assert seam.side == seam.mate == (Run("hood", "crown"),)


def test_where_left_and_right_differ_the_left_half_is_sewn_to_the_right() -> None:
    after = kind_named("lower-neck")(piece="front", by=20.0, side="left").apply(hooded(block()))
    seam = after.seam("hood-crown-seam")
    assert (seam.side, seam.mate) == (
        (Run("left-hood", "crown"),),
        (Run("right-hood", "crown"),),
    )
    for side in ("left", "right"):
        alone = worn_on(after, side).seam("hood-crown-seam")
        assert alone.side == alone.mate == (Run("hood", "crown"),)
    left, right = (sewn(after.edge(f"{each}-hood", "sewn-edge")) for each in ("left", "right"))
    assert left > right + 5
    assert "hood-crown-seam" not in [f.edge for f in check(after)]


@given(drafts(), st.integers(0, 2**32), st.floats(0, 25))
@settings(max_examples=40, deadline=None)
def test_it_follows_the_neck_through_every_change(draft: Draft, seed: int, dart: float) -> None:
    after, dice = hooded(draft, dart=dart), Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    assert sewn(after.edge("hood", "sewn-edge")) == pytest.approx(neck(after), abs=0.02)


@given(drafts(), st.floats(3, 20))
@settings(max_examples=20)
def test_made_before_or_after_a_change_it_is_the_same(draft: Draft, by: float) -> None:
    lower = kind_named("lower-neck")(piece="front", by=by)
    assert fingerprint(lower.apply(hooded(draft))) == fingerprint(hooded(lower.apply(draft)))


def test_what_stays_free_of_it_the_seam_says() -> None:
    after = hooded(block(), free=25.0, depth=210.0)
    assert sewn(after.edge("hood", "sewn-edge")) == pytest.approx(neck(block()) - 25, abs=0.01)
    assert check(after) == check(block())


def test_its_dart_or_else_a_notch_stands_where_back_and_front_meet() -> None:
    back = length(closed_points(block().edge("back", "neck")))
    plain, darted = hooded(block()).piece("hood"), hooded(block(), dart=20.0).piece("hood")
    assert [notch.at.distance for notch in plain.notches] == [pytest.approx(back, abs=0.01)]
    assert darted.notches == ()
    assert length(sampled(darted.edge("sewn-edge").parts[0])) == pytest.approx(back, abs=0.01)


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"depth": 400.0}, "hood-behind-neck"),
        ({"depth": 120.0, "height": 200.0}, "hood-before-neck"),
        ({"drop": 120.0, "to": "back.neck"}, "drops-too-far"),
        ({"free": 200.0}, "nothing-left"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"to": "back.neck front.hem"}, "lines-do-not-meet"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        hooded(block(), **values)
    assert reason in reasons(refused.value.says)


@pytest.mark.parametrize(
    ("depth", "height", "hair"),
    [(400.0, 340.0, -0.01), (400.0, 600.0, -0.01), (120.0, 200.0, 0.01), (40.0, 300.0, 0.01)],
)
def test_the_depth_that_is_told_to_be_possible_is(depth: float, height: float, hair: float) -> None:
    with pytest.raises(CannotChange) as refused:
        hooded(block(), depth=depth, height=height)
    told = float(refused.value.says.also[1].facts["by"])
    assert hooded(block(), depth=told + hair, height=height).has_piece("hood")
    with pytest.raises(CannotChange):
        hooded(block(), depth=told - 100 * hair, height=height)


def test_a_dart_that_opens_too_wide_and_a_line_that_is_not_there_are_refused() -> None:
    with pytest.raises(BadParameter):
        hooded(block(), dart=40.0, dart_length=60.0)
    with pytest.raises(NoSuchName):
        hooded(block(), to="back.collar")


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-hood")(**HOOD).in_words(Unit.CENTIMETRE)
    assert told == "draft the hood to back.neck and front.neck, 34 cm high and 24 cm deep"
