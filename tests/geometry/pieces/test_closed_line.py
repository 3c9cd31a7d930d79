import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes.armhole.scoop_armhole import ScoopArmhole
from trueup.geometry.changes.darts.move_apex import MoveApex
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.closed_line import closed, end_to_end, reshaped, smoothed_at
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge

DARTED = st.sampled_from([("front", "armhole"), ("front", "hem"), ("back", "shoulder")])


def straight(angle: float = 10.0, lean: float = 0.0) -> Edge:
    """Return a 200 mm edge with a dart in its middle, 100 mm deep; `lean` mm of kink at its end."""
    opening = math.radians(angle)
    apex = 100 + 100j
    before = Chain.line(0j, 100 + 0j)
    after = Chain.line(100 + 0j, complex(200, lean)).moved(Motion.turn(apex, opening))
    return Edge("top", "left", "right", (before, after), (Dart("top", apex),))


@given(drafts(), DARTED)
@settings(max_examples=40)
def test_the_closed_line_is_as_long_as_the_edge_is_sewn(
    draft: Draft, place: tuple[str, str]
) -> None:
    edge = draft.edge(*place)
    line = closed(edge)
    assert line.chain.length == pytest.approx(edge.length, abs=1e-9)
    assert line.chain.start == edge.start
    assert abs(line.to_closed_end(edge.end) - line.chain.end) < 1e-9


@given(drafts(), DARTED)
@settings(max_examples=40)
def test_opening_the_line_as_it_was_gives_the_edge_back(
    draft: Draft, place: tuple[str, str]
) -> None:
    edge = draft.edge(*place)
    line = closed(edge)
    again = line.opened(line.chain)
    assert again.darts == edge.darts
    assert (again.start, again.end) == (edge.start, edge.end)
    for new, old in zip(again.parts, edge.parts, strict=True):
        for k in range(9):
            assert abs(new.point_at(new.length * k / 8) - old.point_at(old.length * k / 8)) < 1e-9


@given(drafts(), st.floats(-15, 30).filter(bool))
@settings(max_examples=30)
def test_reshaping_keeps_apex_angle_and_ends_and_leaves_equal_legs(draft: Draft, by: float) -> None:
    changed = ScoopArmhole(piece="front", by=by).apply(draft)
    old, new = draft.mouth("front.bust"), changed.mouth("front.bust")
    assert new.dart == old.dart
    assert new.angle == pytest.approx(old.angle, abs=1e-9)
    assert new.legs[0] == pytest.approx(new.legs[1], abs=1e-9)
    for name in ("start", "end"):
        before = getattr(draft.edge("front", "armhole"), name)
        assert getattr(changed.edge("front", "armhole"), name) == before


def test_a_set_back_tip_does_not_change_how_the_edge_closes() -> None:
    backed = MoveApex(dart="front.bust", by=25).apply(block())
    plain, moved = closed(block().edge("front", "armhole")), closed(backed.edge("front", "armhole"))
    assert moved.chain == plain.chain


def test_a_line_drawn_lower_makes_the_legs_shorter_by_as_much() -> None:
    lowered = reshaped(straight(), lambda line: line.moved(Motion(shift=8j)))
    legs = Mouth(lowered.darts[0], lowered.parts[0].end, lowered.parts[1].start).legs
    assert legs == pytest.approx((92.0, 92.0))


def test_a_line_that_misses_the_dart_is_refused() -> None:
    line = closed(straight())
    with refusing(DoesNotFit, match="no longer meets the dart top"):
        line.opened(line.chain.moved(Motion(shift=150j)))
    with refusing(DoesNotFit, match="no longer meets the dart top"):
        line.opened(line.chain.moved(Motion(shift=-100 + 0j)))


def test_an_edge_without_a_dart_is_just_redrawn() -> None:
    edge = block().edge("front", "side")
    assert reshaped(edge, lambda line: line) == edge


@given(st.floats(1, 40), st.floats(-30, 30))
def test_the_kink_is_what_the_closed_line_turns(angle: float, lean: float) -> None:
    edge = straight(angle, lean)
    assert closed(edge).kink_degrees("top") == pytest.approx(
        abs(math.degrees(math.atan2(lean, 100))), abs=1e-6
    )


def test_smoothing_stays_within_its_reach() -> None:
    bent = Chain.line(0j, 100 + 0j, 200 + 40j)
    fair = smoothed_at(bent, 100.0, 25.0)
    assert abs(fair.point_at(75.0) - bent.point_at(75.0)) < 1e-9
    assert abs(fair.point_at(fair.length - 70.0) - bent.point_at(bent.length - 70.0)) < 1e-9
    assert fair.length < bent.length
    whole = smoothed_at(bent, 100.0, 500.0)
    assert (whole.start, whole.end) == (bent.start, bent.end)


def test_unequal_legs_step_the_closed_line() -> None:
    edge = straight()
    step = cmath.rect(3.0, math.radians(10.0) + math.pi / 2)
    longer = replace(edge, parts=(edge.parts[0], edge.parts[1].moved(Motion(shift=step))))
    line = closed(longer)
    assert line.chain.length == pytest.approx(longer.length + 3.0, abs=1e-6)


def test_ends_a_hair_apart_are_made_to_meet() -> None:
    chain = end_to_end([Chain.line(0j, 10 + 0j), Chain.line(10 + 1e-8j, 20 + 0j)])
    assert len(chain.cubics) == 2
