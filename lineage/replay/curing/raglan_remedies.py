"""Remedies for a raglan seam that walks uneven: the sleeve made wider or narrower at the biceps."""

from trueup.geometry.changes import read_change
from trueup.geometry.changes.sleeve.widen_sleeve import WidenSleeve
from trueup.geometry.errors import GeometryError
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.said import said
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Remedy

_MOST, _NEAR = 80.0, 0.05
"""How much wider or narrower a sleeve is made at most for its seam, and how near is enough, mm."""

WIDEN_SLEEVE = "widen-sleeve"


def is_raglan(seam: Seam) -> bool:
    """Return whether a seam sews a raglan sleeve to the front or the back."""
    return seam.shared_name in ("raglan-front-seam", "raglan-back-seam")


def for_raglan(draft: Draft) -> tuple[Remedy, ...]:
    """Return what makes both raglan seams even, taken together: another width of the sleeve."""
    own = [seam.name for seam in draft.seams if is_raglan(seam)]

    def off(by: float) -> float:
        after = draft
        if by:
            change = read_change(WidenSleeve, {"by": f"{by:.6f}mm"}, Unit.MILLIMETRE)
            after = change.apply(draft)
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
    version = WidenSleeve.version
    return (Remedy(WIDEN_SLEEVE, abs(by), says, WidenSleeve.kind, values, version=version),)
