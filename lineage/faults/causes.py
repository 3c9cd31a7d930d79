"""Group all open fit notes of a wardrobe by their common cause."""

from dataclasses import dataclass

from trueup.geometry.errors import NoSuchName
from trueup.geometry.said import Said, parts
from trueup.lineage.errors import Damaged, NoSuchNode, UnknownRevision
from trueup.lineage.faults.inquiry import Inquiry, Place, SeenNote, kind_of
from trueup.lineage.faults.shared import fault_of_note
from trueup.lineage.faults.taken_over import Rank
from trueup.lineage.files.records import StepRecord


@dataclass(frozen=True)
class CommonCause:
    """A line that was found at fault: the node and step it comes from, and everyone who shares it.

    `notes` are the open notes of one symptom at one place that come from it; `garments` all that
    were cut with it, with or without a note; `patterns` and `blocks` those that have it now;
    `best` where one correction would mend the most, None where nothing has the line any more; then
    `now_node` and `now_step` say what shapes the place since in the pattern of the first note.
    """

    node: str
    step: StepRecord | None
    place: str
    symptom: str
    notes: tuple[SeenNote, ...]
    patterns: tuple[str, ...]
    blocks: tuple[str, ...]
    garments: tuple[str, ...]
    best: Rank | None
    now_node: str
    now_step: StepRecord | None

    @property
    def is_common(self) -> bool:
        """Return whether it was seen on more than one garment."""
        return len({seen.garment.name for seen in self.notes}) > 1


@dataclass(frozen=True)
class Unplaced:
    """An open note whose place, or the version its garment was cut from, is not to be found."""

    seen: SeenNote
    says: Said


@dataclass(frozen=True)
class Causes:
    """What lies behind the open notes, the most often seen first; and notes without a place."""

    causes: tuple[CommonCause, ...]
    unplaced: tuple[Unplaced, ...]

    @property
    def common(self) -> tuple[CommonCause, ...]:
        """Return the causes seen on more than one garment."""
        return tuple(cause for cause in self.causes if cause.is_common)

    @property
    def single(self) -> tuple[CommonCause, ...]:
        """Return the causes seen on one garment only."""
        return tuple(cause for cause in self.causes if not cause.is_common)


def causes(inquiry: Inquiry) -> Causes:
    """Return all open notes by common cause: where the line comes from, its place, the symptom.

    Notes whose garments have the place from different sources have separate causes.
    """
    groups: list[tuple[Place, list[SeenNote]]] = []
    unplaced: list[Unplaced] = []
    for seen in inquiry.open_notes():
        try:
            place = inquiry.cut_place(seen.garment, seen.note.place)
        except (NoSuchName, NoSuchNode, UnknownRevision, Damaged) as error:
            unplaced.append(Unplaced(seen, parts(error.says, ".")))
            continue
        kind = kind_of(seen.note)
        shared = (
            notes for of, notes in groups if kind_of(notes[0].note) == kind and of.is_same(place)
        )
        notes = next(shared, None)
        if notes is None:
            groups.append((place, [seen]))
        else:
            notes.append(seen)
    found = [_cause(inquiry, tuple(notes), place) for place, notes in groups]
    found.sort(key=lambda cause: (-len(cause.notes), cause.node, cause.place, cause.symptom))
    return Causes(tuple(found), tuple(unplaced))


def _cause(inquiry: Inquiry, notes: tuple[SeenNote, ...], place: Place) -> CommonCause:
    fault = fault_of_note(inquiry, notes[0].garment, notes[0].note)
    return CommonCause(
        place.node,
        place.step,
        place.name,
        notes[0].note.symptom,
        notes,
        fault.patterns,
        fault.blocks,
        tuple(each.garment for each in fault.garments),
        fault.best,
        fault.now_node,
        fault.now_step,
    )
