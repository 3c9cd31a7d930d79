"""Remedies for a conflict, with amounts computed from the geometry it sits in.

What would mend it is offered only where it was tried out and does.
"""

import math
from collections.abc import Iterable

from trueup.geometry.changes import kind_named
from trueup.geometry.changes.edges_and_seams.true_line import true_line_amount
from trueup.geometry.changes.neck_and_shoulder.true_shoulder import (
    SHOULDER_SEAM,
    true_shoulder_amount,
)
from trueup.geometry.changes.side_and_hem.true_hem import true_hem_amount
from trueup.geometry.cuts.joined.joining import all_apart
from trueup.geometry.cuts.sewing import all_together
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.pieces.bodice import is_side_seam
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.side import side_of, sided
from trueup.geometry.said import said, text
from trueup.geometry.sides.parting import one_side, worn_on
from trueup.lineage.files.records import (
    EASE_OF,
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    Remedy,
    StepRecord,
    replace,
)
from trueup.lineage.replay.collisions import UNSTATED, Collision
from trueup.lineage.replay.curing.cap_remedies import for_cap, for_kinked_cap
from trueup.lineage.replay.curing.cures import Trials, left_open
from trueup.lineage.replay.curing.dart_remedies import for_darts
from trueup.lineage.replay.curing.names import (
    ACCEPT,
    DROP_OWN_COPY,
    DROP_STEP,
    FOLLOW,
    HOLD,
    REPEAT_HERE,
    SMALLER_STEP,
)
from trueup.lineage.replay.curing.raglan_remedies import for_raglan, is_raglan
from trueup.lineage.replay.curing.unstated_remedies import for_unstated

TRUE_LINE = "true-line"


def for_collision(
    collision: Collision,
    node: NodeRecord,
    trials: Trials,
    ease_before: float | None,
    *,
    came_from_above: bool,
) -> tuple[Remedy, ...]:
    """Return what can be done about a collision at a node, first what leaves nothing open.

    `ease_before` is what a seam walked to in all before the correction; a refit aims for it where
    it was allowed, and for the nearest allowed ease where it was not. Only what came from above can
    be kept away by staying on an earlier parent.
    """
    cures: tuple[Remedy, ...] = ()
    match collision.kind:
        case ConflictKind.SEAM:
            seam = trials.draft.seam_at(collision.piece, collision.edge)
            if seam is not None and collision.measured_mm is not None:
                half = worn_on(trials.draft, seam.worn) if seam.worn else trials.draft
                candidates = _for_seam(half.seam(seam.shared_name), half, ease_before)
                cures = trials.of_cures(_on(seam.worn, candidates), collision.key)
        case ConflictKind.SHAPE if (collision.code, collision.edge) == ("kink", "cap"):
            side = side_of(collision.piece)
            cures = for_kinked_cap(one_side(trials.draft, side))
            cures = trials.of_cures(_on(side, cures), collision.key)
        case ConflictKind.SHAPE if collision.code == UNSTATED:
            cures = for_unstated(trials.draft, collision.piece, collision.edge)
            cures = trials.of_cures(cures, collision.key)
        case ConflictKind.MISSING | ConflictKind.IMPOSSIBLE:
            cures = _for_step(collision, node, trials)
        case _:
            pass
    held = holding(node) if came_from_above else ()
    return (*cures, *held, Remedy(ACCEPT, says=said("accept")))


def holding(node: NodeRecord) -> tuple[Remedy, ...]:
    """Return the remedy of staying on the parent's earlier version, for a node with parents."""
    if not node.parents:
        return ()
    return (Remedy(HOLD, says=said("hold")),)


def holds(record: ConflictRecord) -> bool:
    """Return whether a conflict was decided by staying on an earlier version of the parent."""
    return any(remedy.name == FOLLOW for remedy in record.remedies)


def following() -> Remedy:
    """Return the remedy that lets a held node follow its parent again."""
    return Remedy(FOLLOW, says=said("follow"))


def _on(side: str | None, cures: Iterable[Remedy]) -> tuple[Remedy, ...]:
    """Return remedies as made on one side of the body, where it is one."""
    if side is None:
        return tuple(cures)
    return tuple(
        replace(
            cure,
            says=said("on-side", text(cure.says), side=side),
            values={**cure.values, "side": side},
            effects=tuple(replace(e, name=_of_side(e.name, side)) for e in cure.effects),
        )
        for cure in cures
    )


def _of_side(effect: str, side: str) -> str:
    return effect if effect.startswith(EASE_OF) else sided(effect, side)


