"""Garments and fit notes as JSON: plain values with lengths in mm, for programs to read."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from trueup.cli.json.forms import Form, mm, step
from trueup.cli.json.measured import remeasured
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.state import State
from trueup.lineage.garments.since import Since, dropped_since

if TYPE_CHECKING:
    from trueup.lineage.garments.filing import Filing


def garment(record: GarmentRecord) -> Form:
    """Return a garment with all its notes."""
    return {
        "name": record.name,
        "pattern": record.pattern,
        "cut_from": record.cut_from,
        "cut_on": record.cut_on.isoformat(),
        "status": record.status.value,
        "fabric": record.fabric,
        "wearer": record.wearer,
        "allowances": [
            {"edge": edge, "amount_mm": mm(amount)} for edge, amount in record.allowances.items()
        ],
        "stitched_down": list(record.stitched_down),
        "outline": record.outline_path,
        "altered_to": record.altered_to or None,
        "altered_outline": record.altered_path if record.altered_to else None,
        "lacking": [{"edge": edge, "amount_mm": mm(by)} for edge, by in record.lacking.items()],
        "notes": [note(each) for each in record.notes],
        "open_notes": [each.id for each in record.open_notes],
    }


def note(record: FitNote) -> Form:
    """Return a fit note."""
    return {
        "id": record.id,
        "symptom": record.symptom,
        "place": record.place,
        "side": record.side.value,
        "amount_mm": mm(record.amount_mm),
        "wearer": record.wearer,
        "date": record.date.isoformat(),
        "words": record.words,
        "photo": record.photo or None,
        "is_open": record.is_open,
        "resolved_by": list(record.resolved_by),
    }


def filed(filing: "Filing", commit: str) -> Form:
    """Return what a step on a garment recorded."""
    document: dict[str, Any] = {
        "recorded": {
            "verb": filing.verb,
            "says": filing.says,
            "why": filing.why,
            "commit": commit,
        },
        "garment": garment(filing.garment),
    }
    if filing.note is not None:
        document["note"] = note(filing.note)
    return document


def garments(found: Iterable[GarmentRecord], state: State) -> Form:
    """Return garments, each with whether its pattern is still there."""
    there = {*state.nodes, *state.lost_nodes}
    return {
        "garments": [
            {**garment(each), "pattern_deleted": each.pattern not in there} for each in found
        ]
    }


def garment_since(record: GarmentRecord, became: Since, state: State) -> Form:
    """Return one garment, and what became of its pattern since."""
    return {
        "garment": garment(record),
        "since": {
            "pattern": became.fate.value,
            "says": worded(became.says, Unit.MILLIMETRE),
            "corrected": bool(became.corrections or became.blocks),
            "remeasured": [
                {
                    "node": each.node,
                    "measurements": remeasured(each.measurements),
                    "made": list(each.made),
                }
                for each in became.blocks
            ],
            "steps": [
                {"node": each.node, "how": each.how, "step": step(each.step)}
                for each in became.steps
            ],
        },
        "dropped_corrections": {
            each.id: list(gone) for each in record.notes if (gone := dropped_since(state, each))
        },
    }
