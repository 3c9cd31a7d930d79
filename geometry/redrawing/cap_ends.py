"""Let a sleeve cap run on without a kink where its two ends meet, across the sleeve seam.

Sewn up, the cap is one ring: what its two corners at the underarm have together is half a turn.
Where the seams were moved, each end of the cap is turned by half of what is missing. Its end
points and its neighbours stay, and beyond its first and last curve so does the cap.
"""

import math
from dataclasses import replace

from msgspec.structs import replace as replace_curve

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.corner import corner_degrees
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_DIRECTION

SMOOTH = 180.0


def seam_kink(sleeve: Piece) -> float:
    """Return by how many degrees the cap fails to run on across the sleeve seam, signed."""
    cap = sleeve.edge("cap")
    return sum(corner_degrees(sleeve, corner) for corner in (cap.starts_at, cap.ends_at)) - SMOOTH


def smooth_across_the_seam(sleeve: Piece) -> tuple[Piece, float]:
    """Return a sleeve whose cap runs on across the seam, and by how much its front end grew, mm."""
    turn = math.radians(seam_kink(sleeve) / 2) * sleeve.inward.imag
    if abs(math.degrees(turn)) < SAME_DIRECTION / 2:
        return sleeve, 0.0
    cap = sleeve.edge("cap")
    begun = replace(cap, parts=(_start_turned(cap.parts[0], turn), *cap.parts[1:]))
    last = _start_turned(begun.parts[-1].reversed(), -turn).reversed()
    ended = replace(begun, parts=(*begun.parts[:-1], last))
    return sleeve.with_edges(ended), begun.length - cap.length


def _start_turned(chain: Chain, radians: float) -> Chain:
    """Return a line that sets out turned by so much, clockwise on paper when positive."""
    first, *rest = chain.cubics
    turned = Motion.turn(first.start, radians)(first.start_control)
    return Chain((replace_curve(first, start_control=turned), *rest))
