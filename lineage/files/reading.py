"""From the bytes of a wardrobe's file to a typed record, or one sentence on what is wrong."""

import re
from collections import Counter
from typing import Any, TypeVar

import msgspec

from trueup.geometry.units import Unit
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.records import (
    FORMAT,
    GRAFTED_FORMAT,
    NEWEST_FORMAT,
    NodeRecord,
    Role,
    Settings,
)
from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import (
    DEEPEST_TABLE,
    LARGEST_NUMBER,
    LARGEST_RECORD,
    LONGEST_TEXT,
    MOST_EDGES,
    MOST_PARENTS,
    MOST_PIECES,
    MOST_STEPS,
)

STEP_FIELDS = (
    *("id", "role", "kind", "version", "why", "date", "fitting", "settles", "same_as"),
    "stands_in",
)
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}")
COMMIT = re.compile(r"[0-9a-f]{40}([0-9a-f]{24})?")
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_PATH = re.compile(r"(?P<folder>blocks|patterns)/(?P<name>[^/]+)\.toml")
_AT = re.compile(r"^(?P<problem>.*) - at `\$(?P<path>.*)`$")
_Record = TypeVar("_Record")


def is_name(text: str) -> bool:
    """Return whether a text can name a node: small letters, digits and hyphens, at most sixty."""
    return len(text) <= 60 and _NAME.fullmatch(text) is not None


def is_node_file(path: str) -> bool:
    """Return whether a path in the wardrobe holds a block or a pattern."""
    return _PATH.fullmatch(path) is not None


_FORMATS = (FORMAT, GRAFTED_FORMAT, NEWEST_FORMAT)


def read_toml(path: str, content: bytes) -> dict[str, Any]:
    """Return the tables of a file; raises BadRecord when it is no TOML of our format."""
    try:
        tables = tables_in(content, LARGEST_RECORD)
    except NoTables as reason:
        raise BadRecord(path, str(reason)) from None
    _refuse_traps(path, tables)
    version = tables.get("format")
    if version is None:
        raise BadRecord(path, f"it does not say its format; this is format {FORMAT}", "", "format")
    if version not in _FORMATS or isinstance(version, bool):
        known = f"this trueup reads format {FORMAT} to {NEWEST_FORMAT}"
        raise BadRecord(path, f"it is of format {version!r} and {known}", "", "format")
    return tables


def read_settings(path: str, content: bytes) -> Settings:
    """Return wardrobe.toml as a record; raises BadRecord."""
    settings = converted(path, read_toml(path, content), Settings)
    try:
        Unit(settings.unit)
    except ValueError:
        raise BadRecord(path, f'"{settings.unit}" is not mm, cm or in', "", "unit") from None
    return settings


def read_node(path: str, content: bytes) -> NodeRecord:
    """Return a block or pattern as a record; raises BadRecord naming file, table and field."""
    place = _PATH.fullmatch(path)
    if place is None:
        raise BadRecord(path, "it is neither in blocks/ nor in patterns/")
    tables = read_toml(path, content)
    _refuse_more(path, "steps", tables, MOST_STEPS)
    _refuse_more(path, "parents", tables, MOST_PARENTS)
    parents = tables.get("parents")
    for index, parent in enumerate(parents if isinstance(parents, list) else (), 1):
        if isinstance(parent, dict):
            _refuse_more(path, "pieces", parent, MOST_PIECES, f"parents {index}")
    tables["is_block"] = place["folder"] == "blocks"
    _gather_values(path, tables)
    node = converted(path, tables, NodeRecord)
    _refuse_contradictions(path, place["name"], node)
    return node


def _gather_values(path: str, tables: dict[str, Any]) -> None:
    """Move the parameters, which stand beside the fields of their table, under one field."""
    if isinstance(tables.get("draft"), dict):
        body = dict(tables["draft"])
        system = {"system": body.pop("system")} if "system" in body else {}
        tables["draft"] = {**system, "body": {k: _measured(path, k, v) for k, v in body.items()}}
    steps = tables.get("steps", [])
    if not isinstance(steps, list) or not all(isinstance(step, dict) for step in steps):
        raise BadRecord(path, "it is not a list of tables", "steps")
    tables["steps"] = [
        {
            **{key: value for key, value in step.items() if key in STEP_FIELDS},
            "values": {key: value for key, value in step.items() if key not in STEP_FIELDS},
        }
        for step in steps
    ]


