"""deepen-dart: take more in at a dart, and true its edge across the closed dart."""

import math

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.deepen_dart_1 import FirstDeepenDart
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import SMALLEST_INTAKE, room_for_tip
from trueup.geometry.redrawing.sound import require_cloth, require_sound
from trueup.geometry.redrawing.trued_dart import with_intake
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT


@kind("deepen-dart", version=2)
class DeepenDart(FirstDeepenDart):
    """Take more in at a dart (`by`; negative lets out), or give it a wanted intake (`to`).

    The apex and both ends of the edge stay. The edge is trued as it lies with the dart closed: a
    straight edge becomes straight again from end to end, any other one fair line over the whole run
    beyond the dart and as much before it as keeps the bend even, no more than twice as far on one
    side as on the other. The dart is opened on that line, its legs equal and its intake exactly as
    asked, so the sewn edge falls by the change of intake where the dart sits square on its edge,
    and by a few hundredths less or more where it sits aslant. At least 5 mm of the edge are left
    beside the dart. The two mouth points of a double-pointed dart inside a piece move apart by half
    each.
    """

    def deeper(self, piece: Piece, edge: Edge, mouth: Mouth, intake: float) -> Piece:
        dart, leg = mouth.dart, abs(mouth.first - mouth.dart.apex)
        if intake < SMALLEST_INTAKE:
            raise DoesNotFit(said("nothing-left"))
        trued = with_intake(edge, dart.name, intake)
        if trued is None:
            raise DoesNotFit(said("legs-open-no-wider", leg=leg))
        changed = piece.with_edges(trued)
        opened = changed.mouth(dart.name)
        if dart.setback > room_for_tip(opened):
            raise DoesNotFit(said("mouth-at-tip"))
        _require_left(edge, trued, dart.name)
        require_sound(changed, dart.name)
        require_cloth(piece, changed, dart.name)
        return changed


def _require_left(edge: Edge, trued: Edge, dart: str) -> None:
    """Refuse to leave less than CLOTH_LEFT of a part of the edge that was longer."""
    for k, (old, new) in enumerate(zip(edge.parts, trued.parts, strict=True)):
        if new.length < min(CLOTH_LEFT, old.length) - math.ulp(old.length):
            others = [each.name for each in edge.darts[max(k - 1, 0) : k + 1] if each.name != dart]
            if others:
                raise DoesNotFit(
                    said("left-up-to-dart", left=new.length, edge=edge.name, dart=others[0]),
                    dart=others[0],
                )
            raise DoesNotFit(said("left-up-to-end", left=new.length, edge=edge.name))
