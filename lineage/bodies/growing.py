"""Whether a body is a child's, as far as anybody said. Pure."""

from trueup.geometry.errors import BadLength
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.files.bodies.records import BodyRecord

GROWN_AT = 14
"""Years; common practice, no source. A younger wearer is a child."""

GROWN_HEIGHT = 1500.0
"""mm; common practice, no source. Who is not as tall may be a child."""

_HEIGHT = "height"


def may_be_a_child(body: BodyRecord, unit: Unit) -> bool:
    """Return whether a body's age, or where none is said its height, is that of a child."""
    age = next((each.age for each in reversed(body.sets) if each.age is not None), None)
    if age is not None:
        return age < GROWN_AT
    taken = next((s.taken[_HEIGHT] for s in reversed(body.sets) if _HEIGHT in s.taken), None)
    try:
        return taken is not None and parse_length(taken, unit) < GROWN_HEIGHT
    except BadLength:
        return False
