"""Hems turned up: their cut edge lies inside, and flat where the corners mirror the cut above."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.affinity import affine_transform

from tests.builders import block
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.turned_hem import hems_of, turned
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.seams.seam import Run, Seam

DEEP = 40.0


WIDTHS = (-60.0, -20.0, 0.0, 25.0, 70.0)
"""By how much the hem of a piece is wider than its top, mm."""


def panel(wider: float, *, mirrored: bool = True) -> Piece:
    """Return a piece with a straight hem, its sides straight and not alike, with allowances."""
    corners = {"tl": 0j, "tr": 300 + 0j, "br": complex(300 + wider, 500), "bl": 500j - wider / 3}
    names = {"top": ("tl", "tr"), "right": ("tr", "br"), "hem": ("br", "bl"), "left": ("bl", "tl")}
    edges = tuple(
        Edge(name, a, b, (Chain.line(corners[a], corners[b]),)) for name, (a, b) in names.items()
    )
    allowances = tuple((n, DEEP if n == "hem" else 15.0) for n in sorted(names))
    told = tuple(CutCorner(end, Treatment.MIRRORED, "hem") for end in ("br", "bl"))
    return Piece("panel", edges, allowances=allowances, corners=told if mirrored else ())


def folded_up(piece: Piece) -> shapely.Geometry:
    """Return the cloth below the straight line from end to end of a hem, mirrored over it."""
    hem = piece.edge("hem")
    way = (hem.end - hem.start) / abs(hem.end - hem.start)
    far, down = 1e4 * way, 1e4 * 1j
    below = shapely.Polygon(
        [
            (p.real, p.imag)
            for p in (hem.start - far, hem.end + far, hem.end + far + down, hem.start - far + down)
        ]
    )
    c, s = (way * way).real, (way * way).imag
    at = hem.start - way * way * hem.start.conjugate()
    turned_up = shapely.get_parts(cutting_line(piece).intersection(below))
    cloth = max(turned_up, key=lambda part: part.area)
    assert sum(part.area for part in turned_up) - cloth.area < 1e-6
    return affine_transform(cloth, (c, s, s, -c, at.real, at.imag))


@pytest.mark.parametrize("wider", WIDTHS)
def test_mirrored_corners_lie_flat_on_the_cloth_above_when_the_hem_is_turned(wider: float) -> None:
    piece = panel(wider)
    cut, up = cutting_line(piece), folded_up(piece)
    assert up.area > 0
    assert up.difference(cut.buffer(0.05)).area < 0.01
    sides = up.boundary.intersection(cut.boundary.buffer(0.05))
    assert sides.length > 2 * 0.99 * DEEP


@pytest.mark.parametrize("wider", [each for each in WIDTHS if each])
def test_corners_that_are_not_mirrored_do_not(wider: float) -> None:
    piece = panel(wider, mirrored=False)
    up = folded_up(piece)
    assert up.boundary.intersection(cutting_line(piece).boundary.buffer(0.05)).length < DEEP


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize("wider", WIDTHS)
def test_the_cut_edge_lies_as_far_inside_as_it_was_cut_outside(
    wider: float, mirrored: bool
) -> None:
    piece = panel(wider, mirrored=mirrored)
    runs = turned(piece, "hem")
    expected = folded_up(piece).boundary
    for run in runs:
        found = shapely.LineString([(p.real, p.imag) for p in run])
        assert cutting_line(piece).covers(found)
        for share in np.linspace(0.02, 0.98, 25):
            at = found.interpolate(float(share), normalized=True)
            assert expected.distance(at) < 0.05
    (longest,) = (run for run in runs if abs(run[-1] - run[0]) > 200)
    assert {round(p.imag, 3) for p in longest if abs(p.imag - 460) < 1} == {460.0}


def test_only_an_edge_that_nothing_is_sewn_to_and_that_has_an_allowance_is_turned() -> None:
    pieces = tuple(
        allowed(piece, {"hem": DEEP}) if piece.name != "back" else piece for piece in block().pieces
    )
    draft = Draft(pieces, block().seams)
    assert hems_of(draft) == {"front": ("hem",), "back": (), "sleeve": ("hem",)}
    cuff = Seam("cuff", (Run("sleeve", "hem"),), (Run("sleeve", "hem"),))
    assert hems_of(replace(draft, seams=(*draft.seams, cuff)))["sleeve"] == ()


def test_a_hem_that_a_dart_opens_on_is_turned_with_it_sewn_and_shown_nowhere() -> None:
    front = allowed(block().piece("front"), {"hem": DEEP})
    assert front.edge("hem").darts
    assert turned(front, "hem") == ()
