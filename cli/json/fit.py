"""A fitting made from what was pinned, as JSON: lengths in mm, for programs to read."""

from trueup.cli.command_line import CommandLine
from trueup.cli.json.forms import Form, mm
from trueup.cli.proposed import correction_line
from trueup.lineage.diagnosis.fit_from import Fit, PinnedCorrection


def fit(made: Fit, commands: CommandLine, file: str | None) -> Form:
    """Return the corrections, the fitting's text, and the file it was written to."""
    return {
        "pattern": made.pattern,
        "node": made.node,
        "why": made.why,
        "corrections": [_correction(each, made, commands) for each in made.corrections],
        "fitting": made.text,
        "file": file,
    }


def _correction(each: PinnedCorrection, made: Fit, commands: CommandLine) -> Form:
    return {
        "kind": each.change.kind,
        "values": each.values,
        "from": [
            {
                "how": pin.how.value,
                "place": pin.place,
                "amount_mm": mm(pin.amount),
                "at": pin.at or None,
            }
            for pin in each.pins
        ],
        "reason": each.reason,
        "mark": "common practice",
        "shaped_at": each.origin.node if each.origin else None,
        "measures": [
            {"name": e.measure, "before_mm": mm(e.before_mm), "after_mm": mm(e.after_mm)}
            for e in each.effects
        ],
        "command": correction_line(commands, made.node, each.change.kind, each.values),
    }
