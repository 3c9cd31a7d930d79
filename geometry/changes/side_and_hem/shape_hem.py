"""shape-hem: shirt-tail and curved hems, hems that dip behind, and steps between front and back."""

from dataclasses import replace
from enum import StrEnum
from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.measuring.measures import seam_measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.bodice import BODICE
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hems.hem_shape import HEM, HemShape, shaped_hem, side_and_centre
from trueup.geometry.said import said
from trueup.geometry.tolerance import UNCHANGED

_REACH = 2 / 3


class HemLine(StrEnum):
    """How a shaped hem runs."""

    SHIRT_TAIL = "shirt-tail"
    ROUND = "round"


@kind("shape-hem")
class ShapeHem(ByAmount):
    """Raise a hem at the side, lower it at the centre, or let one piece hang longer: a shaped hem.

    `rise` is how far it is raised at the side, along the side; `dip` how far it is lowered at the
    centre, along that; `longer` how much longer the piece is all along. A negative amount is the
    reverse. As a shirt-tail the hem sets out from the side at the angle it had, so that it runs on
    from front to back, and bends down and back again on its way to its level at the centre; round,
    it is one even bend, which meets the side aslant. It comes to that level within `reach` of the
    side, two thirds of the hem for a shirt-tail and all of it for a round one. Darts in the hem are
    closed meanwhile.

    Made on front and back alike, side seams that matched still match. Made on one of them, its side
    becomes longer or shorter than the one it is sewn to, and that is meant: the seam may and must
    differ by as much more. A shirt-tail rises 60 mm to 120 mm, and dips 20 mm to 40 mm behind; a
    back is 20 mm to 50 mm longer than the front over a vent (common practice, no source).
    """

    about = HEM
    phrases = ("shape the hem",)
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True

    rise: float = length("how far it is raised at the side", 0.0, low=-500, high=500)
    dip: float = length("how far it is lowered at the centre", 0.0, low=-500, high=500)
    longer: float = length("how much longer the piece is all along", 0.0, low=-500, high=500)
    shape: str = name(
        "how it runs",
        HemLine.SHIRT_TAIL,
        choices=tuple(HemLine),
        says={HemLine.SHIRT_TAIL: "as a shirt tail", HemLine.ROUND: "as a round hem"},
    )
    reach: float | None = length(
        "how far from the side it comes to its level at the centre", None, low=20, high=2000
    )
    piece: str = name("what is shaped, front and back alike unless said", BODICE, of="piece")

    def __post_init__(self) -> None:
        if not (self.rise or self.dip or self.longer):
            raise BadParameter("rise", "0 mm", said("changes-nothing"))

    @property
    def _leading(self) -> str:
        """Return the amount that is told in a refusal: the first that is given."""
        return next(each for each in ("rise", "dip", "longer") if getattr(self, each))

    def wanted(self, draft: Draft) -> float:
        for piece in self.pieces(draft):
            side_and_centre(piece)
        amount: float = getattr(self, self._leading)
        return amount

    def on(self, piece: Piece, by: float) -> Piece:
        amounts = {"rise": self.rise, "dip": self.dip, "longer": self.longer, self._leading: by}
        at_side, at_centre = (
            amounts["longer"] - amounts["rise"],
            amounts["longer"] + amounts["dip"],
        )
        return shaped_hem(piece, at_side, at_centre, self._shape(piece))

    def _shape(self, piece: Piece) -> HemShape:
        across = self.shape == HemLine.SHIRT_TAIL
        reach = self.reach
        if reach is None and across:
            reach = _REACH * piece.edge(HEM).length
        return HemShape(across, reach)

    def made(self, draft: Draft, by: float) -> Draft:
        after = super().made(draft, by)
        for piece in self.pieces(draft):
            after = _as_meant(draft, after, piece)
            if self.shape == HemLine.ROUND:
                after = _turning_at_side(after, piece)
        return after

    def meant(self, draft: Draft) -> tuple[str, ...]:
        pieces = self.pieces(draft)
        sides = [(piece.name, piece.neighbours(HEM)) for piece in pieces]
        return tuple(f"{piece}.{edge.name}" for piece, beside in sides for edge in beside)

    def drawn(self, draft: Draft) -> tuple[str, ...]:
        if not (self.rise or self.dip):
            return ()
        return tuple(line_of(f"{piece.name}.{HEM}") for piece in self.pieces(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        pieces = self.pieces(draft)
        sides = {(piece.name, piece.neighbours(HEM)[0].name) for piece in pieces}
        return tuple(seam_measure(seam.name) for seam in draft.seams if _sews(seam, sides))


def _sews(seam: Seam, edges: set[tuple[str, str]]) -> bool:
    return any((run.piece, run.edge) in edges for run in seam.runs)


def _as_meant(before: Draft, after: Draft, piece: Piece) -> Draft:
    """Return a draft whose side seams may differ by as much more as they were made to."""
    side = piece.neighbours(HEM)[0]
    for seam in before.seams:
        by = walk(after, seam).ease - walk(before, seam).ease
        if _sews(seam, {(piece.name, side.name)}) and abs(by) > UNCHANGED:
            after = after.with_seam(replace(seam, allowed=seam.allowed.moved(by, by)))
    return after


def _turning_at_side(draft: Draft, piece: Piece) -> Draft:
    """Return a draft in which the hem of a piece need not run on at the side."""
    place = (piece.name, HEM, piece.edge(HEM).starts_at)
    return replace(draft, joins=tuple(j for j in draft.joins if place not in (j.first, j.second)))
