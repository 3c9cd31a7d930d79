"""Evaluate what came of a merge against each side, and record what no longer holds. Pure.

Each side's steps are replayed as if they were made now on the other's version, so that they get
verdicts in its patterns; a collision that either side already had is not the merge's doing.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files import graph
from trueup.lineage.files.records import ConflictRecord, ConflictState, NodeRecord, Role, StepRecord
from trueup.lineage.files.records import replace as with_fields
from trueup.lineage.files.state import State
from trueup.lineage.replay.bookkeeping import BY_DECISION_ONLY, Cause
from trueup.lineage.replay.drafted_anew.measurements import is_drafted_anew
from trueup.lineage.replay.replay import Replay, replay


@dataclass(frozen=True)
class JoinSide:
    """One of two versions that are joined: its commit and its evaluator."""

    commit: str
    evaluator: Evaluator


@dataclass(frozen=True)
class LookedOver:
    """A joined state with the conflicts found in it.

    `theirs` are the replays of their steps on our version and what it has below them, `ours` those
    of our steps in the patterns they changed; `conflicts` what was opened, `settled` what was open
    on our side and no longer is.
    """

    state: State
    theirs: tuple[Replay, ...]
    ours: tuple[Replay, ...]
    conflicts: tuple[ConflictRecord, ...]
    settled: tuple[ConflictRecord, ...]


def look_over(
    ours: JoinSide,
    theirs: JoinSide,
    state: State,
    evaluator_of: Callable[[State], Evaluator],
    also: Iterable[str] = (),
) -> LookedOver:
    """Return the joined state with every conflict the joining brought, and what became of steps.

    `also` names nodes to look at though nothing about their steps changed. Raises BadRecord where
    what was joined cannot be evaluated.
    """
    looking = _Looking(evaluator_of(state))
    incoming = tuple(looking.replays(ours, theirs))
    outgoing = tuple(looking.replays(theirs, ours))
    looking.rest(ours, theirs, also)
    after = looking.after.state
    changed_there = {name for name in after.nodes if _changed(ours.evaluator.state, after, name)}
    return LookedOver(
        after,
        incoming,
        tuple(_only(found, changed_there) for found in outgoing),
        tuple(_opened(state, after)),
        tuple(_settled(ours.evaluator.state, after)),
    )


def steps_apart(before: NodeRecord | None, after: NodeRecord) -> tuple[StepRecord, ...]:
    """Return the steps of a node that were made, amended or taken out between two versions."""
    if before is None:
        return ()
    made = (
        s for s in after.steps if _content(before.step(s.id) or _twin(before, s)) != _content(s)
    )
    gone = (
        s for s in before.steps if after.step(s.id) is None and not any(map(after.step, s.same_as))
    )
    return (*made, *gone)


def _twin(before: NodeRecord, step: StepRecord) -> StepRecord | None:
    return next((found for name in step.same_as if (found := before.step(name))), None)


def _content(step: StepRecord | None) -> tuple[object, ...] | None:
    return (step.kind, step.version, step.values) if step else None


class _Looking:
    """A joined state under review; its conflicts grow as they are found."""

    def __init__(self, after: Evaluator) -> None:
        self.after = after

    def replays(self, before: JoinSide, other: JoinSide) -> Iterator[Replay]:
        """Replay on one side what the other brought, node by node."""
        for name in self.after.state.in_order:
            old, new = before.evaluator.state.nodes.get(name), self.after.state.node(name)
            steps, is_anew = steps_apart(old, new), is_drafted_anew(old, new)
            if not steps and not is_anew:
                continue
            is_style = not is_anew and all(step.role is Role.STYLE for step in steps)
            cause = Cause(name, steps, before.commit, is_style=is_style)
            found = replay(before.evaluator, self.after, cause, beside=other.evaluator)
            below = {name, *graph.descendants(self.after.state.graph, [name])}
            self._take(node for node in found.changed if node.name in below)
            yield found

    def rest(self, ours: JoinSide, theirs: JoinSide, also: Iterable[str]) -> None:
        """Look at everything that differs from our side, whatever it came from."""
        open_now = {c.arose_at for c in self.after.state.open_conflicts}
        cause = Cause("", (), ours.commit)
        found = replay(
            ours.evaluator,
            self.after,
            cause,
            beside=theirs.evaluator,
            also=(*also, *open_now),
        )
        self._take(found.changed)

    def _take(self, changed: Iterable[NodeRecord]) -> None:
        nodes = []
        for node in changed:
            known = {c.id: c for c in self.after.state.node(node.name).conflicts}
            nodes.append(with_fields(node, conflicts=tuple(_kept(node.conflicts, known))))
        # What was evaluated stays so: conflicts are no part of what a node evaluates to.
        self.after = replace(self.after, state=self.after.state.with_nodes(nodes))


def _kept(
    found: Iterable[ConflictRecord], known: dict[str, ConflictRecord]
) -> Iterator[ConflictRecord]:
    """Yield conflicts as found; one that a side has recorded and decided is not opened again."""
    for record in found:
        old = known.get(record.id)
        decided = old is not None and record.kind in BY_DECISION_ONLY
        reopened = record.state is ConflictState.OPEN
        yield old if old is not None and decided and reopened else record


def _changed(before: State, after: State, name: str) -> bool:
    old = before.nodes.get(name)
    return old is None or _made_of(old) != _made_of(after.nodes[name])


def _made_of(node: NodeRecord) -> tuple[object, ...]:
    return node.followed, node.style, node.draft, node.drafted_for, node.traced, node.steps


def _only(found: Replay, names: set[str]) -> Replay:
    patterns = tuple(each for each in found.patterns if each.name in names)
    return replace(found, patterns=patterns)


def _opened(before: State, after: State) -> Iterator[ConflictRecord]:
    was_open = {c.id for c in before.open_conflicts}
    yield from (c for c in after.open_conflicts if c.id not in was_open)


def _settled(before: State, after: State) -> Iterator[ConflictRecord]:
    was_open = {c.id for c in before.open_conflicts}
    for record in after.conflicts:
        if record.state is ConflictState.SETTLED and record.id in was_open:
            yield record
