"""Buttons by their size on an opened front, and the extension that they need."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes.base import kind_named
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import Purpose
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def opened(draft: Draft, button: float = 20.0, **values: str) -> Draft:
    return change("open-front", piece="front", button=f"{button}mm", **values).apply(draft)


def marked(draft: Draft, purpose: Purpose) -> list[tuple[complex, ...]]:
    front = draft.piece("front")
    return [runs_of(front, mark)[0] for mark in front.marks if mark.purpose is purpose]


def down_the_centre(draft: Draft) -> list[float]:
    """Return how far below the top each button lies along the centre, by a tape of the test's."""
    line = np.concatenate([sampled(part) for part in draft.edge("front", "centre").parts])
    centre = LineString([(p.real, p.imag) for p in line])
    found = []
    for (at,) in marked(draft, Purpose.BUTTON):
        there = Point(at.real, at.imag)
        assert centre.distance(there) < 1e-6
        found.append(centre.length - centre.project(there))
    return found


@given(drafts(), st.integers(2, 9), amounts(8, 22), st.integers(0, 300))
@settings(max_examples=40)
def test_buttons_lie_on_the_centre_from_the_top_to_above_the_hem_one_at_the_bust(
    draft: Draft, count: int, button: float, longer: int
) -> None:
    draft = opened(draft, button)
    if longer:
        draft = change("lengthen", by=f"{longer}mm").apply(draft)

    def placed(many: int) -> Draft:
        row = {"edge": "front.centre", "button": f"{button}mm", "count": many}
        return change("place-buttons", **row).apply(draft)

    try:
        after = placed(count)
    except CannotChange as refusal:
        # A small front has no room for so many: what it says is the most there is room for.
        most = int(str(refusal.possible.facts["most"]))
        assert 1 < most < count
        assert len(down_the_centre(placed(most))) == most
        with pytest.raises(CannotChange):
            placed(most + 1)
        return
    front = after.piece("front")
    places = down_the_centre(after)
    assert len(places) == count
    assert places[0] == pytest.approx(5 + button / 2, abs=0.01)
    bust = front.level("bust").y - front.edge("centre").end.imag
    assert min(abs(place - bust) for place in places) < 0.01
    if count > 2:
        length = front.edge("centre").length
        assert places[-1] == pytest.approx(length - 100, abs=0.01)
        # No other share of the buttons above and below would be more even.
        steps = [b - a for a, b in pairwise(places)]
        ways = [
            max(up / k, down / (count - 1 - k)) / min(up / k, down / (count - 1 - k))
            for k in range(1, count - 1)
            for up, down in [(bust - places[0], places[-1] - bust)]
        ]
        assert max(steps) / min(steps) == pytest.approx(min(ways), rel=1e-3)
    holes = marked(after, Purpose.BUTTONHOLE)
    for (at,), (begin, end) in zip(marked(after, Purpose.BUTTON), holes, strict=True):
        # From 3 mm beyond the centre, which lies at the right, into the piece.
        assert begin - at == pytest.approx(3, abs=1e-6)
        assert begin - end == pytest.approx(button + 3, abs=1e-6)
    line = cutting_line(front)
    assert all(line.contains(Point(p.real, p.imag)) for run in holes for p in run)
    assert front.edges is draft.piece("front").edges


@pytest.mark.parametrize(("button", "longer", "count"), [(18, 14, 11), (22, 0, 9), (22, 49, 11)])
def test_for_so_many_as_a_refusal_names_there_is_room(button: int, longer: int, count: int) -> None:
    draft = opened(block(), button)
    if longer:
        draft = change("lengthen", by=f"{longer}mm").apply(draft)
    row = {"edge": "front.centre", "button": f"{button}mm"}
    with pytest.raises(CannotChange) as refusal:
        change("place-buttons", **row, count=count).apply(draft)
    most = int(str(refusal.value.possible.facts["most"]))
    assert most < count
    assert len(down_the_centre(change("place-buttons", **row, count=most).apply(draft))) == most


@given(drafts(), amounts(45, 140), st.booleans())
@settings(max_examples=30)
def test_with_a_spacing_all_are_as_far_apart_as_brings_one_to_the_bust(
    draft: Draft, spacing: float, even: bool
) -> None:
    draft = change("lengthen", by="250mm").apply(opened(draft))
    after = change(
        "place-buttons", edge="front.centre", button="20mm", spacing=f"{spacing}mm", even=even
    ).apply(draft)
    places = down_the_centre(after)
    steps = {round(b - a, 2) for a, b in pairwise(places)}
    assert max(steps) - min(steps) < 0.02
    front = after.piece("front")
    step, length = steps.pop(), front.edge("centre").length
    assert 100 - 0.01 <= length - places[-1] < 100 + step
    bust = front.level("bust").y - front.edge("centre").end.imag
    if even:
        assert step == pytest.approx(spacing, abs=0.011)
    else:
        assert min(abs(place - bust) for place in places) < 0.01
        nearest = round((bust - 15) / spacing) or 1
        assert step == pytest.approx((bust - 15) / nearest, abs=0.02)


