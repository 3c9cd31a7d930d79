"""Replay a wardrobe after a step: plan what is stale, evaluate it, and say what became of it.

The plan is pure; evaluation touches only what the plan names; every descendant of the corrected
node comes out with one verdict and its numbers.
"""

import dataclasses
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import (
    ConflictRecord,
    ConflictState,
    NodeRecord,
    ParentRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.replay.bookkeeping import BY_DECISION_ONLY, Books, Cause, books_after
from trueup.lineage.replay.collisions import Key
from trueup.lineage.replay.corrections import measured
from trueup.lineage.replay.curing.cures import Trials
from trueup.lineage.replay.judging import Judge
from trueup.lineage.replay.standing import unchecked
from trueup.lineage.replay.taken_over.reaching import reached
from trueup.lineage.replay.verdicts import (
    Carried,
    Judged,
    MeasureChange,
    Verdict,
    gravest,
)


@dataclass(frozen=True)
class PatternReplay:
    """What became of a step in one descendant.

    `conflicts` are those that arose here by this step; `inherits` the ids of conflicts that arose
    above and settle with what they came from; `note` says in words what the numbers do not. The
    verdict is the gravest of those on its `corrections`, each judged for itself; it says nothing of
    how the pieces and lines `unchecked` sew, for which no seam is stated.
    """

    name: str
    verdict: Verdict
    measures: tuple[Carried, ...]
    conflicts: tuple[ConflictRecord, ...]
    inherits: tuple[str, ...] = ()
    note: str = ""
    corrections: tuple[Judged, ...] = ()
    unchecked: tuple[str, ...] = ()


Became = Callable[[PatternReplay, Evaluator], None]
"""Told what became of a step in a descendant as soon as that is known, with the evaluator after it.

Whoever wants no more of a replay raises an error of their own from it; nothing is kept of one that
was given up but what was evaluated.
"""


@dataclass(frozen=True)
class Replay:
    """What a step did at its own node and in every descendant.

    `measures` are those it meant to change and the knock-on ones, `conflicts` those of its own
    node, `settled` what was open before and holds now, `ran` what was really evaluated, and
    `changed` the nodes whose recorded conflicts changed. `unchecked` are the pieces and lines of
    its own node for which no seam is stated.
    """

    cause: Cause
    measures: tuple[MeasureChange, ...]
    conflicts: tuple[ConflictRecord, ...]
    patterns: tuple[PatternReplay, ...]
    settled: tuple[ConflictRecord, ...]
    ran: tuple[str, ...]
    changed: tuple[NodeRecord, ...]
    unchecked: tuple[str, ...] = ()

    @property
    def arisen(self) -> tuple[ConflictRecord, ...]:
        """Return every conflict that the step brought about, those of its own node first."""
        below = (conflict for pattern in self.patterns for conflict in pattern.conflicts)
        return (*self.conflicts, *below)


def stale(before: State, after: State) -> tuple[str, ...]:
    """Return the nodes whose evaluation may differ: those changed and all below them, in order.

    Conflicts and decisions alone do not make a node stale. Pure: nothing is evaluated.
    """
    changed = {
        name
        for name in after.differing(before)
        if _inputs(before.nodes.get(name)) != _inputs(after.nodes[name])
    }
    if before.unit != after.unit:
        changed = set(after.nodes)
    if not changed:
        return ()
    return after.parents_first(changed | set(after.below(changed)))


def _inputs(node: NodeRecord | None) -> NodeRecord | None:
    return replace(node, conflicts=()) if node else None


def replay(
    before: Evaluator,
    after: Evaluator,
    cause: Cause,
    *,
    beside: Evaluator | None = None,
    also: Iterable[str] = (),
    judged_from: Evaluator | None = None,
    anew: Iterable[str] = (),
    became: Became | None = None,
    with_remedies: bool = True,
) -> Replay:
    """Return what a step did, given evaluators of the states before and after it.

    `beside` evaluates the other version where the step joined two: a collision that stood there
    is not the step's doing. `also` names nodes to look at though they did not change. Where a step
    was moved, `judged_from` evaluates the wardrobe with it in neither place: what arrived is
    measured from there, in the node it came from as in all others. `anew` are other blocks
    that it drafted anew, as the sizes of a run: what derives from each is judged by that one.
    `became` is told each outcome as soon as it is known, parents before children. Remedies are
    tried out, which takes long, unless who asks does not tell of them.
    """
    cause = _as_it_comes(after, cause)
    meant, knock_on = measured(before, after, cause)
    besides = tuple(Cause(name, (), cause.since) for name in anew if name != cause.node)
    causes = (cause, *besides)
    run = _Run(before, after, causes, beside, judged_from, with_remedies=with_remedies)
    names = after.state.parents_first({*stale(before.state, after.state), *also})
    with before.looking_ahead([name for name in names if name in before.state.nodes]):
        for name in after.announced(names):
            outcome = run.visit(name)
            if became is not None and outcome is not None:
                became(outcome, after)
    own = run.books.get(cause.node)
    return Replay(
        cause,
        (*meant, *knock_on),
        own.touched if own else (),
        tuple(run.patterns),
        tuple(run.settled()),
        tuple(after.ran),
        tuple(run.changed.values()),
        unchecked(after, cause.node) if cause.node in after.state.nodes else (),
    )


def _as_it_comes(after: Evaluator, cause: Cause) -> Cause:
    """Return a cause with its amounts as they come to on the body of its node's block."""
    if cause.node not in after.state.nodes:
        return cause
    steps = tuple(after.as_it_comes(cause.node, step) for step in cause.steps)
    return dataclasses.replace(cause, steps=steps)


@dataclass(frozen=True)
class _Judging:
    """Who judges what became of a cause, and the nodes below it."""

    judge: Judge
    below: set[str]

    def concerns(self, name: str) -> bool:
        """Return whether a node is the one of the cause, or below it."""
        return name in self.below or name == self.judge.cause.node


def _below(after: Evaluator, cause: Cause) -> set[str]:
    roots = [cause.node] if cause.node in after.state.nodes else []
    return reached(after, roots, cause)


class _Run:
    """One replay under way: what was found so far, parents before children."""

    def __init__(
        self,
        before: Evaluator,
        after: Evaluator,
        causes: Sequence[Cause],
        beside: Evaluator | None = None,
        judged_from: Evaluator | None = None,
        *,
        with_remedies: bool = True,
    ) -> None:
        self.before, self.after, self.cause = before, after, causes[0]
        self.beside, self.with_remedies = beside, with_remedies
        self._judging = [
            _Judging(Judge(judged_from or before, after, cause), _below(after, cause))
            for cause in causes
        ]
        self.books: dict[str, Books] = {}
        self.changed: dict[str, NodeRecord] = {}
        self.patterns: list[PatternReplay] = []
        self._inherits: dict[str, dict[str, Key]] = {}
        self._by_decision: list[ConflictRecord] = []

    def visit(self, name: str) -> PatternReplay | None:
        """Evaluate one node, keep its books and return what became of the step in it, if judged."""
        node = self.after.worked(name)
        old = self.before.summary(name) if name in self.before.state.nodes else None
        new = self.after.summary(name)
        parents = self.after.parent_summaries(name)
        for each in self._judging:
            each.judge.pass_down_to(node)
        there = self.beside
        beside = there.summary(name) if there and name in there.state.nodes else None
        if beside is None and node.style is not None:
            beside = self._of_style(node, is_new=old is None)
        by = next((each for each in self._judging if each.concerns(name)), self._judging[0])
        books = books_after(
            node,
            old,
            new,
            parents,
            Trials(self.after, node) if self.with_remedies else None,
            by.judge.cause,
            self._is_past,
            beside,
        )
        outcome = None
        if name in by.below and old is not None:
            books, outcome = self._judged(by.judge, node, old, new, books)
        self.books[name] = books
        if books.conflicts != node.conflicts:
            record = self.after.state.nodes[name]
            self.changed[name] = replace(record, conflicts=books.conflicts)
        return outcome

    def _of_style(self, node: NodeRecord, *, is_new: bool) -> Summary | None:
        """Return whose style a node takes, where that brings what it finds: it meant it so there.

        What does not hold there either, and no less, is no news at the node.
        """
        style = node.style
        if style is None or not (is_new or self.cause.is_style):
            return None
        source = self.after.followed(ParentRecord(style.name, None, style.hold))
        return source.summary(style.name)

    def _judged(
        self, judge: Judge, node: NodeRecord, old: Summary, new: Summary, books: Books
    ) -> tuple[Books, PatternReplay]:
        found = judge.of(node, old, new)
        verdict = found.verdict
        if books.touched and not found.comes_out_as_it_was:
            verdict = gravest([verdict, Verdict.CONFLICT])
        books = books.with_conflicts(found.conflicts)
        self._inherits[node.name] = self._inherited(node, new, books)
        outcome = PatternReplay(
            node.name,
            verdict,
            tuple(measure for each in found.corrections for measure in each.measures),
            books.touched,
            tuple(self._inherits[node.name]),
            "; ".join(dict.fromkeys(each.note for each in found.corrections if each.note)),
            found.corrections,
            unchecked(self.after, node.name),
        )
        self.patterns.append(outcome)
        return books, outcome

    def _is_past(self, record: ConflictRecord) -> bool:
        """Return whether the correction that brought a conflict has been taken out."""
        if not record.corrected or not record.correction:
            return False
        corrected = self.after.state.nodes.get(record.corrected)
        return corrected is None or not any(map(corrected.step, record.correction.split()))

    def _inherited(self, node: NodeRecord, new: Summary, books: Books) -> dict[str, Key]:
        """Return, with their keys, the ids of conflicts that arose above and show here as well."""
        found: dict[str, Key] = {}
        for parent in node.parents:
            if parent.hold is None:
                record = self.changed.get(parent.name, self.after.state.nodes[parent.name])
                found |= {c.id: c.key for c in record.open_conflicts if c.key in books.inherited}
                touched = self.books[parent.name].touched if parent.name in self.books else ()
                found |= {c.id: c.key for c in touched if self._goes_down(c, new)}
                found |= self._inherits.get(parent.name, {})
        still = {*books.inherited, *(c.key for c in self._by_decision if self._goes_down(c, new))}
        self._by_decision += [c for c in books.touched if c.kind in BY_DECISION_ONLY]
        return {name: key for name, key in found.items() if key in still}

    def _goes_down(self, record: ConflictRecord, new: Summary) -> bool:
        return record.kind in BY_DECISION_ONLY and record.piece in new.told_of

    def settled(self) -> Iterator[ConflictRecord]:
        """Yield the conflicts that were open before and are not now, accepted again or gone."""
        for name, books in self.books.items():
            before = self.before.state.nodes.get(name)
            was_open = {record.id for record in before.open_conflicts} if before else set()
            open_now = {record.id for record in self.after.state.node(name).open_conflicts}
            for record in books.conflicts:
                gone = record.state is ConflictState.SETTLED
                as_before = record.state is ConflictState.ACCEPTED and record.id in open_now
                if record.id in was_open and (gone or as_before):
                    yield record
