import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit


def grained(draft: Draft, edge: str, degrees: float = 0.0, **values: object) -> Draft:
    return kind_named("state-grain")(edge=edge, degrees=degrees, **values).apply(draft)


EDGES = ["front.centre", "back.centre", "sleeve.hem", "front.side", "back.shoulder"]


@given(drafts(), st.sampled_from(EDGES), st.integers(-90, 90))
@settings(max_examples=25, deadline=None)
def test_it_lies_in_the_cloth_at_the_angle_that_was_said(
    draft: Draft, edge: str, degrees: int
) -> None:
    name, _, line = edge.partition(".")
    after = grained(draft, edge, float(degrees))
    piece, grain = after.piece(name), after.piece(name).grainline
    assert grain is not None
    run = LineString([(p.real, p.imag) for p in (grain.start, grain.end)])
    assert piece.cloth.buffer(1e-6).covers(run)
    assert run.length > 5
    along = piece.edge(line)
    turn = cmath.phase((grain.end - grain.start) / (along.end - along.start))
    into = 1 if piece.inward == 1j else -1
    assert math.degrees(turn) * into == pytest.approx(degrees, abs=1e-6)
    assert [p.edges for p in after.pieces] == [p.edges for p in draft.pieces]
    assert (check(after), measures(after)) == (check(draft), measures(draft))


def test_a_piece_that_came_without_has_one_then_and_stated_anew_it_lies_anew() -> None:
    front = replace(block().piece("front"), grainline=None)
    once = grained(block().with_pieces(front), "front.centre")
    assert once.piece("front").grainline is not None
    bias = grained(once, "front.centre", 45.0)
    assert fingerprint(grained(bias, "front.centre")) == fingerprint(once)
    assert fingerprint(bias) != fingerprint(once)


def test_one_half_of_the_body_is_cut_otherwise_by_itself() -> None:
    one = grained(block(), "front.side", side="right")
    assert one.piece("left-front").grainline == block().piece("front").grainline
    assert one.piece("right-front").grainline != block().piece("front").grainline


def test_an_edge_that_is_not_there_is_refused() -> None:
    with pytest.raises(NoSuchName, match="edge"):
        grained(block(), "front.top")


def test_it_says_how_the_threads_lie() -> None:
    change = kind_named("state-grain")(edge="front.centre", degrees=45.0)
    assert change.in_words(Unit.MILLIMETRE) == (
        "lay the grain along front.centre, turned by 45 degrees"
    )