def _for_seam(seam: Seam, draft: Draft, ease_before: float | None) -> tuple[Remedy, ...]:
    if seam.name == CAP_SEAM:
        if len({run.piece for run in seam.side}) > 1:
            # A sleeve of several pieces is refitted as it is laid together.
            draft = all_together(all_apart(draft))
        return for_cap(draft, draft.seam(CAP_SEAM), ease_before)
    whole = all_together(all_apart(draft))
    if is_raglan(seam):
        return for_raglan(whole)
    if is_side_seam(seam):
        amounts = ((p, true_hem_amount(whole, p)) for p in _sewn(whole, seam))
        return _trued("true-hem", "hem", amounts)
    if seam.name == SHOULDER_SEAM:
        amounts = ((p, true_shoulder_amount(whole, p)) for p in _sewn(whole, seam))
        return _trued("true-shoulder", "shoulder", amounts)
    darts = for_darts(whole, whole.seam(seam.name)) if whole.has_seam(seam.name) else ()
    return (*_of_lines(draft, seam), *darts)


def _of_lines(draft: Draft, seam: Seam) -> tuple[Remedy, ...]:
    """Return remedies for a seam of any two lines: each made as long as the other."""
    if len(seam.runs) != 2:
        return ()
    found = []
    for run in seam.runs:
        by = true_line_amount(draft, str(run))
        says = said(f"{'lengthen' if by > 0 else 'shorten'}-line", line=str(run), by=abs(by))
        name = TRUE_LINE if by > 0 else f"{TRUE_LINE}-of-{run.piece}"
        values = {"edge": str(run)}
        found.append(Remedy(name, round(abs(by), 2), says, TRUE_LINE, values))
    return tuple(sorted(found, key=lambda each: each.name))


def _sewn(draft: Draft, seam: Seam) -> tuple[str, ...]:
    """Return the pieces of a seam that sews one edge to one other; none for any other."""
    pieces = [run.piece for run in draft.seam(seam.name).runs]
    return tuple(pieces) if len(pieces) == len({*pieces}) == 2 else ()


def _trued(kind: str, line: str, amounts: Iterable[tuple[str, float]]) -> tuple[Remedy, ...]:
    """Return a remedy for each piece of an uneven seam: the shorter made longer comes first."""
    found = []
    for piece, by in sorted(amounts, key=lambda each: -each[1]):
        says = said(f"{'lengthen' if by > 0 else 'shorten'}-{line}", piece=piece, by=abs(by))
        name = kind if by > 0 else f"{kind}-of-{piece}"
        values = {"piece": piece}
        version = kind_named(kind).version
        found.append(Remedy(name, round(abs(by), 2), says, kind, values, version=version))
    return tuple(found)


def _for_step(collision: Collision, node: NodeRecord, trials: Trials) -> tuple[Remedy, ...]:
    """Return what can be done about a step that is left out, as far as that mends it.

    To do without it comes last, though it leaves nothing open: it is what the maker wanted.
    """
    offered = []
    for remedy in _of_step(collision, node):
        steps = tuple(s for s in node.steps if s.id != collision.change or remedy.values)
        if remedy.values:
            steps = tuple(
                replace(s, values={**s.values, **remedy.values}) if s.id == collision.change else s
                for s in steps
            )
        after = trials.with_steps(steps)
        if after is not None and collision.key not in after:
            offered.append(replace(remedy, leaves=left_open(trials.now, after)))
    return tuple(offered)


def _of_step(collision: Collision, node: NodeRecord) -> tuple[Remedy, ...]:
    step = node.step(collision.change)
    if step is None:
        return ()
    drop = Remedy(DROP_STEP, says=said("drop-step", kind=step.kind))
    if collision.largest_mm is None or "by" not in step.values:
        return (drop,)
    # Towards nought: an amount rounded up would be refused again.
    largest = math.trunc(collision.largest_mm * 10) / 10
    if not largest:
        return (drop,)
    smaller = Remedy(
        SMALLER_STEP,
        largest,
        said("smaller-step", kind=step.kind, by=largest),
        step.kind,
        {"by": f"{largest:g}mm"},
    )
    return smaller, drop


def for_doubled(own: StepRecord, amount: float | None) -> tuple[Remedy, ...]:
    """Return what can be done when a pattern has a correction of its own already."""
    return (
        Remedy(DROP_OWN_COPY, amount, said("drop-own", kind=own.kind)),
        Remedy(ACCEPT, says=said("accept-both")),
    )


def for_repeating(correction: StepRecord, amount: float | None) -> Remedy:
    """Return the remedy of making a correction once more, where a pattern's own change undid it."""
    return Remedy(
        REPEAT_HERE,
        amount,
        said("repeat", kind=correction.kind),
        correction.kind,
        dict(correction.values),
        version=correction.version,
    )


KEEP_OWN_LINE = Remedy(ACCEPT, says=said("accept-own-line"))
