import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from tests.builders import block
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.cloth.cutting_line import MITRE, cutting_edges, cutting_line
from trueup.geometry.cloth.dart_peak import bridged, cut_across
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

PIECES = st.sampled_from(["front", "back", "sleeve"])
SEAM_ALLOWANCES = st.floats(1, 25)
DRAFTS = st.one_of(drafts(), side_dart_blocks())


def with_allowances(piece: Piece, seams: float, hem: float) -> Piece:
    return allowed(
        piece, {e: hem if e == "hem" else seams for e in piece.edge_names if e != piece.fold}
    )


def seam_outline(piece: Piece) -> Polygon:
    """Return the seam outline, straight across the mouths of darts."""
    points = [p for edge in piece.edges for part in edge.parts for p in part.flattened()]
    return Polygon([(p.real, p.imag) for p in points])


@given(DRAFTS, PIECES, SEAM_ALLOWANCES, st.floats(1, 80))
@settings(max_examples=60)
def test_the_seam_outline_lies_within_the_cutting_line(
    draft: Draft, name: str, seams: float, hem: float
) -> None:
    piece = with_allowances(draft.piece(name), seams, hem)
    cut = cutting_line(piece)
    assert cut.is_valid
    left_out = seam_outline(piece).difference(cut)
    assert left_out.area < 1e-6, left_out.bounds


@given(DRAFTS, PIECES, SEAM_ALLOWANCES, st.floats(1, 80))
@settings(max_examples=60)
def test_each_edge_has_its_own_allowance(draft: Draft, name: str, seams: float, hem: float) -> None:
    piece = with_allowances(draft.piece(name), seams, hem)
    cut = cutting_line(piece).exterior
    for edge in piece.edges:
        wanted = piece.allowance(edge.name)
        own = LineString([(p.real, p.imag) for p in cutting_edges(piece)[edge.name]])
        clear = MITRE * max(seams, hem)
        for part in edge.parts:
            for k in range(1, 20):
                point = part.point_at(part.length * k / 20)
                distance = Point(point.real, point.imag).distance(own)
                assert distance >= wanted - 0.05
                if min(abs(point - part.start), abs(point - part.end)) > clear:
                    assert distance == pytest.approx(wanted, abs=0.05)
                    assert own.distance(cut) < 1e-6


@given(DRAFTS, PIECES)
@settings(max_examples=40)
def test_without_allowance_the_seam_outline_is_cut(draft: Draft, name: str) -> None:
    piece = draft.piece(name)
    cut = cutting_line(piece)
    bridges = Polygon([(p.real, p.imag) for e in piece.edges for p in bridged(piece, e)])
    assert cut.symmetric_difference(bridges.buffer(0)).area < 1e-6
    if not any(edge.darts for edge in piece.edges):
        assert cut.symmetric_difference(seam_outline(piece)).area < 1e-6


@given(DRAFTS, PIECES, SEAM_ALLOWANCES, st.floats(0.1, 15), st.floats(1, 60))
@settings(max_examples=40)
def test_more_allowance_takes_more_cloth(
    draft: Draft, name: str, seams: float, more: float, hem: float
) -> None:
    piece = draft.piece(name)
    less, wide = (cutting_line(with_allowances(piece, mm, hem)) for mm in (seams, seams + more))
    assert wide.area > less.area


def test_nothing_is_cut_beyond_the_fold() -> None:
    front = with_allowances(block().piece("front"), 15.0, 40.0)
    x = front.edge("centre").start.real
    assert cutting_line(front).bounds[2] == pytest.approx(x, abs=1e-9)


def test_square_corners_come_out_square() -> None:
    sleeve = with_allowances(block().piece("sleeve"), 15.0, 40.0)
    corner = sleeve.corner("hem-back")
    wanted = corner + complex(-15.0, 40.0)
    edges = cutting_edges(sleeve)
    assert edges["back-seam"][-1] == pytest.approx(wanted, abs=1e-6)
    assert edges["hem"][0] == pytest.approx(wanted, abs=1e-6)


def test_a_sharp_corner_is_cut_square_across() -> None:
    a, b, c = 0j, 300 + 0j, 300 + 30j
    sides = (("long", "a", "b", a, b), ("short", "b", "c", b, c), ("slant", "c", "a", c, a))
    piece = Piece("gusset", tuple(Edge(n, s, e, (Chain.line(p, q),)) for n, s, e, p, q in sides))
    cut = cutting_line(with_allowances(piece, 10.0, 10.0))
    assert -MITRE * 10 - 15 < cut.bounds[0] < -15


@given(DRAFTS)
@settings(max_examples=30)
def test_a_dart_folded_closed_lies_on_the_edge_beside_it(draft: Draft) -> None:
    """Fold the peak about the dart's middle: both its halves meet, and it never cuts in."""
    for piece in draft.pieces:
        for edge in piece.edges:
            for mouth, peak in zip(edge.mouths, cut_across(piece, edge), strict=True):
                fold = (mouth.first + mouth.second) / 2 - mouth.dart.apex
                heights = [((p - mouth.dart.apex) / fold) for p in peak]
                assert all(h.real > 1 - 1e-9 or abs(h.imag) > 0 for h in heights)
                for one, other in zip(heights, heights[::-1], strict=True):
                    assert one == pytest.approx(other.conjugate(), abs=1e-9)


def test_a_waist_dart_gets_a_peak() -> None:
    back = block().piece("back")
    hem = back.edge("hem")
    assert all(len(peak) > 0 for peak in cut_across(back, hem))
    mouth = hem.mouths[0]
    peak = max(cut_across(back, hem)[0], key=lambda p: p.imag)
    assert peak.imag > max(mouth.first.imag, mouth.second.imag)
    middle = (mouth.first + mouth.second) / 2
    assert degrees_between(peak - mouth.dart.apex, middle - mouth.dart.apex) < 1e-6
