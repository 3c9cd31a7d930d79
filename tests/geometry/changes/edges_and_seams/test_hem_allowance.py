"""hem-allowance: deep hems lie flat when they are turned, judged by folding them in shapely."""

from dataclasses import replace

import pytest
import shapely
from shapely.affinity import scale

from tests.builders import block
from trueup.geometry.changes.earlier.hem_allowance_1 import FirstHemAllowance
from trueup.geometry.changes.edges_and_seams.hem_allowance import HemAllowance
from trueup.geometry.changes.edges_and_seams.seam_allowance import SeamAllowance
from trueup.geometry.changes.edges_and_seams.shape_corner import ShapeCorner
from trueup.geometry.cloth.corners_told import check_corners
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import Treatment
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.seams.seam import Run, Seam

HEM_AT = 500.0
WIDER = (-120.0, -30.0, 0.0, 30.0, 120.0)


def panel(wider: float, fold: str | None = None) -> Draft:
    """Return a piece whose right side runs aslant to a level hem, its left side straight down."""
    corners = {"tl": 0j, "tr": 300 + 0j, "br": complex(300 + wider, HEM_AT), "bl": HEM_AT * 1j}
    names = {"top": ("tl", "tr"), "side": ("tr", "br"), "hem": ("br", "bl"), "centre": ("bl", "tl")}
    edges = tuple(
        Edge(name, a, b, (Chain.line(corners[a], corners[b]),)) for name, (a, b) in names.items()
    )
    draft = Draft((Piece("skirt", edges, fold=fold),))
    return SeamAllowance(piece="skirt", by=15.0).apply(draft)


def folded(piece: Piece) -> tuple[shapely.Geometry, shapely.Geometry]:
    """Return the cloth above the hem, and that below it turned up."""
    cut = cutting_line(piece)
    above = cut.intersection(shapely.box(-1e4, -1e4, 1e4, HEM_AT))
    below = cut.intersection(shapely.box(-1e4, HEM_AT, 1e4, 1e4))
    return above, scale(below, 1, -1, origin=(0, HEM_AT))


@pytest.mark.parametrize("wider", WIDER)
@pytest.mark.parametrize("deep", [20.0, 40.0, 90.0])
def test_a_deep_hem_lies_flat_and_edge_on_edge_when_it_is_turned(wider: float, deep: float) -> None:
    piece = HemAllowance(piece="skirt", by=deep).apply(panel(wider)).piece("skirt")
    above, up = folded(piece)
    assert up.difference(above.buffer(0.02)).area < 0.01
    strip = above.intersection(shapely.box(-1e4, HEM_AT - deep, 1e4, HEM_AT))
    assert strip.symmetric_difference(up).area < 1.0


@pytest.mark.parametrize("wider", [each for each in WIDER if each])
def test_as_it_was_cut_before_it_does_not(wider: float) -> None:
    piece = FirstHemAllowance(piece="skirt", by=40.0).apply(panel(wider)).piece("skirt")
    above, up = folded(piece)
    strip = above.intersection(shapely.box(-1e4, HEM_AT - 40, 1e4, HEM_AT))
    assert strip.symmetric_difference(up).area > 50.0


def test_at_the_fold_nothing_is_mirrored() -> None:
    piece = HemAllowance(piece="skirt", by=40.0).apply(panel(60.0, "centre")).piece("skirt")
    assert [each.corner for each in piece.corners] == ["br"]
    above, up = folded(piece)
    assert up.difference(above.buffer(0.02)).area < 0.01


def test_a_narrow_one_and_one_that_is_sewn_are_cut_as_they_were() -> None:
    narrow = HemAllowance(piece="skirt", by=15.0).apply(panel(60.0))
    assert narrow.piece("skirt").corners == ()
    band = Seam("band", (Run("skirt", "hem"),), (Run("skirt", "hem"),))
    sewn = HemAllowance(piece="skirt", by=40.0).apply(replace(panel(60.0), seams=(band,)))
    assert sewn.piece("skirt").corners == ()
    assert sewn.piece("skirt").allowance("hem") == 40.0


def test_what_is_said_of_a_corner_stays_and_is_said_later_instead() -> None:
    first = HemAllowance(piece="skirt", by=40.0).apply(panel(60.0))
    squared = ShapeCorner(edge="skirt.hem", corner="br", how="squared").apply(first)
    again = HemAllowance(piece="skirt", by=50.0).apply(squared).piece("skirt")
    assert {each.corner: each.treatment for each in again.corners} == {
        "br": Treatment.SQUARED,
        "bl": Treatment.MIRRORED,
    }


def test_taken_off_nothing_of_it_is_left() -> None:
    bare = panel(60.0)
    there = HemAllowance(piece="skirt", by=40.0).apply(bare)
    assert HemAllowance(piece="skirt", by=0.0).apply(there) == bare


def test_the_seam_lines_stay_and_nothing_is_told_of_corners() -> None:
    for name in ("front", "back", "sleeve"):
        before = SeamAllowance(piece=name, by=15.0).apply(block())
        after = HemAllowance(piece=name, by=40.0).apply(before)
        assert after.piece(name).edges == before.piece(name).edges
        assert check_corners(after) == ()
