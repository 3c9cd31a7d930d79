"""puff-hem: spread a sleeve at its hem and let that dip at the back, to be gathered into a cuff."""

from dataclasses import replace
from typing import Any, cast

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, position
from trueup.geometry.changes.gathering import (
    gathers_asked,
    least_gathered,
    most_gathered,
    require_whole,
    slash_count,
)
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import require_none_that_grows
from trueup.geometry.lines.points import unit
from trueup.geometry.measuring.gathers import held_gathered
from trueup.geometry.measuring.measures import seams_sewing
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import largest_amount
from trueup.geometry.redrawing.sleeves.puffed import swollen
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.redrawing.turning.slashes import HEM
from trueup.geometry.redrawing.turning.strips import Strips, strips_from
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT
from trueup.geometry.units import Unit, format_length

_FROM_END = 0.1
"""A dip nearer to a seam than this share of the hem would lie on the seam."""

_TRIES = 12
_NEARER = 1e-6


@kind("puff-hem")
class PuffHem(ByAmount):
    """Spread a sleeve at its hem, and let that dip at the back, to be gathered into a cuff.

    It is slashed evenly from the hem to the cap, where the cloth stays whole; the strips are turned
    about those places, and the sleeve is laid so that the ends of its hem lie level as they did.
    The hem then dips by so much at its lowest, a third of the way from the back seam or where
    it is told to, and comes up evenly to both seams: so the cloth falls over the cuff where the
    elbow bends. In all the hem becomes longer by exactly the amount; every other edge keeps its
    length, to a fifth of a millimetre, and the hem runs on across the sleeve seam as it did.

    A seam that sews the hem asks for the gathers, from the `least` to the `most`, a tenth to either
    side of the amount unless given. A cuff that was drafted to it keeps its length; one that is
    drafted later is told how much is gathered into it. A bishop sleeve dips by 25 mm to 40 mm (from
    memory).
    """

    about = HEM
    fair = True
    leaves_cloth = True
    phrases = ("puff the sleeve hem",)

    by: float = length("how much longer the hem becomes, to be gathered", low=1, high=2000)
    dip: float = length("how much lower the hem lies at the back", 0.0, low=0, high=150)
    at: Position = position(
        "where along the hem it lies lowest", Position("hem-back", share=0.35), on="hem"
    )
    slashes: float = slash_count(4)
    least: float | None = least_gathered()
    most: float | None = most_gathered()

    def __post_init__(self) -> None:
        require_whole(self.slashes)
        gathers_asked(self.by, self.least, self.most)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def carried_out(self, draft: Draft) -> Draft:
        require_none_that_grows(draft, f"{SLEEVE}.{HEM}")
        try:
            puffed = super().carried_out(draft)
        except DoesNotFit as refusal:
            raise self._of_dip(draft, refusal) from refusal
        asked = gathers_asked(self.by, self.least, self.most)
        return held_gathered(draft, puffed, f"{SLEEVE}.{HEM}", self.by, asked)

    def _of_dip(self, draft: Draft, refusal: DoesNotFit) -> DoesNotFit:
        """Return a refusal with how far the hem could dip, where its dip does not fit."""

        def with_dip(dip: float) -> Draft:
            less: PuffHem = replace(cast(Any, self), dip=dip)
            return less._held(draft, less.made(draft, less.wanted(draft)))

        most = largest_amount(with_dip, self.dip) if self.dip else None
        if most is None:
            return refusal
        reason = said("with-dip", refusal.reason, dip=self.dip)
        return DoesNotFit(reason, said("dip-at-most", dip=most), edge=HEM)

    def wanted(self, draft: Draft) -> float:
        sleeve = draft.piece(SLEEVE)
        self._slashed(sleeve)
        self._dip_alone(sleeve, self.by)
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        slashed, hem = self._slashed(piece), piece.edge(HEM)
        alone = self._dip_alone(piece, by)
        spread = by - alone
        for _ in range(_TRIES):
            puffed = self._dipped(slashed.spread_with_marks(spread))
            grown = puffed.edge(HEM).length - hem.length
            if abs(grown - by) < _NEARER:
                break
            # A longer hem gains less by its dip.
            spread += by - grown
        return puffed

    def _dip_alone(self, sleeve: Piece, by: float) -> float:
        """Return by how much the dip makes the hem longer by itself, mm, less than `by`."""
        alone = self._dipped(sleeve).edge(HEM).length - sleeve.edge(HEM).length
        if alone > by - SHORTEST_LEFT:
            raise DoesNotFit(said("dips-by-itself", by=alone), said("dip-less"), edge=HEM)
        return alone

    def _slashed(self, sleeve: Piece) -> Strips:
        hem = sleeve.edge(HEM)
        return strips_from(sleeve, HEM, int(self.slashes), (0.0, hem.length))

    def _dipped(self, sleeve: Piece) -> Piece:
        hem = sleeve.edge(HEM)
        lowest = self.at.along(hem)
        if not _FROM_END * hem.length < lowest < (1 - _FROM_END) * hem.length:
            raise DoesNotFit(said("dip-at-seam"), said("away-from-seams"), edge=HEM)
        down = -unit(hem.end - hem.start) * sleeve.inward
        return swollen(sleeve, HEM, (0.0, hem.length), lowest, down * self.dip)

    def in_words(self, unit: Unit) -> str:
        by, dip = (format_length(each, unit) for each in (self.by, self.dip))
        lower = f", dipped by {dip} at the back" if self.dip else ""
        side = f" on the {self.side}" if self.side else ""
        return f"puff the sleeve hem by {by}{lower}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.{HEM}",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return seams_sewing(draft, f"{SLEEVE}.{HEM}")
