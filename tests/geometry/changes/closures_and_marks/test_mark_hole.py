"""Holes at the tips of darts and inside a piece, and notches at the mouths of darts."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point

from tests.builders import block
from tests.corners import amounts
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.notched import mouth_on_cut
from trueup.geometry.errors import BadParameter, BadPosition, CannotChange, NoSuchName
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtMouth
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def holes(draft: Draft, piece: str = "front") -> dict[str, complex]:
    of = draft.piece(piece)
    return {mark.name: runs_of(of, mark)[0][0] for mark in of.marks}


@given(drafts(), amounts(1, 40), st.sampled_from(["front.bust", "front.waist", "back.shoulder"]))
@settings(max_examples=30)
def test_a_hole_lies_so_far_inside_the_tip_and_changes_nothing_else(
    draft: Draft, by: float, dart: str
) -> None:
    piece = dart.partition(".")[0]
    after = change("mark-hole", dart=dart, by=f"{by}mm").apply(draft)
    mouth = draft.mouth(dart)
    (hole,) = holes(after, piece).values()
    assert abs(hole - mouth.tip) == pytest.approx(by)
    middle = (mouth.first + mouth.second) / 2
    assert abs(hole - mouth.tip) + abs(middle - hole) == pytest.approx(abs(middle - mouth.tip))
    assert after.piece(piece).edges is draft.piece(piece).edges
    assert measures(after)[f"{dart}-hole.along"] == pytest.approx(by)
    assert measures(draft).items() <= measures(after).items()


def test_a_dart_inside_a_piece_has_a_hole_at_both_its_tips() -> None:
    dress = change("lengthen", by="400mm").apply(block())
    front = change("mark-hole", dart="front.waist", by="12mm").apply(dress)
    dart = next(each for each in dress.piece("front").inner_darts if each.name == "waist")
    found = holes(front)
    assert abs(found["waist-hole"] - dart.upper) == pytest.approx(12)
    assert abs(found["waist-hole-lower"] - dart.lower) == pytest.approx(12)


def test_a_hole_is_placed_by_a_level_and_an_edge() -> None:
    after = change("mark-hole", edge="front.centre", level="bust", by="85mm", name="point").apply(
        block()
    )
    front = block().piece("front")
    there = complex(front.edge("centre").start.real - 85, front.level("bust").y)
    assert abs(holes(after)["point"] - there) < 1e-6


def test_what_cannot_be_marked_is_refused_in_a_sentence() -> None:
    draft = block()
    with refusing(CannotChange, match=r"only .* mm long; choose a place nearer the tip"):
        change("mark-hole", dart="back.shoulder", by="200mm").apply(draft)
    with refusing(CannotChange, match=r"it would reach .* mm beyond the piece"):
        change("mark-hole", edge="front.side", at="50% from underarm", by="300mm").apply(draft)
    with refusing(CannotChange, match="the level chest does not meet it; choose another level"):
        change("mark-hole", edge="front.side", level="chest").apply(draft)
    with refusing(BadPosition, match="only"):
        change("mark-hole", edge="front.side", at="900mm from underarm").apply(draft)
    with refusing(BadParameter, match="give dart or edge"):
        change("mark-hole", by="10mm")
    with refusing(BadParameter, match="give at or level"):
        change("mark-hole", edge="front.side")
    with pytest.raises(NoSuchName):
        change("mark-hole", dart="front.elbow").apply(draft)
    twice = change("mark-hole", dart="front.bust")
    with refusing(CannotChange, match="bust-hole"):
        twice.apply(twice.apply(draft))


def test_notches_stand_at_the_ends_of_the_legs_and_on_the_cut_beyond_them() -> None:
    cut = change("seam-allowance", piece="front", by="12mm").apply(block())
    after = change("notch-dart", dart="front.bust").apply(cut)
    front, mouth = after.piece("front"), after.mouth("front.bust")
    assert [*holes(after).values()] == [mouth.first, mouth.second]
    line = cutting_line(front).exterior
    for second, end in ((False, mouth.first), (True, mouth.second)):
        rim, seam = mouth_on_cut(front, AtMouth("bust", second=second))
        assert seam == end
        from_tip = (rim - mouth.tip) / (end - mouth.tip)
        assert abs(from_tip.imag) < 1e-9
        assert from_tip.real > 1
        xy = line.interpolate(line.project(Point(rim.real, rim.imag)))
        assert abs(complex(xy.x, xy.y) - rim) < 1e-6
    with refusing(CannotChange, match="bust-first"):
        change("notch-dart", dart="front.bust").apply(after)


def test_they_are_told_in_words() -> None:
    assert change("mark-hole", dart="front.bust").in_words(Unit.MILLIMETRE) == (
        "mark a hole 10 mm inside the tip of front.bust"
    )
    told = change("mark-hole", edge="front.side", at="40% from underarm", by="2cm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "mark a hole 2 cm inside front.side, 40% of the way from the underarm (hole) on the left"
    )
    assert change("notch-dart", dart="front.bust").in_words(Unit.MILLIMETRE) == (
        "notch the mouth of front.bust"
    )


# --- in a wardrobe --------------------------------------------------------------------------------


def test_a_corrected_block_comes_to_the_same_as_marking_afterwards() -> None:
    marks = (
        step("h1", "mark-hole", dart="front.bust"),
        step("h2", "mark-hole", edge="front.side", at="40% from underarm", by="20mm"),
        step("h3", "notch-dart", dart="front.bust"),
    )
    bench = Bench(state(block_node(), child("shirt", *marks)))
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="9mm"))
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = Bench(state(block_node()))
    by_hand.correct("village", change("deepen-dart", dart="front.bust", by="9mm"))
    draft = by_hand.evaluator.draft("village")
    for each in (
        change("mark-hole", dart="front.bust"),
        change("mark-hole", edge="front.side", at="40% from underarm", by="20mm"),
        change("notch-dart", dart="front.bust"),
    ):
        draft = each.apply(draft)
    here, there = holes(bench.evaluator.draft("shirt")), holes(draft)
    assert here.keys() == there.keys()
    assert all(abs(here[name] - there[name]) < 0.01 for name in here)


def test_a_hole_marked_on_the_block_arrives_and_is_lost_where_the_dart_is_gone() -> None:
    gone = child("sack", step("r1", "release-dart", dart="front.bust"))
    bench = Bench(state(block_node(), child("plain"), gone))
    found = bench.correct("village", change("mark-hole", dart="front.bust"))
    assert pattern(found, "plain").verdict is Verdict.CARRIED
    assert pattern(found, "sack").verdict is Verdict.LOST
