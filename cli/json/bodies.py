"""Bodies and what was measured of them as JSON: lengths in mm beside what was written."""

from typing import TYPE_CHECKING

from trueup.cli.json.forms import Form, mm
from trueup.cli.json.measured import follows, remeasured
from trueup.geometry.units import parse_length
from trueup.lineage.bodies.following import (
    following,
    garments_of_body,
    patterns_of_body,
)
from trueup.lineage.bodies.growing import may_be_a_child
from trueup.lineage.files.bodies.known import known_of
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.state import State

if TYPE_CHECKING:
    from trueup.lineage.bodies.recording import Recording


def bodies(state: State) -> Form:
    """Return all bodies, by name."""
    return {"bodies": [_body(state.bodies[name], state) for name in sorted(state.bodies)]}


def body(found: BodyRecord, state: State) -> Form:
    """Return one body with what follows from it."""
    return {
        "body": _body(found, state),
        "patterns": list(patterns_of_body(state, found)),
        "garments": [each.name for each in garments_of_body(state, found)],
    }


def recorded(recording: "Recording", commit: str, state: State) -> Form:
    """Return what was written down."""
    return {
        "recorded": {
            "verb": "body",
            "says": recording.says,
            "date": recording.date.isoformat(),
            "changes": remeasured(recording.changes),
            "commit": commit,
        },
        **body(recording.body, state),
    }


def _body(found: BodyRecord, state: State) -> Form:
    known = known_of(found).known if found.sets else {}
    return {
        "name": found.name,
        "wearer": found.wearer,
        "sets": [_set(each, state) for each in found.sets],
        "known": [
            {
                "name": name,
                "written": each.text,
                "mm": mm(parse_length(each.text, state.unit)),
                "date": each.date.isoformat(),
            }
            for name, each in known.items()
        ],
        "blocks": [follows(each) for each in following(state, found.name)],
        "may_be_a_child": may_be_a_child(found, state.unit),
    }


def _set(each: MeasurementSet, state: State) -> Form:
    return {
        "date": each.date.isoformat(),
        "taken_by": each.taken_by,
        "age": each.age,
        "words": each.words,
        "measurements": [
            {"name": name, "written": text, "mm": mm(parse_length(text, state.unit))}
            for name, text in each.taken.items()
        ],
    }
