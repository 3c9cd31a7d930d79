import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.sound import assert_sound, outcome
from tests.strategies import drafts
from trueup.geometry.changes.deepen_dart import REACH, DeepenDart
from trueup.geometry.changes.rotate_dart import RotateDart
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Edge, InnerDart, Level, Mouth, Piece
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
def test_intake_changes_by_exactly_the_amount_and_the_rest_of_the_dart_stays(
    draft: Draft, dart: str, by: float
) -> None:
    before, after = draft.mouth(dart), DeepenDart(dart=dart, by=by).apply(draft).mouth(dart)
    assert after.intake == pytest.approx(before.intake + by, abs=1e-9)
    assert (after.first, after.dart) == (before.first, before.dart)


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=80)
def test_only_the_line_beside_the_dart_is_touched(draft: Draft, dart: str, by: float) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    piece, edge, found = draft.find_dart(dart)
    changed = after.edge(piece.name, edge.name)
    assert_sound(after)
    assert changed.start == edge.start
    assert changed.end == edge.end
    moved = edge.darts.index(found) + 1
    assert [new is old for new, old in zip(changed.parts, edge.parts, strict=True)] == [
        k != moved for k in range(len(edge.parts))
    ]
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


@given(drafts(), DARTS, AMOUNTS, st.floats(0, 1))
@settings(max_examples=80)
def test_beyond_the_reach_of_the_truing_the_edge_stays(
    draft: Draft, dart: str, by: float, share: float
) -> None:
    old, new = part_after(draft, dart), part_after(DeepenDart(dart=dart, by=by).apply(draft), dart)
    from_far_end = max(old.length - REACH - 1.5 * abs(by), 0.0) * share
    there = old.point_at(old.length - from_far_end)
    assert abs(new.point_at(new.length - from_far_end) - there) < 1e-6


def rate(mouth: Mouth, line: Chain) -> tuple[float, float]:
    """Return how much edge goes for each mm of intake, and how far curve and slant may change it.

    Turning the leg by one mm of intake takes 1 / cos(angle/2) mm of arc; of that the edge loses the
    part along itself. Where the edge bends, the truing moves it sideways and so changes its length
    by the bend times the sideways move.
    """
    leg = mouth.second - mouth.dart.apex
    slant = math.radians(degrees_between(leg, line.start_tangent))
    loss = math.sin(slant) / math.cos(mouth.angle / 2)
    reach = min(REACH, line.length)
    steps = [line.tangent_at(reach * k / 32) for k in range(33)]
    bend = math.radians(sum(degrees_between(a, b) for a, b in pairwise(steps)))
    sideways = abs(math.cos(slant)) + 4 / 27 * reach / abs(leg)
    return loss, bend * sideways / math.cos(mouth.angle / 2)


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=100)
def test_the_sewn_edge_falls_by_what_is_taken_in_to_first_order(
    draft: Draft, dart: str, by: float
) -> None:
    mouth, line = draft.mouth(dart), part_after(draft, dart)
    loss, give = rate(mouth, line)
    after = DeepenDart(dart=dart, by=by).apply(draft)
    lost = edge_of(draft, dart).length - edge_of(after, dart).length
    shortest = min(abs(mouth.first - mouth.dart.apex), line.length)
    assert abs(lost - loss * by) <= give * abs(by) + 2 * by * by / shortest + 1e-6


@given(drafts(), DARTS, AMOUNTS)
@settings(max_examples=50)
def test_on_the_block_that_is_the_amount_within_six_in_the_hundred(
    draft: Draft, dart: str, by: float
) -> None:
    after = DeepenDart(dart=dart, by=by).apply(draft)
    lost = edge_of(draft, dart).length - edge_of(after, dart).length
    assert lost == pytest.approx(by, rel=0.06)


@given(drafts(), st.floats(0.01, 0.1))
@settings(max_examples=25)
def test_a_dart_square_to_a_straight_edge_takes_just_what_it_takes_in(
    draft: Draft, by: float
) -> None:
    for dart in ("front.waist", "back.waist", "back.waist-side"):
        after = DeepenDart(dart=dart, by=by).apply(draft)
        lost = edge_of(draft, dart).length - edge_of(after, dart).length
        assert lost == pytest.approx(by, rel=0.02)


def test_a_deeper_side_dart_leaves_the_front_side_seam_short_by_what_was_taken() -> None:
    # Common practice, no source. The legs of a dart 60 mm below the underarm run aslant to the
    # side, at 69 degrees, so the seam loses a little less than the intake.
    side = RotateDart(
        dart="front.bust", edge="front.side", at=Position("underarm", distance=60)
    ).apply(block())
    deeper = DeepenDart(dart="front.bust", by=10).apply(side)
    before, after = measures(side), measures(deeper)
    lost = before["front.side"] - after["front.side"]
    assert lost == pytest.approx(10, abs=0.75)
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
def test_more_than_the_edge_has_left_is_refused(draft: Draft) -> None:
    left = part_after(draft, "back.waist-side").length
    with pytest.raises(CannotChange, match="mm of hem beside it") as caught:
        DeepenDart(dart="back.waist-side", by=left + 10).apply(draft)
    assert caught.value.largest == pytest.approx(left, abs=6)


def test_a_dart_cannot_close_below_nothing() -> None:
    with pytest.raises(CannotChange, match="let out by at most 36") as caught:
        DeepenDart(dart="front.bust", by=-40).apply(block())
    assert caught.value.largest == pytest.approx(-36.6, abs=0.1)


def test_a_refused_target_names_the_nearest_intake() -> None:
    with pytest.raises(CannotChange, match="its intake can be at") as caught:
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
        with pytest.raises(BadParameter, match=r"by or to|one of the two"):
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
    with pytest.raises(CannotChange, match=r"at most 179\.9 mm more"):
        DeepenDart(dart="skirt.waist", by=250).apply(panel())
