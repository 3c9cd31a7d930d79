"""Tables of a TOML document brought from old records to new ones, only what differs touched."""

from collections.abc import Callable, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table

from trueup.lineage.errors import BadRecord, CannotKeep
from trueup.lineage.files.tables import comments


def readable(path: str, written: bytes, read: Callable[[str, bytes], object]) -> bytes:
    """Return what is to be written: what could not be read again must not become a version.

    Raises CannotKeep.
    """
    try:
        read(path, written)
    except BadRecord as error:
        raise CannotKeep(path, error.reason) from error
    return written


def sync(
    document: tomlkit.TOMLDocument,
    field: str,
    old: Sequence[Any],
    new: Sequence[Any],
    key: Callable[[Any], str],
    fields: Callable[[Any], dict[str, Any]],
) -> None:
    """Bring a list of tables from old records to new ones, touching only those that differ."""
    if list(old) == list(new):
        return
    if field not in document:
        document.append(field, tomlkit.aot())
    tables = document[field]
    if not isinstance(tables, AoT):
        tables = _value(tables.unwrap())
        document.remove(field)
        document.append(field, tables)
        tables = document[field]
    standing = {key(record): record for record in old}
    places = {key(record): table for record, table in zip(old, list(tables), strict=True)}
    wanted = {key(record) for record in new}
    for index in reversed(range(len(old))):
        if key(old[index]) not in wanted:
            comments.take_out(document, field, tables, index)
    if not new:
        document.remove(field)
    for index, record in enumerate(new):
        name = key(record)
        if name not in standing:
            tables.insert(index, table_of(fields(record)))
        elif standing[name] != record:
            _update(places[name], fields(standing[name]), fields(record))


def _update(table: Table, old: dict[str, Any], new: dict[str, Any]) -> None:
    spare = []
    for field, value in old.items():
        standing = table.get(field)
        if isinstance(standing, AoT) and value != new.get(field):
            spare += [item for part in standing for item in comments.comments_below(part)]
        if field not in new or (value != new[field] and isinstance(value, list)):
            table.remove(field)
    for field, value in new.items():
        if old.get(field) != value:
            table[field] = _value(value)
    comments.put_below(table, spare)


def _value(value: Any) -> Any:
    if isinstance(value, list) and value and isinstance(value[0], dict):
        tables = tomlkit.aot()
        for each in value:
            tables.append(_table(each))
        return tables
    return _inline(value)


def _inline(value: Any) -> Any:
    if isinstance(value, dict):
        inline = tomlkit.inline_table()
        inline.update({name: _inline(each) for name, each in value.items()})
        return inline
    if isinstance(value, list) and value and isinstance(value[0], dict):
        array = tomlkit.array()
        array.extend(_inline(each) for each in value)
        return array
    return value


def _table(fields: dict[str, Any]) -> Table:
    table = tomlkit.table()
    for field, value in fields.items():
        table[field] = _value(value)
    return table


def table_of(fields: dict[str, Any]) -> Table:
    """Return a table with an empty line after it, as a reader likes."""
    table = _table(fields)
    table.add(tomlkit.nl())
    return table


def present(**fields: Any) -> dict[str, Any]:
    """Return the fields that say something: not None, not empty."""
    return {name: value for name, value in fields.items() if value not in (None, "", [], {}, ())}
