"""lay-pleats: lay cloth in knife, box or inverted pleats from one edge to another."""

from collections.abc import Iterator
from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import (
    free_text,
    length,
    name,
    number,
    position,
    require_new_name,
)
from trueup.geometry.errors import BadParameter, DoesNotFit, NoSuchName
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece, Pleat, PleatStyle
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.folding import require_room
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length

_MOST = 30


@kind("lay-pleats")
class LayPleats(Change):
    """Lay cloth in pleats that run straight from a place on one edge to a place on another.

    The cloth of a knife pleat, twice its depth, lies under that beside its line; that of a box
    pleat, whose two folds look away from each other, and of an inverted one, whose two folds meet,
    is twice as much. The piece goes on as it is sewn, its pleats laid: no edge is longer for them,
    seams walk, widths and allowances are as before, and steps that follow are made on it so. Only
    the cloth is cut with every pleat open, on sheets, in drawings and garments, its rims as those
    of paper that was folded and cut; each fold is drawn with the line on which it is laid, and how
    far they are stitched down. At the other edge the pleats lie in their folds and are left open.

    Pleats run straight down the grain unless it is said where they end, and alike in depth all the
    way. A box or an inverted pleat at the fold of the piece, `0mm` from it, is that of its centre.
    All pleats of a piece run between the same two edges. 15 mm to 30 mm deep are usual, and a knife
    pleat that is as deep as it is wide lies on the next (common practice, no source).
    """

    of_parts: ClassVar[bool] = True
    phrases = ("lay pleats",)

    edge: str = name("edge on which they begin, such as skirt-front.waist", of="edge")
    at: Position = position("where along that edge the first one lies", on="edge")
    depth: float = length("how deep each fold is", low=3, high=300)
    style: str = name("how they are laid", PleatStyle.KNIFE, choices=tuple(PleatStyle))
    count: float = number("how many there are", 1, low=1, high=_MOST)
    spacing: float | None = length(
        "how far each lies from the one before, onwards from the corner", None, low=1, high=2000
    )
    ends: str = name("edge of the piece to which they run", "hem")
    ends_at: Position | None = position(
        "where along that edge the first one ends; straight down unless given", None, on="ends"
    )
    towards: str | None = name(
        "corner of the edge to which the folds of knife pleats look; away from the one they are "
        "measured from unless given",
        None,
    )
    stitched: float = length("how far down they are stitched", 0.0, low=0, high=2000)
    name: str = free_text("what they are called; numbered where there are several", "pleat")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)
        if self.count != int(self.count):
            raise BadParameter("count", f"{self.count:g}", said("whole-number"))
        if self.count > 1 and self.spacing is None:
            raise BadParameter("spacing", "left out", said("pleats-need-spacing"))
        if self.towards and self.style != PleatStyle.KNIFE:
            raise BadParameter("towards", self.towards, said("only-knife-looks"))

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, _ = draft.split_edge_name(self.edge)
        parts = draft.parts_of(piece_name)
        if len(parts) > 1:
            reason = said("is-cut-apart", parts=", ".join(part.name for part in parts))
            raise DoesNotFit(reason, said("name-a-part"))
        (piece,) = parts
        fresh = tuple(self._pleats(piece))
        taken = {*piece.dart_names, *(pleat.name for pleat in piece.pleats)}
        for pleat in fresh:
            if pleat.name in taken:
                raise DoesNotFit(said("name-is-taken", name=pleat.name), said("another-name"))
        pleated = replace(piece, pleats=(*piece.pleats, *fresh))
        require_room(pleated)
        return draft.with_pieces(pleated)

    def _pleats(self, piece: Piece) -> Iterator[Pleat]:
        """Yield the pleats, each measured from the corner from which the first one is."""
        upper, lower = piece.edge(self.edge.partition(".")[2]), piece.edge(self.ends)
        self._require_edges(piece, upper, lower)
        first, style = self._from_corner(upper, self.at), PleatStyle(self.style)
        from_start = self.at.corner == upper.starts_at
        towards = self._towards(upper) if style is PleatStyle.KNIFE else ""
        beside = lower.ends_at if from_start else lower.starts_at
        ends = None if self.ends_at is None else self._from_corner(lower, self.ends_at)
        for number_, named in enumerate(self._names()):
            step = number_ * (self.spacing or 0.0)
            at = Position(self.at.corner, distance=first + step)
            if ends is None or self.ends_at is None:
                ends_at = Position(beside, distance=_below(piece, upper, lower, at, beside))
            else:
                ends_at = Position(self.ends_at.corner, distance=ends + step)
            line = (upper.name, at, lower.name, ends_at)
            yield Pleat(named, *line, self.depth, style, towards, self.stitched)

    def _names(self) -> tuple[str, ...]:
        if self.count == 1:
            return (self.name,)
        return tuple(f"{self.name}-{each}" for each in range(1, int(self.count) + 1))

    def _require_edges(self, piece: Piece, upper: Edge, lower: Edge) -> None:
        if upper.name == lower.name:
            raise DoesNotFit(said("line-on-one-edge"), said("two-edges"), edge=upper.name)
        for edge in (upper, lower):
            if edge.name == piece.fold:
                raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=edge.name)

    def _from_corner(self, edge: Edge, at: Position) -> float:
        """Return how far from its corner a position lies, mm; raises as `Position.along`."""
        along = at.along(edge)
        return along if at.corner == edge.starts_at else edge.length - along

    def _towards(self, upper: Edge) -> str:
        corners = (upper.starts_at, upper.ends_at)
        if self.towards is None:
            return corners[self.at.corner == upper.starts_at]
        if self.towards not in corners:
            raise NoSuchName("corner", self.towards, upper.name, corners)
        return self.towards

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def in_words(self, unit: Unit) -> str:
        many = self.count > 1
        what = f"{self.style} pleat{'s' if many else ''}"
        apart = f", {format_length(self.spacing, unit)} apart" if many and self.spacing else ""
        deep = format_length(self.depth, unit)
        down = f", stitched down {format_length(self.stitched, unit)}" if self.stitched else ""
        side = f" on the {self.side}" if self.side else ""
        article = "an" if self.style == PleatStyle.INVERTED else "a"
        return (
            f"lay {f'{self.count:g}' if many else article} {what}, {deep} deep, in {self.edge}, "
            f"{self.at.in_words(unit)}{apart}, to the {self.ends}{down}{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        piece = self.edge.partition(".")[0]
        return tuple(f"{piece}.{named}.intake" for named in self._names())

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        piece = self.edge.partition(".")[0]
        return (f"{self.edge}.laid-open", f"{piece}.{self.ends}.laid-open")


def _below(piece: Piece, upper: Edge, lower: Edge, at: Position, corner: str) -> float:
    """Return how far from a corner of the lower edge it lies straight down from a place, mm.

    That is along the grain. A pleat at the fold of the piece runs along it.
    """
    station = at.along(upper)
    start = upper.point_at(station)
    grain = piece.grainline
    down = unit(grain.end - grain.start) if grain and grain.end != grain.start else 1j
    if min(station, upper.length - station) < SAME_POINT:
        return 0.0
    done, met = 0.0, list[tuple[float, float]]()
    for part in lower.parts:
        for length_ in part.crossings(start, down):
            ahead = _ahead(part.point_at(length_) - start, down)
            if ahead > SAME_POINT:
                met.append((ahead, done + length_))
        done += part.length
    if not met:
        reason = said("pleat-misses", edge=str(at), other=lower.name)
        raise DoesNotFit(reason, said("give-pleat-end"), edge=upper.name)
    along = min(met)[1]
    return along if corner == lower.starts_at else lower.length - along


def _ahead(way: Point, down: complex) -> float:
    return (way * down.conjugate()).real
