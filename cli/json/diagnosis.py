"""Diagnoses as JSON: plain values with lengths in mm, for programs to read."""

from collections.abc import Iterable
from typing import Any

from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json.forms import Form, mm
from trueup.cli.proposed import correction_line
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.diagnosis.diagnose import Advice, Diagnosis
from trueup.lineage.diagnosis.proposing import Proposed
from trueup.lineage.diagnosis.readings import Reading
from trueup.lineage.symptoms.rows import SOURCES, Check


def diagnoses(name: str, node: str, found: Iterable[Diagnosis], commands: CommandLine) -> Form:
    """Return what each symptom seen on a garment or pattern may come from."""
    return {
        "of": name,
        "node": node,
        "diagnoses": [_diagnosis(each, commands) for each in found],
    }


def _diagnosis(found: Diagnosis, commands: CommandLine) -> Form:
    return {
        "symptom": found.symptom,
        "words": found.words,
        "place": found.place or None,
        "place_is_usual": found.usual,
        "amount_mm": mm(found.amount),
        "garment": found.garment.name if found.garment else None,
        "note": found.note.id if found.note else None,
        "checks": [_advice(each, commands) for each in found.advice],
        "looks": [
            {
                "area": look.area.value,
                "look_at": look.look_at,
                "symptom": look.symptom,
                "fits_place": look.fits_place,
            }
            for look in found.looks
        ],
    }


def _advice(advice: Advice, commands: CommandLine) -> Form:
    shaped = advice.origin
    return {
        **_check(advice.check),
        "fits_place": advice.fits_place,
        "readings": [_reading(each) for each in advice.readings],
        "shaped_at": shaped.node if shaped else None,
        "shaped_by": json_forms.step(shaped.step) if shaped and shaped.step else None,
        "amount_mm": mm(advice.amount),
        "capped": advice.capped,
        "proposed": _proposed(advice.proposed, commands),
        "on_this_pattern_alone": _proposed(advice.here, commands),
        "obstacle": worded(advice.obstacle, Unit.MILLIMETRE) or None,
    }


def _check(check: Check) -> Form:
    return {
        "area": check.area.value,
        "look_at": check.look_at,
        "cause": check.cause,
        "remedy": check.remedy,
        "kind": check.kind,
        "typical_mm": [mm(amount) for amount in check.typical] if check.typical else None,
        "largest_mm": mm(check.largest),
        "least_mm": mm(check.least),
        "counted": check.counted,
        "mark": check.mark.value,
        "amounts": check.amounts.value if check.typical else None,
        "sources": [{"tag": tag, "title": SOURCES[tag]} for tag in check.sources],
    }


def _reading(reading: Reading) -> Form:
    return {
        "measure": reading.measure,
        "now_mm": mm(reading.now_mm),
        "block_mm": mm(reading.block_mm),
        "cut_mm": mm(reading.cut_mm),
        "siblings": [
            {"name": each.name, "mm": mm(each.mm), "garments": each.garments}
            for each in reading.siblings
        ],
    }


def _proposed(made: Proposed | None, commands: CommandLine) -> dict[str, Any] | None:
    if made is None:
        return None
    return {
        "node": made.node,
        "kind": made.kind,
        "values": dict(made.values),
        "command": correction_line(commands, made.node, made.kind, made.values),
    }
