"""Remedies for a conflict, with amounts computed from the geometry it sits in."""

import math

from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    Remedy,
    StepRecord,
)
from trueup.lineage.replay.cap_remedies import for_cap, for_kinked_cap
from trueup.lineage.replay.collisions import Collision

ACCEPT = "accept"
HOLD = "hold"
FOLLOW = "follow"
DROP_OWN_COPY = "drop-own-copy"
DROP_STEP = "drop-step"
SMALLER_STEP = "smaller-step"
REPEAT_HERE = "repeat-here"


def for_collision(
    collision: Collision,
    node: NodeRecord,
    draft: Draft,
    ease_before: float | None,
    *,
    came_from_above: bool,
) -> tuple[Remedy, ...]:
    """Return what can be done about a collision at a node, the cure first.

    `ease_before` is what a seam walked to in all before the correction; a refit aims for it where
    it was allowed, and for the nearest allowed ease where it was not. Only what came from above can
    be kept away by staying on an earlier parent.
    """
    match collision.kind:
        case ConflictKind.SEAM:
            cures = _for_seam(collision, draft, ease_before)
        case ConflictKind.SHAPE if (collision.code, collision.edge) == ("kink", "cap"):
            cures = for_kinked_cap(draft)
        case ConflictKind.MISSING | ConflictKind.IMPOSSIBLE:
            cures = _for_step(collision, node)
        case _:
            cures = ()
    held = holding(node) if came_from_above else ()
    return (*cures, *held, Remedy(ACCEPT, says="leave it as it is"))


def holding(node: NodeRecord) -> tuple[Remedy, ...]:
    """Return the remedy of staying on the parent's earlier version, for a node with parents."""
    if not node.parents:
        return ()
    return (Remedy(HOLD, says="stay on the parent as it was before the correction"),)


def holds(record: ConflictRecord) -> bool:
    """Return whether a conflict was decided by staying on an earlier version of the parent."""
    return any(remedy.name == FOLLOW for remedy in record.remedies)


def following() -> Remedy:
    """Return the remedy that lets a held node follow its parent again."""
    return Remedy(FOLLOW, says="follow the parent again, with all its corrections since")


def _for_seam(collision: Collision, draft: Draft, ease_before: float | None) -> tuple[Remedy, ...]:
    seam = next(
        (s for s in draft.seams if str(s.side[0]) == f"{collision.piece}.{collision.edge}"), None
    )
    if seam is None or collision.measured_mm is None:
        return ()
    if seam.name == CAP_SEAM:
        return for_cap(draft, seam, ease_before)
    if seam.name == "side-seam":
        return _true_hem(collision.measured_mm)
    return ()


def _true_hem(ease: float) -> tuple[Remedy, ...]:
    piece = "back" if ease > 0 else "front"
    return (
        Remedy(
            "true-hem",
            round(abs(ease), 2),
            f"lengthen the {piece} hem at the side by {abs(ease):.1f} mm, to nothing at the centre",
            "true-hem",
            {"piece": piece},
            version=kind_named("true-hem").version,
        ),
    )


def _for_step(collision: Collision, node: NodeRecord) -> tuple[Remedy, ...]:
    step = node.step(collision.change)
    if step is None:
        return ()
    drop = Remedy(DROP_STEP, says=f"take the step {step.kind} out of the chain")
    if collision.largest_mm is None or "by" not in step.values:
        return (drop,)
    # Towards nought: an amount rounded up would be refused again.
    largest = math.trunc(collision.largest_mm * 10) / 10
    if not largest:
        return (drop,)
    smaller = Remedy(
        SMALLER_STEP,
        largest,
        f"make the step {step.kind} with {largest:g} mm",
        step.kind,
        {"by": f"{largest:g}mm"},
    )
    return smaller, drop


def for_doubled(own: StepRecord, amount: float | None) -> tuple[Remedy, ...]:
    """Return what can be done when a pattern has a correction of its own already."""
    return (
        Remedy(DROP_OWN_COPY, amount, f"take this pattern's own {own.kind} out of its chain"),
        Remedy(ACCEPT, says="keep both, one on top of the other"),
    )


def for_both_shaped(correction: StepRecord, amount: float | None) -> tuple[Remedy, ...]:
    """Return what can be done when a pattern's own change overwrote a correction."""
    return (
        Remedy(
            REPEAT_HERE,
            amount,
            f"make the {correction.kind} once more, on this pattern's own line",
            correction.kind,
            dict(correction.values),
            version=correction.version,
        ),
        Remedy(ACCEPT, says="keep this pattern's own line without the correction"),
    )
