"""Patch pockets: a piece with its allowances, and its place on the piece it is sewn on."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.geometry.changes.tape_measure import cloth_area
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import side_dart_blocks
from trueup.geometry.changes import Change
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

LOWER = st.sampled_from(["square", "rounded", "pointed"])
CHEST = {"edge": "front.centre", "level": "chest", "inside": "45mm"}


TURNED = {"kind": "rotate-dart", "dart": "front.bust", "edge": "front.side",
          "at": "30% from underarm"}  # fmt: skip


def turned() -> Draft:
    """Return the block with its bust dart in the side seam, out of the way of a breast pocket."""
    return change(**TURNED).apply(block())


def pocket(**values: object) -> Change:
    return change("place-pocket", **{**CHEST, "width": "80mm", "height": "70mm", **values})


def place(draft: Draft, piece: str = "front", name: str = "pocket") -> Polygon:
    of = draft.piece(piece)
    (mark,) = [each for each in of.marks if each.name == name]
    return Polygon([(p.real, p.imag) for p in runs_of(of, mark)[0]])


def outline(piece: Piece) -> Polygon:
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    return Polygon([(p.real, p.imag) for p in points])


@given(side_dart_blocks(), amounts(40, 90), amounts(50, 75), LOWER, amounts(5, 20))
@settings(max_examples=40)
def test_a_pocket_is_as_large_as_its_place_which_lies_where_it_is_told(
    draft: Draft, width: float, height: float, lower: str, by: float
) -> None:
    after = pocket(width=f"{width}mm", height=f"{height}mm", lower=lower, lower_by=f"{by}mm").apply(
        draft
    )
    cut, there = after.piece("pocket"), place(after)
    drawn = outline(cut)
    lost = {"square": 0.0, "rounded": (2 - np.pi / 2) * by**2, "pointed": width * by / 2}[lower]
    assert drawn.area == pytest.approx(width * height - lost, abs=0.2)
    assert there.area == pytest.approx(drawn.area, abs=2)
    left, top, right, bottom = there.bounds
    front = after.piece("front")
    centre = front.edge("centre").start.real
    assert right == pytest.approx(centre - 45, abs=1e-6)
    assert left == pytest.approx(centre - 45 - width, abs=1e-6)
    assert top == pytest.approx(front.level("chest").y, abs=1e-6)
    assert bottom == pytest.approx(front.level("chest").y + height, abs=1e-6)
    # Its mouth is cut 30 mm deeper, the rest 10 mm.
    wide, tall = (
        b - a for a, b in zip(*np.array(cutting_line(cut).bounds).reshape(2, 2), strict=True)
    )
    assert wide == pytest.approx(width + 20, abs=0.05)
    if lower != "pointed":
        assert tall == pytest.approx(height + 40, abs=0.05)
    assert_sound(after)
    assert cloth_area(front) == cloth_area(draft.piece("front"))
    assert after.seams == draft.seams
    assert {f.key for f in check(after)} - {f.key for f in check(draft)} <= (
        {f.key for f in check(after) if f.code == "radius"} if by < 16 else set()
    )


def test_it_hangs_down_whichever_corner_it_is_measured_from() -> None:
    dress = change("lengthen", by="300mm").apply(block())
    places = [
        place(pocket(level=None, at=at, width="50mm", inside="10mm").apply(dress)).bounds
        for at in ("45% from hem-centre", "55% from neck-centre")
    ]
    assert places[0] == pytest.approx(places[1], abs=1e-6)
    side = pocket(edge="back.side", level=None, at="90mm from hem-side", inside="12mm",
                  width="50mm").apply(dress)  # fmt: skip
    back = dress.piece("back")
    ground = outline(back)
    assert ground.contains(place(side, "back"))
    assert place(side, "back").distance(ground.exterior) == pytest.approx(12, abs=0.5)


def test_what_has_no_room_is_refused_in_a_sentence() -> None:
    draft = block()
    with refusing(
        CannotChange, match=r"it would reach .* beyond the piece; choose another place or"
    ):
        pocket(inside="5mm", width="250mm").apply(draft)
    with refusing(CannotChange, match="it would lie over the dart waist"):
        pocket(level="bust", width="60mm", height="90mm").apply(draft)
    with refusing(CannotChange, match="use at most 40 mm"):
        pocket(lower="rounded", lower_by="60mm").apply(draft)
    with refusing(CannotChange, match="pocket"):
        pocket(name="sleeve").apply(draft)
    with refusing(CannotChange, match="pocket"):
        pocket().apply(pocket().apply(turned()))
    with refusing(BadParameter, match="give level or at"):
        pocket(level=None)
    with refusing(BadParameter, match="small letters"):
        pocket(name="Breast pocket")


def test_a_pocket_on_one_side_is_on_that_side_alone() -> None:
    after = pocket(side="left").apply(turned())
    assert after.piece_names == ("left-front", "right-front", "back", "sleeve", "left-pocket")
    assert after.piece("right-front").marks == ()
    assert place(after, "left-front").area == pytest.approx(80 * 70)


def test_a_pocket_on_a_piece_that_is_cut_apart_is_marked_on_both_parts() -> None:
    yoke = change(
        "cut-apart", piece="front", begins="centre", at="42% from neck-centre", ends="armhole",
        ends_at="70% from underarm", line="yoke",
    )  # fmt: skip
    after = yoke.apply(pocket().apply(turned()))
    parts = [after.piece(name) for name in after.cuts[0].parts]
    runs = [run for part in parts for mark in part.marks for run in runs_of(part, mark)]
    assert len([part for part in parts if part.marks]) == 2
    total = sum(abs(b - a) for run in runs for a, b in pairwise(run))
    assert total == pytest.approx(2 * (80 + 70), abs=0.01)


def test_it_is_told_in_words() -> None:
    assert pocket(lower="pointed", side="left").in_words(Unit.CENTIMETRE) == (
        "place a pocket of 8 cm by 7 cm, pointed below, 4.5 cm from front.centre at the chest "
        "(pocket) on the left"
    )


# --- in a wardrobe --------------------------------------------------------------------------------


_TURN = step("t1", "rotate-dart", **{k: v for k, v in TURNED.items() if k != "kind"})


def test_a_corrected_block_comes_to_the_same_as_placing_afterwards() -> None:
    values = {"kind": "place-pocket", "edge": "front.side", "at": "20mm from hem-side",
              "below": "-90mm", "inside": "5mm", "width": "30mm", "height": "60mm"}  # fmt: skip
    told = {k: v for k, v in values.items() if k != "kind"}
    bench = Bench(state(block_node(), child("shirt", step("k1", "place-pocket", **told))))
    taper = change("taper-side", piece="front", by="6mm", level="hem")
    found = bench.correct("village", taper)
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = Bench(state(block_node()))
    by_hand.correct("village", taper)
    draft = change(**values).apply(by_hand.evaluator.draft("village"))
    here, there = place(bench.evaluator.draft("shirt")), place(draft)
    assert here.hausdorff_distance(there) < 0.01
    assert here.hausdorff_distance(place(change(**values).apply(Bench(state(block_node()))
                                         .evaluator.draft("village")))) > 0.5  # fmt: skip


def test_a_pocket_placed_on_a_pattern_arrives_below_and_is_moved_with_it() -> None:
    bench = Bench(state(block_node(), child("shirt", _TURN), child("long", of="shirt")))
    found = bench.correct("shirt", pocket())
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert "pocket" in bench.evaluator.draft("long").piece_names
