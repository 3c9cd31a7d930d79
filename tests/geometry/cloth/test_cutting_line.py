from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from tests.builders import block
from tests.fair import Points, closed_points, sampled
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes import kind_named
from trueup.geometry.cloth.cutting_line import MITRE, cutting_edges, cutting_line
from trueup.geometry.cloth.dart_peak import bridged, cut_across
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position

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


def beside_the_mouths(edge: Edge, line: Points) -> list[NDArray[np.bool_]]:
    """Return, for each dart of an edge, which points of a line lie between its two legs."""
    within = []
    for dart, before, after in zip(edge.darts, edge.parts, edge.parts[1:], strict=False):
        first, second = before.end - dart.apex, after.start - dart.apex
        share = np.angle((line - dart.apex) / first) / np.angle(second / first)
        within.append((share > 1e-9) & (share < 1 - 1e-9) & (np.abs(line - dart.apex) > 1))
    return within


def as_sewn(edge: Edge, line: Points) -> Points:
    """Return a line beside an edge with its darts closed, what lies over their mouths left out."""
    turn, shift, runs, at = 1 + 0j, 0j, [], 0
    mouths = zip(
        edge.darts, edge.parts, edge.parts[1:], beside_the_mouths(edge, line), strict=False
    )
    for dart, before, after, within in mouths:
        gap = np.flatnonzero(within)
        on_leg = np.isclose(np.angle((line - dart.apex) / (before.end - dart.apex)), 0)
        low = int(gap[0]) if len(gap) else int(np.flatnonzero(on_leg)[0]) + 1
        runs.append(turn * line[at:low] + shift)
        rotation = np.exp(1j * np.angle((before.end - dart.apex) / (after.start - dart.apex)))
        turn, shift = turn * rotation, turn * (dart.apex - rotation * dart.apex) + shift
        at = int(gap[-1]) + 1 if len(gap) else low
    return np.concatenate([*runs, turn * line[at:] + shift])


def folded(piece: Piece, edge: Edge, k: int) -> tuple[Points, Points]:
    """Return what is cut over a mouth as it lies with the dart pressed, and the seam it lies on.

    Pressed towards the part before it, the nearer half is turned over about the first leg and the
    other lies flat beside the second; pressed the other way it is the reverse.
    """
    dart, first, second = edge.darts[k], edge.parts[k].end, edge.parts[k + 1].start
    apex, line = dart.apex, np.array(cutting_edges(piece)[edge.name])
    steps = np.linspace(0, 1, 40)
    line = np.concatenate([a + (b - a) * steps for a, b in pairwise(line)])
    one, other = (first - apex) / abs(first - apex), (second - apex) / abs(second - apex)
    share = np.angle((line - apex) / one) / np.angle(other / one)
    over = line[(share >= 0) & (share <= 1) & (np.abs(line - apex) > 1)]
    nearer = share[(share >= 0) & (share <= 1) & (np.abs(line - apex) > 1)] <= 0.5
    closing = one / other
    if pressed_back(piece, first, second, apex):
        flat = apex + (over - apex) * closing
        lying = np.where(nearer, apex + one * ((over - apex) / one).conjugate(), flat)
    else:
        turned = apex + one * ((over - apex) / other).conjugate()
        lying = np.where(nearer, over, turned)
    seam = [sampled(edge.parts[k]), apex + (sampled(edge.parts[k + 1]) - apex) * closing]
    return lying, np.concatenate(seam)


def pressed_back(piece: Piece, first: complex, second: complex, apex: complex) -> bool:
    """Return whether a dart is pressed towards the part of its edge that lies before it."""
    depth = (first + second) / 2 - apex
    if abs(depth.real) > abs(depth.imag):
        return first.imag > second.imag
    x = piece.edge("centre").start.real
    return abs(first.real - x) < abs(second.real - x)


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
def test_each_edge_as_sewn_has_its_own_allowance(
    draft: Draft, name: str, seams: float, hem: float
) -> None:
    piece = with_allowances(draft.piece(name), seams, hem)
    cut = cutting_line(piece).exterior
    for edge in piece.edges:
        wanted = piece.allowance(edge.name)
        line = np.array(cutting_edges(piece)[edge.name])
        own = LineString([(p.real, p.imag) for p in as_sewn(edge, line)])
        seam, clear = closed_points(edge), MITRE * max(seams, hem)
        for point in seam[1:-1:7]:
            distance = Point(point.real, point.imag).distance(own)
            assert distance >= wanted - 0.05
            if min(abs(point - seam[0]), abs(point - seam[-1])) > clear:
                assert distance == pytest.approx(wanted, abs=0.05)
        assert LineString([(p.real, p.imag) for p in line]).distance(cut) < 1e-6


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
    peaked = 0
    for piece in draft.pieces:
        for edge in piece.edges:
            for mouth, peak in zip(edge.mouths, cut_across(piece, edge), strict=True):
                peaked += bool(peak)
                fold = (mouth.first + mouth.second) / 2 - mouth.dart.apex
                heights = [((p - mouth.dart.apex) / fold) for p in peak]
                assert all(h.real > 1 - 1e-9 for h in heights)
                for one, other in zip(heights, heights[::-1], strict=True):
                    assert one == pytest.approx(other.conjugate(), abs=1e-9)
    assert peaked


