"""What of a correction can still be sewn on cloth that is already cut.

Cloth can be taken in at will, and let out as far as its allowance goes. Every place of a corrected
seam line needs some cloth around it; where it lies too near to the cut, or beyond it, cloth lacks.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon

from trueup.geometry.cloth.areas_moved import Lengths, PointLine, moves
from trueup.geometry.cloth.laid_edge import LaidEdge, laid_edge, lying_cloth, need_of
from trueup.geometry.comparing.laying import best_slide, grain, laid
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import ENOUGH_CLOTH, UNCHANGED

LEAST = 6.0
"""The narrowest allowance a seam is sewn with, mm: 1/4 in (common practice, no source)."""

NOTHING: Mapping[str, float] = MappingProxyType({})
"""No cloth lacked on any edge."""


class Possible(StrEnum):
    """How much of what was corrected on an edge can be sewn on the cloth."""

    CAN = "can"
    PARTLY = "partly"
    CANNOT = "cannot"


class Reason(StrEnum):
    """Why an edge cannot, or not wholly, be sewn as corrected."""

    CLOTH = "cloth"
    STITCHED_DOWN = "stitched-down"
    FOLD = "fold"


@dataclass(frozen=True)
class EdgeAnswer:
    """What can be done on one edge, mm.

    `let_out` and `taken_in` are the largest moves its correction asks for, outwards and inwards;
    an edge that stays has neither. `lacking` is how much cloth lacks at worst, `low` to `high`
    where along the edge (sewn length from the corner `starts_at`), and `at_start`, `at_end` how far
    short of its two corrected corners it stays. Of an edge that is stitched down or folded,
    `lacking` is how far it would have to move.
    """

    edge: str
    starts_at: str
    possible: Possible
    reason: Reason | None = None
    let_out: float = 0.0
    taken_in: float = 0.0
    lacking: float = 0.0
    low: float = 0.0
    high: float = 0.0
    at_start: float = 0.0
    at_end: float = 0.0

    @property
    def stays(self) -> bool:
        """Return whether the edge is sewn where it was."""
        return self.let_out == 0 and self.taken_in == 0


@dataclass(frozen=True)
class ClothAnswer:
    """What can be done on one piece, mm.

    `slide` is how far the corrected piece is laid down along its grain, or up where negative;
    `lacking_in_place` what would lack at worst if it were not slid.
    """

    piece: str
    slide: float
    lacking_in_place: float
    edges: tuple[EdgeAnswer, ...]

    @property
    def possible(self) -> Possible:
        """Return what can be done on the piece as a whole: that of its worst edge."""
        order = (Possible.CAN, Possible.PARTLY, Possible.CANNOT)
        return max((edge.possible for edge in self.edges), key=order.index, default=Possible.CAN)

    @property
    def stays(self) -> bool:
        """Return whether no edge of the piece moves."""
        return all(edge.stays for edge in self.edges)

    def edge(self, name: str) -> EdgeAnswer:
        """Return the answer for an edge; raises NoSuchName with the edges there are."""
        for edge in self.edges:
            if edge.edge == name:
                return edge
        raise NoSuchName("edge", name, self.piece, tuple(edge.edge for edge in self.edges))


def compare_cloth(
    cloth: Polygon,
    old: Piece,
    new: Piece,
    stitched_down: Collection[str],
    least: float = LEAST,
    *,
    as_cut: Piece | None = None,
    lacked: Mapping[str, float] = NOTHING,
) -> ClothAnswer:
    """Return whether the corrected seam lines of a piece can be sewn on cut cloth, edge by edge.

    `cloth` is the outline as it is, mm, in the frame of the `old` piece. The `new` piece is laid on
    it with fold on fold and grain parallel, and slid along the grain to where the least is lacking,
    unless an edge of it is in `stitched_down` (`front.armhole`) and so holds it. A corrected line
    needs `least` mm of cloth around it, or as much as the old one had where that was less; a fold
    needs none and must not move.

    Of cloth that was altered since, `old` is the piece it was altered to; what is stitched down or
    folded still lies as in the piece `as_cut`, and `lacked` says by how much (mm, by edge) cloth
    lacked then, so that an edge lies that far inside of where `old` has it.
    """
    new = laid(new, old)
    first = old if as_cut is None else laid(as_cut, old)
    lying = lying_cloth(cloth, old, new)
    sewn = [edge for edge in new.edges if edge.name != new.fold]
    lines = {edge.name: PointLine.along(edge) for edge in sewn}
    needs = {e.name: need_of(lying, old, e, least, lacked.get(e.name, 0.0)) for e in sewn}
    fast = {name for name in new.edge_names if f"{new.name}.{name}" in stitched_down}
    sewn_as = {edge.name: first if edge.name in fast else old for edge in sewn}
    down = grain(old)

    def laid_at(slide: float) -> list[LaidEdge]:
        step = down * slide
        return [
            laid_edge(
                lying,
                sewn_as[edge.name],
                edge,
                lines[edge.name].moved(step),
                new.inward,
                needs[edge.name],
            )
            for edge in sewn
        ]

    def lacking(slide: float) -> float:
        return max(one.worst for one in laid_at(slide))

    slide = 0.0 if fast else best_slide(lacking, ENOUGH_CLOTH)
    found = {one.edge.name: one for one in laid_at(slide)}
    answers = [
        _fold_answer(first, new, edge)
        if edge.name == new.fold
        else _answer(found[edge.name], edge.name in fast)
        for edge in new.edges
    ]
    return ClothAnswer(new.name, slide, lacking(0.0), tuple(answers))


def _answer(one: LaidEdge, stitched: bool) -> EdgeAnswer:
    out, inside = _largest(one.moved), _largest(-one.moved)
    answer = EdgeAnswer(one.edge.name, one.edge.starts_at, Possible.CAN, None, out, inside)
    if stitched:
        if answer.stays:
            return answer
        low, high = _where(one, np.abs(one.moved) > UNCHANGED)
        return replace(
            answer,
            possible=Possible.CANNOT,
            reason=Reason.STITCHED_DOWN,
            lacking=max(out, inside),
            low=low,
            high=high,
            at_start=float(one.moved[0]),
            at_end=float(one.moved[-1]),
        )
    if one.worst <= ENOUGH_CLOTH:
        return replace(answer, lacking=one.worst)
    low, high = _where(one, one.lacking > UNCHANGED)
    had = np.where(one.moved > UNCHANGED, one.moved - one.lacking, -np.inf)
    nothing = inside == 0 and float(had.max()) < ENOUGH_CLOTH
    return replace(
        answer,
        possible=Possible.CANNOT if nothing else Possible.PARTLY,
        reason=Reason.CLOTH,
        lacking=one.worst,
        low=low,
        high=high,
        at_start=float(one.lacking[0]),
        at_end=float(one.lacking[-1]),
    )


def _largest(amounts: Lengths) -> float:
    largest = float(amounts.max())
    return largest if largest > UNCHANGED else 0.0


def _where(one: LaidEdge, mask: NDArray[np.bool_]) -> tuple[float, float]:
    sewn = one.line.sewn[mask]
    return float(sewn.min()), float(sewn.max())


def _fold_answer(old: Piece, new: Piece, edge: Edge) -> EdgeAnswer:
    """Return the answer for a fold: it can only stay, though it may be longer or shorter."""
    stays = EdgeAnswer(edge.name, edge.starts_at, Possible.CAN)
    cannot = replace(stays, possible=Possible.CANNOT, reason=Reason.FOLD, high=edge.length)
    if edge.name not in old.edge_names:
        return cannot
    moved = moves(PointLine.along(edge).points, old.edge(edge.name), new.inward)
    out, inside = _largest(moved), _largest(-moved)
    if not (out or inside):
        return stays
    return replace(cannot, let_out=out, taken_in=inside, lacking=max(out, inside))
