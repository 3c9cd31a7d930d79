"""The lines of a drawing that have no name, as JSON: lengths and places in mm."""

from collections.abc import Sequence

from trueup.cli.json.forms import Form, mm
from trueup.lineage.drawings.tracing.trace import Unnamed


def unnamed_form(lines: Sequence[Unnamed]) -> Form:
    """Return the lines as plain values, in mm."""
    return {
        "unnamed": [
            {
                "id": line.id,
                "length_mm": mm(line.length),
                "start": [mm(line.start.real), mm(line.start.imag)],
                "end": [mm(line.end.real), mm(line.end.imag)],
                "closed": line.is_closed,
                "as_long_as": list(line.mates),
            }
            for line in lines
        ]
    }
