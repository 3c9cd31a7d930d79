"""What a recorded step did, measured again on the versions before and after it."""

from collections.abc import Callable

from trueup.geometry.said import Said
from trueup.lineage.chronicle.effects import StepEffect, in_words
from trueup.lineage.errors import Damaged, WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictRecord, ConflictState, NodeRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import replay
from trueup.lineage.sizes.anew import sizes_anew


def effect(
    before: Evaluator,
    after: Evaluator,
    evaluator_of: Callable[[State], Evaluator],
    cause: Cause,
    *,
    is_decision: bool,
    is_undo: bool,
    with_remedies: bool,
) -> StepEffect:
    """Return what a step did, given the versions before and after it.

    Without remedies no conflict says what could be done about it, which takes long to try. Of nodes
    that cannot be read in one of them, and what derives from these, nothing is told.
    """
    before, after, unreadable = _both_readable(before, after, evaluator_of)
    if unreadable and cause.node and cause.node not in after.state.nodes:
        return StepEffect(unreadable=unreadable)
    try:
        if not is_undo:
            decided = cause.node if is_decision else ""
            after = evaluator_of(as_edited(before.state, after.state, decided))
        left = moved_away(before.state, after.state, cause)
        base = evaluator_of(before.state.with_nodes(left)) if left else None
        anew = sizes_anew(before.state, after.state)
        found = replay(
            before, after, cause, judged_from=base, anew=anew, with_remedies=with_remedies
        )
    except WardrobeError as error:
        return StepEffect(unreadable=error.says)
    return StepEffect(found.measures, found.patterns, found.arisen, found.settled, unreadable)


def _both_readable(
    before: Evaluator, after: Evaluator, evaluator_of: Callable[[State], Evaluator]
) -> tuple[Evaluator, Evaluator, Said | str]:
    """Return two versions with only what can be read in both, and in words why other cannot."""
    states = [before.state, after.state]
    if not any(state.lost_nodes for state in states):
        return before, after, ""
    lost: dict[str, Damaged] = {}
    while any(state.lost_nodes.keys() - lost.keys() for state in states):
        lost |= {**states[0].lost_nodes, **states[1].lost_nodes}
        states = [state.without(lost) for state in states]
    first, second = (evaluator_of(state) for state in states)
    return first, second, in_words(lost)


def moved_away(before: State, after: State, cause: Cause) -> tuple[NodeRecord, ...]:
    """Return the nodes that a correction left for another one, without it.

    What arrived of a correction that was moved is measured from where it stood in neither place.
    """
    ids = {step.id for step in cause.steps}
    return tuple(
        replace(node, steps=tuple(step for step in node.steps if step.id not in ids))
        for name, node in before.nodes.items()
        if name != cause.node
        and any(step.id in ids for step in node.steps)
        and name in after.nodes
        and not any(step.id in ids for step in after.nodes[name].steps)
    )


def as_edited(before: State, after: State, decided: str) -> State:
    """Return a version with the conflicts its step met, not yet those it left behind.

    So a replay finds again what it found when the step was made. At the node where a conflict was
    `decided`, what was decided stands.
    """
    nodes = [
        _with_conflicts_met(before.nodes[name], node, is_decided=name == decided)
        for name, node in after.nodes.items()
        if name in before.nodes and node.conflicts != before.nodes[name].conflicts
    ]
    new = [
        replace(node, conflicts=())
        for name, node in after.nodes.items()
        if name not in before.nodes and node.conflicts
    ]
    return after.with_nodes((*nodes, *new))


def _with_conflicts_met(before: NodeRecord, after: NodeRecord, *, is_decided: bool) -> NodeRecord:
    left = {record.id: record for record in after.conflicts}
    met = []
    for old in before.conflicts:
        new = left.get(old.id, old)
        if is_decided and _was_decided(old, new):
            met.append(new)
        else:
            # A correction that moved to another node takes along what its conflicts say of it.
            met.append(replace(old, corrected=new.corrected))
    return replace(after, conflicts=tuple(met))


def _was_decided(old: ConflictRecord, new: ConflictRecord) -> bool:
    taken_up_again = old.state is ConflictState.ACCEPTED and new.state is ConflictState.OPEN
    return old.decisions != new.decisions or taken_up_again
