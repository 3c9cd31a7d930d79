"""Who shares a place: the patterns that have it now, and the garments it was cut into. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import Said
from trueup.lineage.errors import BadInput, Damaged, UnknownRevision, quoted
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.faults.handed_down import Trace, Tracer
from trueup.lineage.faults.places import PlaceLine, lines_of
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.garments.notes import OTHER


@dataclass(frozen=True)
class SeenNote:
    """A fit note, and the garment it was made on."""

    garment: GarmentRecord
    note: FitNote


@dataclass(frozen=True)
class Place:
    """A place of one pattern at one version: its lines, and the ways they came down to it."""

    name: str
    lines: tuple[PlaceLine, ...]
    traces: tuple[Trace, ...]

    def is_same(self, other: "Place") -> bool:
        """Return whether two patterns share the place: by each of its lines."""
        pairs = zip(self.traces, other.traces, strict=True)
        return self.name == other.name and all(one.is_same(two) for one, two in pairs)

    @property
    def nearest(self) -> Trace:
        """Return the way of the line that was shaped last on its way down."""
        return min(self.traces, key=lambda trace: len(trace.way))

    @property
    def node(self) -> str:
        """Return the node that last shaped the place, or where its step is now."""
        return self.nearest.source.node

    @property
    def step(self) -> StepRecord | None:
        """Return the step that last shaped it, None where it was drafted so."""
        return self.nearest.step

    @property
    def way(self) -> tuple[str, ...]:
        """Return the nodes that have the place as it is, from the pattern upwards."""
        return tuple(n for n in self.nearest.way if all(n in t.way for t in self.traces))

    @property
    def free(self) -> frozenset[str]:
        """Return those nodes whose corrections of the place would arrive in the pattern."""
        return frozenset.intersection(*(frozenset(trace.free) for trace in self.traces))


@dataclass
class Inquiry:
    """Asks who shares places, in one wardrobe as it is now; what was traced is kept.

    Older versions are asked for through the evaluator's own `earlier`.
    """

    now: Evaluator
    unknown: dict[str, Said] = field(default_factory=dict)
    """What is wrong with garments whose version cannot be asked for, by name; filled by asking."""
    _earlier: dict[str, Evaluator] = field(default_factory=dict, repr=False)

    @cached_property
    def tracer(self) -> Tracer:
        """Return what traces lines, and keeps what it traced."""
        return Tracer(self.state)

    @property
    def state(self) -> State:
        """Return the wardrobe as it is now."""
        return self.now.state

    def as_cut(self, garment: GarmentRecord) -> Evaluator:
        """Return the evaluator of the version a garment was cut from; raises UnknownRevision."""
        if self.now.earlier is None:
            return self.now
        if garment.cut_from not in self._earlier:
            self._earlier[garment.cut_from] = self.now.earlier(garment.cut_from)
        return self._earlier[garment.cut_from]

    def place(self, evaluator: Evaluator, node: str, name: str) -> Place:
        """Return a place of a node; raises NoSuchNode, or NoSuchName with the places there are."""
        evaluator.state.node(node)
        draft: Draft = evaluator.draft(node)
        found = self.placed(evaluator, node, name, lines_of(draft, name, node))
        if found is None:  # the draft has the lines, so the way of each is known
            raise AssertionError(f"{node} has {name} and no way it came by")
        return found

    def placed(
        self, evaluator: Evaluator, node: str, name: str, lines: tuple[PlaceLine, ...]
    ) -> Place | None:
        """Return the place that given lines make at a node, None where it lacks one of them.

        Raises Damaged for a node that cannot be read.
        """
        if not evaluator.state.has(node):
            return None
        traces = self.tracer.traces(evaluator, node, lines)
        return Place(name, lines, traces) if traces else None

    def cut_place(self, garment: GarmentRecord, name: str) -> Place:
        """Return a place of a garment as it was cut."""
        return self.place(self.as_cut(garment), garment.pattern, name)

    def has_as_cut(self, garment: GarmentRecord, place: Place) -> bool:
        """Return whether a garment was cut with the very same lines."""
        try:
            version = self.as_cut(garment)
            cut = self.placed(version, garment.pattern, place.name, place.lines)
        except (UnknownRevision, Damaged) as error:
            self.unknown[garment.name] = error.says
            return False
        return cut is not None and cut.is_same(place)

    def has_now(self, node: str, place: Place) -> Place | None:
        """Return the place at a node as it is now, None where it is not the very same."""
        found = self.now_at(node, place)
        return found if found is not None and found.is_same(place) else None

    def now_at(self, node: str, place: Place) -> Place | None:
        """Return the place that the same lines make at a node now, None where there is none."""
        if node in self.state.lost_nodes:
            return None
        return self.placed(self.now, node, place.name, place.lines)

    def patterns(self, place: Place) -> dict[str, Place]:
        """Return the nodes that have the very same place now, with the ways it comes to them."""
        found = {name: self.has_now(name, place) for name in self.state.in_order}
        return {name: there for name, there in found.items() if there is not None}

    def garments(self, place: Place) -> tuple[GarmentRecord, ...]:
        """Return the garments that were cut with the very same place, by name."""
        known = self._garments
        return tuple(garment for garment in known if self.has_as_cut(garment, place))

    @cached_property
    def _garments(self) -> tuple[GarmentRecord, ...]:
        return tuple(self.state.garments[name] for name in sorted(self.state.garments))

    def open_notes(self) -> Iterator[SeenNote]:
        """Yield every open fit note, by garment."""
        for garment in self._garments:
            for note in garment.open_notes:
                yield SeenNote(garment, note)


def kind_of(note: FitNote) -> str:
    """Return what two notes agree in when they tell of one kind of fault; case does not matter.

    What no word of the vocabulary says is told apart by the maker's own words.
    """
    said = f"{note.symptom} {note.words}" if note.symptom == OTHER else note.symptom
    return " ".join(said.casefold().split())


def same_kind(
    garments: Sequence[GarmentRecord], place: str, kind: str | None
) -> tuple[SeenNote, ...]:
    """Return the open notes of one kind at a place; of any kind when None."""
    return tuple(
        SeenNote(garment, note)
        for garment in garments
        for note in garment.open_notes
        if note.place == place and (kind is None or kind_of(note) == kind)
    )


@dataclass(eq=False)
class NoOpenNote(BadInput):
    """A garment without the fit note that was asked for."""

    garment: str
    note: str
    known: Sequence[str]

    def __str__(self) -> str:
        if not self.known:
            return f"{self.garment} has no open fit note; name a node and a place instead."
        ids = ", ".join(self.known)
        return f'"{quoted(self.note)[:60]}" is no fit note of {self.garment}; it has {ids}.'
