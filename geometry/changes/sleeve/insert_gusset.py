"""insert-gusset: slash a sleeve cut in one with the bodice under the arm, and set in a diamond."""

import math
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.sleeves.gusset import (
    LOWER,
    UPPER,
    gusset,
    lies_inside,
    slashed,
    wedge,
)
from trueup.geometry.redrawing.sleeves.in_one import SIDE, UNDERARM
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_FARTHEST = 60.0
"""A slash begins no farther from the corner on underarm and side (no source)."""


@kind("insert-gusset")
class InsertGusset(Change):
    """Slash front and back under the arm, and set in a gusset that lets the arm be lifted.

    Both are slashed from the corner at which underarm and side meet, half way between the two, into
    the cloth. The legs of each slash are sewn `by` long; beside the corner each has `seam` of cloth
    to be sewn, which runs to nothing at the point. So they begin on underarm and side a little way
    from the corner, as far in front as behind, and both seams are shorter by that. The gusset is a
    diamond whose four sides are as long as the legs, `wide` from the arm to the side: two are sewn
    to the front, two to the back, all even.

    A slash of 80 mm to 110 mm and a gusset of 80 mm to 110 mm are usual; its grain runs from point
    to point, and the points are strengthened before they are cut (common practice, no source).
    """

    phrases = ("insert a gusset",)

    by: float = length("how long each side of the gusset is", 90.0, low=20, high=250)
    wide: float = length("how wide the gusset is, from the arm to the side", 90.0, low=5, high=400)
    seam: float = length(
        "how much cloth is sewn beside the slash where it begins", 5.0, low=3, high=15
    )
    name: str = free_text("what the gusset is called", "gusset")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        if draft.has_piece(self.name):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        if self.wide >= 2 * self.by:
            reason = said("gusset-wider", wide=self.wide, by=self.by)
            raise DoesNotFit(reason, said("narrower-than", by=2 * self.by), FRONT, UNDERARM)
        narrower = min(wedge(draft.piece(name)) for name in (FRONT, BACK))
        back = self.seam / math.sin(math.radians(narrower) / 2)
        if back > _FARTHEST:
            reason = said("slash-begins-far", by=back, most=_FARTHEST)
            raise DoesNotFit(reason, said("slope-less"), FRONT, UNDERARM)
        return or_furthest(lambda by: self._inserted(draft, by, back), self.by)

    def _inserted(self, draft: Draft, by: float, back: float) -> Draft:
        halves = [self._slashed(draft.piece(name), by, back) for name in (FRONT, BACK)]
        diamond = gusset(self.name, by, min(self.wide, 1.9 * by))
        stated = dict(halves[0].allowances).get(SIDE)
        if stated is not None:
            given = tuple((edge, stated) for edge in diamond.edge_names)
            diamond = replace(diamond, allowances=given)
        changed = draft.with_pieces(*halves)
        seams = (
            *draft.seams,
            *(self._seam(name, edge) for name in (FRONT, BACK) for edge in _LEGS),
        )
        return replace(changed, pieces=(*changed.pieces, diamond), seams=seams)

    def _slashed(self, piece: Piece, by: float, back: float) -> Piece:
        if by <= back:
            raise DoesNotFit(said("slash-shorter", seam=back), None, piece.name, UNDERARM)
        after = slashed(piece, by, back)
        if not lies_inside(piece, after):
            raise DoesNotFit(said("slash-not-clear"), None, piece.name, UNDERARM)
        return after

    def _seam(self, piece: str, edge: str) -> Seam:
        """Return a seam of the gusset, from the corner to the point of the slash."""
        own = f"{piece}-{_LEGS[edge]}"
        # Round the gusset, its sides run to the point of the front, and away from that of the back.
        to_point = (piece == FRONT) == (edge == LOWER)
        return Seam(
            f"{self.name}-{own}-seam",
            (Run(piece, edge, backwards=edge == LOWER),),
            (Run(self.name, own, backwards=not to_point),),
        )

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return FRONT, UNDERARM

    def in_words(self, unit: Unit) -> str:
        by, wide = format_length(self.by, unit), format_length(self.wide, unit)
        side = f" on the {self.side}" if self.side else ""
        return f"insert a gusset, its sides {by} long, {wide} wide ({self.name}){side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return tuple(f"{name}.{edge}" for name in (FRONT, BACK) for edge in _LEGS)


_LEGS = {UPPER: "upper", LOWER: "lower"}
"""The legs of a slash, and which side of the gusset is sewn to each."""
