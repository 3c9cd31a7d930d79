"""What the file of a body is called, and whose body a maker means. Pure."""

import re
import unicodedata
from collections.abc import Iterable

from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.reading import is_name

_BETWEEN = re.compile(r"[^a-z0-9]+")


def name_for(wearer: str) -> str | None:
    """Return the name of the file of a wearer's body; None where no letter can stand in one.

    >>> name_for("Mary Ann"), name_for("Zoë"), name_for("李")
    ('mary-ann', 'zoe', None)
    """
    plain = unicodedata.normalize("NFKD", wearer).encode("ascii", "ignore").decode()
    name = _BETWEEN.sub("-", plain.lower()).strip("-")
    return name if is_name(name) else None


def is_called(body: BodyRecord, wearer: str) -> bool:
    """Return whether a body is that of somebody, by the wearer's name or that of the file."""
    return wearer.strip().casefold() in (body.name, body.wearer.strip().casefold())


def called(bodies: Iterable[BodyRecord], wearer: str) -> BodyRecord | None:
    """Return the body of somebody; None where there is none."""
    known = tuple(bodies)
    found = next((each for each in known if is_called(each, wearer)), None)
    return found or next((each for each in known if each.name == name_for(wearer)), None)
