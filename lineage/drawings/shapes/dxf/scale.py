"""How long a unit of a DXF drawing is, and how that was known."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from ezdxf.document import Drawing

_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}
_NAMES = {1: "inches", 2: "feet", 4: "mm", 5: "cm", 6: "metres", 14: "decimetres"}
_UNITS = re.compile(r"\s*units?\s*:\s*(metric|english|mm|cm|inch(?:es)?)\s*", re.IGNORECASE)
_WRITTEN = {"metric": 1.0, "mm": 1.0, "cm": 10.0, "english": 25.4, "inch": 25.4, "inches": 25.4}


@dataclass(frozen=True)
class Scale:
    """mm of a unit of the drawing, in words how it was known, and whether the file states it."""

    mm: float
    says: str
    is_sized: bool


def scale_of(document: Drawing, texts: Iterable[str]) -> Scale:
    """Return how long a unit is: by the header, by a text such as "Units: METRIC", or in mm.

    Source: AutoCAD DXF Reference, the header variable $INSUNITS.
    """
    unit = int(document.header.get("$INSUNITS", 0) or 0)
    if unit in _MM:
        return Scale(_MM[unit], f"its header states {_NAMES[unit]}", True)
    for text in texts:
        found = _UNITS.fullmatch(text)
        if found:
            word = found[1].lower()
            name = {1.0: "mm", 10.0: "cm", 25.4: "inches"}[_WRITTEN[word]]
            return Scale(_WRITTEN[word], f'its text "{text.strip()}" states {name}', True)
    return Scale(1.0, "it states no unit; its numbers are taken for mm", False)
