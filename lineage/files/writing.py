"""From typed records to the text of a wardrobe's file, keeping the maker's comments and fields.

Only what differs is touched, so comments, order and fields this program does not know stay.
"""

from collections.abc import Callable, Sequence
from typing import Any

import tomlkit
from msgspec.structs import asdict
from tomlkit.items import AoT, Table

from trueup.geometry.said import Said
from trueup.lineage.errors import BadRecord, CannotKeep
from trueup.lineage.files import comments
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import (
    FORMAT,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    RemeasuringRecord,
    Remedy,
    Settings,
    StepRecord,
)


def settings_text(settings: Settings) -> bytes:
    """Return wardrobe.toml for new settings."""
    document = tomlkit.document()
    document.add(tomlkit.comment("A wardrobe of blocks and patterns."))
    document.add(tomlkit.comment("A length without a unit is in the unit below: mm, cm or in."))
    document["format"] = FORMAT
    document["name"] = settings.name
    document["unit"] = settings.unit
    return tomlkit.dumps(document).encode()


def node_text(new: NodeRecord, text: bytes | None = None) -> bytes:
    """Return the file of a node; `text` is what it held before, None for a new one.

    Raises CannotKeep for what `read_node` would refuse.
    """
    document = comments.parsed(text) if text else tomlkit.document()
    old = read_node(new.path, text) if text else None
    end = comments.take_end(document)
    if old is None:
        document["format"] = FORMAT
        document["name"] = new.name
        document.add(tomlkit.nl())
    if new.draft and (old is None or old.draft != new.draft):
        document["draft"] = table_of({"system": new.draft.system, **new.draft.body})
    _put_drafted_for(document, old, new)
    if new.traced and (old is None or old.traced is None or old.traced.source != new.traced.source):
        document["traced"] = table_of({"from": new.traced.source})
    sync(document, "parents", _parents(old), new.parents, lambda p: p.name, _parent_fields)
    sync(document, "steps", old.steps if old else (), new.steps, lambda s: s.id, _step_fields)
    anew = old.remeasured if old else ()
    sync(document, "remeasured", anew, new.remeasured, lambda r: r.id, _remeasuring_fields)
    sync(
        document,
        "conflicts",
        old.conflicts if old else (),
        new.conflicts,
        lambda c: c.id,
        _conflict_fields,
    )
    comments.put_end(document, end)
    return readable(new.path, tomlkit.dumps(document).encode(), read_node)


def _put_drafted_for(
    document: tomlkit.TOMLDocument, old: NodeRecord | None, new: NodeRecord
) -> None:
    """Say from whose measurements a block is drafted, or no more."""
    if old is not None and old.drafted_for == new.drafted_for:
        return
    if new.drafted_for is None:
        document.pop("drafted_for", None)
    elif "drafted_for" in document:
        document["drafted_for"].update(asdict(new.drafted_for))
    else:
        document["drafted_for"] = table_of(asdict(new.drafted_for))


def readable(path: str, written: bytes, read: Callable[[str, bytes], object]) -> bytes:
    """Return what is to be written: what could not be read again must not become a version.

    Raises CannotKeep.
    """
    try:
        read(path, written)
    except BadRecord as error:
        raise CannotKeep(path, error.reason) from error
    return written


def _parents(node: NodeRecord | None) -> Sequence[ParentRecord]:
    return node.parents if node else ()


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


def _parent_fields(parent: ParentRecord) -> dict[str, Any]:
    pieces = list(parent.pieces) if parent.pieces is not None else None
    return {"name": parent.name, **present(pieces=pieces, hold=parent.hold)}


def _step_fields(step: StepRecord) -> dict[str, Any]:
    return {
        "id": step.id,
        "role": step.role.value,
        "kind": step.kind,
        "version": step.version,
        **step.values,
        **present(
            why=step.why,
            date=step.date,
            fitting=step.fitting,
            settles=step.settles,
            same_as=list(step.same_as),
        ),
    }


def _remeasuring_fields(made: RemeasuringRecord) -> dict[str, Any]:
    return {"id": made.id, "was": dict(made.was), **present(why=made.why, date=made.date)}


def _conflict_fields(conflict: ConflictRecord) -> dict[str, Any]:
    return {
        "id": conflict.id,
        "kind": conflict.kind.value,
        "state": conflict.state.value,
        "says": _says(conflict.says),
        "arose_at": conflict.arose_at,
        "piece": conflict.piece,
        "edge": conflict.edge,
        "code": conflict.code,
        **present(
            correction=conflict.correction,
            corrected=conflict.corrected,
            change=conflict.change,
            before_mm=conflict.before_mm,
            after_mm=conflict.after_mm,
            allowed_mm=list(conflict.allowed_mm) if conflict.allowed_mm else None,
        ),
        "excess_mm": conflict.excess_mm,
        **present(
            section=conflict.section,
            whole_before_mm=conflict.whole_before_mm,
            since=conflict.since,
            remedies=[_remedy_fields(remedy) for remedy in conflict.remedies],
            decisions=[
                {
                    "remedy": d.remedy,
                    **present(
                        why=d.why,
                        date=d.date,
                        accepted_excess=d.accepted_excess,
                        accepted_at_mm=d.accepted_at_mm,
                    ),
                }
                for d in conflict.decisions
            ],
        ),
    }


def _says(says: Said | str) -> str | dict[str, Any]:
    if isinstance(says, str):
        return says
    also = [_says(each) for each in says.also]
    return {"what": says.what, **present(facts=dict(says.facts), also=also)}


def _remedy_fields(remedy: Remedy) -> dict[str, Any]:
    return {
        "name": remedy.name,
        **present(
            amount_mm=remedy.amount_mm,
            says=_says(remedy.says),
            kind=remedy.kind,
            version=remedy.version if remedy.version > 1 else None,
        ),
        **({"values": remedy.values} if remedy.values else {}),
        **present(
            effects=[asdict(each) for each in remedy.effects],
            leaves=[asdict(each) for each in remedy.leaves],
        ),
    }