def test_a_waist_dart_gets_a_peak() -> None:
    back = block().piece("back")
    hem = back.edge("hem")
    assert all(len(peak) > 0 for peak in cut_across(back, hem))
    mouth = hem.mouths[0]
    peak = max(cut_across(back, hem)[0], key=lambda p: p.imag)
    assert peak.imag > max(mouth.first.imag, mouth.second.imag)
    middle = (mouth.first + mouth.second) / 2
    assert degrees_between(peak - mouth.dart.apex, middle - mouth.dart.apex) < 1e-6


BODIES = [
    (800.0, 620.0, 400.0, 580.0),
    (960.0, 780.0, 410.0, 600.0),
    (1180.0, 1020.0, 430.0, 610.0),
]


@pytest.mark.parametrize("body", BODIES, ids=lambda body: f"bust {body[0]:g}")
@pytest.mark.parametrize("seams", [0.0, 10.0, 20.0])
def test_what_is_folded_in_with_a_dart_lacks_nothing(
    body: tuple[float, float, float, float], seams: float
) -> None:
    for name in ("front", "back"):
        piece = with_allowances(block(*body).piece(name), seams, 3 * seams)
        for edge in piece.edges:
            for k in range(len(edge.darts)):
                lying, seam = folded(piece, edge, k)
                line = LineString([(p.real, p.imag) for p in seam])
                beyond = [Point(p.real, p.imag).distance(line) for p in lying]
                assert min(beyond) >= piece.allowance(edge.name) - 0.05, (edge.name, k)


@pytest.mark.parametrize("body", BODIES, ids=lambda body: f"bust {body[0]:g}")
@pytest.mark.parametrize("seams", [0.0, 10.0, 20.0])
def test_no_mouth_is_cut_with_a_notch_or_a_spike(
    body: tuple[float, float, float, float], seams: float
) -> None:
    for name in ("front", "back"):
        piece = with_allowances(block(*body).piece(name), seams, 3 * seams)
        for edge in piece.edges:
            line = np.array(cutting_edges(piece)[edge.name])
            for dart, within in zip(edge.darts, beside_the_mouths(edge, line), strict=True):
                gap = np.flatnonzero(within)
                if not len(gap):
                    continue
                first, last = line[gap[0] - 1], line[gap[-1] + 1]
                out = (first + last) / 2 - dart.apex
                heights = ((line[gap] - (first + last) / 2) / (out / abs(out))).real
                top = int(heights.argmax())
                assert (np.diff(heights[: top + 1]) > -1e-6).all(), (edge.name, dart.name)
                assert (np.diff(heights[top:]) < 1e-6).all(), (edge.name, dart.name)
                assert heights.min() > -1e-6
                assert heights.max() <= abs(last - first) + 1e-6


@pytest.mark.parametrize("by", [15.0, 30.0, 40.0, 50.0])
@given(drafts())
@settings(max_examples=10)
def test_a_hollow_neck_keeps_all_its_allowance_at_the_neck_point(by: float, draft: Draft) -> None:
    """Where it bends more tightly than the allowance is wide, as shapely's mitred offset has it."""
    turned = kind_named("rotate-dart")(
        dart="back.shoulder", edge="back.armhole", at=Position("shoulder-point", share=0.5)
    ).apply(draft)
    back = turned.piece("back")
    piece = allowed(back, dict.fromkeys(back.edge_names, by))
    wanted = seam_outline(piece).buffer(by, join_style="mitre", mitre_limit=3.0)
    corner = piece.corner("neck-point")
    near = Point(corner.real, corner.imag).buffer(1.9 * by)
    lacking = wanted.difference(cutting_line(piece).buffer(0.05)).intersection(near)
    assert lacking.area < 1.0


@given(DRAFTS, PIECES)
@settings(max_examples=40)
def test_without_allowances_the_line_to_cut_is_the_seam_line_united_with_itself(
    draft: Draft, name: str
) -> None:
    piece = draft.piece(name)
    seams = Polygon([(p.real, p.imag) for edge in piece.edges for p in bridged(piece, edge)])
    united = unary_union([seams, seams])
    assert [*cutting_line(piece).exterior.coords] == [*united.exterior.coords]
