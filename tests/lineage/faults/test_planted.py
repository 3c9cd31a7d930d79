"""Faults planted at random: exactly the garments that inherit one are found.

Who inherits is worked out here by geometry alone: the planted amount is changed, everything is
evaluated again, and those are counted whose line moved and lies as it does in the noted garment.
"""

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

import pytest

from tests.lineage.making import block, step
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.faults.shared import fault_of_note
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import (
    NodeRecord,
    ParentRecord,
    Role,
    Settings,
    StepRecord,
    replace,
)
from trueup.lineage.files.state import State

CASES = 1000
BATCHES = 10
FAULT = "fault"
APART = 1e-3  # mm; lines that differ by more are two


class Memory:
    """A cache in memory, so that what many cases have in common is evaluated once."""

    def __init__(self) -> None:
        self.kept: dict[str, tuple[Summary, Draft | None]] = {}

    def summary(self, key: str) -> Summary | None:
        return self.kept[key][0] if key in self.kept else None

    def draft(self, key: str) -> Draft | None:
        return self.kept[key][1] if key in self.kept else None

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        self.kept[key] = (summary, draft)

    def nodes(self) -> Mapping[str, NodeRecord]:
        return {}

    def keep_node(self, key: str, node: NodeRecord) -> None:
        pass


MEMORY = Memory()
Reading = list[float]
READINGS: dict[str, Reading | None] = {}
"""The readings of all worlds, each under the key of what it was read from."""


@dataclass
class World:
    """All versions of a wardrobe, oldest first."""

    states: list[State]
    _evaluators: dict[str, Evaluator] = field(default_factory=dict)

    def at(self, commit: str) -> Evaluator:
        if commit not in self._evaluators:
            state = self.states[int(commit, 16)]
            self._evaluators[commit] = Evaluator(state, MEMORY, self.at)
        return self._evaluators[commit]

    @property
    def head(self) -> str:
        return f"{len(self.states) - 1:040x}"

    def record(self, *nodes: NodeRecord) -> None:
        self.states.append(self.states[-1].with_nodes(nodes))

    def with_other_fault(self) -> "World":
        """Return the same history with the planted step made by another amount."""
        other = step(FAULT, "scoop-armhole", Role.CORRECTION, piece="front", by="14mm")
        return World([_swapped(state, other) for state in self.states])

    def with_one_more(self, node: str) -> "World":
        """Return the same history with a correction made at a node at last."""
        record = self.states[-1].node(node)
        more = step("more", "scoop-armhole", Role.CORRECTION, piece="front", by="2.3mm")
        last = self.states[-1].with_nodes([replace(record, steps=(*record.steps, more))])
        return World([*self.states[:-1], last])


def _swapped(state: State, other: StepRecord) -> State:
    return state.with_nodes(
        replace(node, steps=tuple(other if s.id == FAULT else s for s in node.steps))
        for node in state.nodes.values()
        if node.step(FAULT)
    )


class Case:
    """One random wardrobe with its history, a planted fault, and garments cut on the way."""

    def __init__(self, seed: int) -> None:
        self.draw = random.Random(seed)
        self.made = 0
        self.turned = False
        self.depth = {"root": 0}
        self.frontless: set[str] = set()
        self.garments: list[GarmentRecord] = []
        self.world = World([State(Settings("Random"), {"root": block("root")})])
        self._grow()
        self.planted = self.draw.choice(sorted(self.depth.keys() - self.frontless))
        events = [self._cut] * self.draw.randint(6, 9) + [self._step] * self.draw.randint(0, 5)
        events += [self._hold] * self.draw.randint(0, 2) + [self._plant]
        self.draw.shuffle(events)
        for event in (*events, self._cut, self._cut, self._cut):
            event()
        last = self.world.states[-1]
        self.world.states[-1] = replace_garments(last, self.garments)

    def _grow(self) -> None:
        nodes = []
        for index in range(self.draw.randint(4, 8)):
            name = f"n{index}"
            parent = self.draw.choice([n for n, depth in self.depth.items() if depth < 4])
            parents = [ParentRecord(parent, self._pieces_of(parent))]
            fronts = [n for n in self.depth if n != parent and n not in self.frontless]
            if parents[0].pieces == ("back",):
                if fronts and self.draw.random() < 0.5:
                    parents.append(ParentRecord(self.draw.choice(fronts), ("front",)))
                else:
                    self.frontless.add(name)
            self.depth[name] = 1 + max(self.depth[p.name] for p in parents)
            steps = (self._random_step(),) if self.draw.random() < 0.4 else ()
            nodes.append(NodeRecord(name, False, tuple(parents), steps=steps))
        self.world.states[0] = self.world.states[0].with_nodes(nodes)

    def _pieces_of(self, parent: str) -> tuple[str, ...] | None:
        drawn = self.draw.random()
        if parent in self.frontless or drawn < 0.15:
            return ("back",)
        return ("front", "back") if drawn < 0.3 else None

    def _random_step(self) -> StepRecord:
        """Return a step unlike any other of this case: one that reshapes the place, or not."""
        self.made += 1
        name, k = f"s{self.made}", self.made
        match self.draw.randint(0, 5):
            case 0:
                return step(name, "redraw-edge", edge="front.armhole", through=f"50%:{20 + k}mm")
            case 1:
                return step(name, "scoop-armhole", piece="front", by=f"{2 + 0.7 * k:g}mm")
            case 2 if not self.turned:
                self.turned = True
                at = "30% from underarm"
                return step(name, "rotate-dart", dart="front.bust", edge="front.side", at=at)
            case 3:
                return step(name, "lengthen", by=f"{20 + k}mm")
        return step(name, "lower-neck", piece="front", by=f"{3 + k}mm")

    def _node(self) -> NodeRecord:
        return self.world.states[-1].node(self.draw.choice(sorted(self.depth)))

    def _step(self) -> None:
        node = self._node()
        self.world.record(replace(node, steps=(*node.steps, self._random_step())))

    def _plant(self) -> None:
        node = self.world.states[-1].node(self.planted)
        fault = step(FAULT, "scoop-armhole", Role.CORRECTION, piece="front", by="9mm")
        self.world.record(replace(node, steps=(*node.steps, fault)))

    def _hold(self) -> None:
        node = self._node()
        if node.parents:
            first, *others = node.parents
            held = replace(first, hold=self.world.head)
            self.world.record(replace(node, parents=(held, *others)))

    def _cut(self) -> None:
        name = f"g{len(self.garments)}"
        pattern = self._node().name
        self.garments.append(GarmentRecord(name, pattern, self.world.head, date(2025, 3, 1)))


