"""Plackets: a shirt front folded from itself, a slit in a sleeve and the strip that binds it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def lying(piece: Piece, name: str) -> list[complex]:
    (mark,) = [each for each in piece.marks if each.name == name]
    return [point for run in runs_of(piece, mark) for point in run]


@given(drafts(), amounts(14, 60), amounts(0, 15))
@settings(max_examples=30)
def test_the_band_lies_half_on_either_side_of_the_centre_and_is_turned_back_once(
    draft: Draft, width: float, turned: float
) -> None:
    after = change("add-placket", piece="front", width=f"{width}mm", turned_in=f"{turned}mm").apply(
        draft
    )
    front = after.piece("front")
    centre = front.edge("centre").start.real
    assert front.fold is None
    assert all(p.real == pytest.approx(centre + width / 2) for p in lying(front, "opening-edge"))
    assert all(
        p.real == pytest.approx(centre - width / 2) for p in lying(front, "placket-stitching")
    )
    # Folded at its edge, what is cut beyond comes to the line of stitches, and is turned in there.
    reach = cutting_line(front).bounds[2]
    assert 2 * (centre + width / 2) - (reach - turned) == pytest.approx(centre - width / 2)
    assert front.edges is draft.piece("front").edges
    assert measures(draft).items() <= measures(after).items()
    assert check(after) == check(draft)


def test_a_placket_for_a_button_takes_it_and_no_larger_one() -> None:
    for button, width in (("12mm", 24.0), ("8mm", 24.0), ("20mm", 40.0)):
        after = change("add-placket", piece="front", button=button).apply(block())
        band = (
            lying(after.piece("front"), "opening-edge"),
            lying(after.piece("front"), "placket-stitching"),
        )
        assert band[0][0].real - band[1][0].real == pytest.approx(width)
        place = change("place-buttons", edge="front.centre", button=button, count=4, upright=True)
        assert place.apply(after)
    narrow = change("add-placket", piece="front", width="20mm").apply(block())
    with refusing(CannotChange, match="its extension of 10 mm is too narrow for a button of 12 mm"):
        change("place-buttons", edge="front.centre", button="12mm", count=4).apply(narrow)


def test_what_cannot_have_a_placket_is_refused() -> None:
    with refusing(CannotChange, match="fold"):
        change("add-placket", piece="back", width="30mm").apply(block())
    with refusing(BadParameter, match="give width or button"):
        change("add-placket", piece="front")
    told = change("add-placket", piece="front", width="30mm")
    assert told.in_words(Unit.MILLIMETRE) == "add a placket of 30 mm to the front"


def test_a_placket_comes_out_alike_on_the_corrected_block_and_afterwards() -> None:
    bench = Bench(state(block_node(), child("shirt", step("p1", "add-placket", piece="front",
                                                           width="32mm"))))  # fmt: skip
    lower = change("lower-neck", piece="front", by="11mm")
    found = bench.correct("village", lower)
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = lower.apply(Bench(state(block_node())).evaluator.draft("village"))
    by_hand = change("add-placket", piece="front", width="32mm").apply(by_hand)
    here = bench.evaluator.draft("shirt").piece("front")
    for name in ("opening-edge", "placket-stitching"):
        both = zip(lying(here, name), lying(by_hand.piece("front"), name), strict=True)
        assert all(abs(a - b) < 0.01 for a, b in both)
    bench = Bench(state(block_node(), child("shirt"), child("long", of="shirt")))
    found = bench.correct("shirt", change("add-placket", piece="front", width="32mm"))
    assert pattern(found, "long").verdict is Verdict.CARRIED


# --- slits ----------------------------------------------------------------------------------------


@given(drafts(), amounts(20, 200), st.integers(10, 90))
@settings(max_examples=30)
def test_a_slit_runs_square_into_the_piece_from_its_place(
    draft: Draft, deep: float, share: int
) -> None:
    after = change(
        "mark-slit", edge="sleeve.hem", at=f"{share}% from hem-back", deep=f"{deep}mm"
    ).apply(draft)
    begin, end = lying(after.piece("sleeve"), "slit")
    line = np.concatenate([sampled(part) for part in after.edge("sleeve", "hem").parts])
    hem = LineString([(p.real, p.imag) for p in line])
    assert hem.distance(Point(begin.real, begin.imag)) < 1e-3
    assert hem.project(Point(begin.real, begin.imag)) == pytest.approx(
        hem.length * share / 100, abs=0.01
    )
    assert abs(end - begin) == pytest.approx(deep)
    assert hem.distance(Point(end.real, end.imag)) == pytest.approx(deep, abs=0.01)
    outline = Polygon([(p.real, p.imag) for p in after.piece("sleeve").outline_points])
    assert outline.buffer(1e-6).covers(LineString([(p.real, p.imag) for p in (begin, end)]))
    assert after.piece("sleeve").edges is draft.piece("sleeve").edges


def test_a_strip_binds_both_sides_of_the_slit() -> None:
    bound = change("mark-slit", edge="sleeve.hem", at="25% from hem-back", deep="110mm",
                   binding="40mm").apply(block())  # fmt: skip
    strip = bound.piece("slit-binding")
    assert cutting_line(strip).area == pytest.approx(40 * (2 * 110 + 20))
    assert check(bound) == check(block())


def test_a_slit_that_leaves_the_piece_or_meets_a_dart_is_refused() -> None:
    draft = block()
    with refusing(CannotChange, match=r"it would reach .* beyond the piece"):
        change("mark-slit", edge="sleeve.hem", at="50% from hem-back", deep="790mm").apply(draft)
    with refusing(CannotChange, match="runs through the dart"):
        change("mark-slit", edge="front.side", at="90% from underarm", deep="100mm").apply(draft)
    with refusing(CannotChange, match="on the fold"):
        change("mark-slit", edge="front.centre", at="50% from neck-centre", deep="20mm").apply(
            draft
        )
    with refusing(CannotChange, match="slit"):
        once = change("mark-slit", edge="sleeve.hem", at="50% from hem-back", deep="90mm")
        once.apply(once.apply(draft))
    told = change("mark-slit", edge="sleeve.hem", at="25% from hem-back", deep="11cm",
                  binding="4cm", side="left")  # fmt: skip
    assert told.in_words(Unit.CENTIMETRE) == (
        "mark a slit of 11 cm in sleeve.hem, 25% of the way from the hem back (slit), bound 4 cm "
        "wide on the left"
    )


def test_a_slit_comes_out_alike_on_the_corrected_block_and_afterwards() -> None:
    values = {"edge": "sleeve.hem", "at": "25% from hem-back", "deep": "110mm"}
    bench = Bench(state(block_node(), child("shirt", step("s1", "mark-slit", **values))))
    longer = change("lengthen", piece="sleeve", by="18mm")
    found = bench.correct("village", longer)
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = longer.apply(Bench(state(block_node())).evaluator.draft("village"))
    by_hand = change("mark-slit", **values).apply(by_hand)
    here = lying(bench.evaluator.draft("shirt").piece("sleeve"), "slit")
    both = zip(here, lying(by_hand.piece("sleeve"), "slit"), strict=True)
    assert all(abs(a - b) < 0.01 for a, b in both)
    bench = Bench(state(block_node(), child("shirt"), child("long", of="shirt")))
    found = bench.correct("shirt", change("mark-slit", **values))
    assert pattern(found, "long").verdict is Verdict.CARRIED
