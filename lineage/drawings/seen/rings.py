"""Outlines out of lines: those that are closed, and those whose ends meet all round."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.said import said
from trueup.geometry.tolerance import DRAWN_TOGETHER
from trueup.lineage.drawings.shapes.shape import Shape
from trueup.lineage.errors import BadRecord

NEARLY = 25.0
"""Ends of a line, mm, that lie closer than this were perhaps meant to meet."""


@dataclass(frozen=True)
class Ring:
    """A closed outline, and the lines it was drawn as; more than one meet at its corners."""

    chain: Chain
    shapes: tuple[Shape, ...]
    ends: tuple[Point, ...] = ()
    """Where one line ends and the next begins: all corners."""

    @property
    def told(self) -> tuple[Point, ...]:
        """Return the corners that the source states."""
        return tuple(point for shape in self.shapes for point in shape.corners)


@dataclass(frozen=True)
class _Way:
    shape: Shape
    chain: Chain


class _Ends:
    """The ends of open lines, found by where they lie."""

    def __init__(self, shapes: Sequence[Shape]) -> None:
        self._cells: dict[tuple[int, int], list[tuple[int, bool]]] = {}
        self._shapes = shapes
        for index, shape in enumerate(shapes):
            for backwards, at in enumerate((shape.chain.start, shape.chain.end)):
                self._cells.setdefault(_cell(at), []).append((index, bool(backwards)))

    def follows(self, end: Point, open_: set[int]) -> tuple[int, bool] | None:
        """Return the one open line that goes on from a point, and whether it is run backwards.

        None where none does, or more than one could.
        """
        across, down = _cell(end)
        near = [
            (index, backwards)
            for x in (across - 1, across, across + 1)
            for y in (down - 1, down, down + 1)
            for index, backwards in self._cells.get((x, y), ())
            if index in open_ and abs(self._end(index, backwards) - end) <= DRAWN_TOGETHER
        ]
        return near[0] if len(near) == 1 else None

    def _end(self, index: int, backwards: bool) -> Point:
        chain = self._shapes[index].chain
        return chain.end if backwards else chain.start


def _cell(at: Point) -> tuple[int, int]:
    return round(at.real / DRAWN_TOGETHER / 2), round(at.imag / DRAWN_TOGETHER / 2)


def rings_of(shapes: Sequence[Shape]) -> tuple[list[Ring], list[Shape]]:
    """Return the closed outlines among lines, and the lines that are part of none."""
    rings = [Ring(shape.chain, (shape,)) for shape in shapes if shape.is_closed]
    single = [shape for shape in shapes if not shape.is_closed]
    ends, open_ = _Ends(single), set(range(len(single)))
    rest: list[Shape] = []
    for first, shape in enumerate(single):
        if first not in open_:
            continue
        open_.remove(first)
        way, used = [_Way(shape, shape.chain)], [first]
        while abs(way[-1].chain.end - way[0].chain.start) > DRAWN_TOGETHER or len(way) == 1:
            following = ends.follows(way[-1].chain.end, open_)
            if following is None:
                break
            index, backwards = following
            chain = single[index].chain
            way.append(_Way(single[index], chain.reversed() if backwards else chain))
            used.append(index)
            open_.remove(index)
        if len(way) > 1 and abs(way[-1].chain.end - way[0].chain.start) <= DRAWN_TOGETHER:
            rings.append(_joined(way))
        else:
            open_.update(used[1:])
            rest.append(shape)
    return rings, rest


def _joined(way: Sequence[_Way]) -> Ring:
    chains: list[Chain] = []
    for each in way:
        chains.append(each.chain.starting_at(chains[-1].end) if chains else each.chain)
    chains[-1] = chains[-1].ending_at(chains[0].start)
    ring = Chain(tuple(cubic for chain in chains for cubic in chain.cubics))
    return Ring(ring, tuple(each.shape for each in way), tuple(chain.start for chain in chains))


def require_closed(rest: Sequence[Shape], place: str) -> None:
    """Refuse an outline that is open by little: its ends were meant to meet.

    Raises BadRecord with how far apart they lie, and where.
    """
    for shape in rest:
        start, end = shape.chain.start, shape.chain.end
        gap = abs(end - start)
        nearly = gap <= min(NEARLY, shape.length / 8) and len(shape.chain.cubics) > 2
        if nearly:
            reason = said("outline-open", gap=gap, x=end.real, y=end.imag)
            raise BadRecord(place, reason, field=shape.id)
