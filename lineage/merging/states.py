"""Merge two wardrobes over the one they come from: changes by id, never coordinates. Pure."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from trueup.geometry.units import Unit
from trueup.lineage.errors import Cycle, MissingParent
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import ConflictRecord, NodeRecord, Settings
from trueup.lineage.files.state import State
from trueup.lineage.merging.bodies import merge_body
from trueup.lineage.merging.garments import merge_garment
from trueup.lineage.merging.nodes import merge_node
from trueup.lineage.merging.three_way import Note, Sides, in_order, three_way
from trueup.lineage.store.joins.merge_errors import CannotJoin

_Record = TypeVar("_Record", NodeRecord, GarmentRecord, BodyRecord)

SETTINGS_FILE = "wardrobe.toml"


@dataclass(frozen=True)
class Merged:
    """Two wardrobes as one.

    `notes` say what was done without asking, `questions` are the conflicts opened where both makers
    did different things with the same; they stand in the state too, each at its node.
    """

    state: State
    notes: tuple[Note, ...]
    questions: tuple[ConflictRecord, ...]


def merge_states(base: State, ours: State, theirs: State, sides: Sides | None = None) -> Merged:
    """Return two wardrobes as one, given the wardrobe both come from.

    What one side changed is taken; what both changed in the same way is taken once; where they
    contradict, ours stands and a conflict with both ways as remedies is opened. A node that one
    side deleted and the other changed, or derived from, is kept. Raises CannotJoin where neither
    can be left standing: two units, one name for different things, nodes derived in a ring.
    """
    sides = sides or Sides()
    merging = _Merging(base, ours, theirs, sides)
    settings = merging.settings()
    nodes = merging.nodes(Unit(settings.unit))
    garments = merging.garments()
    for name in nodes.keys() & garments.keys():
        raise CannotJoin(
            garments[name].path,
            f"{nodes[name].path} has the same name",
            "rename one of them (its file and the name in it) and join again",
        )
    state = State(settings, nodes, garments, bodies=merging.bodies(Unit(settings.unit)))
    _require_graph(state)
    return Merged(state, tuple(merging.notes), tuple(merging.questions))


class _Merging:
    """A merge under way."""

    def __init__(self, base: State, ours: State, theirs: State, sides: Sides) -> None:
        self.base, self.ours, self.theirs, self.sides = base, ours, theirs, sides
        self.notes: list[Note] = []
        self.questions: list[ConflictRecord] = []

    def settings(self) -> Settings:
        """Return the merged settings; raises CannotJoin where both changed one of them."""
        before, mine, others = self.base.settings, self.ours.settings, self.theirs.settings
        unit, same_unit = three_way(before.unit, mine.unit, others.unit)
        name, same_name = three_way(before.name, mine.name, others.name)
        for what, agreed in (("unit", same_unit), ("name", same_name)):
            if not agreed:
                here, there = getattr(mine, what), getattr(others, what)
                raise CannotJoin(
                    SETTINGS_FILE,
                    f'the {what} is "{here}" for {self.sides.ours} and "{there}" for '
                    f"{self.sides.theirs}",
                    "agree on one, write it into the file by hand, and join again",
                )
        return Settings(name, unit)

    def nodes(self, unit: Unit) -> dict[str, NodeRecord]:
        """Return the merged nodes."""
        before, mine, others = self.base.nodes, self.ours.nodes, self.theirs.nodes
        kept: dict[str, NodeRecord] = {}
        for name in in_order(before, mine, others):
            here, there = mine.get(name), others.get(name)
            if here and there:
                if here == there == before.get(name):
                    kept[name] = here
                    continue
                merged = merge_node(before.get(name), here, there, self.sides, unit)
                kept[name] = merged.node
                self.notes += merged.notes
                self.questions += merged.questions
                self._note_decisions(merged.node, here, merged.notes)
            else:
                self._one_sided(kept, before.get(name), here, there)
        self._keep_parents(kept)
        return kept

    def _note_decisions(
        self, merged: NodeRecord, here: NodeRecord, notes: tuple[Note, ...]
    ) -> None:
        if not notes and merged != here:
            says = f"what was decided about {merged.name}, by {self.sides.theirs}"
            self.notes.append(Note("came-in", merged.name, says))

    def garments(self) -> dict[str, GarmentRecord]:
        """Return the merged garments."""
        sides = (self.base.garments, self.ours.garments, self.theirs.garments)
        return self._each(*sides, lambda b, o, t: merge_garment(b, o, t, self.sides))

    def bodies(self, unit: Unit) -> dict[str, BodyRecord]:
        """Return the merged bodies; a bare number of theirs takes the unit."""
        sides = (self.base.bodies, self.ours.bodies, self.theirs.bodies)
        return self._each(*sides, lambda b, o, t: merge_body(b, o, t, self.sides, unit))

    def _each(
        self,
        before: Mapping[str, _Record],
        mine: Mapping[str, _Record],
        others: Mapping[str, _Record],
        merge: Callable[[_Record | None, _Record, _Record], tuple[_Record, tuple[Note, ...]]],
    ) -> dict[str, _Record]:
        kept: dict[str, _Record] = {}
        for name in in_order(before, mine, others):
            here, there = mine.get(name), others.get(name)
            if here and there:
                if here == there:
                    kept[name] = here
                    continue
                kept[name], notes = merge(before.get(name), here, there)
                if not notes and kept[name] != here:
                    says = f"what was written down of it, by {self.sides.theirs}"
                    notes = (Note("came-in", name, says),)
                self.notes += notes
            else:
                self._one_sided(kept, before.get(name), here, there)
        return kept

    def _one_sided(
        self,
        kept: dict[str, _Record],
        was: _Record | None,
        here: _Record | None,
        there: _Record | None,
    ) -> None:
        """Keep what only one side has, unless the other deleted it and this one left it alone."""
        one = here or there
        if one is None:
            return
        if was is None:
            kept[one.name] = one
            if there:
                self.notes.append(Note("came-in", one.name, f"{one.path}, of {self.sides.theirs}"))
        elif one != was:
            kept[one.name] = one
            deleter = self.sides.theirs if here else self.sides.ours
            says = f"{one.path}, which {deleter} deleted, because it was changed since"
            self.notes.append(Note("kept", one.name, says))
        elif here:
            says = f"{one.path}, which {self.sides.theirs} deleted"
            self.notes.append(Note("dropped", one.name, says))

    def _keep_parents(self, kept: dict[str, NodeRecord]) -> None:
        """Put back a deleted node that something kept derives from."""
        wanted = [parent.name for node in kept.values() for parent in node.followed]
        while wanted:
            name = wanted.pop()
            one = self.ours.nodes.get(name) or self.theirs.nodes.get(name)
            if name in kept or one is None:
                continue
            kept[name] = one
            says = f"{one.path}, which one side deleted, because something derives from it"
            self.notes.append(Note("kept", name, says))
            wanted += [parent.name for parent in one.followed]


def _require_graph(state: State) -> None:
    try:
        _ = state.graph
    except Cycle as error:
        ring = " -> ".join((*error.nodes, error.nodes[0]))
        reason = f"joined, patterns would derive from themselves ({ring})"
    except MissingParent as error:
        reason = f"its parent {error.parent} is on neither side"
    else:
        return
    raise CannotJoin(
        "The wardrobe", reason, "take one of the derivations back on one side, and join again"
    )
