"""The pages of a sheet laid on each other as a maker does: every line true and in its place."""

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache

import pytest
import shapely
from shapely.geometry import LineString

from tests.cli.sheet.pdf import ReadPage
from tests.cli.sheet.printed import A0, A4, LETTER, PENCIL, ROLL, pages, printed
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.layout import GAP, Laid
from trueup.cli.sheet.laying.paper import MARGIN, Paper
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Piece

Lines = dict[InkPen, list[LineString]]

PENS = (InkPen.SEAM, InkPen.TURNED, InkPen.DART, InkPen.NOTCH, InkPen.GRAIN, InkPen.LEVEL)


def crosses(page: ReadPage) -> dict[int, list[complex]]:
    """Return the places of the crosses on a page by the number beside them."""
    arms = [
        line for line in page.in_pen(InkPen.MATCH) if line.length == pytest.approx(6.0, abs=0.01)
    ]
    level = [sum(a.points) / 2 for a in arms if abs((a.points[1] - a.points[0]).imag) < 1e-3]
    found: dict[int, list[complex]] = defaultdict(list)
    for word in page.words:
        if word["size"] < 2.5 * 72 / 25.4 and word["text"].isdigit():
            at = complex(word["x0"], word["bottom"]) * 25.4 / 72
            near = min(level, key=lambda cross: abs(cross - at), default=None)
            if near is not None and abs(near - at) < 3:
                found[int(word["text"])].append(near)
    return found


@lru_cache(maxsize=4)
def glued(paper: Paper) -> tuple[dict[int, complex], list[tuple[int, int]]]:
    """Return by how much each page is shifted when crosses are laid on crosses, as a maker does.

    Also which pages were laid on each other.
    """
    marked = {n: crosses(page) for n, page in enumerate(pages(paper)) if page.in_pen(InkPen.BORDER)}
    showing: dict[int, list[int]] = defaultdict(list)
    for n, found in marked.items():
        for number, places in found.items():
            assert len(places) == 2, f"page {n + 1} shows cross {number} {len(places)} times"
            showing[number].append(n)
    assert all(len(both) == 2 for both in showing.values())
    first = min(marked)
    shifts, waiting = {first: 0j}, [first]
    while waiting:
        here = waiting.pop()
        for number, both in showing.items():
            if here not in both:
                continue
            (there,) = (n for n in both if n != here)
            steps = [
                a - b
                for a, b in zip(
                    sorted(marked[here][number], key=lambda p: (p.real, p.imag)),
                    sorted(marked[there][number], key=lambda p: (p.real, p.imag)),
                    strict=True,
                )
            ]
            assert abs(steps[0] - steps[1]) < 0.01
            if there not in shifts:
                shifts[there] = shifts[here] + steps[0]
                waiting.append(there)
            assert abs(shifts[there] - shifts[here] - steps[0]) < 0.01
    return shifts, [(a, b) for a, b in showing.values()]


@lru_cache(maxsize=4)
def laid_together(paper: Paper) -> Lines:
    """Return every line of the pattern on its area, what two pages show alike only once."""
    layout = printed(paper)[1]
    shifts = glued(paper)[0] if paper.is_tiled else {0: 0j}
    assert len(shifts) == len(layout.tiles)
    first = layout.tiles[0].window
    found: Lines = defaultdict(list)
    shown = shapely.Polygon()
    for n, shift in sorted(shifts.items()):
        page = pages(paper)[n]
        corner = shift + complex(first.left, first.top)
        for pen in (*PENS, InkPen.CUT, InkPen.FOLD):
            for line in page.in_pen(pen):
                drawn = _line([p + corner - complex(MARGIN, MARGIN) for p in line.points])
                parts = shapely.get_parts(drawn.difference(shown))
                found[pen] += [part for part in parts if part.length > 0]
        size = complex(page.width - 2 * MARGIN, page.height - 2 * MARGIN - 9)
        shown = shown.union(shapely.box(*_xy(corner), *_xy(corner + size)))
    return found


def wanted(laid: Laid) -> Iterator[tuple[InkPen, str, LineString]]:
    """Yield the lines that are drawn of a piece, in its place, and their names."""

    def placed(pen: InkPen, name: str, points: list[complex]) -> tuple[InkPen, str, LineString]:
        return pen, f"{piece.name}.{name}", _line([laid.motion(p) for p in points])

    piece = laid.piece
    for edge in piece.edges:
        if edge.name != piece.fold:
            pen = InkPen.TURNED if edge.name == "hem" else InkPen.SEAM
            for part in edge.parts:
                yield placed(pen, edge.name, part.flattened(0.01))
        for mouth in edge.mouths:
            yield placed(InkPen.DART, mouth.dart.name, [mouth.first, mouth.tip, mouth.second])
            yield from (placed(InkPen.NOTCH, mouth.dart.name, arm) for arm in _cross(mouth.tip))
    for dart in piece.inner_darts:
        ring = [dart.upper, dart.right, dart.lower, dart.left, dart.upper]
        yield placed(InkPen.DART, dart.name, ring)
        for tip in (dart.upper, dart.lower):
            yield from (placed(InkPen.NOTCH, dart.name, arm) for arm in _cross(tip))
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        for tick in _ticks(piece, edge, notch.at.along(edge)):
            yield placed(InkPen.NOTCH, notch.name, tick)
    for level in piece.levels:
        for tick in _of_level(piece, level):
            yield placed(InkPen.LEVEL, level.name, tick)
    assert piece.grainline
    yield placed(InkPen.GRAIN, "grainline", [piece.grainline.start, piece.grainline.end])


