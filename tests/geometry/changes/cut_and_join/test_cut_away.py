import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.lineage.making import Bench, change, child, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

TOP = {"piece": "front", "begins": "armhole", "ends": "centre", "keep": "hem"}


SIDE_DART = {
    "dart": "front.bust", "edge": "front.side", "at": Position("underarm", distance=50.0),
}  # fmt: skip


def bodice(draft: Draft) -> Draft:
    """A draft with no dart in the armhole, as it is made before the top is cut off."""
    return kind_named("rotate-dart")(**SIDE_DART).apply(draft)


def cut(draft: Draft, **values: object) -> Draft:
    places = {
        "at": Position("underarm", distance=60.0),
        "ends_at": Position("hem-centre", share=0.6),
    }
    return kind_named("cut-away")(**{**TOP, **places, **values}).apply(draft)


def outline(piece: Piece) -> shapely.Polygon:
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    return shapely.Polygon(np.column_stack([points.real, points.imag]))


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.floats(40, 60), st.floats(0.5, 0.7))
@settings(max_examples=30, deadline=None)
def test_what_is_left_lies_where_it_lay_with_a_new_edge_along_the_line(
    draft: Draft, up: float, share: float
) -> None:
    places = {
        "at": Position("underarm", distance=up),
        "ends_at": Position("hem-centre", share=share),
    }
    draft = bodice(draft)
    armhole, centre = (draft.edge("front", name).parts[0] for name in ("armhole", "centre"))
    ends = armhole.point_at(armhole.length - up), centre.point_at(share * centre.length)
    line = shapely.LineString([(p.real, p.imag) for p in ends])
    # What leaves the cloth of a wide body is refused.
    assume(outline(draft.piece("front")).buffer(0.01).covers(line))
    after, old = cut(draft, **places).piece("front"), draft.piece("front")
    assert all(after.edge(name) == old.edge(name) for name in ("side", "hem"))
    assert {"shoulder", "neck"}.isdisjoint(after.edge_names)
    assert length(after.edge("armhole")) == pytest.approx(up, abs=0.05)
    assert length(after.edge("centre")) == pytest.approx(
        share * length(old.edge("centre")), abs=0.05
    )
    top = after.edge("top-edge").parts[0]
    assert abs(top.end - top.start) == pytest.approx(length(after.edge("top-edge")), abs=1e-6)
    assert outline(after).difference(outline(old).buffer(0.05)).area < 0.01


def test_the_seams_of_what_is_gone_go_and_the_others_stay_true() -> None:
    sleeveless = kind_named("drop-piece")(piece="sleeve").apply(bodice(block()))
    after = cut(sleeveless)
    assert {seam.name for seam in after.seams} == {"side-seam"}
    assert check(after) == ()
    assert after.piece("front").fold == "centre"
    assert [notch for notch in after.piece("front").notches if notch.edge == "top-edge"] == []


def test_along_a_dart_both_sides_of_the_line_are_the_dart_s() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem", "keep": "side",
                "through": "bust waist", "at": None, "ends_at": None}  # fmt: skip
    after = cut(kind_named("drop-piece")(piece="sleeve").apply(block()), **princess)
    assert after.piece("front").fold is None
    assert "centre" not in after.piece("front").edge_names
    assert length(after.edge("front", "top-edge")) > 200


def test_a_correction_of_what_is_gone_is_lost_and_of_what_stays_is_carried() -> None:
    def bench() -> Bench:
        top = {**TOP, "at": "60mm from underarm", "ends_at": "60% from hem-centre"}
        steps = [
            step("p1", "drop-piece", piece="sleeve"),
            step(
                "p2", "rotate-dart", dart="front.bust", edge="front.side", at="50mm from underarm"
            ),
            step("p3", "cut-away", **top),
        ]
        return Bench(state(block_node(), child("bodice", *steps)))

    gone = bench().correct("village", change("lower-neck", piece="front", by="6mm"))
    assert {p.name: p.verdict for p in gone.patterns}["bodice"] is Verdict.LOST
    half = bench().correct("village", change("shorten-shoulder", by="6mm"))
    assert {p.name: p.verdict for p in half.patterns}["bodice"] is Verdict.PARTLY
    deeper = bench().correct("village", change("deepen-dart", dart="front.waist", by="6mm"))
    assert {p.name: p.verdict for p in deeper.patterns}["bodice"] is Verdict.CARRIED


def test_the_same_by_hand_on_the_corrected_block() -> None:
    deeper = kind_named("deepen-dart")(dart="front.waist", by=6.0)
    one, other = deeper.apply(cut(bodice(block()))), cut(deeper.apply(bodice(block())))
    for mine, theirs in zip(one.pieces, other.pieces, strict=True):
        assert outline(mine).hausdorff_distance(outline(theirs)) < 0.01


def test_what_cannot_be_cut_away_is_refused() -> None:
    with pytest.raises(NoSuchName, match="hemline"):
        cut(block(), keep="hemline")
    with refusing(CannotChange, match="both parts"):
        cut(bodice(block()), keep="armhole")
    with refusing(CannotChange, match="taken"):
        cut(block(), line="side")
    with refusing(BadParameter, match="hyphens"):
        cut(block(), line="Top Edge")
    with refusing(CannotChange, match="cross"):
        cut(block())
    facing = kind_named("draft-facing")(edge="front.neck", width=50.0).apply(bodice(block()))
    with refusing(CannotChange, match="drop-piece"):
        cut(facing)
    panelled = kind_named("cut-apart")(
        piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
    ).apply(block())
    with refusing(CannotChange, match="before the piece is cut apart"):
        cut(panelled, piece="front-centre", begins="neck")


def test_it_says_what_it_does() -> None:
    change = kind_named("cut-away")(**TOP, at=Position("underarm", distance=60.0))
    told = change.in_words(Unit.MILLIMETRE)
    assert told == (
        "cut the front off from the armhole, 60 mm from the underarm, to the centre keeping its hem"
    )
