"""Remedies for a raglan seam that walks uneven: the sleeve made wider or narrower at the biceps."""

from typing import Any

from trueup.geometry.changes import kind_named
from trueup.geometry.errors import GeometryError
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.said import said
from trueup.lineage.files.records import Remedy

_MOST, _NEAR = 80.0, 0.05
"""How much wider or narrower a sleeve is made at most for its seam, and how near is enough, mm."""

WIDEN_SLEEVE = "widen-sleeve"


def is_raglan(seam: Seam) -> bool:
    """Return whether a seam sews a raglan sleeve to the front or the back."""
    return seam.shared_name in ("raglan-front-seam", "raglan-back-seam")


def for_raglan(draft: Draft) -> tuple[Remedy, ...]:
    """Return what makes both raglan seams even, taken together: another width of the sleeve."""
    widening = kind_named(WIDEN_SLEEVE)
    own = [seam.name for seam in draft.seams if is_raglan(seam)]

    def off(by: float) -> float:
        amount: dict[str, Any] = {"by": by}
        after = widening(**amount).apply(draft) if by else draft
        return sum(walk(after, after.seam(name)).ease for name in own)

    try:
        by = root_between(off, -_MOST, _MOST, _NEAR)
    except GeometryError:
        return ()
    if by is None or abs(by) < _NEAR:
        return ()
    by = round(by, 1)
    says = said("widen-raglan" if by > 0 else "narrow-raglan", by=abs(by))
    values = {"by": f"{by:g}mm"}
    version = widening.version
    return (Remedy(WIDEN_SLEEVE, abs(by), says, WIDEN_SLEEVE, values, version=version),)
