"""What became of each correction of a step in the nodes below it, each judged for itself."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import ConflictRecord, NodeRecord, ParentRecord, Role
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.corrections import Correction, taken_apart
from trueup.lineage.replay.drafted_anew.coming_short import ComingShort, coming_short, wanted_at
from trueup.lineage.replay.intentions import Intention, carried_of
from trueup.lineage.replay.overlaps import Overlaps
from trueup.lineage.replay.taken_over.on_a_graft import instead_of, wanted_on
from trueup.lineage.replay.taken_over.reaching import takes
from trueup.lineage.replay.verdicts import Carried, Judged, Verdict, gravest, verdict_of


@dataclass(frozen=True)
class NodeVerdicts:
    """What became of each correction in one node, and the conflicts that arose with them."""

    corrections: tuple[Judged, ...]
    conflicts: tuple[ConflictRecord, ...]
    comes_out_as_it_was: bool

    @property
    def verdict(self) -> Verdict:
        """Return the gravest verdict on a correction."""
        return gravest([each.verdict for each in self.corrections])


class Judge:
    """Judges the corrections of a cause in one node after another, parents before children.

    What arrived is measured from `before`. In a node where they were to be found before the step
    was made, as where one is moved up, nothing is asked about them again.
    """

    def __init__(self, before: Evaluator, after: Evaluator, cause: Cause) -> None:
        self.before, self.after, self.cause = before, after, cause
        self.corrections = taken_apart(before, after, cause)
        self.overlaps = Overlaps(before, after, cause, self.corrections)
        self._reached = {cause.node}
        # For a node and a correction, the node above or itself where it got lost.
        self._lost: dict[tuple[str, tuple[str, ...]], str] = {}
        # Likewise, where only a part of it got through.
        self._part: dict[tuple[str, tuple[str, ...]], str] = {}
        # For a graft and a correction, what is wanted there and of what derives from it.
        self._on_graft: dict[tuple[str, tuple[str, ...]], tuple[Intention, ...]] = {}
        self._settled: dict[str, str] = {}  # likewise, where it was settled by a change of its own
        self._short: dict[str, ComingShort] = {}  # of a block drafted anew, what comes short of it

    def pass_down_to(self, node: NodeRecord) -> None:
        """Note whether a node takes over what its parents became."""
        if any(p.name in self._reached and p.hold is None for p in self._followed(node)):
            self._reached.add(node.name)

    def _followed(self, node: NodeRecord) -> tuple[ParentRecord, ...]:
        """Return what a node takes the cause over from, if it does: by style only a style."""
        by_style = takes(node, (step.role for step in self.cause.steps))
        return node.followed if by_style else node.parents

    def of(self, node: NodeRecord, old: Summary, new: Summary) -> NodeVerdicts:
        """Return what became of each correction in a node, which was `old` and is `new`."""
        had_it = self.before.summary(node.name).fingerprint != old.fingerprint
        same = had_it and old.fingerprint == new.fingerprint
        carried = {each.ids: self._carried(node, each) for each in self.corrections}
        held = self._is_held(node, carried)
        doubled = () if held or had_it else self.overlaps.doubled(node)
        judged: list[Judged] = []
        overwritten: list[ConflictRecord] = []
        for each in self.corrections:
            verdict = verdict_of(
                carried[each.ids],
                held=held,
                doubled=any(conflict.correction in each.ids for conflict in doubled),
                lost=self._is_lost(node, each, carried[each.ids]),
            )
            note = "comes out as it was" if same else self._settled_by(node, each, verdict)
            if note:
                verdict = Verdict.CARRIED
            else:
                conflicts, note = self._why(node, each, verdict, carried[each.ids])
                overwritten += conflicts
            judged.append(Judged(each.ids, each.kinds, verdict, carried[each.ids], note))
        # What stood between it and a correction that it had stands there already.
        conflicts = (*doubled, *(() if had_it else overwritten))
        return NodeVerdicts(tuple(judged), conflicts, same)

    def _carried(self, node: NodeRecord, correction: Correction) -> tuple[Carried, ...]:
        old, new = correction.before.summary(node.name), correction.after.summary(node.name)
        wanted = self._wanted(node, correction)
        if correction.is_drafted_anew:
            wanted = wanted_at(self.after, node.name, wanted, correction.node)
            self._short[node.name] = coming_short(
                wanted, correction.before, correction.after, node.name
            )
        return carried_of(wanted, old, new)

    def _wanted(self, node: NodeRecord, correction: Correction) -> tuple[Intention, ...]:
        """Return what is wanted of a node: of a graft, and what derives from it, what is there."""
        if self._by_style(node):
            self._on_graft[node.name, correction.ids] = wanted_on(correction, node.name)
        places = ((name, correction.ids) for name in (node.name, *(p.name for p in node.parents)))
        wanted = next((self._on_graft[at] for at in places if at in self._on_graft), None)
        if wanted is None:
            return correction.wanted
        return self._on_graft.setdefault((node.name, correction.ids), wanted)

    def _by_style(self, node: NodeRecord) -> bool:
        """Return whether a node takes the cause over with the style of another."""
        style = node.style
        roles = (step.role for step in self.cause.steps)
        return style is not None and takes(node, roles) and style.name in self._reached

    def _is_held(
        self, node: NodeRecord, carried: Mapping[tuple[str, ...], tuple[Carried, ...]]
    ) -> bool:
        """Return whether a node stays on an earlier version, and takes nothing over elsewhere."""
        if node.name not in self._reached:
            return True
        holds = any(p.hold and p.name in self._reached for p in self._followed(node))
        return holds and all(self._is_lost(node, c, carried[c.ids]) for c in self.corrections)

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

    def _settled_by(self, node: NodeRecord, correction: Correction, verdict: Verdict) -> str:
        """Return in words where a node gets by a change of its own what a correction brought.

        Empty for all but decisions, and what trues a line for others of the same fitting: one made
        for the fit wants its amount to arrive.
        """
        if verdict not in (Verdict.LOST, Verdict.PARTLY):
            return ""
        if correction.is_drafted_anew:
            return self._trued(node)
        decided = all(step.role is Role.DECISION for step in self.cause.steps)
        if not decided and not (correction.trues and len(self.corrections) > 1):
            return ""
        own = next((step for step in node.steps if self.overlaps.trues(node, step)), None)
        above = [self._settled[p.name] for p in self._followed(node) if p.name in self._settled]
        if own:
            self._settled[node.name] = node.name
            return f"its own {own.kind} sees to it"
        if above:
            self._settled[node.name] = above[0]
            return f"{above[0]} sees to it"
        return ""

    def _trued(self, node: NodeRecord) -> str:
        """Return in words which own steps see to all that comes short of a block drafted anew."""
        short = self._short[node.name]
        above = next(
            (self._settled[p.name] for p in self._followed(node) if p.name in self._settled), ""
        )
        if not all(each.trues for each in short.own) or (short.from_above and not above):
            return ""
        self._settled[node.name] = node.name if short.own else above
        told = [f"its own {each.step.kind} sees to {each.places}" for each in short.own]
        return "; ".join([*told, *([f"{above} sees to it"] if short.from_above else [])])

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
        if verdict is Verdict.PARTLY:
            return self._shortened(node, correction, carried)
        if verdict is not Verdict.LOST:
            return (), ""
        lost_at = (self._lost.get((p.name, correction.ids)) for p in self._followed(node))
        above = next((name for name in lost_at if name), None)
        self._lost[node.name, correction.ids] = above or node.name
        if above or (instead := instead_of(node, correction)):
            return (), f"lost above, at {above}" if above else instead
        own = self.overlaps.overwriter(node, correction)
        if own:
            note = f"its own {own.kind} overwrote it"
            return self.overlaps.overwritten(node, correction, own), note
        missing = sorted({each.name.partition(".")[0] for each in carried})
        takes_none = f"takes no {' or '.join(missing)} from {self.cause.node}"
        return (), takes_none if missing else "nothing of it shows here"

    def _shortened(
        self, node: NodeRecord, correction: Correction, carried: tuple[Carried, ...]
    ) -> tuple[tuple[ConflictRecord, ...], str]:
        """Return the conflict behind what arrived in part, if there is one, and why it did."""
        places = {(p.name, correction.ids): p.name for p in self._followed(node)}
        part, lost = (
            next((found[each] for each in places if each in found), None)
            for found in (self._part, self._lost)
        )
        self._part[node.name, correction.ids] = part or lost or node.name
        if correction.is_drafted_anew:
            return (), self._comes_short(node, carried, part, lost)
        if part:
            return (), f"in part above, at {part}"
        own = self.overlaps.shortener(node, correction)
        if own is None:
            return (), f"lost above, at {lost}" if lost else self._not_taken(node, carried)
        could, can = (
            all(problem.step != own.id for problem in at.summary(node.name).problems)
            for at in (correction.before, correction.after)
        )
        if could is not can:
            return (), f"its own {own.kind} can{' ' if can else 'not '}be made with it"
        note = f"its own {own.kind} changes what arrives"
        if own.role is Role.DECISION:
            return (), note
        worst = max(carried, key=lambda each: abs((each.got_mm or 0.0) - each.wanted_mm))
        return self.overlaps.shortened(node, correction, own, worst), note

    def _comes_short(
        self, node: NodeRecord, carried: tuple[Carried, ...], part: str | None, lost: str | None
    ) -> str:
        """Return in words what keeps a block drafted anew from arriving whole."""
        short = self._short[node.name]
        told = [each.note for each in short.own]
        if short.from_above:
            above = f"in part above, at {part}" if part else ""
            told.append(
                above or (f"lost above, at {lost}" if lost else self._not_taken(node, carried))
            )
        return "; ".join(told)

    def _not_taken(self, node: NodeRecord, carried: tuple[Carried, ...]) -> str:
        """Return why a part of what was wanted does not show, where no step is behind it."""
        if self._by_style(node):
            return "comes out otherwise on this block"
        short = {each.name.partition(".")[0] for each in carried if not each.arrived}
        missing = sorted(p for p in short if not self.overlaps.comes_down(node.name, p))
        if missing:
            return f"takes no {' or '.join(missing)} from {self.cause.node} as it is now"
        return "lies otherwise in what it takes over"
