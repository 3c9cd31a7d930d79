"""Drafts made to measure for tests, so that a test shows only what it is about."""

from functools import lru_cache

from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft

SYSTEM = "bust-proportion"


@lru_cache(maxsize=256)
def block(
    bust: float = 830.0,
    waist: float = 640.0,
    back_length: float = 380.0,
    sleeve_length: float = 540.0,
) -> Draft:
    """Return the drafted block for a body in mm; the same object for the same body."""
    return draft_block(SYSTEM, body(bust, waist, back_length, sleeve_length))


def body(
    bust: float = 830.0,
    waist: float = 640.0,
    back_length: float = 380.0,
    sleeve_length: float = 540.0,
) -> dict[str, float]:
    """Return body measurements under the names the drafting system asks for."""
    return {
        "bust": bust,
        "waist": waist,
        "back-length": back_length,
        "sleeve-length": sleeve_length,
    }
