"""What lacks on cut cloth, against another library: polygons offset and tested by pyclipper.

pyclipper wraps Angus Johnson's Clipper library, which shares no code with shapely. A corrected seam
line lacks `d` mm when it lies within the cloth only once that is swelled by `d` less what it needs;
a place that moved outwards by less than `d` and what its edge can be let out does not count.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np
import pyclipper
import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from tests.builders import block
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.cloth.cut_cloth import LEAST, ClothAnswer, Possible, compare_cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit

SCALE = 10_000
AGREE = 0.3
ENOUGH_CLOTH = 0.5
"""What lacks less than this, mm, is no lack: a chalk line (common practice, no source)."""

SAME_PLACE = 0.05
Path = tuple[tuple[int, int], ...]
Paths = tuple[Path, ...]

CORRECTIONS = st.one_of(
    st.builds(
        lambda piece, by: ("scoop-armhole", {"piece": piece, "by": f"{by}mm"}),
        st.sampled_from(["front", "back"]),
        st.floats(-15, 20).map(lambda mm: round(mm, 1)),
    ),
    *(
        st.builds(
            lambda by, kind=kind: (kind, {"by": f"{by}mm"}),
            st.floats(-20, 20).map(lambda mm: round(mm, 1)),
        )
        for kind in ("shorten-shoulder", "shift-shoulder", "lower-armhole")
    ),
    st.builds(
        lambda by: ("add-ease", {"by": f"{by}mm"}),
        st.floats(-40, 80).map(lambda mm: round(mm, 1)),
    ),
    st.builds(
        lambda piece, by: ("true-hem", {"piece": piece, "by": f"{by}mm"}),
        st.sampled_from(["front", "back"]),
        st.floats(-30, 60).map(lambda mm: round(mm, 1)),
    ),
    st.builds(
        lambda by: ("raise-cap", {"by": f"{by}mm"}),
        st.floats(-15, 25).map(lambda mm: round(mm, 1)),
    ),
    st.builds(
        lambda by: ("widen-sleeve", {"by": f"{by}mm"}),
        st.floats(-15, 60).map(lambda mm: round(mm, 1)),
    ),
)


HELD = {"front": "front.centre", "back": "back.centre", "sleeve": "sleeve.hem"}


@pytest.mark.parametrize("is_held", [False, True])
@given(CORRECTIONS, st.floats(4, 20), st.floats(8, 45))
@settings(max_examples=40)
def test_what_lacks_agrees_with_polygon_containment(
    is_held: bool, correction: tuple[str, dict[str, str]], seams: float, hem: float
) -> None:
    draft = with_allowances(block(), seams, hem)
    after = corrected(draft, *correction)
    for old in draft.pieces:
        new, cloth = after.piece(old.name), cutting_line(old)
        if new is not old:
            held = [HELD[old.name]] if is_held else []
            answer = compare_cloth(cloth, old, new, held)
            assert not (is_held and answer.slide)
            assert_agrees(answer, unfolded(cloth, old), old, new, is_held)


def assert_agrees(answer: ClothAnswer, lying: Paths, old: Piece, new: Piece, is_held: bool) -> None:
    """Check an answer edge by edge, and that no other slide would leave less lacking."""
    wanted = {
        edge.name: lacking(lying, old, edge, answer.slide)
        for edge in new.edges
        if edge.name != new.fold
    }
    for name, lacks in wanted.items():
        found = answer.edge(name)
        assert found.lacking == pytest.approx(lacks, abs=AGREE)
        if abs(lacks - ENOUGH_CLOTH) > AGREE:
            assert (found.possible is Possible.CAN) == (lacks < ENOUGH_CLOTH)
    # A piece is not slid for less than half a millimetre.
    less = max(wanted.values()) - 0.5 - AGREE
    if not is_held and less > 0:
        for slide in (0.0, -20.0, answer.slide - 1, answer.slide + 1, 20.0):
            lines = [wanting(old, new.edge(name), slide) for name in wanted]
            assert not all(line.lacks_at_most(lying, less) for line in lines)


@given(CORRECTIONS)
@settings(max_examples=25)
def test_cloth_cut_without_allowance_can_only_be_taken_in(
    correction: tuple[str, dict[str, str]],
) -> None:
    draft = block()
    after = corrected(draft, *correction)
    for old in draft.pieces:
        new = after.piece(old.name)
        if new is old:
            continue
        answer = compare_cloth(cutting_line(old), old, new, [HELD[old.name]])
        outside = polygon(new).difference(cutting_line(old)).area
        if answer.possible is Possible.CAN:
            assert outside < ENOUGH_CLOTH * sum(edge.length for edge in new.edges)
        else:
            assert outside > 0


def with_allowances(draft: Draft, seams: float, hem: float) -> Draft:
    return draft.with_pieces(
        *(
            allowed(p, {e: hem if e == "hem" else seams for e in p.edge_names if e != p.fold})
            for p in draft.pieces
        )
    )


def corrected(draft: Draft, kind: str, values: dict[str, str]) -> Draft:
    try:
        return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)
    except GeometryError:
        reject()


def polygon(piece: Piece) -> Polygon:
    points = [p for edge in piece.edges for part in edge.parts for p in part.flattened()]
    return Polygon([(p.real, p.imag) for p in points])


# --- the other library ----------------------------------------------------------------------------


def scaled(points: Iterable[complex]) -> Path:
    return tuple((round(p.real * SCALE), round(p.imag * SCALE)) for p in points)


def unfolded(cloth: Polygon, piece: Piece) -> Paths:
    """Return the cloth with its other half where it lies on an upright fold."""
    outline = [complex(x, y) for x, y in cloth.exterior.coords[:-1]]
    if piece.fold is None:
        return (scaled(outline),)
    x = piece.edge(piece.fold).start.real
    halves = pyclipper.Pyclipper()
    # A hair's overlap, for the halves share a line.
    for half in (outline, [complex(2 * x - p.real, p.imag) for p in outline][::-1]):
        halves.AddPath(_upright(scaled(half)), pyclipper.PT_SUBJECT, True)
    band = [complex(x - 0.01, 0), complex(x + 0.01, 0)]
    top, bottom = (f(p.imag for p in outline if abs(p.real - x) < 1e-6) for f in (min, max))
    band = [band[0] + top * 1j, band[1] + top * 1j, band[1] + bottom * 1j, band[0] + bottom * 1j]
    halves.AddPath(_upright(scaled(band)), pyclipper.PT_SUBJECT, True)
    nonzero = pyclipper.PFT_NONZERO
    return _paths(halves.Execute(pyclipper.CT_UNION, nonzero, nonzero))


def _upright(path: Path) -> Path:
    return path if pyclipper.Orientation(path) else path[::-1]


def _paths(found: Iterable[Iterable[Iterable[int]]]) -> Paths:
    return tuple(tuple((x, y) for x, y in path) for path in found)


@lru_cache(maxsize=512)
def swelled(lying: Paths, by: float) -> Paths:
    offset = pyclipper.PyclipperOffset(2.0, 0.005 * SCALE)
    for path in lying:
        offset.AddPath(path, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return _paths(offset.Execute(by * SCALE))


def holds(lying: Paths, by: float, lines: list[Path]) -> bool:
    """Return whether cloth swelled by some mm holds all lines: nothing is left when it is cut off.

    A hair of line may be left, for the cloth is rounded to a grid.
    """
    cloth = swelled(lying, round(by, 2))
    if not lines:
        return True
    if not cloth:
        return False
    clipper = pyclipper.Pyclipper()
    for path in cloth:
        clipper.AddPath(path, pyclipper.PT_CLIP, True)
    for line in lines:
        clipper.AddPath(line, pyclipper.PT_SUBJECT, False)
    nonzero = pyclipper.PFT_NONZERO
    left = clipper.Execute2(pyclipper.CT_DIFFERENCE, nonzero, nonzero)
    return sum(_length(path) for path in pyclipper.OpenPathsFromPolyTree(left)) < 0.005 * SCALE


def _length(path: list[list[int]]) -> float:
    return sum(abs(complex(*b) - complex(*a)) for a, b in pairwise(path))


@dataclass(frozen=True)
class Wanting:
    """A corrected seam line, how far its places moved outwards, what it needs and can spare."""

    points: tuple[complex, ...]
    moved: tuple[float, ...]
    need: float
    spare: float

    def further(self, than: float) -> list[Path]:
        """Return the runs of places that moved outwards by more than some mm."""
        runs: list[list[complex]] = [[]]
        for point, moved in zip(self.points, self.moved, strict=True):
            if moved > than:
                runs[-1].append(point)
            elif runs[-1]:
                runs.append([])
        return [scaled([*run, run[-1] + 0.01]) for run in runs if run]

    def lacks_at_most(self, lying: Paths, amount: float) -> bool:
        """Return whether no place lacks more: it moved by no more, or lies deep enough."""
        further = self.further(self.spare + max(amount, SAME_PLACE))
        return holds(lying, amount - self.need, further)


def lacking(lying: Paths, old: Piece, edge: Edge, slide: float) -> float:
    """Return how much cloth a corrected seam line lacks at worst, mm, by bisection."""
    line = wanting(old, edge, slide)
    low, high = 0.0, max(0.0, *line.moved)
    if line.lacks_at_most(lying, 0.0):
        return 0.0
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (low, middle) if line.lacks_at_most(lying, middle) else (middle, high)
    return high


def wanting(old: Piece, edge: Edge, slide: float) -> Wanting:
    """Return a corrected edge, slid down the grain, against the old one drawn on at its ends."""
    before = old.edge(edge.name)
    points = [p + slide * 1j for p in dense(edge)]
    clockwise = _area(old) > 0
    moved = [off_line(p, before) * (1 if clockwise else -1) for p in points]
    had = old.allowance(edge.name)
    return Wanting(tuple(points), tuple(moved), min(LEAST, had), max(had - LEAST, 0.0))


def _area(piece: Piece) -> float:
    ring = [p for edge in piece.edges for part in edge.parts for p in part.flattened()]
    return sum(a.real * b.imag - a.imag * b.real for a, b in pairwise([*ring, ring[0]]))


def dense(edge: Edge) -> list[complex]:
    found = []
    for part in edge.parts:
        for a, b in pairwise(part.flattened()):
            steps = max(1, int(2 * abs(b - a)))
            found += [a + (b - a) * k / steps for k in range(steps)]
        found.append(part.end)
    return found


def off_line(point: complex, edge: Edge) -> float:
    """Return how far a point lies left of an edge drawn on straight, or right if negative."""
    starts, ends = _drawn_on(edge)
    steps = ends - starts
    share = np.clip(((point - starts) * steps.conj()).real / np.abs(steps) ** 2, 0.0, 1.0)
    away = point - (starts + share * steps)
    nearest = int(np.argmin(np.abs(away)))
    left = (away[nearest] * steps[nearest].conj()).imag < 0
    return float(abs(away[nearest]) * (1 if left else -1))


@lru_cache(maxsize=64)
def _drawn_on(edge: Edge) -> tuple[Any, Any]:
    line = [p for part in edge.parts for p in part.flattened()]
    first, last = edge.parts[0].start_tangent, edge.parts[-1].end_tangent
    line = [line[0] - 500 * first, *line, line[-1] + 500 * last]
    pairs = [(a, b) for a, b in pairwise(line) if a != b]
    return np.array([a for a, _ in pairs]), np.array([b for _, b in pairs])
