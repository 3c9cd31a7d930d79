"""true-line: lengthen or shorten a line at one of its ends, so that its seam comes out even."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.measuring.measures import seam_measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import (
    end_carried,
    end_cut,
    end_motion,
    evenly,
    start_carried,
    start_cut,
    start_motion,
)
from trueup.geometry.said import said


@kind("true-line")
class TrueLine(ByAmount):
    """Lengthen or shorten a line at one of its ends, so that the seam it is sewn by comes out even.

    Without an amount, the line becomes as long as the one it is sewn to, or as near as the seam
    allows; with one it becomes longer by exactly that, or shorter by a negative amount. It is drawn
    on, or cut, along itself; the line that meets it there is redrawn up to its new end, at the
    angle it had, and fades to nothing at its own other end. Without a corner it is done at the
    lower end, where a hem can take it up (common practice, no source).
    """

    about = "line"
    fair = True
    phrases = ("true the edge",)

    edge: str = name("line that is trued, such as front-side.princess", of="edge")
    at: str | None = name("corner at which it is done; the lower one unless given", None)
    by: float | None = length(
        "how much longer the line becomes; what is missing unless given", None, low=-300, high=300
    )

    def wanted(self, draft: Draft) -> float:
        return true_line_amount(draft, self.edge) if self.by is None else self.by

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (draft.piece(piece),)

    def on(self, piece: Piece, by: float) -> Piece:
        line = piece.edge(self.edge.partition(".")[2])
        before, after = piece.neighbours(line.name)
        if piece.fold == line.name:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=line.name)
        if self._corner(line) == line.ends_at:
            trued = end_cut(line, -by)
            met = start_carried(after, end_motion(line, trued), trued.end, evenly)
        else:
            trued = start_cut(line, -by)
            met = end_carried(before, start_motion(line, trued), trued.start)
        return piece.with_edges(trued, met)

    def _corner(self, line: Edge) -> str:
        corners = (line.starts_at, line.ends_at)
        if self.at is None:
            return corners[line.end.imag > line.start.imag]
        if self.at not in corners:
            raise NoSuchName("corner", self.at, line.name, corners)
        return self.at

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    @property
    def trues(self) -> bool:
        return self.by is None

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return tuple(seam_measure(seam.name) for seam in _seams_of(draft, self.edge))


def true_line_amount(draft: Draft, edge: str) -> float:
    """Return how much longer a line must become for its seam to come out even, mm.

    Where the seam allows some ease, the nearest allowed one is aimed at. Raises NoSuchName when the
    draft lacks the edge, DoesNotFit when it is sewn to nothing.
    """
    piece, name = draft.split_edge_name(edge)
    seams = _seams_of(draft, edge)
    if not seams:
        reason, possible = said("sewn-to-nothing", edge=name), said("give-amount")
        raise DoesNotFit(reason, possible, piece=piece, edge=name)
    seam = seams[0]
    excess = seam.allowed.excess(walk(draft, seam).ease)
    return excess if _has(seam.mate, piece, name) else -excess


def _seams_of(draft: Draft, edge: str) -> list[Seam]:
    piece, _, name = edge.partition(".")
    return [seam for seam in draft.seams if _has(seam.runs, piece, name)]


def _has(runs: tuple[Run, ...], piece: str, edge: str) -> bool:
    return any((run.piece, run.edge) == (piece, edge) for run in runs)
