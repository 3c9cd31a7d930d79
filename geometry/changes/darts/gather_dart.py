"""gather-dart: leave a dart unsewn and gather what it took in between two places of its edge."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.measuring.gathered_seam import GatheredEdge, with_gathers
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import dart_edge_measures, find_edge_dart
from trueup.geometry.redrawing.marks import on_own_side
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit

_REACH = 40.0
"""Unless said, the gathers lie so far to either side of where the dart was, mm (common practice,
no source)."""

_ROUNDED = 15.0
"""The edge is drawn fair over so much beside the mouth at the least, mm."""


@kind("gather-dart")
class GatherDart(Change):
    """Leave a dart unsewn and gather its intake into the seam, between two places of its edge.

    The edge is drawn in one fair line over the mouth and gains about the intake. The gathers lie
    from `begins` to `ends`, both measured along the edge as it is sewn with the dart closed, 40 mm
    to either side of the dart unless said. Both places are marked, and the seam states that it
    holds what the edge gained there, neither more nor less. Where it sews one edge to one edge, the
    other is marked to match, and the seam is walked in sections from then on: what lies beside the
    gathers has to match by itself. So whatever eats the gathers later, or adds to them, is found.
    An edge that is sewn to nothing yet is only marked.

    Darts of one edge that are gathered one after the other are marked each by itself. A dart that
    is to be gathered elsewhere is turned there first with `rotate-dart`.
    """

    phrases = ("gather the dart",)

    dart: str = name("dart that is gathered, as piece.dart", of="dart")
    begins: Position | None = position(
        "where on the dart's edge the gathers begin, the dart closed", None, on=""
    )
    ends: Position | None = position("where they end", None, on="")

    def carried_out(self, draft: Draft) -> Draft:
        piece, edge, mouth = find_edge_dart(draft, self.dart)
        require_none_that_grows(draft, f"{piece.name}.{edge.name}")
        at = sum(part.length for part in edge.parts[: edge.darts.index(mouth.dart) + 1])
        low, high = self._between(edge, at)
        whole = _drawn_over(edge, mouth, at - low, high - at)
        gained = whole.length - edge.length
        changed = replace(
            piece.with_edges(whole),
            notches=tuple(on_own_side(notch, edge, whole, at) for notch in piece.notches),
        )
        _require_free_name(piece, edge, mouth.dart.name)
        require_sound(changed, mouth.dart.name, said("rotate-first"))
        gathered = GatheredEdge(Run(piece.name, edge.name), low, high, gained, mouth.dart.name)
        return with_gathers(draft, draft.with_pieces(changed), gathered)

    def _between(self, edge: Edge, at: float) -> tuple[float, float]:
        """Return from where to where along the edge, as sewn, the gathers lie, mm."""
        places = (self.begins, at - _REACH), (self.ends, at + _REACH)
        low, high = sorted(
            place.along(edge) if place else min(max(reach, 0.0), edge.length)
            for place, reach in places
        )
        if not low + SAME_POINT < at < high - SAME_POINT:
            dart = self.dart.partition(".")[2]
            reason = said("gathers-beside", dart=dart, at=at, corner=edge.starts_at)
            raise DoesNotFit(reason, said("another-place"), edge=edge.name)
        return low, high

    def in_words(self, unit: Unit) -> str:
        begins, ends = (f"{way} {at.in_words(unit)}" if at else "" for way, at in self._told())
        where = f" on the {self.side}" if self.side else ""
        return " ".join(filter(None, ("gather the dart", self.dart, begins, ends))) + where

    def _told(self) -> tuple[tuple[str, Position | None], ...]:
        return ("beginning", self.begins), ("ending", self.ends)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return (f"{self.dart}.intake",) if self.dart in draft.dart_names else ()

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return dart_edge_measures(draft, self.dart)


def _drawn_over(edge: Edge, mouth: Mouth, before_it: float, after_it: float) -> Edge:
    """Return the edge without a dart, in one fair line over where its mouth was.

    It stays as it is farther from the mouth than the gathers reach, mm.
    """
    index = edge.darts.index(mouth.dart)
    before, after = edge.parts[index], edge.parts[index + 1]
    rounded = max(mouth.intake, _ROUNDED)
    short = before.length - min(rounded, before_it, before.length / 2)
    far = min(rounded, after_it, after.length / 2)
    near, beyond = before.between(0.0, short), after.between(far, after.length)
    over = smooth_join(near.end, near.end_tangent, beyond.start, beyond.start_tangent)
    whole = Chain.joining([near, over, beyond])
    return replace(
        edge,
        parts=(*edge.parts[:index], whole, *edge.parts[index + 2 :]),
        darts=(*edge.darts[:index], *edge.darts[index + 1 :]),
    )


def _require_free_name(piece: Piece, edge: Edge, mark: str) -> None:
    taken = {notch.name for notch in piece.notches if notch.edge == edge.name}
    if taken & {f"{mark}-from", f"{mark}-to"}:
        raise DoesNotFit(said("name-is-taken", name=f"{mark}-from"), said("name-another-dart"))