def _measured(path: str, name: str, value: object) -> str:
    """Return a body measurement as text; like any length it may be written as a bare number."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise BadRecord(path, "it is neither a length nor a number", "draft", name)
    return str(value)


def _refuse_traps(path: str, value: object, field: str = "", depth: int = 0) -> None:
    """Refuse what no maker writes and no calculation can use: endless nesting, numbers beyond."""
    if depth > DEEPEST_TABLE:
        raise BadRecord(path, "its tables are nested too deeply", "", field)
    if isinstance(value, dict):
        for key, each in value.items():
            _refuse_traps(path, each, field or str(key), depth + 1)
    elif isinstance(value, list):
        for each in value:
            _refuse_traps(path, each, field, depth + 1)
    elif isinstance(value, str) and len(value) > LONGEST_TEXT:
        reason = f"it holds a text of more than {LONGEST_TEXT:,} characters"
        raise BadRecord(path, reason, "", field)
    elif isinstance(value, int | float) and not abs(value) <= LARGEST_NUMBER:
        raise BadRecord(path, f"it holds a number beyond {LARGEST_NUMBER:g}", "", field)


def converted(path: str, tables: dict[str, Any], record: type[_Record]) -> _Record:
    """Return tables as a record of a type; raises BadRecord naming table and field."""
    try:
        return msgspec.convert(tables, record)
    except msgspec.ValidationError as error:
        message = str(error)
        found = _AT.match(message)
        if not found:
            raise BadRecord(path, message[0].lower() + message[1:]) from None
        table, field = _place_in_words(found["path"])
        problem = found["problem"]
        raise BadRecord(path, problem[0].lower() + problem[1:], table, field) from None


def _place_in_words(path: str) -> tuple[str, str]:
    """Turn `.steps[1].values` into the table and field a maker counts from one."""
    words = [
        f"{name} {int(index) + 1}" if index else name
        for name, index in re.findall(r"\.?([^.\[\]]+)(?:\[(\d+)\])?", path)
    ]
    return (" ".join(words[:-1]), words[-1]) if words else ("", "")


def _refuse_contradictions(path: str, file_name: str, node: NodeRecord) -> None:
    if node.name != file_name or not is_name(node.name):
        raise BadRecord(
            path, f'the name "{node.name}" is not that of its file or not a plain word', "", "name"
        )
    if [bool(node.parents), bool(node.draft), bool(node.traced)].count(True) != 1:
        raise BadRecord(path, "a node is either drafted or traced, or has parents", "draft")
    if node.traced and not node.is_block:
        raise BadRecord(path, "only a block is traced from a drawing", "traced")
    if node.draft and not node.is_block:
        raise BadRecord(path, "only a block is drafted from measurements", "draft")
    _refuse_style(path, node)
    if node.remeasured and not node.draft:
        raise BadRecord(
            path, "only what is drafted from measurements is measured anew", "remeasured"
        )
    if node.drafted_for and not (node.draft and is_name(node.drafted_for.body)):
        reason = "only a block that is drafted from measurements is, and for a body by its name"
        raise BadRecord(path, reason, "drafted_for")
    refuse_ids(path, "steps", [step.id for step in node.steps])
    refuse_ids(path, "remeasured", [each.id for each in node.remeasured])
    refuse_ids(path, "conflicts", [conflict.id for conflict in node.conflicts])
    _refuse_twice(path, "parents", "name", [parent.name for parent in node.parents])
    for index, parent in enumerate(node.parents, 1):
        table = f"parents {index}"
        if parent.pieces == ():
            raise BadRecord(path, "it names no piece; leave it out to take all", table, "pieces")
        if parent.hold is not None and not COMMIT.fullmatch(parent.hold):
            raise BadRecord(path, "it is not the full id of a commit", table, "hold")
    for index, conflict in enumerate(node.conflicts, 1):
        if conflict.arose_at != node.name:
            where = f"conflicts {index}"
            raise BadRecord(path, f"it is not {node.name}", where, "arose_at")


def _refuse_style(path: str, node: NodeRecord) -> None:
    style = node.style
    if style is None:
        if any(step.stands_in for step in node.steps):
            raise BadRecord(path, "it takes no style that a step could stand in for", "steps")
        return
    if node.traced:
        raise BadRecord(path, "a block that is traced takes no style", "style")
    if style.takes is Role.DECISION:
        raise BadRecord(path, "it takes steps of style or corrections", "style", "takes")
    if style.hold is not None and not COMMIT.fullmatch(style.hold):
        raise BadRecord(path, "it is not the full id of a commit", "style", "hold")
    _refuse_twice(path, "style", "without", list(style.without))
    if len(style.called) > MOST_EDGES * MOST_PIECES:
        raise BadRecord(path, "it calls more otherwise than any block has", "style", "called")
    for theirs, ours in style.called.items():
        if theirs.count(".") != ours.count(".") or not all(
            is_name(word) for name in (theirs, ours) for word in name.split(".")
        ):
            reason = f'"{theirs[:60]}" is not called "{ours[:60]}", which is no name of its kind'
            raise BadRecord(path, reason, "style", "called")


def refuse_ids(path: str, table: str, ids: list[str]) -> None:
    """Raise BadRecord for an id that stands twice in a list of tables, or is no plain word."""
    _refuse_twice(path, table, "id", ids)
    for index, each in enumerate(ids, 1):
        if not _ID.fullmatch(each):
            raise BadRecord(path, f'"{each[:40]}" is no plain word', f"{table} {index}", "id")


def _refuse_twice(path: str, table: str, field: str, names: list[str]) -> None:
    twice = sorted(name for name, times in Counter(names).items() if times > 1)
    if twice:
        raise BadRecord(path, f'"{twice[0]}" stands twice', table, field)


def _refuse_more(path: str, field: str, tables: dict[str, Any], most: int, table: str = "") -> None:
    """Refuse a list longer than any maker's before it is read item by item."""
    if isinstance(tables.get(field), list) and len(tables[field]) > most:
        raise BadRecord(path, f"it holds more than {most:,} {field}", table or field)
