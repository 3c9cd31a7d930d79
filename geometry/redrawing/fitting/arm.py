"""Widen a sleeve at the upper arm while its cap line keeps its length."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import cap_height
from trueup.geometry.redrawing.sleeves.cap_ends import smooth_across_the_seam
from trueup.geometry.redrawing.sleeves.sleeve import recut
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH

_CAP = "cap"
_LOWEST = 0.35
"""A cap loses no more than so much of its height, and gains no more, on the way (no source)."""


def widened_at_arm(sleeve: Piece, by: float) -> Piece:
    """Return a sleeve wider by so much, mm, across its cap line, its cap as long as it was.

    Both underarm points move out by half of it and the crown sinks until the cap line is as long as
    before; it runs on smoothly across the sleeve seam. Marks of the cap keep their place along it,
    hem and length of the seams below stay but for their slant. A negative amount narrows it.
    Raises DoesNotFit where the cap would become too flat or too steep for that.
    """
    wanted = sleeve.edge(_CAP).length
    _, reaches = smooth_across_the_seam(recut(sleeve, by / 2, 0.0))

    def drawn(up: float) -> Piece:
        return smooth_across_the_seam(recut(sleeve, by / 2, up), reaches)[0]

    height = cap_height(sleeve.edge(_CAP))
    far = (_LOWEST if by < 0 else -_LOWEST) * height

    def longer(up: float) -> float:
        return drawn(up).edge(_CAP).length - wanted

    up = root_between(longer, min(0.0, far), max(0.0, far), SAME_LENGTH)
    if up is None:
        raise DoesNotFit(said("cap-too-far", height=height), said("smaller-amount"), edge=_CAP)
    return replace(drawn(up), notches=sleeve.notches)
