import math
from dataclasses import replace
from functools import partial

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift, outcome
from tests.strategies import drafts
from trueup.geometry.changes.base import Change, kind_named
from trueup.geometry.changes.darts.deepen_dart import DeepenDart
from trueup.geometry.changes.darts.move_apex import MoveApex
from trueup.geometry.changes.darts.release_dart import ReleaseDart
from trueup.geometry.changes.darts.rotate_dart import RotateDart
from trueup.geometry.errors import BadPosition, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import room_for_tip

FRONT_PLACES = st.sampled_from(["neck", "shoulder", "armhole", "side", "hem"])
BACK_PLACES = st.sampled_from(["neck", "armhole", "side", "hem", "centre"])
SHARES = st.floats(0.03, 0.97)


def free_cloth(draft: Draft, moved: str) -> Draft:
    """Return the draft with the tips of all darts but one backed off, so that it can be moved."""
    for dart in draft.dart_names:
        mouth = draft.mouth(dart)
        by = 0.75 * (room_for_tip(mouth) - mouth.dart.setback)
        if dart != moved and by > 0:
            draft = MoveApex(dart=dart, by=by).apply(draft)
    return draft


def rotated(draft: Draft, dart: str, edge: str, share: float) -> Draft:
    piece = dart.partition(".")[0]
    corner = draft.edge(piece, edge).starts_at
    return RotateDart(dart=dart, edge=f"{piece}.{edge}", at=Position(corner, share=share)).apply(
        draft
    )


@st.composite
def moves(draw: st.DrawFn) -> tuple[Draft, Draft, str]:
    """Draw a draft, the same with a dart rotated on it, and the dart."""
    dart = draw(st.sampled_from(["front.bust", "back.shoulder"]))
    edge = draw(FRONT_PLACES if dart == "front.bust" else BACK_PLACES)
    before = free_cloth(draw(drafts()), dart)
    share = draw(SHARES)
    for k in range(20):
        try:
            return before, rotated(before, dart, edge, (share + k / 20) % 1), dart
        except CannotChange:
            continue
    raise AssertionError(f"{dart} finds no place on {edge}")


@given(moves())
@settings(max_examples=100)
def test_angle_edges_and_cloth_stay_and_the_width_goes_with_the_leg(
    move: tuple[Draft, Draft, str],
) -> None:
    before, after, dart = move
    piece = before.piece(dart.partition(".")[0])
    turned = after.piece(piece.name)
    assert_sound(after)
    for edge in piece.edges:
        assert turned.edge(edge.name).length == pytest.approx(edge.length, abs=1e-7)
    assert turned.area == pytest.approx(piece.area, abs=1e-6)
    old, new = before.mouth(dart), after.mouth(dart)
    assert new.angle == pytest.approx(old.angle, abs=1e-9)
    assert new.dart == replace(old.dart, turned=True)
    # Plane geometry: a mouth is the chord 2 L sin(θ/2) of its legs.
    assert new.intake == pytest.approx(2 * new.legs[0] * math.sin(abs(old.angle) / 2), abs=1e-9)


def is_halved(edge: Edge) -> bool:
    lengths = [part.length for part in edge.parts]
    return len(lengths) == 2 and abs(lengths[0] - lengths[1]) < 1e-6


@given(moves())
@settings(max_examples=100)
def test_there_and_back_gives_the_same_draft(move: tuple[Draft, Draft, str]) -> None:
    before, after, dart = move
    piece, edge, found = before.find_dart(dart)
    # Where the centre is cut in halves, either may stay on the table: there and back can differ.
    assume(not is_halved(after.piece(piece.name).edge("centre")))
    station = sum(part.length for part in edge.parts[: edge.darts.index(found) + 1])
    back = RotateDart(
        dart=dart,
        edge=f"{piece.name}.{edge.name}",
        at=Position(edge.starts_at, distance=station),
    ).apply(after)
    assert largest_shift(before.piece(piece.name), back.piece(piece.name)) < 1e-6


@given(moves())
@settings(max_examples=50)
def test_the_centre_stays_on_the_table_and_other_darts_go_along(
    move: tuple[Draft, Draft, str],
) -> None:
    before, after, dart = move
    piece = before.piece(dart.partition(".")[0])
    turned = after.piece(piece.name)
    if not turned.edge("centre").darts:
        assert turned.edge("centre") is piece.edge("centre")
    for edge in piece.edges:
        for mouth in edge.mouths:
            if mouth.dart.name != dart.partition(".")[2]:
                carried = turned.mouth(mouth.dart.name)
                assert carried.legs == pytest.approx(mouth.legs, abs=1e-9)
                assert carried.intake == pytest.approx(mouth.intake, abs=1e-9)
    assert (turned.notches, turned.levels) == (piece.notches, piece.levels)
    assert turned.grainline == piece.grainline
    assert all(after.piece(p.name) is p for p in before.pieces if p.name != piece.name)


