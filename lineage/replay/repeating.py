"""A correction made once more where it did not arrive whole, by as much as is missing there."""

from collections.abc import Iterator, Sequence

from trueup.geometry.errors import GeometryError
from trueup.geometry.units import write_length
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import amount_of, change_of
from trueup.lineage.files.records import NodeRecord, Remedy, Role, StepRecord, replace
from trueup.lineage.replay.corrections import Correction
from trueup.lineage.replay.curing import remedies
from trueup.lineage.replay.curing.cures import Trials, left_open
from trueup.lineage.replay.intentions import carried_of
from trueup.lineage.replay.verdicts import Carried

_TRIED = "tried"
"""The id of a step that is only tried out; no step that is recorded has it."""

_MOST_TRIES = 4
"""A line once redrawn takes up a change of its amount almost evenly: two or three tries serve."""


def repeating(
    after: Evaluator, node: NodeRecord, correction: Correction, step: StepRecord, *, in_full: bool
) -> Remedy | None:
    """Return the remedy of making a step of a correction once more at a node, tried out.

    Where its whole amount does not bring just what was wanted, the amount that does is looked for.
    None where it cannot be made, or where, asked for `in_full`, no amount brings it.
    """
    for tried in _tries(node, correction, step, in_full=in_full):
        found = Trials(after, node)
        left = found.with_steps((*node.steps, replace(tried, id=_TRIED, role=Role.DECISION)))
        if left is None:
            return None
        remedy = remedies.for_repeating(tried, amount_of(tried, after.state.unit))
        return replace(remedy, leaves=left_open(found.now, left))
    return None


def _tries(
    node: NodeRecord, correction: Correction, step: StepRecord, *, in_full: bool
) -> Iterator[StepRecord]:
    """Yield the step with the amount that brings what is wanted, if one is found."""
    here = carried_of(
        correction.wanted,
        correction.before.summary(node.name),
        correction.after.summary(node.name),
    )
    whole = amount_of(step, correction.after.state.unit)
    by, last = _still_missing(whole, here), (0.0, _share(here))
    for _ in range(_MOST_TRIES):
        tried = step if by is None else _by(step, by, correction.after)
        carried = _carried_with(node, correction, tried) if tried else None
        if tried is None or carried is None:
            return
        if not in_full or all(each.arrived for each in carried):
            yield tried
            return
        share = _share(carried)
        if by is None or share == last[1]:
            return
        slope = (share - last[1]) / (by - last[0])
        last, by = (by, share), round(by + (1 - share) / slope, 2)
        if not by or by == last[0]:
            return


def _still_missing(whole: float | None, here: Sequence[Carried]) -> float | None:
    """Return what of the amount of a step is missing at a node, None where it has no amount."""
    return None if whole is None else round(whole * (1 - _share(here)), 2) or whole


def _share(carried: Sequence[Carried]) -> float:
    """Return how much of what was wanted arrived, of that which arrived least exactly."""
    worst = max(carried, key=lambda each: abs((each.got_mm or 0.0) - each.wanted_mm), default=None)
    return (worst.got_mm or 0.0) / worst.wanted_mm if worst else 0.0


def _by(step: StepRecord, by: float, evaluator: Evaluator) -> StepRecord | None:
    if amount_of(step, evaluator.state.unit) == by:
        return step
    changed = replace(step, values={**step.values, "by": write_length(by)})
    try:
        change_of(changed, evaluator.state.unit)
    except GeometryError:
        return None
    return changed


def _carried_with(
    node: NodeRecord, correction: Correction, tried: StepRecord
) -> tuple[Carried, ...] | None:
    """Return what arrives with a step made besides; None where it cannot be made."""
    trial = replace(node, steps=(*node.steps, replace(tried, id=_TRIED, role=Role.DECISION)))
    new = correction.after.beside(trial).summary(node.name)
    if any(problem.step == _TRIED for problem in new.problems):
        return None
    return carried_of(correction.wanted, correction.before.summary(node.name), new)
