"""Replay a wardrobe after a step: plan what is stale, evaluate it, and say what became of it.

The plan is pure; evaluation touches only what the plan names; every descendant of the corrected
node comes out with one verdict and its numbers.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from geometry.errors import GeometryError
from lineage import graph
from lineage.bookkeeping import BY_DECISION_ONLY, Books, Cause, books_after
from lineage.collisions import Key
from lineage.corrections import Correction, taken_apart
from lineage.evaluate import Evaluator
from lineage.intentions import carried_of
from lineage.overlaps import Overlaps
from lineage.records import ConflictRecord, ConflictState, NodeRecord, Role, replace
from lineage.state import State
from lineage.steps import change_of
from lineage.summary import Summary
from lineage.verdicts import (
    Carried,
    Judged,
    MeasureChange,
    Verdict,
    gravest,
    measure_changes,
    verdict_of,
)


@dataclass(frozen=True)
class PatternReplay:
    """What became of a step in one descendant.

    `conflicts` are those that arose here by this step; `inherits` the ids of conflicts that arose
    above and settle with what they came from; `note` says in words what the numbers do not. The
    verdict is the gravest of those on its `corrections`, each judged for itself.
    """

    name: str
    verdict: Verdict
    measures: tuple[Carried, ...]
    conflicts: tuple[ConflictRecord, ...]
    inherits: tuple[str, ...] = ()
    note: str = ""
    corrections: tuple[Judged, ...] = ()


@dataclass(frozen=True)
class Replay:
    """What a step did at its own node and in every descendant.

    `measures` are those it meant to change and the knock-on ones, `conflicts` those of its own
    node, `settled` what was open before and holds now, `ran` what was really evaluated, and
    `changed` the nodes whose recorded conflicts changed.
    """

    cause: Cause
    measures: tuple[MeasureChange, ...]
    conflicts: tuple[ConflictRecord, ...]
    patterns: tuple[PatternReplay, ...]
    settled: tuple[ConflictRecord, ...]
    ran: tuple[str, ...]
    changed: tuple[NodeRecord, ...]


def stale(before: State, after: State) -> tuple[str, ...]:
    """Return the nodes whose evaluation may differ: those changed and all below them, in order.

    Conflicts and decisions alone do not make a node stale. Pure: nothing is evaluated.
    """
    changed = {
        name
        for name, node in after.nodes.items()
        if node is not before.nodes.get(name) and _inputs(before.nodes.get(name)) != _inputs(node)
    }
    if before.unit != after.unit:
        changed = set(after.nodes)
    return graph.in_order(after.graph, changed | set(graph.descendants(after.graph, changed)))


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
) -> Replay:
    """Return what a step did, given evaluators of the states before and after it.

    `beside` evaluates the other version where the step joined two: a collision that stood there
    is not the step's doing. `also` names nodes to look at though they did not change. Where a step
    was moved, `judged_from` evaluates the wardrobe with it in neither place: what arrived is
    measured from there, in the node it came from as in all others.
    """
    meant, knock_on = _measured(before, after, cause)
    run = _Run(before, after, cause, beside, judged_from)
    names = {*stale(before.state, after.state), *also}
    for name in graph.in_order(after.state.graph, names):
        run.visit(name)
    own = run.books.get(cause.node)
    return Replay(
        cause,
        (*meant, *knock_on),
        own.touched if own else (),
        tuple(run.patterns),
        tuple(run.settled()),
        tuple(after.ran),
        tuple(run.changed.values()),
    )


def _measured(
    before: Evaluator, after: Evaluator, cause: Cause
) -> tuple[tuple[MeasureChange, ...], tuple[MeasureChange, ...]]:
    """Return the measures the steps meant to change at their own node, and the knock-on ones."""
    if cause.node not in before.state.nodes:
        return (), ()
    draft = before.draft(cause.node)
    meant: list[str] = []
    knock_on: list[str] = []
    for step in cause.steps:
        try:
            change = change_of(step, after.state.unit)
            meant += change.meant(draft)
            knock_on += change.knock_on(draft)
        except GeometryError:
            continue
    old, new = before.summary(cause.node).measures, after.summary(cause.node).measures
    others = [name for name in knock_on if name not in meant]
    return measure_changes(meant, old, new), measure_changes(others, old, new)


class _Run:
    """One replay under way: what was found so far, parents before children."""

    def __init__(
        self,
        before: Evaluator,
        after: Evaluator,
        cause: Cause,
        beside: Evaluator | None = None,
        judged_from: Evaluator | None = None,
    ) -> None:
        self.before, self.after, self.cause = before, after, cause
        self.beside = beside
        self.judged_from = judged_from or before
        self.corrections = taken_apart(self.judged_from, after, cause)
        self.overlaps = Overlaps(self.judged_from, after, cause, self.corrections)
        self.books: dict[str, Books] = {}
        self.changed: dict[str, NodeRecord] = {}
        self.patterns: list[PatternReplay] = []
        self._inherits: dict[str, dict[str, Key]] = {}
        # For a node and a correction, the node above or itself where it got lost.
        self._lost: dict[tuple[str, tuple[str, ...]], str] = {}
        self._settled: dict[str, str] = {}  # likewise, where it was settled by a change of its own
        self._by_decision: list[ConflictRecord] = []
        self._reached = {cause.node}
        roots = [cause.node] if cause.node in after.state.nodes else []
        self._below = set(graph.descendants(after.state.graph, roots))

    def visit(self, name: str) -> None:
        """Evaluate one node, keep its books and judge what became of the step in it."""
        node = self.after.state.nodes[name]
        old = self.before.summary(name) if name in self.before.state.nodes else None
        new = self.after.summary(name)
        parents = self.after.parent_summaries(name)
        if any(p.name in self._reached and p.hold is None for p in node.parents):
            self._reached.add(name)
        there = self.beside
        beside = there.summary(name) if there and name in there.state.nodes else None
        books = books_after(
            node,
            old,
            new,
            parents,
            lambda: self.after.draft(name),
            self.cause,
            self._is_past,
            beside,
        )
        if name in self._below and old is not None:
            books = self._judged(node, old, new, books)
        self.books[name] = books
        if books.conflicts != node.conflicts:
            self.changed[name] = replace(node, conflicts=books.conflicts)

    def _judged(self, node: NodeRecord, old: Summary, new: Summary, books: Books) -> Books:
        base = self.judged_from.summary(node.name)
        had_it = base.fingerprint != old.fingerprint
        carried = {c.ids: self._carried(node, c) for c in self.corrections}
        lost = {c.ids for c in self.corrections if self._is_lost(node, c, carried[c.ids])}
        all_lost = len(lost) == len(self.corrections)
        held = node.name not in self._reached or (all_lost and self._holds_a_parent(node))
        doubled = () if held or had_it else self.overlaps.doubled(node)
        comes_out = had_it and old.fingerprint == new.fingerprint
        judged: list[Judged] = []
        overwritten: list[ConflictRecord] = []
        for each in self.corrections:
            verdict = verdict_of(
                carried[each.ids],
                held=held,
                doubled=any(c.correction in each.ids for c in doubled),
                in_conflict=False,
                lost=each.ids in lost,
            )
            note = "comes out as it was" if comes_out else self._settled_by(node, each, verdict)
            if note:
                verdict = Verdict.CARRIED
            else:
                conflicts, note = self._why(node, each, verdict, carried[each.ids])
                overwritten += conflicts
            judged.append(Judged(each.ids, each.kinds, verdict, carried[each.ids], note))
        verdict = gravest([each.verdict for each in judged])
        if books.touched and not comes_out:
            verdict = gravest([verdict, Verdict.CONFLICT])
        # What stood between it and a correction that it had stands there already.
        books = books.with_conflicts((*doubled, *(() if had_it else overwritten)))
        self._inherits[node.name] = self._inherited(node, new, books)
        self.patterns.append(
            PatternReplay(
                node.name,
                verdict,
                tuple(each for ids in carried for each in carried[ids]),
                books.touched,
                tuple(self._inherits[node.name]),
                "; ".join(dict.fromkeys(each.note for each in judged if each.note)),
                tuple(judged),
            )
        )
        return books

    def _carried(self, node: NodeRecord, correction: Correction) -> tuple[Carried, ...]:
        old, new = correction.before.summary(node.name), correction.after.summary(node.name)
        return carried_of(correction.wanted, old, new)

    def _is_lost(
        self, node: NodeRecord, correction: Correction, carried: tuple[Carried, ...]
    ) -> bool:
        """Return whether nothing of a correction is left; by the shapes where it moved nothing."""
        if carried:
            return all(each.vanished for each in carried)
        here, there = (
            correction.before.fingerprint(name) != correction.after.fingerprint(name)
            for name in (node.name, self.cause.node)
        )
        return there and not here

    def _holds_a_parent(self, node: NodeRecord) -> bool:
        return any(p.hold and p.name in self._reached for p in node.parents)

    def _is_past(self, record: ConflictRecord) -> bool:
        """Return whether the correction that brought a conflict has been taken out."""
        if not record.corrected or not record.correction:
            return False
        corrected = self.after.state.nodes.get(record.corrected)
        return corrected is None or not any(map(corrected.step, record.correction.split()))

    def _settled_by(self, node: NodeRecord, correction: Correction, verdict: Verdict) -> str:
        """Return in words where a node gets by a change of its own what a correction brought.

        Empty for all but decisions, and what trues a line for others of the same fitting: one made
        for the fit wants its amount to arrive.
        """
        if verdict not in (Verdict.LOST, Verdict.PARTLY):
            return ""
        decided = all(step.role is Role.DECISION for step in self.cause.steps)
        if not decided and not (correction.trues and len(self.corrections) > 1):
            return ""
        own = next((step for step in node.steps if self.overlaps.trues(step)), None)
        above = [self._settled[p.name] for p in node.parents if p.name in self._settled]
        if own:
            self._settled[node.name] = node.name
            return f"its own {own.kind} sees to it"
        if above:
            self._settled[node.name] = above[0]
            return f"{above[0]} sees to it"
        return ""

    def _why(
        self,
        node: NodeRecord,
        correction: Correction,
        verdict: Verdict,
        carried: tuple[Carried, ...],
    ) -> tuple[tuple[ConflictRecord, ...], str]:
        """Return the conflicts behind what was lost, if they arose here, and a note in words."""
        if verdict is Verdict.HELD:
            return (), "stays on an earlier version of its parent"
        if verdict is not Verdict.LOST:
            return (), ""
        lost_at = (self._lost.get((p.name, correction.ids)) for p in node.parents)
        above = next((name for name in lost_at if name), None)
        self._lost[node.name, correction.ids] = above or node.name
        if above:
            return (), f"lost above, at {above}"
        own = self.overlaps.overwriter(node, correction)
        if own:
            note = f"its own {own.kind} overwrote it"
            return self.overlaps.overwritten(node, correction, own), note
        if not carried:
            return (), "nothing of it shows here"
        missing = sorted({each.name.partition(".")[0] for each in carried})
        return (), f"takes no {' or '.join(missing)} from {self.cause.node}"

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
        return record.kind in BY_DECISION_ONLY and record.piece in new.pieces

    def settled(self) -> Iterator[ConflictRecord]:
        """Yield the conflicts that were open before and are settled now."""
        for name, books in self.books.items():
            before = self.before.state.nodes.get(name)
            was_open = {record.id for record in before.open_conflicts} if before else set()
            for record in books.conflicts:
                if record.state is ConflictState.SETTLED and record.id in was_open:
                    yield record
