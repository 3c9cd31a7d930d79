from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.units import Unit

EDGES = ("front.neck", "back.neck", "front.armhole", "back.armhole", "sleeve.hem")


def faced(draft: Draft, edge: str, width: float = 50.0) -> Draft:
    return kind_named("draft-facing")(edge=edge, width=width).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.sampled_from(EDGES), st.floats(20, 70))
@settings(max_examples=60)
def test_it_has_the_line_as_sewn_and_runs_beside_it(draft: Draft, edge: str, width: float) -> None:
    piece, _, name = edge.partition(".")
    after = faced(draft, edge, width)
    facing = after.piece(f"{piece}-{name}-facing")
    line = closed_points(draft.edge(piece, name))
    own = sampled(facing.edge(name).parts[0])
    assert abs(own[0] - line[0]) < 1e-6
    assert length(facing.edge(name)) == pytest.approx(float(np.abs(np.diff(line)).sum()), abs=0.01)
    inner = sampled(facing.edge("inner-edge").parts[0])
    middle = inner[len(inner) // 4 : -len(inner) // 4]
    apart = shapely.distance(
        shapely.points(np.column_stack([middle.real, middle.imag])),
        shapely.LineString(np.column_stack([line.real, line.imag])),
    )
    # Where an edge beside the line slants, the inner edge comes from aside.
    assert apart.max() < 1.1 * width + 1.0
    assert apart.min() > 0.85 * width - 1.0


@given(drafts(), st.sampled_from(EDGES))
@settings(max_examples=30)
def test_a_true_draft_stays_true(draft: Draft, edge: str) -> None:
    assert [f for f in check(faced(draft, edge)) if f not in check(draft)] == []


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=60, deadline=None)
def test_it_follows_its_line_through_every_change(draft: Draft, seed: int) -> None:
    after, dice = faced(draft, "front.neck"), Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    own = length(after.edge("front-neck-facing", "neck"))
    assert own == pytest.approx(length(after.edge("front", "neck")), abs=0.02)


def test_it_lies_on_the_fold_where_the_piece_does() -> None:
    assert faced(block(), "front.neck").piece("front-neck-facing").fold == "centre"
    assert faced(block(), "front.armhole").piece("front-armhole-facing").fold is None


def test_notches_of_the_line_are_on_it() -> None:
    piece = faced(block(), "front.armhole").piece("front-armhole-facing")
    assert [notch.name for notch in piece.notches] == ["front"]


def test_one_wider_than_the_edges_beside_the_line_is_refused() -> None:
    with pytest.raises(CannotChange) as refused:
        faced(block(), "front.neck", 200.0)
    assert refused.value.largest is not None


def test_it_has_a_plain_name() -> None:
    with pytest.raises(BadParameter):
        kind_named("draft-facing")(edge="front.neck", width=50.0, name="No Name")
    with pytest.raises(CannotChange):
        faced(faced(block(), "front.neck"), "front.neck")


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("draft-facing")(edge="front.neck", width=60.0).in_words(Unit.CENTIMETRE) == (
        "draft the facing of front.neck, 6 cm wide (front-neck-facing)"
    )
