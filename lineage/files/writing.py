"""From typed records to the text of a wardrobe's file, keeping the maker's comments and fields.

Only what differs is touched, so comments, order and fields this program does not know stay.
"""

from collections.abc import Sequence
from typing import Any

import tomlkit
from msgspec.structs import asdict
from tomlkit.items import Table

from trueup.geometry.amounts import bound_in
from trueup.lineage.files.conflict_tables import conflict_fields, conflicts_text
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import (
    FORMAT,
    GRAFTED_FORMAT,
    NEWEST_FORMAT,
    NodeRecord,
    ParentRecord,
    RemeasuringRecord,
    Role,
    Settings,
    StepRecord,
    StyleRecord,
    replace,
)
from trueup.lineage.files.tables import comments
from trueup.lineage.files.tables.tables import present, readable, sync, table_of


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
    if text and old and (above := _above_conflicts(old, new, text)) is not None:
        return readable(new.path, above + conflicts_text(new.conflicts), read_node)
    document = comments.parsed(text) if text else tomlkit.document()
    end = comments.take_end(document)
    if old is None:
        document["format"] = _format_of(new)
        document["name"] = new.name
        document.add(tomlkit.nl())
    elif document["format"] < _format_of(new):
        document["format"] = _format_of(new)
    if new.draft and (old is None or old.draft != new.draft):
        document["draft"] = table_of({"system": new.draft.system, **new.draft.body})
    _put_drafted_for(document, old, new)
    if new.traced and (old is None or old.traced is None or old.traced.source != new.traced.source):
        document["traced"] = table_of({"from": new.traced.source})
    if old is None or old.style != new.style:
        _put_style(document, new.style)
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
        conflict_fields,
    )
    comments.put_end(document, end)
    return readable(new.path, tomlkit.dumps(document).encode(), read_node)


def _above_conflicts(old: NodeRecord, new: NodeRecord, text: bytes) -> bytes | None:
    """Return what stands above a file's conflicts, where only these differ and end it as written.

    None where anything in it, a comment or a field of the maker's own, could be lost or moved. A
    correction writes the conflicts of hundreds of files, and to parse each one's text for its
    comments takes three times as long as all else.
    """
    if b"#" in text or new != replace(old, conflicts=new.conflicts):
        return None
    above = text.removesuffix(conflicts_text(old.conflicts))
    return above if above.endswith(b"\n") and b"conflicts" not in above else None


def _format_of(node: NodeRecord) -> int:
    """Return the format of a node: an earlier program is to refuse what it cannot work out."""
    if node.style is not None and node.style.called:
        return NEWEST_FORMAT
    is_newer = node.style is not None or any(map(_is_bound, node.steps))
    return GRAFTED_FORMAT if is_newer else FORMAT


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
            called=_sub_table(style.called),
        ),
    }
    if "style" not in document:
        document["style"] = table_of(fields)
        return
    table = document["style"]
    for field in [each for each in ("hold", "takes", "without", "called") if each not in fields]:
        table.pop(field, None)
    for field, value in fields.items():
        if table.get(field) != value:
            table[field] = value


def _sub_table(values: dict[str, str]) -> Table | None:
    if not values:
        return None
    table = tomlkit.table()
    table.update(values)
    return table


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


def _parents(node: NodeRecord | None) -> Sequence[ParentRecord]:
    return node.parents if node else ()


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


def _remeasuring_fields(made: RemeasuringRecord) -> dict[str, Any]:
    return {"id": made.id, "was": dict(made.was), **present(why=made.why, date=made.date)}
