"""Replay a wardrobe after a step: plan what is stale, evaluate it, and say what became of it.

The plan is pure; evaluation touches only what the plan names; every descendant of the corrected
node comes out with one verdict and its numbers.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from geometry.errors import GeometryError
from geometry.measures import measures as measures_of
from lineage import graph, remedies
from lineage.bookkeeping import Books, Cause, books_after, conflict_id
from lineage.evaluate import Evaluator, Stage
from lineage.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    Remedy,
    Role,
    StepRecord,
    replace,
)
from lineage.state import State
from lineage.steps import change_of
from lineage.summary import Summary
from lineage.verdicts import (
    Carried,
    MeasureChange,
    Verdict,
    carried_in,
    measure_changes,
    verdict_of,
)


@dataclass(frozen=True)
class PatternReplay:
    """What became of a step in one descendant.

    `conflicts` are those that arose here by this step; `inherits` the ids of conflicts that arose
    above and settle with what they came from; `note` says in words what the numbers do not.
    """

    name: str
    verdict: Verdict
    measures: tuple[Carried, ...]
    conflicts: tuple[ConflictRecord, ...]
    inherits: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Replay:
    """What a step did: at its own node, and in every descendant; `ran` lists what was evaluated."""

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
        if name not in before.nodes or _inputs(before.nodes[name]) != _inputs(node)
    }
    return graph.in_order(after.graph, changed | set(graph.descendants(after.graph, changed)))


def _inputs(node: NodeRecord) -> NodeRecord:
    return replace(node, conflicts=())


def replay(before: Evaluator, after: Evaluator, cause: Cause) -> Replay:
    """Return what a step did, given evaluators of the states before and after it."""
    run = _Run(before, after, cause)
    for name in stale(before.state, after.state):
        run.visit(name)
    return run.result()


class _Run:
    """One replay under way: what was found so far, parents before children."""

    def __init__(self, before: Evaluator, after: Evaluator, cause: Cause) -> None:
        self.before, self.after, self.cause = before, after, cause
        self.books: dict[str, Books] = {}
        self.nodes: dict[str, NodeRecord] = {}
        self.patterns: list[PatternReplay] = []
        known = [cause.node] if cause.node in after.state.nodes else []
        self.below = set(graph.descendants(after.state.graph, known))
        self.live = {cause.node}
        self.lost = set[str]()
        self.wanted, self.knock_on = self._meant()

    def _meant(self) -> tuple[tuple[MeasureChange, ...], tuple[MeasureChange, ...]]:
        """Return the measures the steps meant to change at their node, and the knock-on ones."""
        name = self.cause.node
        if name not in self.before.state.nodes:
            return (), ()
        meant: list[str] = []
        knock_on: list[str] = []
        draft = self.before.draft(name)
        for step in self.cause.steps:
            try:
                change = change_of(step, self.after.state.unit)
                meant += change.meant(draft)
                knock_on += change.knock_on(draft)
            except GeometryError:
                continue
        old, new = self.before.summary(name).measures, self.after.summary(name).measures
        wanted = measure_changes(meant, old, new)
        others = [each for each in knock_on if each not in meant]
        return wanted, measure_changes(others, old, new)

    def visit(self, name: str) -> None:
        """Evaluate one node and keep its books."""
        node = self.after.state.nodes[name]
        old = self.before.summary(name) if name in self.before.state.nodes else None
        new = self.after.summary(name)
        parents = [self.after.summary(p.name) for p in node.parents if p.hold is None]
        if any(p.name in self.live and p.hold is None for p in node.parents):
            self.live.add(name)
        books = books_after(node, old, new, parents, lambda: self.after.draft(name), self.cause)
        if name in self.below and old is not None:
            books = self._judge(node, old, new, books)
        self.books[name] = books
        if books.conflicts != node.conflicts:
            self.nodes[name] = replace(node, conflicts=books.conflicts)

    def _judge(self, node: NodeRecord, old: Summary, new: Summary, books: Books) -> Books:
        carried = carried_in(self.wanted, old.measures, new.measures)
        held = node.name not in self.live
        doubled = () if held else self._doubled(node)
        verdict = verdict_of(
            carried, held=held, doubled=bool(doubled), in_conflict=bool(books.touched)
        )
        extra, note = list(doubled), ""
        if verdict is Verdict.LOST:
            self.lost.add(node.name)
            overwritten, note = self._overwritten(node, carried)
            extra += overwritten
        if held:
            note = "stays on an earlier version of its parent"
        new_ones = [each for each in extra if each.id not in {c.id for c in books.conflicts}]
        books = Books((*books.conflicts, *new_ones), (*books.touched, *new_ones), books.inherited)
        inherits = tuple(self._inherited_ids(node, books))
        self.patterns.append(
            PatternReplay(node.name, verdict, carried, books.touched, inherits, note)
        )
        return books

    def _doubled(self, node: NodeRecord) -> tuple[ConflictRecord, ...]:
        """Return a conflict for each own correction that does again what the cause does."""
        found = []
        for own in node.steps:
            twin = next((step for step in self.cause.steps if self._same(own, step)), None)
            if own.role is not Role.CORRECTION or twin is None or own.id == twin.id:
                continue
            change = change_of(own, self.after.state.unit)
            amount = getattr(change, "by", None)
            says = (
                f"{node.name} has a {own.kind} of its own already, and now inherits "
                f"another from {self.cause.node}."
            )
            found.append(
                self._conflict(
                    node,
                    ConflictKind.DOUBLED,
                    own,
                    says,
                    remedies.for_doubled(own, amount if isinstance(amount, float) else None),
                )
            )
        return tuple(found)

    def _same(self, own: StepRecord, step: StepRecord) -> bool:
        unit = self.after.state.unit
        try:
            mine, theirs = change_of(own, unit), change_of(step, unit)
        except GeometryError:
            return False
        return mine.same_place(theirs) and not mine.opposes(theirs)

    def _overwritten(
        self, node: NodeRecord, carried: tuple[Carried, ...]
    ) -> tuple[tuple[ConflictRecord, ...], str]:
        """Return the conflict with the own step that undid the correction, and a note in words."""
        above = [p.name for p in node.parents if p.name in self.lost]
        if above:
            return (), f"lost above, at {above[0]}"
        stages = zip(self.before.stages(node.name), self.after.stages(node.name), strict=False)
        arrived = False
        for old, new in stages:
            if not self._vanished(old, new):
                arrived = True
            elif arrived and new.step is not None:
                return (self._both_shaped(node, new.step),), f"its own {new.step.kind} overwrote it"
        missing = sorted({each.name.split(".")[0] for each in carried})
        return (), f"takes no {' or '.join(missing)} from {self.cause.node}"

    def _vanished(self, old: Stage, new: Stage) -> bool:
        before, after = measures_of(old.draft), measures_of(new.draft)
        return all(each.vanished for each in carried_in(self.wanted, before, after))

    def _both_shaped(self, node: NodeRecord, own: StepRecord) -> ConflictRecord:
        step = self.cause.steps[0]
        amount = getattr(change_of(step, self.after.state.unit), "by", None)
        says = (
            f"{node.name} draws this line anew with its own {own.kind}, so the {step.kind} made "
            f"on {self.cause.node} does not reach it."
        )
        offered = remedies.for_both_shaped(
            step, amount if isinstance(amount, float) else None, step.values
        )
        return self._conflict(node, ConflictKind.BOTH_SHAPED, own, says, offered)

    def _conflict(
        self,
        node: NodeRecord,
        kind: ConflictKind,
        own: StepRecord,
        says: str,
        offered: tuple[Remedy, ...],
    ) -> ConflictRecord:
        change = change_of(own, self.after.state.unit)
        draft = self.before.draft(node.name)
        place = next(iter((*change.meant(draft), *change.knock_on(draft))), "")
        piece, _, edge = place.partition(".")
        first = self.wanted[0] if self.wanted else None
        key = (f"{kind.value}:{own.id}", piece, edge)
        old, new = self.before.summary(node.name).measures, self.after.summary(node.name).measures
        return ConflictRecord(
            id=conflict_id(node.name, kind, key, self.cause.step_ids),
            kind=kind,
            arose_at=node.name,
            piece=piece,
            edge=edge,
            code=key[0],
            says=says,
            correction=self.cause.step_ids,
            corrected=self.cause.node,
            change=own.id,
            before_mm=_rounded(old.get(first.name)) if first else None,
            after_mm=_rounded(new.get(first.name)) if first else None,
            since=self.cause.since,
            remedies=(*offered, *remedies.holding(node)),
        )

    def _inherited_ids(self, node: NodeRecord, books: Books) -> Iterable[str]:
        for key in books.inherited:
            for parent in node.parents:
                for record in self.nodes.get(
                    parent.name, self.after.state.nodes[parent.name]
                ).open_conflicts:
                    if record.key == key:
                        yield record.id
                for pattern in self.patterns:
                    if pattern.name == parent.name:
                        yield from pattern.inherits

    def result(self) -> Replay:
        """Return what was found."""
        own = self.books.get(self.cause.node)
        settled = [
            record
            for name, node in self.nodes.items()
            for record in node.conflicts
            if record.state == "settled" and self._was_open(name, record)
        ]
        return Replay(
            self.cause,
            (*self.wanted, *self.knock_on),
            own.touched if own else (),
            tuple(self.patterns),
            tuple(settled),
            tuple(self.after.ran),
            tuple(self.nodes.values()),
        )

    def _was_open(self, name: str, record: ConflictRecord) -> bool:
        old = self.before.state.nodes.get(name)
        return old is not None and any(c.id == record.id for c in old.open_conflicts)


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
