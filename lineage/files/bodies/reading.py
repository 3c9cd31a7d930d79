"""The file of a body, read into its record."""

import re
from typing import Any

from trueup.geometry.errors import BadLength
from trueup.geometry.limits import LARGEST_LENGTH
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.reading import converted, is_name, read_toml
from trueup.lineage.limits import MOST_SETS

SET_FIELDS = ("date", "taken_by", "age", "words")
OLDEST = 130
"""Years; nobody grew older."""

_PATH = re.compile(r"bodies/(?P<name>[^/]+)\.toml")


def is_body_file(path: str) -> bool:
    """Return whether a path in the wardrobe holds a body."""
    return _PATH.fullmatch(path) is not None


def read_body(path: str, content: bytes) -> BodyRecord:
    """Return a body as a record, its sets oldest first; raises BadRecord."""
    tables = read_toml(path, content)
    _gather_taken(path, tables)
    body = converted(path, tables, BodyRecord)
    place = _PATH.fullmatch(path)
    if place is None or body.name != place["name"] or not is_name(body.name):
        reason = f'the name "{body.name}" is not that of its file or not a plain word'
        raise BadRecord(path, reason, "", "name")
    if not body.wearer.strip():
        raise BadRecord(path, "it says of nobody whose body it is", "", "wearer")
    days = [each.date for each in body.sets]
    for number, each in enumerate(body.sets, 1):
        table = f"sets {number}"
        if each.date in days[: number - 1]:
            raise BadRecord(path, f'"{each.date}" stands twice; write one set a day', table, "date")
        if each.age is not None and not 0 <= each.age <= OLDEST:
            raise BadRecord(path, f"it is no age, from 0 to {OLDEST} years", table, "age")
        for name, text in each.taken.items():
            _refuse_no_measurement(path, table, name, text)
    in_order = tuple(sorted(body.sets, key=lambda each: each.date))
    return BodyRecord(body.name, body.wearer, in_order)


def _gather_taken(path: str, tables: dict[str, Any]) -> None:
    """Move the measurements, which stand beside the other fields of their set, under one field."""
    sets = tables.get("sets", [])
    if not isinstance(sets, list) or not all(isinstance(each, dict) for each in sets):
        raise BadRecord(path, "it is not a list of tables", "sets")
    if len(sets) > MOST_SETS:
        raise BadRecord(path, f"it holds more than {MOST_SETS:,} sets", "sets")
    tables["sets"] = [
        {
            **{key: value for key, value in each.items() if key in SET_FIELDS},
            "taken": {
                key: _written(path, number, key, value)
                for key, value in each.items()
                if key not in SET_FIELDS
            },
        }
        for number, each in enumerate(sets, 1)
    ]


def _written(path: str, number: int, name: str, value: object) -> str:
    """Return a measurement as text on one line; it may be written as a bare number."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise BadRecord(path, "it is neither a length nor a number", f"sets {number}", name)
    return " ".join(str(value).split())


def _refuse_no_measurement(path: str, table: str, name: str, text: str) -> None:
    if not is_name(name):
        reason = "it is no name of a measurement: small letters, digits and hyphens"
        raise BadRecord(path, reason, table, name)
    try:
        length = parse_length(text, Unit.MILLIMETRE)
    except BadLength:
        raise BadRecord(path, f'"{text[:40]}" is no length, such as 92cm', table, name) from None
    if not 0 < length <= LARGEST_LENGTH:
        raise BadRecord(path, f'"{text[:40]}" is no length above nought', table, name)
