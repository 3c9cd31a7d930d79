"""Shared faults as JSON documents."""

from collections.abc import Iterable

from trueup.cli.json.forms import Form, mm, step
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.faults.causes import Causes, CommonCause
from trueup.lineage.faults.inquiry import SeenNote
from trueup.lineage.faults.shared import SharedFault
from trueup.lineage.faults.taken_over import Rank


def causes(found: Causes, *, with_single: bool) -> Form:
    """Return the open notes of a wardrobe by their common cause."""
    listed = found.causes if with_single else found.common
    return {
        "causes": [_cause(each) for each in listed],
        "seen_once": len(found.single),
        "unplaced": [
            {
                "note": each.seen.note.id,
                "garment": each.seen.garment.name,
                "says": worded(each.says, Unit.MILLIMETRE),
            }
            for each in found.unplaced
        ],
    }


def _cause(cause: CommonCause) -> Form:
    return {
        "node": cause.node,
        "step": step(cause.step) if cause.step else None,
        "place": cause.place,
        "symptom": cause.symptom,
        "common": cause.is_common,
        "notes": [seen.note.id for seen in cause.notes],
        "patterns": list(cause.patterns),
        "blocks": list(cause.blocks),
        "garments": list(cause.garments),
        "seen": _seen(cause.notes),
        "best": _rank(cause.best) if cause.best else None,
        "now": _now(cause),
    }


def faults(found: Iterable[SharedFault], unknown: Iterable[str]) -> Form:
    """Return who shares faults; `unknown` are garments whose version is not in the history."""
    return {"faults": [_fault(each) for each in found], "unknown": sorted(unknown)}


def _fault(fault: SharedFault) -> Form:
    return {
        "of": fault.of,
        "place": fault.place,
        "lines": list(fault.lines),
        "symptom": fault.symptom,
        "node": fault.node,
        "step": step(fault.step) if fault.step else None,
        "now": _now(fault),
        "patterns": list(fault.patterns),
        "blocks": list(fault.blocks),
        "garments": [
            {
                "name": each.garment,
                "pattern": each.pattern,
                "status": each.status.value,
                "corrected": each.corrected,
            }
            for each in fault.garments
        ],
        "notes": [seen.note.id for seen in fault.notes],
        "seen": _seen(fault.notes),
        "ranks": [_rank(each) for each in fault.ranks],
        "best": fault.best.node if fault.best else None,
        "unmended": [
            {
                "name": each.name,
                "is": "garment" if each.is_garment else "pattern",
                "reason": each.reason.value,
                "says": each.says,
            }
            for each in fault.unmended
        ],
    }


def _now(found: CommonCause | SharedFault) -> Form:
    return {
        "node": found.now_node or None,
        "step": step(found.now_step) if found.now_step else None,
    }


def _rank(rank: Rank) -> Form:
    return {
        "node": rank.node,
        "step": rank.step.id if rank.step else None,
        "patterns": list(rank.patterns),
        "garments": list(rank.garments),
    }


def _seen(notes: Iterable[SeenNote]) -> list[Form]:
    return [
        {
            "note": seen.note.id,
            "garment": seen.garment.name,
            "symptom": seen.note.symptom,
            "side": seen.note.side.value,
            "amount_mm": mm(seen.note.amount_mm),
            "wearer": seen.note.wearer,
            "date": seen.note.date.isoformat(),
        }
        for seen in notes
    ]
