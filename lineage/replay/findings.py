"""What does not hold at a node though no correction brought it about, found by an id.

Whatever step it came from, it can be decided about as a conflict can.
"""

from collections.abc import Iterator
from contextlib import suppress

from trueup.geometry.errors import GeometryError
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictRecord, ConflictState, NodeRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.replay.bookkeeping import record_of
from trueup.lineage.replay.collisions import Collision, collisions
from trueup.lineage.replay.curing.cures import Trials
from trueup.lineage.replay.naming import arising, id_of


def finding(evaluator: Evaluator, finding_id: str) -> ConflictRecord | None:
    """Return the open conflict that a finding is, with its remedies; None for no such id."""
    for name, collision in _all(evaluator):
        node = evaluator.state.node(name)
        if id_of(node, collision) == finding_id:
            return _record(evaluator, node, collision)
    return None


def finding_ids(evaluator: Evaluator) -> Iterator[str]:
    """Yield the ids of all that does not hold and of which no conflict speaks, parents first."""
    for name, collision in _all(evaluator):
        yield id_of(evaluator.state.node(name), collision)


def _all(evaluator: Evaluator) -> Iterator[tuple[str, Collision]]:
    """Yield what no conflict speaks of, at every node that can be evaluated."""
    for name in evaluator.state.in_order:
        with suppress(WardrobeError, GeometryError):
            for collision in _unspoken(evaluator, evaluator.state.node(name)):
                yield name, collision


def _unspoken(evaluator: Evaluator, node: NodeRecord) -> Iterator[Collision]:
    """Yield what arose at a node and no open or accepted conflict of its own speaks of."""
    spoken = {c.key for c in node.conflicts if c.state is not ConflictState.SETTLED}
    for collision in collisions(evaluator.summary(node.name)).values():
        if collision.key not in spoken and arising(evaluator, node.name, collision)[0] == node.name:
            yield collision


def _record(evaluator: Evaluator, node: NodeRecord, collision: Collision) -> ConflictRecord:
    known = next((c for c in node.conflicts if c.key == collision.key), None)
    node = evaluator.worked(node.name)
    return record_of(
        node,
        collision,
        evaluator.summary(node.name),
        Trials(evaluator, node),
        known_as=id_of(node, collision),
        decisions=known.decisions if known else (),
    )


def spoken_of(evaluator: Evaluator, conflict_id: str) -> State:
    """Return the state with a conflict recorded for a finding that is asked for by its id.

    As it is for any other id: a conflict that is recorded and waits or is accepted is left alone.
    """
    state = evaluator.state
    known = state.conflict(conflict_id) if state.has_conflict(conflict_id) else None
    if known and known.state is not ConflictState.SETTLED:
        return state
    found = finding(evaluator, conflict_id)
    if found is None:
        return state
    node = state.node(found.arose_at)
    others = tuple(each for each in node.conflicts if each.id != found.id)
    return state.with_nodes([replace(node, conflicts=(*others, found))])
