import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, depth
from tests.geometry.changes.tape_measure import angles, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes.cut_and_join.cut_apart import CutApart
from trueup.geometry.changes.edges_and_seams.straighten_edge import StraightenEdge
from trueup.geometry.changes.side_and_hem.lengthen import Lengthen
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

EDGES = [each for each in block().edge_names if not each.endswith(".centre")]


@given(st.one_of(drafts(), side_dart_blocks()), st.sampled_from(EDGES))
@settings(max_examples=80, deadline=None)
def test_the_edge_is_straight_as_it_is_sewn_and_all_else_stays(draft: Draft, name: str) -> None:
    try:
        after = StraightenEdge(edge=name).apply(draft)
    except CannotChange:
        assert name in ("front.armhole", "back.armhole")
        return
    assert_sound(after)
    piece, _, edge = name.partition(".")
    old, new = draft.edge(piece, edge), after.edge(piece, edge)
    assert depth(closed_points(new)) < 1e-6
    assert (new.start, new.end) == (old.start, old.end)
    was = closed_points(old)
    assert sewn_length(new) == pytest.approx(abs(was[-1] - was[0]), abs=1e-6)
    assert sewn_length(new) <= sewn_length(old) + 1e-6
    assert [mouth.dart for mouth in new.mouths] == [mouth.dart for mouth in old.mouths]
    assert angles(after.piece(piece)) == pytest.approx(angles(draft.piece(piece)), abs=1e-9)
    for other in draft.edge_names:
        if other != name:
            assert after.edge(*other.split(".")) is draft.edge(*other.split("."))


@given(drafts(), st.sampled_from(EDGES))
@settings(max_examples=30, deadline=None)
def test_once_straight_it_stays_as_it_is(draft: Draft, name: str) -> None:
    try:
        after = StraightenEdge(edge=name).apply(draft)
    except CannotChange:
        return
    again = StraightenEdge(edge=name).apply(after)
    old, new = (
        closed_points(after.edge(*name.split("."))),
        closed_points(again.edge(*name.split("."))),
    )
    assert np.abs(old - new).max() < 1e-6


def test_a_straight_edge_is_left_as_it_is() -> None:
    assert StraightenEdge(edge="front.shoulder").apply(block()) is block()
    assert StraightenEdge(edge="front.centre").apply(block()) is block()


# --- on one side, and on what is cut apart --------------------------------------------------------


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = StraightenEdge(edge="front.neck", side="left").apply(block())
    assert depth(closed_points(after.edge("left-front", "neck"))) < 1e-6
    assert after.edge("right-front", "neck") == block().edge("front", "neck")


def test_on_pieces_that_were_cut_apart_the_whole_line_is_straight() -> None:
    yoke = {"at": "40% from shoulder-point", "ends_at": "25% from neck-centre", "line": "yoke"}
    cut = change("cut-apart", piece="back", begins="armhole", ends="centre", **yoke)
    assert isinstance(cut, CutApart)
    after = StraightenEdge(edge="back.centre").apply(cut.apply(block()))
    assert depth(closed_points(after.edge("back", "centre"))) < 1e-6
    for part in ("back-upper", "back-lower"):
        assert depth(closed_points(after.edge(part, "centre"))) < 1e-6


# --- what is refused ------------------------------------------------------------------------------


def panel(dart: float, fold: str | None = None) -> Draft:
    """Return a panel whose side swells out from x = 0, a dart inside it at x = `dart`."""
    side = Cubic(200j, -40 + 140j, -40 + 60j, 0j)
    edges = (
        Edge("centre", "top-centre", "hem-centre", (Chain.line(200 + 0j, 200 + 200j),)),
        Edge("hem", "hem-centre", "hem-side", (Chain.line(200 + 200j, 200j),)),
        Edge("side", "hem-side", "top-side", (Chain((side,)),)),
        Edge("top", "top-side", "top-centre", (Chain.line(0j, 200 + 0j),)),
    )
    inner = InnerDart("small", dart + 80j, dart + 120j, dart - 3 + 100j, dart + 3 + 100j)
    return Draft((Piece("panel", edges, (inner,), fold=fold),))


def test_an_edge_on_the_fold_is_refused() -> None:
    with refusing(CannotChange, match="fold of the cloth and must stay straight; name another"):
        StraightenEdge(edge="panel.side").apply(panel(60, "side"))


def test_a_line_that_would_run_into_a_dart_or_near_one_is_refused() -> None:
    StraightenEdge(edge="panel.side").apply(panel(9))
    with refusing(CannotChange, match=r"only 4 mm of cloth .* dart panel\.small.*redraw-edge"):
        StraightenEdge(edge="panel.side").apply(panel(7))
    with refusing(CannotChange, match="dart small would run over another line"):
        StraightenEdge(edge="panel.side").apply(panel(0))


def test_an_edge_that_ends_where_it_starts_is_refused() -> None:
    loop = Chain.line(0j, 100 + 0j, 100 + 100j, 0j)
    piece = Piece("panel", (Edge("round", "seam", "seam", (loop,)),))
    with refusing(CannotChange, match="its ends are one point; move them apart"):
        StraightenEdge(edge="panel.round").apply(Draft((piece,)))


def test_an_edge_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        StraightenEdge(edge="front.seam").apply(block())


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("straighten-edge", edge="front.side", side="right").in_words(Unit.MILLIMETRE)
    assert told == "straighten the edge front.side on the right"


def test_a_longer_block_and_a_shorter_shoulder_arrive_through_it() -> None:
    straight = (step("l1", "lengthen", by="400mm"), step("s1", "straighten-edge", edge="back.side"))
    bench = Bench(state(block_node(), child("sack", *straight)))
    was = sewn_length(bench.evaluator.draft("sack").edge("back", "shoulder"))
    found = bench.correct("village", change("shorten-shoulder", by="6mm"))
    assert pattern(found, "sack").verdict is Verdict.CARRIED
    found = bench.correct("village", change("add-ease", by="24mm"))
    assert pattern(found, "sack").verdict is Verdict.CARRIED
    sack = bench.evaluator.draft("sack")
    assert sewn_length(sack.edge("back", "shoulder")) == pytest.approx(was - 6, abs=0.01)
    assert depth(closed_points(sack.edge("back", "side"))) < 1e-6


def test_a_side_seam_made_straight_is_straight_from_underarm_to_hem() -> None:
    long = Lengthen(by=400.0).apply(block())
    after = StraightenEdge(edge="back.side").apply(long).edge("back", "side")
    assert len(after.parts) == 1
    assert sewn_length(after) < sewn_length(long.edge("back", "side"))
