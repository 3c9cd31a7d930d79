"""What went wrong as the one sentence that the command would say, for the page to show."""

import os
import traceback

from trueup.cli.failures import Misused, sentence_and_code
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadInput, printable


def refusal(error: Exception, unit: Unit | None) -> dict[str, object]:
    """Return the line that says why something could not be done, lengths in a unit."""
    if os.environ.get("TRUEUP_TRACEBACK"):
        traceback.print_exception(error)
    if unit is not None and isinstance(error, GeometryError | BadInput | Misused):
        error.unit = unit.value
    return {"refused": printable(" ".join(sentence_and_code(error)[0].split()))}
