"""flare-seam: let out both sides of a seam alike, from a place on down to the hem."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.hems.let_out_below import (
    HEM,
    hem_corner,
    let_out_below,
    require_room,
)
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("flare-seam")
class FlareSeam(ByAmount):
    """Let out both sides of a seam alike, from a place on an edge down to the hem.

    Each edge that the seam sews moves out by the amount at the hem, square to itself, so that the
    hem of both together becomes wider by about twice as much. It leaves its old line at the place,
    bends away over the upper half of the way down and runs straight on from there; the edge on the
    other side of the seam leaves its own as far above the hem. A negative amount takes the seam in.

    Every edge keeps its length, so a seam that matched still matches; the hem is drawn up to it at
    the angle it had. So flare comes into a side seam, into the seams of a princess line or of a
    gored skirt; an edge that no seam sews, as a centre back cut as a pair, is let out by itself.
    """

    about = "hem"
    fair = True
    leaves_cloth = True
    of_parts: ClassVar[bool] = True
    phrases = ("let out the seam", "take in the seam")

    edge: str = name("edge that is let out, such as skirt-front.side", of="edge")
    at: Position = position("where along that edge it begins to flare", on="edge")
    by: float = length("how far each edge moves out at the hem", low=-300, high=600, zero=False)

    def wanted(self, draft: Draft) -> float:
        reach = self._reach(draft)
        for piece, edge in self._edges(draft):
            require_room(draft.piece(piece), edge, reach)
        if reach < abs(self.by):
            raise DoesNotFit(said("flares-too-fast", reach=reach), said("higher-place"))
        return self.by

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        names = dict.fromkeys(piece for piece, _ in self._edges(draft))
        return tuple(map(draft.piece, names))

    def made(self, draft: Draft, by: float) -> Draft:
        reach = self._reach(draft)
        for piece, edge in self._edges(draft):
            draft = draft.with_pieces(let_out_below(draft.piece(piece), edge, reach, by))
        return draft

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.edge.partition(".")
        return piece, edge

    def _reach(self, draft: Draft) -> float:
        """Return how far above the hem it begins, mm."""
        piece, edge = draft.split_edge_name(self.edge)
        own = draft.edge(piece, edge)
        along = self.at.along(own)
        at_start = hem_corner(draft.piece(piece), edge) == own.starts_at
        return along if at_start else own.length - along

    def _edges(self, draft: Draft) -> list[tuple[str, str]]:
        """Return the edge with those that are sewn to it at the hem, each once.

        Of a piece that was cut it is that of the part which has its lower end.
        """
        piece, edge = draft.split_edge_name(self.edge)
        corner = hem_corner(draft.piece(piece), edge)
        parts = (part for part in draft.parts_of(piece) if edge in part.edge_names)
        part = next(p for p in parts if corner in (p.edge(edge).starts_at, p.edge(edge).ends_at))
        down = corner == part.edge(edge).ends_at
        own = (part.name, edge)
        sewn = (each for seam in draft.seams for each in _sewn_to(seam, *own, down=down))
        return [*dict.fromkeys((own, *sewn))]

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        does, by = self.phrases[self.by < 0], format_length(abs(self.by), unit)
        return f"{does} {self.edge} by {by} at the hem, beginning {self.at.in_words(unit)}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.{HEM}" for piece in self.pieces(draft))


def _sewn_to(seam: Seam, piece: str, edge: str, *, down: bool) -> Iterator[tuple[str, str]]:
    """Yield the edge that a seam sews to the lower end of another."""
    for runs, others in ((seam.side, seam.mate), (seam.mate, seam.side)):
        for index, run in enumerate(runs):
            if (run.piece, run.edge) != (piece, edge):
                continue
            last = down != run.backwards
            if index == (len(runs) - 1 if last else 0):
                mate = _end(others, last=last)
                yield mate.piece, mate.edge


def _end(runs: Sequence[Run], *, last: bool) -> Run:
    return runs[-1 if last else 0]
