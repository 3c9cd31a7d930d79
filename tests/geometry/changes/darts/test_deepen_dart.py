import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, depth, sampled, smallest_radius, turns
from tests.refusals import refusing
from tests.sound import assert_sound, outcome
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes.darts.deepen_dart import DeepenDart
from trueup.geometry.changes.darts.rotate_dart import RotateDart
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.pieces.position import Position

DARTS = st.sampled_from(block().dart_names)
AMOUNTS = st.floats(-12, 20).filter(lambda by: abs(by) > 0.01)


def edge_of(draft: Draft, dart: str) -> Edge:
    return draft.find_dart(dart)[1]


def part_after(draft: Draft, dart: str) -> Chain:
    _, edge, found = draft.find_dart(dart)
    return edge.parts[edge.darts.index(found) + 1]


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=80)
def test_intake_changes_by_exactly_the_amount_and_the_apex_stays(
    draft: Draft, dart: str, by: float
) -> None:
    before, after = draft.mouth(dart), DeepenDart(dart=dart, by=by).apply(draft).mouth(dart)
    assert after.intake == pytest.approx(before.intake + by, abs=1e-9)
    assert after.dart == before.dart


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=80)
def test_only_the_edge_of_the_dart_is_touched_and_its_ends_stay(
    draft: Draft, dart: str, by: float
) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    piece, edge, _ = draft.find_dart(dart)
    changed = after.edge(piece.name, edge.name)
    assert_sound(after)
    assert changed.start == edge.start
    assert changed.end == edge.end
    for new, old in zip(changed.mouths, edge.mouths, strict=True):
        if f"{piece.name}.{old.dart.name}" != dart:
            assert new.dart == old.dart
            assert new.angle == pytest.approx(old.angle, abs=1e-9)
    assert all(
        after.edge(p.name, e.name) is e for p in draft.pieces for e in p.edges if e is not edge
    )


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=80)
def test_the_edge_runs_on_without_a_kink_across_the_closed_dart(
    draft: Draft, dart: str, by: float
) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    assert closed(edge_of(after, dart)).kink_degrees(dart.partition(".")[2]) < 1e-5


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=60)
def test_the_closed_edge_gets_no_hook(draft: Draft, dart: str, by: float) -> None:
    """Trued over 40 mm only, the armhole bent as a circle of 15 mm, the waist turned back."""
    before = closed_points(edge_of(draft, dart))
    after = closed_points(edge_of(DeepenDart(dart=dart, by=by).apply(draft), dart))
    assert len(turns(after, 2.5)) <= 1
    assert smallest_radius(after) > min(0.6 * smallest_radius(before), 150)


@given(side_dart_blocks(), AMOUNTS)
@settings(max_examples=40)
def test_a_straight_seam_stays_straight_as_sewn(draft: Draft, by: float) -> None:
    """Trued over 40 mm only, it got a hook of 3.3 mm for 10 mm and of 8.7 mm for 25."""
    after = outcome(lambda: DeepenDart(dart="front.bust", by=by).apply(draft))
    assume(after is not None)  # where a waist dart is in the way
    assert after is not None
    assert depth(closed_points(draft.edge("front", "side"))) < 1e-6
    assert depth(closed_points(after.edge("front", "side"))) < 1e-6
    assert [len(part.cubics) for part in after.edge("front", "side").parts] == [1, 1]


@given(drafts(), st.floats(2, 20), st.integers(20, 80))
@settings(max_examples=30)
def test_turned_elsewhere_a_deeper_dart_leaves_no_jog(draft: Draft, by: float, share: int) -> None:
    deeper = DeepenDart(dart="front.bust", by=by).apply(draft)
    turned = RotateDart(
        dart="front.bust", edge="front.shoulder", at=Position("neck-point", share=share / 100)
    ).apply(deeper)
    left = sampled(turned.edge("front", "armhole").parts[0])
    assert len(turns(left, 2.5)) == 1
    assert smallest_radius(left) > 25


