"""What was seen on a worn garment in a few words: what, where, by how much, and on which side."""

from trueup.cli.amounts import length
from trueup.cli.wording.seen import seen_in_words
from trueup.geometry.units import Unit
from trueup.lineage.files.garment_records import FitNote, NotedSide


def note_in_short(note: FitNote, unit: Unit) -> str:
    """Return a fit note in one clause, with its amount and side."""
    more = how_much(note, unit)
    seen = seen_in_words(note.symptom, note.place)
    return f"{seen}, {more}" if more else seen


def how_much(note: FitNote, unit: Unit) -> str:
    """Return by how much, and on which side, something was seen; empty where nobody said."""
    by = "" if note.amount_mm is None else length(note.amount_mm, unit)
    side = "" if note.side is NotedSide.BOTH else f"{note.side.value} side"
    return ", ".join(filter(None, (by, side)))