def test_an_extension_has_to_be_as_wide_as_the_button_and_wider_for_a_small_one() -> None:
    draft = change("open-front", piece="front", extension="15mm").apply(block())
    place = change("place-buttons", edge="front.centre", button="15mm", count=5)
    assert len(marked(place.apply(draft), Purpose.BUTTON)) == 5
    with refusing(
        CannotChange,
        match="front.centre: its extension of 15 mm is too narrow for a button of 18 mm; open it "
        "with an extension of at least 18 mm",
    ):
        change("place-buttons", edge="front.centre", button="18mm", count=5).apply(draft)
    narrow = change("open-front", piece="front", extension="12mm").apply(block())
    with refusing(CannotChange, match="at least 13.5 mm"):
        change("place-buttons", edge="front.centre", button="9mm", count=5).apply(narrow)
    for button, extension in (("25mm", 25.0), ("10mm", 15.0), ("8mm", 12.0)):
        by_size = change("open-front", piece="front", button=button, facing="50mm").apply(block())
        assert by_size.piece("front").allowance("centre") == extension + 50
        assert measures(by_size)["front.opening-edge.inside"] == -extension
        sized = change("place-buttons", edge="front.centre", button=button, count=4)
        assert sized.apply(by_size).piece("front").marks


def largest(found: BaseGeometry) -> Polygon:
    """Return the polygon of what two areas share, without the lines and points they touch in."""
    parts = [part for part in shapely.get_parts(found) if isinstance(part, Polygon)]
    return max(parts, key=lambda part: part.area)


@given(drafts(), amounts(0, 15), amounts(30, 70), amounts(10, 25), st.booleans())
@settings(max_examples=30)
def test_a_facing_or_band_turned_back_lies_flat_on_the_front_neck_on_neck(
    draft: Draft, seams: float, facing: float, button: float, placket: bool
) -> None:
    draft = change("seam-allowance", piece="front", by=f"{seams}mm").apply(draft)
    draft = change("hem-allowance", piece="front", by="25mm").apply(draft)
    if placket:
        front = change("add-placket", piece="front", button=f"{button}mm").apply(draft)
    else:
        front = opened(draft, button, facing=f"{facing}mm")
    piece = front.piece("front")
    extension = -measures(front)["front.opening-edge.inside"]
    fold = piece.edge("centre").start.real + extension
    cut = cutting_line(piece)
    turned, beneath = (
        largest(cut.intersection(box(left, -999, right, 9999)))
        for left, right in ((fold, 9999.0), (-9999.0, fold))
    )
    turned = Polygon([(2 * fold - x, y) for x, y in turned.exterior.coords])
    assert beneath.buffer(1e-3).covers(turned)
    reach = turned.bounds[0]
    under = beneath.intersection(box(reach, -999, fold, 9999))
    assert turned.area == pytest.approx(under.area, abs=1.0)


def test_a_front_opened_before_the_edge_was_marked_goes_by_how_it_is_cut() -> None:
    first = kind_named("open-front", 1)(piece="front", extension=14.0).apply(block())
    with refusing(CannotChange, match="its extension of 14 mm is too narrow"):
        change("place-buttons", edge="front.centre", button="15mm", count=5).apply(first)
    assert change("place-buttons", edge="front.centre", button="14mm", count=5).apply(first)


def test_what_cannot_be_placed_is_refused_in_a_sentence() -> None:
    draft = opened(block())
    with refusing(CannotChange, match="it lies on the fold of the cloth; open the piece first"):
        change("place-buttons", edge="front.centre", button="15mm", count=5).apply(block())
    with refusing(
        CannotChange, match=r"buttons would lie .* apart, nearer than 25 mm; use at most"
    ):
        change("place-buttons", edge="front.centre", button="20mm", count=20).apply(draft)
    with refusing(CannotChange, match="nothing is left between first and last"):
        change("place-buttons", edge="front.centre", button="20mm", count=2, last="500mm").apply(
            draft
        )
    with refusing(CannotChange, match="the level waist does not meet it between"):
        change("place-buttons", edge="front.centre", button="20mm", count=4, level="waist").apply(
            draft
        )
    with refusing(BadParameter, match="whole number"):
        change("place-buttons", edge="front.centre", button="20mm", count=2.5)
    with refusing(BadParameter, match="give count or spacing"):
        change("place-buttons", edge="front.centre", button="20mm")
    with refusing(BadParameter, match="give one of the two"):
        change("place-buttons", edge="front.centre", button="20mm", count=4, even=True, level="hip")
    with refusing(BadParameter, match="give extension or button"):
        change("open-front", piece="front")


