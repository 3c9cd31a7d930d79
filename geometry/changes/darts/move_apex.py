"""move-apex: sew a dart to a tip that stops short of the point it aims at."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines.points import unit
from trueup.geometry.measuring.forms import tip_of
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import (
    SHORTEST_LEG,
    find_edge_dart,
    find_inner_dart,
    room_for_tip,
)
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import SAME_POINT


@kind("move-apex")
class MoveApex(Change):
    """Back the sewn tip of a dart off its pivot by an amount along the dart's centre line.

    A positive amount shortens the dart, a negative one brings the tip back towards the pivot,
    never beyond it. The mouth, every seam length and the angle at the pivot stay as they are, and
    the dart still closes and turns about the pivot; only its two legs change, and stay equal.
    A double-pointed dart inside a piece has no pivot: its `tip`, the upper unless said, moves
    towards the mouth, or away from it, and its intake stays.
    """

    phrases = ("move the tip of the dart",)

    dart: str = name("dart whose tip moves, as piece.dart", of="dart")
    by: float = length("how far the tip moves off the pivot", low=-300, high=300, zero=False)
    tip: str = name(
        "which tip of a dart inside the piece",
        "upper",
        choices=("upper", "lower"),
        says={"upper": "at its upper end", "lower": "at its lower end"},
    )

    def carried_out(self, draft: Draft) -> Draft:
        inner = find_inner_dart(draft, self.dart)
        if inner:
            return draft.with_pieces(self._inside(*inner))
        if self.tip != "upper":
            raise BadParameter("tip", self.tip, said("one-tip"))
        piece, _, mouth = find_edge_dart(draft, self.dart)
        dart = mouth.dart
        setback = dart.setback + self.by
        if not setback >= -SAME_POINT:
            raise self._refused(said("tip-past-pivot"), -dart.setback)
        room = room_for_tip(mouth)
        if setback > room:
            raise self._refused(said("tip-out-of-mouth"), room - dart.setback)
        changed = piece.with_dart(replace(dart, setback=max(setback, 0.0)))
        require_sound(changed, dart.name)
        return draft.with_pieces(changed)

    def _inside(self, piece: Piece, dart: InnerDart) -> Piece:
        old = dart.lower if self.tip == "lower" else dart.upper
        way = (dart.left + dart.right) / 2 - old
        if abs(way) < SAME_POINT or self.by > abs(way) - SHORTEST_LEG:
            raise self._refused(said("tip-out-of-mouth"), abs(way) - SHORTEST_LEG)
        new = old + unit(way) * self.by
        moved = replace(dart, lower=new) if self.tip == "lower" else replace(dart, upper=new)
        darts = tuple(moved if d.name == dart.name else d for d in piece.inner_darts)
        changed = replace(piece, inner_darts=darts)
        require_sound(changed, dart.name)
        return changed

    def _refused(self, reason: Said, largest: float) -> DoesNotFit:
        if abs(largest) < 0.05 or largest * self.by < 0:
            return DoesNotFit(reason, said("leave-it-there"), largest=0.0)
        moved = said("moved-by", reason, by=self.by)
        return DoesNotFit(moved, said("use-at-most", by=largest), largest=largest)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (tip_of(self.dart, self.tip),)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return () if find_inner_dart(draft, self.dart) else (f"{self.dart}.leg",)
