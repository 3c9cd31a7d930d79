"""Write down what was seen on a worn garment."""

import datetime
import hashlib
import json
from dataclasses import dataclass
from difflib import get_close_matches

from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.sides.parting import one_side
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.files.garment_errors import NoSuchNote, NoSuchSymptom, Unsaid
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, NotedSide
from trueup.lineage.files.photos import Photo
from trueup.lineage.files.records import replace
from trueup.lineage.files.state import State
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.saying import LONGEST_WORDS, day, words
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.symptoms.rows import SYMPTOMS

OTHER = "other"
"""The symptom of a note whose words say what no word of the vocabulary says."""


@dataclass(frozen=True)
class Seen:
    """What a maker says was seen, as written; `amount` is a length, `date` today when it is None.

    The garment's own wearer is meant when none is named.
    """

    symptom: str
    place: str
    amount: str | None = None
    side: NotedSide = NotedSide.BOTH
    wearer: str = ""
    date: str | None = None
    words: str = ""
    photo: Photo | None = None


def note(wardrobe: OpenWardrobe, garment_name: str, seen: Seen, today: datetime.date) -> Filing:
    """Return the step that adds a fit note to a garment; nothing is written yet.

    Raises NoSuchGarment, NoSuchSymptom, NoSuchName for a place that the version it was cut from
    does not have, UnknownRevision where that version is not in the history, BadDate, BadLength,
    BadParameter, BadWords.
    """
    state = wardrobe.state
    garment = state.garment(garment_name)
    draft = wardrobe.evaluator_at(garment.cut_from).draft(garment.pattern)
    if seen.place not in places(draft):
        raise NoSuchName("place", seen.place, f"{garment_name} as it was cut", places(draft))
    said = words(seen.words, "words", LONGEST_WORDS)
    bare = FitNote(
        id="",
        symptom=symptom_of(seen.symptom, said),
        place=seen.place,
        date=day(seen.date, today, garment.cut_on, f"{garment_name} was cut"),
        side=seen.side,
        amount_mm=_amount(seen.amount, state.unit),
        wearer=words(seen.wearer, "wearer") or garment.wearer,
        words=said,
    )
    made = replace(bare, id=_id(state, wardrobe.head, garment_name, bare))
    beside = {}
    if seen.photo is not None:
        made = replace(made, photo=f"photos/{garment_name}-{made.id}.{seen.photo.suffix}")
        beside[made.photo] = seen.photo.content
    noted = replace(garment, notes=(*garment.notes, made))
    says = f"Note on {garment_name}: {made.symptom} at {made.place}"
    return Filing(wardrobe.base, noted, "note", says, made.words, made, beside)


def places(draft: Draft) -> tuple[str, ...]:
    """Return the places a note can name: edges and darts as `piece.edge`, levels as `bust`.

    Where left and right differ, a place of both has the name they share.
    """
    levels = (level.name for piece in draft.pieces for level in piece.levels)
    both = one_side(draft)
    names = (*draft.edge_names, *draft.dart_names, *both.edge_names, *both.dart_names)
    return tuple(dict.fromkeys((*names, *levels)))


def symptom_of(text: str, said: str) -> str:
    """Return a symptom as it is kept: a word of the vocabulary, or `other` where `said` tells it.

    Raises NoSuchSymptom with the nearest words, Unsaid where `other` is left without any.
    """
    symptom = "-".join(words(text, "symptom").lower().split())
    if symptom == OTHER and not said:
        raise Unsaid("words", "`other` stands for what no word of the vocabulary says")
    if symptom != OTHER and symptom not in SYMPTOMS:
        raise NoSuchSymptom(text, _nearest(symptom))
    return symptom


def _nearest(symptom: str) -> tuple[str, ...]:
    """Return the symptoms most like a text, by name or by a word of what they say, or all."""
    like = get_close_matches(symptom, SYMPTOMS, n=3, cutoff=0.6)
    parts = {part for part in symptom.split("-") if len(part) > 3}
    like += [
        name
        for name, says in SYMPTOMS.items()
        if name not in like and any(part in f"{name} {says}" for part in parts)
    ]
    return tuple(like[:6] or SYMPTOMS)


def _amount(text: str | None, unit: Unit) -> float | None:
    if text is None:
        return None
    amount = parse_length(text, unit)
    if amount <= 0:
        raise BadParameter("amount", text, said("more-than-nought"))
    return amount


def _id(state: State, head: str, garment: str, bare: FitNote) -> str:
    """Return the id of a note: the same for the same note made on the same version.

    Two makers who both note one thing from one version wrote one note.
    """
    seen = [str(getattr(bare, name)) for name in FitNote.__struct_fields__]
    taken = {each.id for one in state.garments.values() for each in one.notes}
    text = json.dumps([head, garment, seen])
    while True:
        text = hashlib.sha256(text.encode()).hexdigest()
        if (made := f"note-{text[:8]}") not in taken:
            return made


def find_note(state: State, note_id: str) -> tuple[GarmentRecord, FitNote]:
    """Return a fit note and the garment it is on; raises NoSuchNote with those most like it."""
    known: list[str] = []
    for garment in state.garments.values():
        for each in garment.notes:
            if each.id == note_id:
                return garment, each
            if each.is_open:
                known.append(each.id)
    like = get_close_matches(note_id, known, n=3, cutoff=0.8) or known[:8]
    raise NoSuchNote(note_id, like, state.unreadable_garments)


def open_notes(state: State) -> tuple[tuple[GarmentRecord, FitNote], ...]:
    """Return every note that nothing has mended yet, with its garment."""
    return tuple((g, each) for g in state.garments.values() for each in g.open_notes)