@given(drafts(), st.floats(2, 12))
@settings(max_examples=20)
def test_deeper_again_and_again_does_not_multiply_the_curves(draft: Draft, by: float) -> None:
    for dart in ("front.bust", "front.waist", "back.waist-side"):
        once = again = DeepenDart(dart=dart, by=by / 12).apply(draft)
        for _ in range(11):
            again = DeepenDart(dart=dart, by=by / 12).apply(again)
        count = [sum(len(part.cubics) for part in edge_of(d, dart).parts) for d in (once, again)]
        assert count[1] <= count[0] + 4


@given(side_dart_blocks(), st.floats(0.01, 12))
@settings(max_examples=40)
def test_a_straight_seam_falls_by_the_turn_times_the_distance_of_the_apex(
    draft: Draft, by: float
) -> None:
    """The way between its ends, once turned about the apex: two sides of a triangle."""
    old = draft.edge("front", "side")
    after = outcome(lambda: DeepenDart(dart="front.bust", by=by).apply(draft))
    assume(after is not None)  # where a waist dart is in the way
    assert after is not None
    new = after.edge("front", "side")
    line, apex = closed_points(old), old.darts[0].apex
    turn = np.exp(1j * (abs(new.mouths[0].angle) - abs(old.mouths[0].angle)))
    ends = [abs(apex + (line[-1] - apex) * each - line[0]) for each in (turn, turn.conjugate())]
    assert new.length == pytest.approx(min(ends), abs=1e-6)


@given(drafts(), st.sampled_from(["front.waist", "back.waist", "back.waist-side"]), AMOUNTS)
@settings(max_examples=40)
def test_the_waist_falls_by_what_is_taken_in(draft: Draft, dart: str, by: float) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    lost = edge_of(draft, dart).length - edge_of(after, dart).length
    assert lost == pytest.approx(by, rel=0.04)


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=50)
def test_any_edge_of_the_block_falls_by_what_is_taken_in_to_first_order(
    draft: Draft, dart: str, by: float
) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    lost = edge_of(draft, dart).length - edge_of(after, dart).length
    assert 0.85 < lost / by < 1.06


def test_a_deeper_side_dart_leaves_the_front_side_seam_short_by_what_was_taken() -> None:
    # The legs of a dart 60 mm below the underarm run aslant to the side, at 69 degrees, and grow
    # as the seam is drawn straight past it: it loses less than the intake grows.
    side = RotateDart(
        dart="front.bust", edge="front.side", at=Position("underarm", distance=60)
    ).apply(block())
    deeper = DeepenDart(dart="front.bust", by=10).apply(side)
    before, after = measures(side), measures(deeper)
    lost = before["front.side"] - after["front.side"]
    assert lost == pytest.approx(8.4, abs=0.1)
    assert after["side-seam.ease"] == pytest.approx(before["side-seam.ease"] - lost, abs=1e-9)
    assert after["back.side"] == before["back.side"]


@given(drafts(), DARTS, st.floats(0, 50), st.booleans())
@settings(max_examples=30)
def test_too_much_is_refused_with_the_largest_amount_that_can_be_done(
    draft: Draft, dart: str, beyond: float, out: bool
) -> None:
    mouth = draft.mouth(dart)
    twice_the_leg = 2 * abs(mouth.first - mouth.dart.apex)
    by = -mouth.intake - beyond if out else twice_the_leg + beyond
    with pytest.raises(CannotChange) as caught:
        DeepenDart(dart=dart, by=by).apply(draft)
    largest = caught.value.largest
    assert largest is not None
    assert 0 < largest / by < 1
    assert_sound(DeepenDart(dart=dart, by=largest).apply(draft))


@given(drafts())
@settings(max_examples=10)
def test_some_cloth_is_left_beside_the_dart(draft: Draft) -> None:
    left = part_after(draft, "back.waist-side").length
    with refusing(CannotChange, match=r"up to the dart waist|meets the dart waist") as caught:
        DeepenDart(dart="back.waist-side", by=left + 10).apply(draft)
    assert caught.value.largest is not None
    largest = DeepenDart(dart="back.waist-side", by=caught.value.largest).apply(draft)
    assert 5 <= part_after(largest, "back.waist-side").length < 6
    assert_sound(largest)


def test_a_dart_cannot_close_below_nothing() -> None:
    with refusing(CannotChange, match="let out by at most 36") as caught:
        DeepenDart(dart="front.bust", by=-40).apply(block())
    assert caught.value.largest == pytest.approx(-36.6, abs=0.1)


