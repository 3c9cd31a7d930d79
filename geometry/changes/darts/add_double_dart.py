"""add-double-dart: take in a double-pointed dart at a level, inside a piece."""

from dataclasses import replace
from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, require_new_name
from trueup.geometry.changes.declaring import name as named
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point
from trueup.geometry.measuring.tape import CENTRE
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_DEEPEST = 600.0


@kind("add-double-dart")
class AddDoubleDart(ByAmount):
    """Take in a double-pointed dart inside a piece, its mouth at a level such as the waist.

    The middle of its mouth lies so far from the centre, measured on the paper along the level; its
    points lie straight `above` and `below` it. The width of the piece at the level loses the
    intake; no edge changes. What the side is to give for it is let out with `taper-side`. On a
    piece that ends at the level a dart opens on the edge there: use `add-dart`.

    Up to 30 mm are usual in one dart, from below the roundest place above to as far above the
    roundest below (from memory).
    """

    about = "waist"
    leaves_cloth: ClassVar[bool] = True
    phrases = ("add a double-pointed dart",)

    piece: str = name("piece it lies in, such as back", of="piece")
    by: float = length("how much it takes in at its widest", low=0, high=100, zero=False)
    away: float = length("how far its middle lies from the centre", low=10, high=600)
    above: float = length("how far it reaches above the level", low=20, high=_DEEPEST)
    below: float = length("how far it reaches below the level", low=20, high=_DEEPEST)
    level: str = name("level at which it is widest", "waist")
    name: str = named("what the dart is called")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(self.piece),)

    def wanted(self, draft: Draft) -> float:
        (piece,) = self.pieces(draft)
        if self.name in (*piece.dart_names, *piece.edge_names):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        level = piece.level(self.level)
        if level.along:
            reason = said("ends-at-level", piece=piece.name, level=self.level)
            raise DoesNotFit(reason, said("dart-on-edge"))
        if self._at_centre(piece) is None:
            raise DoesNotFit(said("centre-off-level", level=self.level), said("another-level"))
        return self.by

    def _at_centre(self, piece: Piece) -> Point | None:
        level = complex(0.0, piece.level(self.level).y)
        met = [p for part in piece.edge(CENTRE).parts for p in part.meetings(level, 1 + 0j)]
        return met[0] if met else None

    def on(self, piece: Piece, by: float) -> Piece:
        hem = piece.edge("hem")
        out = 1.0 if hem.start.real > hem.end.real else -1.0
        middle, half = (self._at_centre(piece) or 0j) + out * self.away, by / 2
        dart = InnerDart(
            self.name,
            middle - 1j * self.above,
            middle + 1j * self.below,
            middle - half,
            middle + half,
        )
        changed = replace(piece, inner_darts=(*piece.inner_darts, dart))
        require_sound(changed, self.name, said("another-place"))
        return changed

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, self.name

    def in_words(self, unit: Unit) -> str:
        by, away = format_length(self.by, unit), format_length(self.away, unit)
        side = f" on the {self.side}" if self.side else ""
        return (
            f"add a double-pointed dart {self.piece}.{self.name} at the {self.level}, "
            f"{by} wide and {away} from the centre{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.{self.name}.intake",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.{self.level}-width",)
