"""add-zip: leave a seam open for a zip, with an allowance for it and a notch where it stops."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.measuring.open_seams import require_on_both
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT
from trueup.geometry.units import Unit, format_length

ZIP_ALLOWANCE = 19.05
"""3/4 in at a seam that takes a zip, as published by a school of sewing."""


@kind("add-zip")
class AddZip(Change):
    """Leave a seam open from its upper end for a zip, down to a stop that is notched.

    The edge, and the edge it is sewn to, are cut with an allowance of 3/4 in (19 mm) from end to
    end, as published for a seam that takes a zip. The stop is notched on both, so far from the end
    at which the zip begins; below it the seam is sewn. An edge on the fold is opened first.
    """

    phrases = ("leave open for a zip",)

    edge: str = name("edge of the seam that takes the zip, as piece.edge", of="edge")
    opening: float = length("how long the opening is", low=30, high=1500)
    allowance: float = length("cut outside the seam line", ZIP_ALLOWANCE, low=3, high=60)
    begins: str | None = name("corner at which it begins, the upper one unless given", None)
    name: str = free_text("what the stop is called", "zip-stop")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        for run, corner in self._opened(draft):
            piece, edge = draft.piece(run.piece), draft.edge(run.piece, run.edge)
            if piece.fold == edge.name:
                reason = said("lies-on-fold")
                raise DoesNotFit(reason, said("open-it-first"), run.piece, run.edge)
            if self.opening > edge.length - SHORTEST_LEFT:
                reason = said("edge-only", edge=edge.name, length=edge.length)
                most = edge.length - SHORTEST_LEFT
                raise DoesNotFit(reason, said("use-at-most", by=most), run.piece, run.edge, most)
            if any((n.name, n.edge) == (self.name, edge.name) for n in piece.notches):
                reason = said("name-is-taken", name=self.name)
                raise DoesNotFit(reason, said("another-name"), run.piece, run.edge)
            notch = Notch(self.name, edge.name, Position(corner, distance=self.opening))
            changed = allowed(piece.with_notches(notch), {edge.name: self.allowance})
            draft = draft.with_pieces(changed)
        return draft

    def _opened(self, draft: Draft) -> tuple[tuple[Run, str], ...]:
        """Return the edges that are left open, each with the corner at which the zip begins."""
        own = Run(*draft.split_edge_name(self.edge))
        edge = draft.edge(own.piece, own.edge)
        corner = self.begins or _upper(edge)
        # Held to be an end of the edge, before it is asked about the mate.
        Position(corner, distance=0.0).along(edge)
        found = [(own, corner)]
        for seam in draft.seams:
            if any((run.piece, run.edge) == (own.piece, own.edge) for run in seam.runs):
                require_on_both(seam, self.side)
                if len(seam.side) > 1 or len(seam.mate) > 1:
                    raise DoesNotFit(said("seam-of-several", seam=seam.name), said("another-edge"))
                found += _mate(draft, seam, own, corner)
        # A seam to the mirror has one line on both its sides.
        return tuple(dict.fromkeys(found))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(allowance_measure(run.piece, run.edge) for run, _ in self._opened(draft))

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        begins = f" from {self.begins}" if self.begins else ""
        long = format_length(self.opening, unit)
        return f"leave {self.edge} open for a zip of {long}{begins} ({self.name}){side}"


def _upper(edge: Edge) -> str:
    return edge.starts_at if edge.start.imag < edge.end.imag else edge.ends_at


def _mate(draft: Draft, seam: Seam, own: Run, corner: str) -> list[tuple[Run, str]]:
    """Return the edge that an edge is sewn to in a seam, with the corner that meets a corner."""
    mine, theirs = seam.side[0], seam.mate[0]
    if (mine.piece, mine.edge) != (own.piece, own.edge):
        mine, theirs = theirs, mine
    edge, other = (draft.edge(run.piece, run.edge) for run in (mine, theirs))
    at_beginning = corner == (edge.ends_at if mine.backwards else edge.starts_at)
    return [(theirs, other.starts_at if at_beginning != theirs.backwards else other.ends_at)]