def test_a_refused_target_names_the_nearest_intake() -> None:
    with refusing(CannotChange, match="its intake can be at") as caught:
        DeepenDart(dart="front.waist", to=500).apply(block())
    reached = DeepenDart(dart="front.waist", to=caught.value.largest).apply(block())
    assert reached.mouth("front.waist").intake == pytest.approx(caught.value.largest)


@given(st.floats(-1e4, 1e4) | st.sampled_from([math.nan, math.inf, -math.inf, 1e300]), DARTS)
@settings(max_examples=40)
def test_absurd_amounts_raise_only_errors_of_the_geometry(by: float, dart: str) -> None:
    for given_as in ({"by": by}, {"to": by}):
        outcome(lambda given_as=given_as: DeepenDart(dart=dart, **given_as).apply(block()))


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=30)
def test_to_an_intake_is_by_the_difference(draft: Draft, dart: str, by: float) -> None:
    wanted = draft.mouth(dart).intake + by
    one = DeepenDart(dart=dart, by=by).apply(draft).mouth(dart)
    other = DeepenDart(dart=dart, to=wanted).apply(draft).mouth(dart)
    assert abs(one.second - other.second) < 1e-9


def test_the_intake_it_has_already_changes_nothing() -> None:
    draft = block()
    assert DeepenDart(dart="front.bust", to=draft.mouth("front.bust").intake).apply(draft) is draft


def test_one_of_by_and_to_is_needed_and_only_one() -> None:
    for amounts in ({}, {"by": 1.0, "to": 20.0}):
        with refusing(BadParameter, match=r"by or to|one of the two"):
            DeepenDart(dart="front.bust", **amounts)


def test_an_unknown_dart_is_refused_with_the_darts_there_are() -> None:
    with pytest.raises(NoSuchName, match=r"front\.bust"):
        DeepenDart(dart="front.bosom", by=5).apply(block())


def test_the_cap_gains_the_ease_the_armhole_loses() -> None:
    change = DeepenDart(dart="front.bust", by=8)
    before, after = measures(block()), measures(change.apply(block()))
    assert change.meant(block()) == ("front.bust.intake",)
    assert change.knock_on(block()) == ("front.armhole", "sleeve.cap-ease")
    lost = before["front.armhole"] - after["front.armhole"]
    assert after["sleeve.cap-ease"] - before["sleeve.cap-ease"] == pytest.approx(lost)


def panel(intake: float = 20.0) -> Draft:
    ring = (0j, 200 + 0j, 200 + 300j, 300j)
    corners = ("waist-left", "waist-right", "hem-right", "hem-left")
    names = ("waist", "side", "hem", "centre")
    edges = tuple(
        Edge(names[k], corners[k], corners[(k + 1) % 4], (Chain.line(ring[k], ring[(k + 1) % 4]),))
        for k in range(4)
    )
    dart = InnerDart(
        "waist", 100 + 30j, 100 + 220j, complex(100 - intake / 2, 120), 120j + 100 + intake / 2
    )
    return Draft((Piece("skirt", edges, (dart,), levels=(Level("waist", 120.0),)),))


@given(st.floats(-19, 150))
def test_a_dart_inside_a_piece_widens_by_half_on_each_side(by: float) -> None:
    before, change = panel(), DeepenDart(dart="skirt.waist", by=by)
    after = change.apply(before)
    old, new = measures(before), measures(after)
    assert new["skirt.waist.intake"] == pytest.approx(20 + by)
    assert new["skirt.waist-width"] == pytest.approx(old["skirt.waist-width"] - by)
    assert change.knock_on(before) == ("skirt.waist-width",)
    one, other = after.piece("skirt").inner_darts[0], before.piece("skirt").inner_darts[0]
    assert (one.upper, one.lower) == (other.upper, other.lower)
    assert one.left + one.right == pytest.approx(other.left + other.right)


def test_a_dart_inside_a_piece_cannot_grow_beyond_it() -> None:
    with refusing(CannotChange, match=r"at most 180 mm more"):
        DeepenDart(dart="skirt.waist", by=250).apply(panel())
