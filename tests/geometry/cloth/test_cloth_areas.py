"""Where cloth lacks and what is cut off, against the numbers that are told of it."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from tests.builders import block
from tests.geometry.cloth.test_cut_cloth import corrected, with_allowances
from trueup.geometry.cloth.cloth_areas import ClothAreas, cloth_areas
from trueup.geometry.cloth.cut_cloth import LEAST, ClothAnswer, Possible, Reason, compare_cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.laid_edge import lying_cloth
from trueup.geometry.lines.points import coordinates
from trueup.geometry.pieces.draft import Draft

NEAR = 0.1
"""Discs at every millimetre stand for the strip along an edge; they agree with it to this."""


def found(
    before: Draft, after: Draft, piece: str, stitched: tuple[str, ...] = (), least: float = LEAST
) -> tuple[ClothAnswer, ClothAreas]:
    old, new = before.piece(piece), after.piece(piece)
    answer = compare_cloth(cutting_line(old), old, new, stitched, least)
    return answer, cloth_areas(cutting_line(old), old, new, answer, least)


def reach(area: BaseGeometry, cloth: BaseGeometry) -> float:
    """Return how far the farthest point of an area lies from cloth."""
    return float(shapely.distance(shapely.points(shapely.get_coordinates(area)), cloth).max())


def allowed_block(seams: float = 15.0) -> Draft:
    return with_allowances(block(), seams)


def test_where_nothing_changed_nothing_lacks_and_nothing_is_cut_off() -> None:
    draft = allowed_block()
    for piece in draft.piece_names:
        _, areas = found(draft, draft, piece)
        assert areas.lacking.is_empty
        assert areas.cut_off.is_empty
        assert areas.lying == draft.piece(piece)


@given(st.floats(40, 120), st.floats(3, 12), st.sampled_from(["front", "back"]))
@settings(max_examples=25)
def test_what_lacks_reaches_beyond_the_cloth_by_as_much_as_is_told(
    ease: float, least: float, piece: str
) -> None:
    before = allowed_block()
    after = corrected(before, "add-ease", by=f"{ease:.1f}mm")
    answer, areas = found(before, after, piece, least=least)
    old, new = before.piece(piece), after.piece(piece)
    lying = lying_cloth(cutting_line(old), old, new).lying
    short = [edge for edge in answer.edges if edge.reason is Reason.CLOTH]
    assert areas.lacking.is_empty == (not short)
    if short:
        worst = max(edge.lacking for edge in short)
        assert reach(areas.lacking, lying) == pytest.approx(worst, abs=NEAR)
        assert areas.lacking.intersection(lying).area == pytest.approx(0, abs=1e-6)
        wanted = areas.lying.cloth.buffer(least + NEAR)
        assert wanted.difference(lying).buffer(NEAR).covers(areas.lacking)


# The back takes 6.4 mm before less than 5 mm of cloth is left beside its dart.
@given(st.floats(2, 6.3), st.sampled_from(["front", "back"]))
@settings(max_examples=25)
def test_a_hollowed_armhole_is_cut_off_up_to_the_new_cutting_line(by: float, piece: str) -> None:
    before = allowed_block()
    after = corrected(before, "scoop-armhole", piece=piece, by=f"{by:.1f}mm")
    answer, areas = found(before, after, piece)
    assert answer.possible is Possible.CAN
    old, new = cutting_line(before.piece(piece)), cutting_line(areas.lying)
    assert old.buffer(NEAR).covers(areas.cut_off)
    assert areas.cut_off.intersection(new).area < 1
    assert areas.cut_off.area == pytest.approx(old.difference(new).area, abs=2)
    taken_in = answer.edge("armhole").taken_in
    # A dart that opens on the armhole is cut across by a peak, which is hollowed as well.
    assert reach(areas.cut_off, new) == pytest.approx(taken_in, rel=0.25)


def test_nothing_is_cut_off_along_an_edge_that_is_stitched_down() -> None:
    before = allowed_block()
    after = corrected(before, "scoop-armhole", piece="front", by="10mm")
    after = corrected(after, "lower-neck", piece="front", by="10mm")
    _, both = found(before, after, "front")
    _, held = found(before, after, "front", ("front.armhole",))
    neck = held.cut_off.buffer(NEAR)
    assert 0 < held.cut_off.area < both.cut_off.area
    assert both.cut_off.buffer(NEAR).covers(held.cut_off)
    corner = before.piece("front").edge("side").start
    assert neck.distance(shapely.Point(corner.real, corner.imag)) > 100


def test_a_seam_that_is_let_out_leaves_its_cloth_whole() -> None:
    before = allowed_block()
    answer, areas = found(before, corrected(before, "true-hem", piece="front", by="20mm"), "front")
    assert answer.edge("hem").let_out == pytest.approx(20, abs=0.1)
    assert areas.cut_off.is_empty
    assert areas.lacking.is_empty


def test_a_piece_that_is_slid_lies_lower_with_all_its_seams() -> None:
    before = allowed_block()
    after = corrected(before, "shift-shoulder", by="-20mm")
    slid = False
    for piece in ("front", "back"):
        answer, areas = found(before, after, piece)
        slid = slid or bool(answer.slide)
        new = after.piece(piece)
        for edge in new.edges:
            step = areas.lying.edge(edge.name).start - edge.start
            assert step.real == pytest.approx(0, abs=1e-6)
            assert step.imag == pytest.approx(answer.slide, abs=1e-6)
    assert slid


def test_each_edge_is_pointed_at_on_its_new_seam_line() -> None:
    before = allowed_block()
    after = corrected(before, "add-ease", by="60mm")
    answer, areas = found(before, after, "back")
    assert set(areas.places) == set(after.piece("back").edge_names)
    for name, place in areas.places.items():
        parts = areas.lying.edge(name).parts
        line = shapely.union_all(
            [shapely.LineString(coordinates(part.flattened())) for part in parts]
        )
        assert line.distance(shapely.Point(place.real, place.imag)) < 1e-6
    assert answer.edge("side").reason is Reason.CLOTH
    side = areas.places["side"]
    assert areas.lacking.distance(shapely.Point(side.real, side.imag)) < LEAST