def replace_garments(state: State, garments: list[GarmentRecord]) -> State:
    return State(state.settings, state.nodes, {g.name: g for g in garments})


# --- who inherits, by geometry alone ----------------------------------------------------------


def reading(world: World, commit: str, node: str) -> Reading | None:
    """Return the front armhole as distances within each of its parts: no motion changes them."""
    evaluator = world.at(commit)
    key = evaluator.key(node)
    if key not in READINGS:
        READINGS[key] = _read(evaluator.draft(node))
    return READINGS[key]


def _read(draft: Draft) -> Reading | None:
    if not draft.has_piece("front"):
        return None
    found: Reading = []
    for part in draft.edge("front", "armhole").parts:
        points = [p for cubic in part.cubics for p in (cubic.point(t / 4) for t in range(5))]
        found += [abs(p - end) for p in points for end in (points[0], points[-1])]
    return found


def differ(one: Reading | None, other: Reading | None) -> bool:
    if one is None or other is None or len(one) != len(other):
        return one is not other
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) > APART


@dataclass
class Truth:
    """What a case is by geometry: which lines the planted fault reaches, and which are alike."""

    case: Case

    def __post_init__(self) -> None:
        self.world = self.case.world
        self.other = self.world.with_other_fault()

    def reached(self, commit: str, node: str) -> bool:
        return differ(reading(self.world, commit, node), reading(self.other, commit, node))

    def as_planted(self, garment: GarmentRecord) -> bool:
        """Return whether a garment has the line as the planted node had it in some version."""
        mine = reading(self.world, garment.cut_from, garment.pattern)
        planted = self.case.planted
        versions = [f"{i:040x}" for i in range(len(self.world.states))]
        return self.reached(garment.cut_from, garment.pattern) and any(
            not differ(mine, reading(self.world, each, planted))
            for each in versions
            if self.reached(each, planted)
        )

    def has(self, commit: str, node: str, noted: GarmentRecord) -> bool:
        mine = reading(self.world, noted.cut_from, noted.pattern)
        return self.reached(commit, node) and not differ(mine, reading(self.world, commit, node))

    def mended_at(self, node: str, noted: GarmentRecord) -> set[str]:
        """Return the garments with the fault whose pattern a correction at a node would mend."""
        head, more = self.world.head, self.world.with_one_more(node)
        return {
            g.name
            for g in self.case.garments
            if self.has(g.cut_from, g.pattern, noted)
            and self.has(head, g.pattern, noted)
            and differ(reading(self.world, head, g.pattern), reading(more, head, g.pattern))
        }


def judge(case: Case) -> bool:
    """Compare what is found for one noted garment; False where no garment has the fault."""
    truth = Truth(case)
    faulty = [garment for garment in case.garments if truth.as_planted(garment)]
    if not faulty:
        return False
    noted = case.draw.choice(faulty)
    note = FitNote("note", "gapes", "front.armhole", date(2025, 4, 1))
    found = fault_of_note(Inquiry(case.world.at(case.world.head)), noted, note)
    assert found.node == case.planted
    assert {each.garment for each in found.garments} == {
        g.name for g in case.garments if truth.has(g.cut_from, g.pattern, noted)
    }
    head = case.world.head
    having = {name for name in case.depth if truth.has(head, name, noted)}
    assert {*found.patterns, *found.blocks} == having
    assert {each.garment for each in found.garments if each.corrected} == {
        g.name
        for g in case.garments
        if truth.has(g.cut_from, g.pattern, noted) and g.pattern not in having
    }
    for rank in found.ranks:
        assert set(rank.garments) == truth.mended_at(rank.node, noted)
    told = {each.name for each in found.unmended if each.is_garment}
    mended = set(found.best.garments) if found.best else set()
    assert told | mended >= {each.garment for each in found.garments}
    assert not told & mended
    assert all(each.says for each in found.unmended)
    return True


@pytest.mark.parametrize("batch", range(BATCHES))
def test_exactly_the_garments_that_inherit_a_planted_fault_are_found(batch: int) -> None:
    judged, seed = 0, batch * 1_000_000
    while judged < CASES // BATCHES:
        judged += judge(Case(seed))
        seed += 1