def _of_level(piece: Piece, level: Level) -> Iterator[list[complex]]:
    """Yield the short lines at either end of a level that does not run along an edge."""
    if level.along is None:
        across = piece.cloth.intersection(LineString([(-1e4, level.y), (1e4, level.y)]))
        left, _, right, _ = across.bounds
        yield [complex(left, level.y), complex(left + 12, level.y)]
        yield [complex(right - 12, level.y), complex(right, level.y)]


def _cross(at: complex) -> list[list[complex]]:
    return [[at - arm, at + arm] for arm in (1.5 + 0j, 1.5j)]


def _ticks(piece: Piece, edge: Edge, along: float) -> Iterator[list[complex]]:
    """Yield the tick in from the cut, and the one across the seam line."""
    place, travel = edge.place_at(along)
    inside = shapely.Point(*_xy(place + 1j * travel))
    inwards = 1j * travel if piece.cloth.contains(inside) else -1j * travel
    rim = place - inwards * piece.allowance(edge.name)
    yield [rim, rim + inwards * 5]
    yield [place - travel * 2.5, place + travel * 2.5]


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
def test_every_line_is_where_it_belongs_and_as_long_as_it_is(paper: Paper) -> None:
    drawn = laid_together(paper)
    for laid in printed(paper)[1].pieces:
        near = laid.cut.buffer(GAP / 2)
        for pen in PENS:
            lines = [(name, line) for each, name, line in wanted(laid) if each is pen]
            lengths = [0.0] * len(lines)
            for part in drawn[pen]:
                if near.contains(part):
                    off = [line.hausdorff_distance(part) for _, line in lines]
                    away = [max(map(line.distance, _dots(part))) for _, line in lines]
                    best = min(range(len(lines)), key=lambda n: (away[n] > PENCIL, off[n]))
                    # Arrows have barbs, and a fold has arrows too.
                    assert away[best] < PENCIL or pen is InkPen.GRAIN, f"{pen} strays at {part}"
                    if away[best] < PENCIL:
                        lengths[best] += part.length
            for (name, line), length in zip(lines, lengths, strict=True):
                assert abs(length - line.length) < PENCIL, f"{pen} {name}"


def _dots(part: LineString) -> list[shapely.Point]:
    return [part.interpolate(share, normalized=True) for share in (0.0, 0.25, 0.5, 0.75, 1.0)]


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
def test_every_piece_is_cut_round_and_a_fold_is_none_of_the_cut(paper: Paper) -> None:
    drawn = laid_together(paper)
    for laid in printed(paper)[1].pieces:
        near, ring = laid.cut.buffer(GAP / 2), laid.cut.exterior
        around = [
            part for pen in (InkPen.CUT, InkPen.FOLD) for part in drawn[pen] if near.contains(part)
        ]
        assert sum(part.length for part in around) == pytest.approx(ring.length, abs=PENCIL)
        assert max(ring.distance(dot) for part in around for dot in _dots(part)) < PENCIL
        folds = [part for part in drawn[InkPen.FOLD] if near.contains(part)]
        assert bool(folds) == bool(laid.piece.fold)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=str)
def test_neighbouring_pages_show_the_same_lines_where_they_overlap(paper: Paper) -> None:
    shifts, together = glued(paper)
    assert together
    for one, other in together:
        step = shifts[other] - shifts[one]
        size = complex(paper.drawn_width, paper.drawn_height)
        low = complex(max(0.0, step.real), max(0.0, step.imag))
        high = complex(min(size.real, size.real + step.real), min(size.imag, size.imag + step.imag))
        assert min(high.real - low.real, high.imag - low.imag) == pytest.approx(10, abs=0.01)
        corner = complex(MARGIN, MARGIN)
        strip = shapely.box(*_xy(low + corner), *_xy(high + corner)).buffer(-0.01)
        mine = _lines_in(pages(paper)[one], 0j, strip)
        theirs = _lines_in(pages(paper)[other], step, strip)
        assert mine.difference(theirs.buffer(0.02)).length < 0.1
        assert theirs.difference(mine.buffer(0.02)).length < 0.1


def _lines_in(page: ReadPage, step: complex, strip: shapely.Polygon) -> shapely.Geometry:
    pens = (InkPen.SEAM, InkPen.TURNED, InkPen.CUT, InkPen.DART, InkPen.FOLD)
    lines = [line for pen in pens for line in page.in_pen(pen)]
    moved = [_line([p + step for p in line.points]) for line in lines]
    return shapely.union_all(moved).intersection(strip)


def _line(points: list[complex]) -> LineString:
    return LineString([_xy(point) for point in points])


def _xy(point: complex) -> tuple[float, float]:
    return point.real, point.imag
