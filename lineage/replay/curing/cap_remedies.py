"""Remedies for a sleeve cap that does not fit its armhole: what of the cap to change, by how much.

Each says what it does to the width at the biceps, to the height, and to the ease of each half.
"""

from collections.abc import Iterator

from trueup.geometry.changes.sleeve.refit_cap import RefitCap, cap_refit
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.measures import CAP_SEAM, measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.redrawing.sleeves.refitting import HEIGHT, WIDTH, CapRefit
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.said import said
from trueup.geometry.tolerance import SEAM, UNCHANGED
from trueup.lineage.files.records import EASE_OF, Remedy, RemedyEffect

REFIT_CAP = "refit-cap"
REFIT_CAP_HEIGHT = "refit-cap-height"
MOVE_CROWN_NOTCH = "move-crown-notch"
SMOOTH_CAP = "smooth-cap"


def for_cap(draft: Draft, seam: Seam, ease_before: float | None) -> tuple[Remedy, ...]:
    """Return what can be done about a cap seam, the likeliest first.

    A refit aims for the ease that the cap had before, or where that is not known for the middle of
    what is allowed; outside of it for the nearest that is. Where the cap is as long as it should
    be, and only its halves are not, the crown notch is moved first of all.
    """
    now = walk(draft, seam).ease
    middle = (seam.allowed.low + seam.allowed.high) / 2
    wanted = round(seam.allowed.nearest(middle if ease_before is None else ease_before), 3)
    refits = (*_refit(draft, seam, wanted, WIDTH), *_refit(draft, seam, wanted, HEIGHT))
    if not seam.allowed.holds(now):
        return refits
    moved = tuple(_moved_notch(draft, seam, now))
    return (*moved, *refits) if abs(now - wanted) <= SEAM else (*refits, *moved)


def for_kinked_cap(draft: Draft) -> tuple[Remedy, ...]:
    """Return what can be done about a cap that kinks at the sleeve seam: smooth its ends."""
    if not draft.has_seam(CAP_SEAM):
        return ()
    try:
        refit = cap_refit(draft)
    except GeometryError:
        return ()
    effects = _effects(draft, draft.seam(CAP_SEAM), refit)
    return (
        Remedy(SMOOTH_CAP, None, said("smooth-cap"), "refit-cap", {}, effects, RefitCap.version),
    )


def _refit(draft: Draft, seam: Seam, wanted: float, how: str) -> Iterator[Remedy]:
    try:
        refit = cap_refit(draft, wanted, how)
    except GeometryError:
        return
    amount = refit.width if how == WIDTH else refit.height
    yield Remedy(
        REFIT_CAP if how == WIDTH else REFIT_CAP_HEIGHT,
        round(amount, 2),
        said("refit", by=amount, how=how, ease=wanted),
        "refit-cap",
        {"to": f"{wanted:g}mm", "how": how},
        _effects(draft, seam, refit),
        RefitCap.version,
    )


def _moved_notch(draft: Draft, seam: Seam, ease: float) -> Iterator[Remedy]:
    try:
        refit = cap_refit(draft, notch=True)
    except GeometryError:
        return
    if abs(refit.notch) < UNCHANGED or abs(refit.ease - ease) > UNCHANGED:
        return
    towards = "back" if refit.notch > 0 else "front"
    yield Remedy(
        MOVE_CROWN_NOTCH,
        round(abs(refit.notch), 2),
        said("move-notch", by=abs(refit.notch), towards=towards),
        "refit-cap",
        {"notch": True},
        _effects(draft, seam, refit),
        RefitCap.version,
    )


def _effects(draft: Draft, seam: Seam, refit: CapRefit) -> tuple[RemedyEffect, ...]:
    """Return what a refit changes of the sleeve, and the ease of each half of its cap, mm."""
    after = draft.with_pieces(refit.sleeve)
    changed = [
        (EASE_OF + old.section.name, old.ease, new.ease)
        for old, new in zip(walk(draft, seam).sections, walk(after, seam).sections, strict=True)
    ]
    for size, by in (("biceps-width", refit.width), ("cap-height", refit.height)):
        if by:
            name = f"{SLEEVE}.{size}"
            changed.append((name, measure(draft, name), measure(after, name)))
    return tuple(RemedyEffect(name, round(a, 2), round(b, 2)) for name, a, b in changed)
