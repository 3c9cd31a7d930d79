"""Where the notches of a drafted armhole lie. Lengths in mm."""

from trueup.geometry.pieces.edge import Edge

FRONT_NOTCH_SHARE, BACK_NOTCH_SHARE = 1 / 3, 3 / 8
BACK_NOTCH_GAP = 10.0
"""Notches lie at these shares of the armhole from the underarm: one in front, a pair behind
(common practice, no source)."""


def front_notch(armhole: Edge) -> float:
    """Return how far the notch of the front armhole lies from the underarm, mm."""
    return armhole.length * FRONT_NOTCH_SHARE


def back_notches(armhole: Edge) -> tuple[float, float]:
    """Return how far the pair of notches of the back armhole lies from the underarm, mm."""
    lower = armhole.length * BACK_NOTCH_SHARE
    return lower, lower + BACK_NOTCH_GAP
