"""Read a fitting: several corrections written down together, to be made as one step.

It is a TOML file with a table for each correction:

    why = "the armhole binds"

    [[corrections]]
    kind = "scoop-armhole"
    piece = "front"
    by = "20mm"

    [[corrections]]
    kind = "refit-cap"
"""

from dataclasses import dataclass
from typing import Any

import tomli

from geometry.changes import Change, kind_named, read_change
from geometry.errors import GeometryError
from geometry.units import Unit
from lineage.errors import BadFitting

LARGEST_FITTING = 1_000_000  # bytes; anything beyond is not a list of corrections


@dataclass(frozen=True)
class Fitting:
    """The corrections of a fitting in their order, and why they are made."""

    changes: tuple[Change, ...]
    why: str


def read_fitting(place: str, content: bytes, unit: Unit) -> Fitting:
    """Return the fitting a file holds; a bare number in it takes `unit`.

    `place` is how the file is called in a message. Raises BadFitting naming the correction.
    """
    tables = _tables(place, content)
    why = tables.pop("why", "")
    corrections = tables.pop("corrections", None)
    if tables:
        raise BadFitting(place, f'it holds "{next(iter(tables))}", which no fitting has')
    if not isinstance(why, str):
        raise BadFitting(place, "its why is not a text")
    if not isinstance(corrections, list) or not corrections:
        raise BadFitting(place, "it holds no table [[corrections]]")
    changes = [
        _change(f"{place}, correction {index}", table, unit)
        for index, table in enumerate(corrections, 1)
    ]
    return Fitting(tuple(changes), why)


def _tables(place: str, content: bytes) -> dict[str, Any]:
    if len(content) > LARGEST_FITTING:
        raise BadFitting(place, f"it is larger than {LARGEST_FITTING // 1_000_000} MB")
    try:
        return tomli.loads(content.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise BadFitting(place, f"it is not UTF-8 text (byte {error.start})") from None
    except tomli.TOMLDecodeError as error:
        raise BadFitting(place, f"it is not TOML: {error}") from None
    except ValueError:  # Python converts no whole number of thousands of digits
        raise BadFitting(place, "it holds a number of thousands of digits") from None
    except RecursionError:
        raise BadFitting(place, "its tables are nested too deeply") from None


def _change(place: str, table: object, unit: Unit) -> Change:
    if not isinstance(table, dict) or not isinstance(table.get("kind"), str):
        raise BadFitting(place, "it does not say its kind")
    values = {name: value for name, value in table.items() if name != "kind"}
    try:
        return read_change(kind_named(table["kind"]), values, unit)
    except GeometryError as error:
        raise BadFitting(place, str(error).rstrip(".")) from None
