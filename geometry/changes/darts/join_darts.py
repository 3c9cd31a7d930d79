"""join-darts: close one dart into another that aims at the same point."""

import cmath
import math
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import find_edge_dart, room_for_tip
from trueup.geometry.redrawing.sound import require_cloth, require_sound
from trueup.geometry.redrawing.turning.ring import halves_between
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_APART = 25.4
"""Two apexes may lie so far apart, mm: 1 in, the farthest a pivot may lie off the bust point before
the piece is distorted (dresspatternmaking.com, front style 29)."""

_WIDEST = math.radians(150)
"""Together they open no wider than this: beyond it nothing is a dart (from memory, no source)."""


@kind("join-darts")
class JoinDarts(Change):
    """Close a dart into another of the same piece that aims at the same point.

    The paper between the two mouths is turned about the apex by the closed dart's angle, with all
    that lies on it; the half of the piece that holds the centre stays on the table. The angle of
    the one that is left is the sum of both; the sewn length of every edge stays as it is, and so
    do apex and cloth where both have one apex. It is sewn to a tip as far from the apex as before.

    The two apexes may lie up to 1 in apart, the farthest a pivot may lie off the bust point
    (dresspatternmaking.com, front style 29): the new one then lies between them, nearer to that of
    the larger angle. Move a dart that aims at another point with `rotate-dart` instead.
    """

    phrases = ("join the darts",)

    dart: str = name("dart that takes over the intake, as piece.dart", of="dart")
    other: str = name("dart of the same piece that is closed, as piece.dart", of="dart")

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, kept = find_edge_dart(draft, self.dart)
        gone = self._other(draft, piece)
        apart = abs(gone.dart.apex - kept.dart.apex)
        if apart > _APART:
            reason = said("aims-elsewhere", other=gone.dart.name, apart=apart)
            raise DoesNotFit(reason, said("aims-within", apart=_APART), dart=gone.dart.name)
        if abs(kept.angle + gone.angle) > _WIDEST:
            turn = math.degrees(abs(kept.angle + gone.angle))
            reason = said("darts-open-too-wide", other=gone.dart.name, turn=turn)
            raise DoesNotFit(reason, said("share-elsewhere"))
        try:
            changed = halves_between(piece, gone.dart.name, kept.dart.name).pivoted()
        except BrokenOutline as broken:
            raise DoesNotFit(broken.reason, said("name-another-dart")) from broken
        changed = _aimed(changed, kept, gone)
        opened = changed.mouth(kept.dart.name)
        if opened.dart.setback > room_for_tip(opened):
            raise DoesNotFit(said("mouth-at-tip"), said("tip-back-first"))
        require_sound(changed, kept.dart.name, said("name-another-dart"))
        require_cloth(piece, changed, kept.dart.name, said("name-another-dart"))
        return draft.with_pieces(changed)

    def _other(self, draft: Draft, piece: Piece) -> Mouth:
        if self.other == self.dart:
            raise DoesNotFit(said("joined-to-itself"), said("name-another-dart"))
        other, _, mouth = find_edge_dart(draft, self.other)
        if other.name != piece.name:
            reason = said("dart-of-another-piece", other=self.other)
            raise DoesNotFit(reason, said("name-another-dart"))
        return mouth

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        where = f" on the {self.side}" if self.side else ""
        return f"join the dart {self.other} into {self.dart}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake", f"{self.other}.intake")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.leg",)


def _aimed(piece: Piece, kept: Mouth, gone: Mouth) -> Piece:
    """Return the piece with the dart that is left aiming at where both turns are one turn.

    Of two turns about different points that is neither of the two.
    """
    opened = piece.mouth(kept.dart.name)
    turned = kept.dart.turned or _was_brought(kept, gone)
    same = gone.dart.apex == kept.dart.apex
    apex = kept.dart.apex if same else _apex(opened, kept.angle + gone.angle)
    return piece.with_dart(replace(kept.dart, apex=apex, turned=turned))


def _was_brought(kept: Mouth, gone: Mouth) -> bool:
    """Return whether most of what is now beyond the dart was turned when the other was closed.

    One that was brought from elsewhere only gives back what it took.
    """
    return not gone.dart.turned and abs(gone.angle) > abs(kept.angle)


def _apex(mouth: Mouth, radians: float) -> Point:
    """Return the point about which a turn brings the second mouth point to the first."""
    turn = cmath.rect(1.0, radians)
    return (mouth.first - turn * mouth.second) / (1 - turn)
