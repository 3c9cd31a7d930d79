"""reduce-ease: make a garment narrower by a share of its width, for cloth that stretches."""

from dataclasses import replace
from typing import cast

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, number
from trueup.geometry.changes.knits.other_kinds import made, of_kind
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM, measure
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.bodice import bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.tolerance import SEAM
from trueup.geometry.units import Unit, format_length

_MOST_IN_CAP = 19.0
"""What the cap of a knit holds at most: 0.5 to 0.75 in, often nothing (published on sewing pages as
the range for knits and sweaters)."""


@kind("reduce-ease")
class ReduceEase(ByAmount):
    """Make a garment narrower by a share of its width, so that a knit stretches to the body.

    Front and back each lose the share of their width at the bust, or at the hip where there is
    none, at the side, which moves in as it is: so sides still match, and the garment may become
    narrower than the body. A block that holds 12 cm of ease round a bust of 88 cm is as wide as the
    body with a share of 0.12. Necks and shoulders stay.

    A sleeve set into it is refitted so that its cap holds `cap` of ease, none unless given, and its
    seam may hold 19 mm at most from then on. Darts are in the way of much: take them out first. How
    far a cloth stretches with comfort is tried on the cloth, not worked out here.
    """

    about = "side"
    fair = True
    leaves_cloth = True
    phrases = ("reduce the ease",)

    share: float = number(
        "how much of its width it loses, such as 0.12 for 12 per cent", low=0.01, high=0.4
    )
    cap: float = length("ease that the sleeve cap holds", 0.0, low=0, high=_MOST_IN_CAP)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return bodice_pieces(draft)

    def wanted(self, draft: Draft) -> float:
        return -2 * self.share * sum(measure(draft, each) for each in self.meant(draft))

    def made(self, draft: Draft, by: float) -> Draft:
        widths = [measure(draft, each) for each in self.meant(draft)]
        girth = 2 * sum(widths)
        narrower = draft.with_pieces(
            *(
                self._on(piece, by * width / girth)
                for piece, width in zip(self.pieces(draft), widths, strict=True)
            )
        )
        return self._with_cap(narrower)

    def on(self, piece: Piece, by: float) -> Piece:
        let_out = cast(ByAmount, of_kind("add-ease", by=1.0))
        return let_out.on(piece, 4 * by)

    def _with_cap(self, draft: Draft) -> Draft:
        if not any(seam.shared_name == CAP_SEAM for seam in draft.seams):
            return draft
        seam = draft.seam(CAP_SEAM)
        stated = draft.with_seam(replace(seam, allowed=Band(0.0, _MOST_IN_CAP, SEAM), sections=()))
        if not draft.has_piece(SLEEVE):
            return stated
        return made(stated, "refit-cap", to=self.cap)

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        cap = f", with {format_length(self.cap, unit)} in the cap" if self.cap else ""
        return f"reduce the ease by {self.share * 100:g}% of the width{cap}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        pieces = self.pieces(draft)
        level = "bust" if any(piece.has_level("bust") for piece in pieces) else "hip"
        return tuple(f"{piece.name}.{level}-width" for piece in pieces)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        armholes = (f"{p.name}.armhole" for p in self.pieces(draft) if "armhole" in p.edge_names)
        return (*armholes, *((CAP_EASE,) if draft.has_piece(SLEEVE) else ()))