def test_on_a_placket_they_lie_upright_and_each_side_may_have_its_own() -> None:
    draft = opened(block(), 12.0)
    holes = change(
        "place-buttons", edge="front.centre", button="12mm", count=5, upright=True,
        only="buttonholes", side="right",
    ).apply(draft)  # fmt: skip
    both = change(
        "place-buttons", edge="front.centre", button="12mm", count=5, only="buttons", side="left"
    ).apply(holes)
    left, right = both.piece("left-front"), both.piece("right-front")
    assert {m.purpose for m in left.marks} == {Purpose.BUTTON, Purpose.FOLD}
    assert {m.purpose for m in right.marks} == {Purpose.BUTTONHOLE, Purpose.FOLD}
    for mark in right.marks:
        if mark.purpose is Purpose.BUTTONHOLE:
            begin, end = runs_of(right, mark)[0]
            assert (end - begin) / 1j == pytest.approx(15, abs=1e-6)


def test_a_row_that_is_held_to_a_level_stays_even_when_neck_or_hem_move_later() -> None:
    place = change("place-buttons", edge="front.centre", button="20mm", spacing="70mm")
    draft = place.apply(opened(change("lengthen", by="120mm").apply(block())))
    before = [at for (at,) in marked(draft, Purpose.BUTTON)]
    for later in (
        change("lower-neck", piece="front", by="9mm"),
        change("lengthen", by="80mm"),
        change("true-hem", piece="front", by="10mm"),
    ):
        draft = later.apply(draft)
    after = [at for (at,) in marked(draft, Purpose.BUTTON)]
    assert all(abs(a - b) < 0.01 for a, b in zip(before, after, strict=True))


def test_they_are_told_in_words() -> None:
    told = change("place-buttons", edge="front.centre", button="18mm", count=6)
    assert told.in_words(Unit.MILLIMETRE) == (
        "mark 6 buttons and buttonholes of 18 mm along front.centre"
    )
    told = change(
        "place-buttons", edge="front.centre", button="1cm", spacing="8cm", upright=True, side="left"
    )
    assert told.in_words(Unit.CENTIMETRE) == (
        "mark buttons and buttonholes of 1 cm along front.centre, 8 cm apart, upright on the left"
    )
    told = change("open-front", piece="front", button="18mm", facing="60mm")
    assert told.in_words(Unit.MILLIMETRE) == "open the front with button 18 mm and facing 60 mm"


# --- in a wardrobe --------------------------------------------------------------------------------

OPEN = {"kind": "open-front", "piece": "front", "button": "18mm", "facing": "60mm"}
BUTTONS = {"kind": "place-buttons", "edge": "front.centre", "button": "18mm", "count": 5}


def _step(step_id: str, values: dict[str, object]):
    return step(step_id, str(values["kind"]), **{k: v for k, v in values.items() if k != "kind"})


def test_a_corrected_block_comes_to_the_same_as_placing_afterwards() -> None:
    lower = change("lower-neck", piece="front", by="14mm")
    bench = Bench(state(block_node(), child("shirt", _step("o1", OPEN), _step("b1", BUTTONS))))
    found = bench.correct("village", lower)
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = Bench(state(block_node()))
    by_hand.correct("village", lower)
    draft = by_hand.evaluator.draft("village")
    for values in (OPEN, BUTTONS):
        draft = change(**values).apply(draft)
    here, there = (marked(d, Purpose.BUTTON) for d in (bench.evaluator.draft("shirt"), draft))
    assert len(here) == 5
    assert all(abs(a[0] - b[0]) < 0.01 for a, b in zip(here, there, strict=True))


def test_buttons_placed_on_a_pattern_arrive_on_what_derives_from_it() -> None:
    bench = Bench(state(block_node(), child("shirt", _step("o1", OPEN)), child("long", of="shirt")))
    found = bench.correct("shirt", change(**BUTTONS))
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert len(marked(bench.evaluator.draft("long"), Purpose.BUTTON)) == 5
