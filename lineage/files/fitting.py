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
from pathlib import Path

from trueup.geometry.amounts import NO_BODY, Body
from trueup.geometry.changes import Change, kind_named, read_change
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadFitting
from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import LARGEST_FITTING
from trueup.lineage.store.files.plain_file import NotPlain, read_plain


@dataclass(frozen=True)
class Fitting:
    """The corrections of a fitting in their order, and why they are made."""

    changes: tuple[Change, ...]
    why: str


def fitting_content(file: Path) -> bytes:
    """Return what a maker's file of corrections holds, unread; raises BadFitting."""
    try:
        return read_plain(file, LARGEST_FITTING)
    except NotPlain as reason:
        raise BadFitting(str(file), str(reason)) from None


def read_fitting(place: str, content: bytes, unit: Unit, body: Body = NO_BODY) -> Fitting:
    """Return the fitting a file holds; a bare number in it takes `unit`.

    Amounts may be bound to a `body`. `place` is how the file is called in a message. Raises
    BadFitting naming the correction.
    """
    try:
        tables = tables_in(content, LARGEST_FITTING)
    except NoTables as reason:
        raise BadFitting(place, str(reason)) from None
    why = tables.pop("why", "")
    corrections = tables.pop("corrections", None)
    if tables:
        raise BadFitting(place, f'it holds "{next(iter(tables))}", which no fitting has')
    if not isinstance(why, str):
        raise BadFitting(place, "its why is not a text")
    if not isinstance(corrections, list) or not corrections:
        raise BadFitting(place, "it holds no table [[corrections]]")
    changes = [
        _change(f"{place}, correction {index}", table, unit, body)
        for index, table in enumerate(corrections, 1)
    ]
    return Fitting(tuple(changes), why)


def _change(place: str, table: object, unit: Unit, body: Body) -> Change:
    if not isinstance(table, dict) or not isinstance(table.get("kind"), str):
        raise BadFitting(place, "it does not say its kind")
    values = {name: value for name, value in table.items() if name != "kind"}
    try:
        return read_change(kind_named(table["kind"]), values, unit, body)
    except GeometryError as error:
        raise BadFitting(place, error.says) from None
