"""dart-to-flare: close a dart, or a share of it, and let the hem swing out by its angle."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, number, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import SMALLEST_INTAKE, find_edge_dart
from trueup.geometry.redrawing.sleeves.refit import refitted
from trueup.geometry.redrawing.sound import require_cloth, require_fair, require_sound
from trueup.geometry.redrawing.turning.flare import HEM, flared_from
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("dart-to-flare")
class DartToFlare(Change):
    """Close a dart, or a share of it, and let the hem swing out by the angle that was closed.

    The piece is slashed from the dart's pivot straight down to the hem, or to a place on it; the
    half without the centre is turned about the pivot by the share of the dart's angle. The dart is
    smaller by just that, or gone; its edge and all others keep their sewn length. What opens at the
    hem is left as flare: the hem, which grows by the angle times its distance from the pivot, is
    drawn fair from the middle of one half to that of the other, and keeps its angles at the side
    and the centre.

    So an A-line skirt is made from a straight one, and a swinging dress front from a bust dart: the
    hem hangs even only where front and back are flared alike.
    """

    phrases = ("turn the dart to flare",)

    dart: str = name("dart that is closed, as piece.dart", of="dart")
    share: float = number(
        "how much of its angle goes to the hem, such as 0.5 for half", 1.0, low=0.05, high=1.0
    )
    at: Position | None = position(
        "where the hem is slashed; straight below the dart unless given", None, on=HEM
    )

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, mouth = find_edge_dart(draft, self.dart)
        flared = flared_from(piece, mouth.dart.name, self.share, self.at)
        if self.share < 1 and flared.mouth(mouth.dart.name).intake < SMALLEST_INTAKE:
            raise DoesNotFit(said("nothing-left"), said("close-whole-dart"))
        return draft.with_pieces(self._finished(piece, refitted(flared, HEM)))

    def _finished(self, before: Piece, after: Piece) -> Piece:
        smaller = said("close-smaller-share")
        require_sound(after, HEM, smaller)
        require_cloth(before, after, HEM, smaller)
        require_fair(before, after, HEM)
        return after

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        at = f", {self.at.in_words(unit)}" if self.at else ""
        much = "" if self.share >= 1 else f"{self.share * 100:g}% of "
        return f"turn {much}the dart {self.dart} to flare at the hem{at}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart.partition('.')[0]}.{HEM}",)
