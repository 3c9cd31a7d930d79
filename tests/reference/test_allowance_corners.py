"""Seam allowances and their corners, against the offset of another library.

shapely lays a polygon out by `buffer` with mitred joins (GEOS, after the JTS Topology Suite); a
mitre limit of 1 cuts every corner straight across at the distance of the offset. Where a treatment
means the same as one of these the cutting line agrees to 0.05 mm.
"""

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.piece import Piece

AGREE = 0.05
ALLOWANCES = st.floats(3, 40).map(lambda mm: round(mm, 1))


def piece_of(points: list[complex], by: float, how: Treatment | None = None) -> Piece:
    """Return a piece of straight edges, all with one allowance, all corners cut in one way."""
    count = len(points)
    edges = tuple(
        Edge(f"e{k}", f"c{k}", f"c{(k + 1) % count}", (Chain.line(p, points[(k + 1) % count]),))
        for k, p in enumerate(points)
    )
    corners = tuple(CutCorner(f"c{k}", how, f"e{k}") for k in range(count)) if how else ()
    bare = Piece("p", edges, corners=corners)
    return allowed(bare, dict.fromkeys(bare.edge_names, by))


@st.composite
def polygons(draw: st.DrawFn, slimmest: float = 0.7, sharpest: float = 42.0) -> list[complex]:
    """Draw convex outlines, either way round, whose corners open by so many degrees at least."""
    count = draw(st.integers(4, 6))
    shifts = draw(st.lists(st.floats(-0.15, 0.15), min_size=count, max_size=count))
    turns = [2 * math.pi * (k + shift) / count for k, shift in enumerate(shifts)]
    slim, turn = draw(st.floats(slimmest, 1)), cmath.rect(1, draw(st.floats(0, 6.28)))
    points = [turn * complex(400 * slim * math.cos(t), 400 * math.sin(t)) for t in turns]
    around = zip(points[-1:] + points[:-1], points, points[1:] + points[:1], strict=True)
    opens = [abs(math.degrees(cmath.phase((p - at) / (q - at)))) for p, at, q in around]
    assume(sharpest < min(opens))
    return points[::-1] if draw(st.booleans()) else points


def laid_out(points: list[complex], by: float, limit: float) -> Polygon:
    outline = Polygon([(p.real, p.imag) for p in points])
    return outline.buffer(by, join_style="mitre", mitre_limit=limit)


def apart(one: Polygon, other: Polygon) -> float:
    return float(one.exterior.hausdorff_distance(other.exterior))


@given(polygons(), ALLOWANCES, st.sampled_from([None, Treatment.MITRED]))
@settings(max_examples=100)
def test_mitred_allowances_agree_with_a_mitred_offset(
    points: list[complex], by: float, how: Treatment | None
) -> None:
    found = cutting_line(piece_of(points, by, how))
    assert apart(found, laid_out(points, by, 5.0)) < AGREE


@given(polygons(slimmest=0.25, sharpest=12.0), ALLOWANCES)
@settings(max_examples=100)
def test_blunted_allowances_agree_with_an_offset_cut_across_at_its_distance(
    points: list[complex], by: float
) -> None:
    found = cutting_line(piece_of(points, by, Treatment.BLUNTED))
    assert apart(found, laid_out(points, by, 1.0)) < AGREE


@given(st.floats(90, 600), st.floats(90, 600), st.floats(0, 6.28), ALLOWANCES,
       st.sampled_from([Treatment.MIRRORED, Treatment.SQUARED]))  # fmt: skip
@settings(max_examples=60)
def test_at_right_angles_all_but_the_blunt_ones_agree_with_the_mitre(
    width: float, height: float, turn: float, by: float, how: Treatment
) -> None:
    corners = [0j, complex(width, 0), complex(width, height), complex(0, height)]
    points = [p * cmath.rect(1, turn) for p in corners]
    found = cutting_line(piece_of(points, by, how))
    assert apart(found, laid_out(points, by, 5.0)) < AGREE


@given(drafts(), st.sampled_from(["back", "sleeve"]), st.floats(3, 20))
@settings(max_examples=20)
def test_the_allowances_of_a_drafted_piece_agree_with_an_offset_of_its_outline(
    draft: Draft, name: str, by: float
) -> None:
    piece = without_darts(draft.piece(name))
    points = [p for edge in piece.edges for part in edge.parts for p in part.flattened()[:-1]]
    found = cutting_line(allowed(piece, dict.fromkeys(piece.edge_names, by)))
    assert apart(found, laid_out(points, by, 5.0)) < AGREE


def without_darts(piece: Piece) -> Piece:
    """Return a piece with each edge that has darts drawn straight."""
    edges = tuple(
        replace(edge, parts=(Chain.line(edge.start, edge.end),), darts=()) if edge.darts else edge
        for edge in piece.edges
    )
    return replace(piece, edges=edges, notches=(), fold=None)


def test_the_two_libraries_do_differ_where_a_corner_is_cut_otherwise() -> None:
    points = [0j, 300 + 0j, 240 + 200j, 60 + 200j]
    assert apart(cutting_line(piece_of(points, 20.0, Treatment.MIRRORED)),
                 laid_out(points, 20.0, 5.0)) > 1  # fmt: skip
    assert block().piece("back").corners == ()
    assert apart(cutting_line(piece_of(points, 20.0)), laid_out(points, 20.0, 5.0)) == (
        pytest.approx(0, abs=1e-6)
    )