def test_the_old_edge_runs_on_where_the_dart_was() -> None:
    station = block().edge("front", "armhole").parts[0].length
    line = rotated(block(), "front.bust", "shoulder", 0.5).edge("front", "armhole").parts[0]
    arriving, leaving = line.tangent_at(station - 1e-4), line.tangent_at(station + 1e-4)
    assert degrees_between(arriving, leaving) < 0.01


def test_untouched_edges_are_the_same_objects() -> None:
    draft = block()
    after = rotated(draft, "front.bust", "shoulder", 0.5).piece("front")
    same = {e.name for e in draft.piece("front").edges if after.edge(e.name) is e}
    assert same == {"neck", "side", "hem", "centre"}


# --- facts of the trade ---------------------------------------------------------------------------


def test_the_bust_dart_of_the_block_measures_as_computed() -> None:
    # Computed by hand from the rules of the draft, which are from memory, for a bust of 83 cm:
    # 11.72 and 3.72 cm at the armhole.
    now = measures(block())
    assert now["front.bust.leg"] == pytest.approx(117.2, abs=2)
    assert now["front.bust.intake"] == pytest.approx(37.2, abs=2)


def test_moved_to_the_side_the_bust_dart_keeps_its_angle_and_widens() -> None:
    # Computed as above, 8 cm below the underarm: 17.41 and 5.52 cm. That draft has a straight side
    # seam; on the block it leans in to the waist.
    draft = free_cloth(block(), "front.bust")
    side, apex = draft.edge("front", "side"), draft.mouth("front.bust").dart.apex
    after = RotateDart(
        dart="front.bust", edge="front.side", at=Position("underarm", distance=80)
    ).apply(draft)
    straight_down = abs(side.start + 80j - apex)
    assert straight_down == pytest.approx(174.1, abs=2)
    angle = abs(after.mouth("front.bust").angle)
    assert math.degrees(angle) == pytest.approx(18.25)
    assert 2 * straight_down * math.sin(angle / 2) == pytest.approx(55.2, abs=2)
    leg = abs(side.point_at(80) - apex)
    assert after.mouth("front.bust").legs == pytest.approx((leg, leg))
    lean = abs(side.point_at(80) - (side.start + 80j))
    assert straight_down - lean < leg < straight_down


@given(st.floats(5, 25), st.sampled_from(["shoulder", "neck", "side"]))
@settings(max_examples=25)
def test_hollowing_the_armhole_before_or_after_moving_its_dart_is_the_same(
    by: float, edge: str
) -> None:
    draft = free_cloth(block(), "front.bust")
    # Its second version draws with fewer curves, and so alike only.
    scoop = kind_named("scoop-armhole", 1)(piece="front", by=by)
    before = rotated(scoop.apply(draft), "front.bust", edge, 0.5)
    after = scoop.apply(rotated(draft, "front.bust", edge, 0.5))
    lengths = [d.edge("front", "armhole").length for d in (before, after)]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-6)
    assert largest_shift(before.piece("front"), after.piece("front")) < 1e-5


# --- what is refused ------------------------------------------------------------------------------


def turn(edge: str, at: Position, dart: str = "front.bust") -> Change:
    return RotateDart(dart=dart, edge=edge, at=at)


def test_the_place_it_opens_at_already_is_refused() -> None:
    station = block().edge("front", "armhole").parts[0].length
    with refusing(CannotChange, match="already"):
        turn("front.armhole", Position("shoulder-point", distance=station)).apply(block())


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_a_corner_is_refused(share: float) -> None:
    with refusing(CannotChange, match="corner"):
        turn("front.shoulder", Position("neck-point", share=share)).apply(block())


def test_the_mouth_of_another_dart_is_refused() -> None:
    station = block().edge("front", "hem").parts[0].length
    with refusing(CannotChange, match="dart waist-side opens"):
        turn("front.hem", Position("hem-side", distance=station)).apply(block())


def test_a_dart_in_the_way_is_named_with_a_remedy() -> None:
    change = turn("front.side", Position("underarm", distance=60))
    long = MoveApex(dart="front.waist-side", by=-60).apply(block())
    with refusing(CannotChange, match=r"crosses the dart waist-side.*move-apex"):
        change.apply(long)
    change.apply(MoveApex(dart="front.waist-side", by=60).apply(long))


def test_the_drafted_block_takes_its_bust_dart_at_the_side() -> None:
    turn("front.side", Position("underarm", distance=60)).apply(block())


def test_the_fold_of_the_cloth_takes_no_dart() -> None:
    with refusing(CannotChange, match="fold"):
        turn("front.centre", Position("hem-centre", distance=100)).apply(block())


def test_names_and_places_that_are_not_there_are_refused() -> None:
    with pytest.raises(NoSuchName):
        turn("back.side", Position("underarm", distance=60)).apply(block())
    with pytest.raises(NoSuchName):
        turn("front.seam", Position("underarm", distance=60)).apply(block())
    with pytest.raises(NoSuchName):
        turn("front.side", Position("neck-point", distance=60)).apply(block())
    with pytest.raises(BadPosition):
        turn("front.side", Position("underarm", distance=600)).apply(block())


