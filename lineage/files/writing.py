"""From typed records to the text of a wardrobe's file, keeping the maker's comments and fields.

Only what differs is touched, so comments, order and fields this program does not know stay.
"""

from collections.abc import Callable, Sequence
from typing import Any

import tomlkit
from msgspec.structs import asdict
from tomlkit.items import AoT, Table

from trueup.geometry.amounts import bound_in
from trueup.geometry.said import Said
from trueup.lineage.errors import BadRecord, CannotKeep
from trueup.lineage.files import comments
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import (
    FORMAT,
    NEWEST_FORMAT,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    Remedy,
    Role,
    Settings,
    StepRecord,
    StyleRecord,
    replace,
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
    old = read_node(new.path, text) if text else None
    if text and old and _is_gaining_conflicts(old, new, text):
        return readable(new.path, text + _conflicts_text(new.conflicts), read_node)
    document = comments.parsed(text) if text else tomlkit.document()
    end = comments.take_end(document)
    if old is None:
        document["format"] = _format_of(new)
        document["name"] = new.name
        document.add(tomlkit.nl())
    elif document["format"] != NEWEST_FORMAT and _format_of(new) == NEWEST_FORMAT:
        document["format"] = _format_of(new)
    if new.draft and (old is None or old.draft != new.draft):
        document["draft"] = table_of({"system": new.draft.system, **new.draft.body})
    if new.traced and (old is None or old.traced is None or old.traced.source != new.traced.source):
        document["traced"] = table_of({"from": new.traced.source})
    if old is None or old.style != new.style:
        _put_style(document, new.style)
    sync(document, "parents", _parents(old), new.parents, lambda p: p.name, _parent_fields)
    sync(document, "steps", old.steps if old else (), new.steps, lambda s: s.id, _step_fields)
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


def _is_gaining_conflicts(old: NodeRecord, new: NodeRecord, text: bytes) -> bool:
    """Return whether all that is new are first conflicts, and nothing in the file could be moved.

    A correction adds them to hundreds of files, and to parse each one's text for its comments takes
    three times as long as all else.
    """
    is_as_written = text.endswith(b"\n\n") and b"#" not in text and b"conflicts" not in text
    return is_as_written and new == replace(old, conflicts=new.conflicts)


def _conflicts_text(conflicts: Sequence[ConflictRecord]) -> bytes:
    document = tomlkit.document()
    sync(document, "conflicts", (), conflicts, lambda c: c.id, _conflict_fields)
    return tomlkit.dumps(document).encode()


def _format_of(node: NodeRecord) -> int:
    """Return the format of a node: an earlier program is to refuse what it cannot work out."""
    is_newer = node.style is not None or any(map(_is_bound, node.steps))
    return NEWEST_FORMAT if is_newer else FORMAT


def _is_bound(step: StepRecord) -> bool:
    if not bound_in(step.values):
        return False
    # The kinds are loaded, and all geometry with them, where one of them may be bound.
    from trueup.geometry.changes import bound_lengths  # noqa: PLC0415

    return bool(bound_lengths(step.kind, step.version, step.values))


def _put_style(document: tomlkit.TOMLDocument, style: StyleRecord | None) -> None:
    if style is None:
        document.pop("style", None)
        return
    fields = {
        "name": style.name,
        **present(
            hold=style.hold,
            takes=style.takes.value if style.takes is not Role.STYLE else None,
            without=list(style.without),
        ),
    }
    if "style" not in document:
        document["style"] = table_of(fields)
        return
    table = document["style"]
    for field in [each for each in ("hold", "takes", "without") if each not in fields]:
        table.pop(field, None)
    for field, value in fields.items():
        if table.get(field) != value:
            table[field] = value


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
            stands_in=step.stands_in or None,
        ),
    }


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
            own_name=conflict.own_name,
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
