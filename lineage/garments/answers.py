"""The answers to what can be done on the cloth of a garment."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.cloth.cap_answer import CapAnswer
from trueup.geometry.cloth.cut_cloth import ClothAnswer, Possible
from trueup.geometry.cloth.sewing_order import SewingStep
from trueup.geometry.cloth.uneven import Uneven
from trueup.geometry.pieces.side import Side
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import ConflictRecord


@dataclass(frozen=True)
class Alteration:
    """What can be done on a garment's cloth, lengths in mm.

    `pieces` are the answers for the pieces that were cut and are still wanted; `not_cut` are
    wanted now and there is no cloth for them, `not_wanted` were cut. `hollowing` says how much each
    armhole could be hollowed at most, by itself and from as it was, with the cap as it is: what is
    sewn to it there has to keep its ease.
    Where left and right differ, cap and hollowing are those of the two `sides`.
    `waiting` are the conflicts of the pattern that are open: what they ask may still change.
    """

    garment: GarmentRecord
    pieces: tuple[ClothAnswer, ...]
    cap: CapAnswer | None = None
    hollowing: Mapping[str, float] | None = None
    uneven: tuple[Uneven, ...] = ()
    steps: tuple[SewingStep, ...] = ()
    not_cut: tuple[str, ...] = ()
    not_wanted: tuple[str, ...] = ()
    waiting: tuple[ConflictRecord, ...] = ()
    sides: "tuple[tuple[Side, Alteration], ...]" = ()

    @property
    def stays(self) -> bool:
        """Return whether the garment is as its pattern wants it."""
        sewn = self.possible is Possible.CAN and all(piece.stays for piece in self.pieces)
        return sewn and not self.steps

    @property
    def possible(self) -> Possible:
        """Return what can be done on the whole: that of the worst piece."""
        order = (Possible.CAN, Possible.PARTLY, Possible.CANNOT)
        return max((piece.possible for piece in self.pieces), key=order.index, default=Possible.CAN)