def test_a_tip_backed_off_farther_than_the_new_place_is_refused() -> None:
    long = rotated(block(), "front.bust", "shoulder", 0.5)
    backed = MoveApex(dart="front.bust", by=200).apply(long)
    with refusing(CannotChange, match="move-apex"):
        rotated(backed, "front.bust", "armhole", 0.55)


@given(st.data())
@settings(max_examples=60)
def test_any_string_of_dart_changes_leaves_a_sound_draft_or_a_plain_refusal(
    data: st.DataObject,
) -> None:
    draft = data.draw(drafts())
    for _ in range(4):
        dart = data.draw(st.sampled_from(block().dart_names))
        piece = block().piece(dart.partition(".")[0])
        edge = data.draw(st.sampled_from(piece.edges))
        amount = data.draw(st.floats(-40, 80).filter(bool))
        at = Position(data.draw(st.sampled_from([edge.starts_at, edge.ends_at])), share=amount % 1)
        change = data.draw(
            st.sampled_from(
                [
                    DeepenDart(dart=dart, by=amount),
                    MoveApex(dart=dart, by=amount),
                    ReleaseDart(dart=dart),
                    RotateDart(dart=dart, edge=f"{piece.name}.{edge.name}", at=at),
                    RotateDart(dart=dart, edge=f"{piece.name}.{edge.name}", at=at),
                ]
            )
        )
        draft = outcome(partial(change.apply, draft)) or draft


# --- a piece by hand ------------------------------------------------------------------------------


def panel(*inner: InnerDart, notched_side: bool = False) -> Draft:
    """Return a panel 200 mm square, a dart on its top, its centre on the right."""
    mouth, apex = (110 + 0j, 90 + 0j), 100 + 80j
    side = (200j, 0j) if not notched_side else (200j, 150j, 60 + 150j, 60 + 100j, 100j, 0j)
    edges = (
        Edge("centre", "top-centre", "hem-centre", (Chain.line(200 + 0j, 200 + 200j),)),
        Edge("hem", "hem-centre", "hem-side", (Chain.line(200 + 200j, 200j),)),
        Edge("side", "hem-side", "top-side", (Chain.line(*side),)),
        Edge(
            "top",
            "top-side",
            "top-centre",
            (Chain.line(0j, mouth[1]), Chain.line(mouth[0], 200 + 0j)),
            (Dart("top", apex),),
        ),
    )
    return Draft((Piece("panel", edges, inner),))


def diamond(name: str, middle: complex) -> InnerDart:
    return InnerDart(name, middle - 15j, middle + 15j, middle - 4, middle + 4)


def to_hem(draft: Draft) -> Piece:
    at = Position("hem-side", distance=100.0)
    return RotateDart(dart="panel.top", edge="panel.hem", at=at).apply(draft).piece("panel")


def test_darts_inside_the_turned_paper_go_along_and_those_beside_it_stay() -> None:
    side, centre = diamond("side", 40 + 100j), diamond("centre", 160 + 100j)
    after = to_hem(panel(side, centre))
    turned, stayed = after.inner_darts
    apex = 100 + 80j
    assert stayed == centre
    assert turned.upper != side.upper
    for name in ("upper", "lower", "left", "right"):
        assert abs(getattr(turned, name) - apex) == pytest.approx(abs(getattr(side, name) - apex))
    assert after.area == pytest.approx(panel(side, centre).piece("panel").area)


def test_a_cut_through_a_dart_inside_the_piece_is_refused() -> None:
    with refusing(CannotChange, match="crosses the dart low"):
        to_hem(panel(diamond("low", 100 + 150j)))


def test_a_cut_that_leaves_the_cloth_is_refused() -> None:
    at = Position("hem-side", distance=10.0)
    with refusing(CannotChange, match="leaves the cloth"):
        RotateDart(dart="panel.top", edge="panel.hem", at=at).apply(panel(notched_side=True))


def test_without_fold_and_centre_the_larger_part_stays() -> None:
    piece = panel().piece("panel")
    centre = replace(piece.edge("centre"), name="front")
    nameless = replace(piece, edges=(centre, *piece.edges[1:]))
    at = Position("top-side", distance=40.0)
    after = RotateDart(dart="panel.top", edge="panel.side", at=at).apply(Draft((nameless,)))
    assert after.edge("panel", "front") is centre
    assert after.edge("panel", "hem") is nameless.edge("hem")


def test_a_dart_may_move_along_its_own_edge() -> None:
    at = Position("top-side", distance=60.0)
    after = RotateDart(dart="panel.top", edge="panel.top", at=at).apply(panel())
    assert_sound(after)
    assert after.edge("panel", "top").parts[0].length == pytest.approx(60)
    assert after.edge("panel", "top").length == pytest.approx(180)
    assert after.edge("panel", "centre") == panel().edge("panel", "centre")
    assert after.edge("panel", "side") == panel().edge("panel", "side")


def test_it_names_what_it_means_to_change() -> None:
    change = turn("front.side", Position("underarm", distance=60))
    assert change.meant(block()) == ("front.bust.intake", "front.bust.leg")
