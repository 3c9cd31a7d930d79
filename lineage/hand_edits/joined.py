"""Join a file that was edited by hand with what was recorded since it was opened.

The join is taken only if every item of the file comes out as one of the two sides changed it, the
comments as well; where both changed the same, or say two things about one place, there is none.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from trueup.geometry.units import Unit
from trueup.lineage.errors import Damaged
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.writing import body_text
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.reading import is_node_file, read_node, read_settings
from trueup.lineage.files.records import Settings
from trueup.lineage.files.writing import node_text
from trueup.lineage.hand_edits.said import ABSENT, Said, said_by
from trueup.lineage.merging.bodies import merge_body
from trueup.lineage.merging.garments import merge_garment
from trueup.lineage.merging.nodes import merge_node
from trueup.lineage.merging.three_way import Sides, three_way
from trueup.lineage.store.joins.merge_errors import CannotJoin

MergeText = Callable[[bytes, bytes, bytes], bytes | None]
"""Joins base, ours and theirs line by line; None where they touch the same lines."""

_SIDES = Sides("the edit by hand", "what was recorded since")


@dataclass(frozen=True)
class Texts:
    """One file three times: as it was opened, as it was edited, and as it is recorded now."""

    path: str
    opened: bytes
    edited: bytes
    recorded: bytes


def joined(texts: Texts, merge_text: MergeText, unit: Unit) -> bytes | None:
    """Return the edited file with what was recorded since; None where the two contradict."""
    said = [said_by(each) for each in (texts.opened, texts.edited, texts.recorded)]
    wanted = _three_ways(*said) if None not in said else None
    if wanted is None:
        return None
    try:
        record = _merged(texts, unit)
    except (Damaged, CannotJoin):
        return None
    for content in _contents(texts, record, merge_text) if record is not None else ():
        if said_by(content) == wanted and read_record(texts.path, content) == record:
            return content
    return None


def _three_ways(opened: Said | None, edited: Said | None, recorded: Said | None) -> Said | None:
    """Return what a join must say, item by item; None where both sides changed one item."""
    found: dict[Any, object] = {}
    sides = (opened or {}, edited or {}, recorded or {})
    for item in dict.fromkeys(item for side in sides for item in side):
        value, agreed = three_way(*(side.get(item, ABSENT) for side in sides))
        if not agreed:
            return None
        if value is not ABSENT:
            found[item] = value
    return found


def _merged(texts: Texts, unit: Unit) -> Any:
    """Return what the file is to hold, as a record; None where something is to be asked about.

    Raises CannotJoin, BadRecord.
    """
    base, ours, theirs = (
        read_record(texts.path, each) for each in (texts.opened, texts.edited, texts.recorded)
    )
    if is_node_file(texts.path):
        found = merge_node(base, ours, theirs, _SIDES, unit)
        return None if found.questions else found.node
    if is_garment_file(texts.path):
        return merge_garment(base, ours, theirs, _SIDES)[0]
    if is_body_file(texts.path):
        return merge_body(base, ours, theirs, _SIDES, unit)[0]
    name, _ = three_way(base.name, ours.name, theirs.name)
    return Settings(name, three_way(base.unit, ours.unit, theirs.unit)[0])


def _contents(texts: Texts, record: Any, merge_text: MergeText) -> Iterator[bytes]:
    """Yield texts that hold a record: with the lines of both sides, or those of one."""
    lines = merge_text(texts.opened, texts.edited, texts.recorded)
    if lines is not None:
        yield lines
    for lead in (texts.edited, texts.recorded):
        if is_node_file(texts.path):
            yield node_text(record, lead)
        elif is_garment_file(texts.path):
            yield garment_text(record, lead)
        elif is_body_file(texts.path):
            yield body_text(record, lead)


def read_record(path: str, content: bytes) -> Any:
    """Return what a file holds as a record: node, garment, body, settings; raises BadRecord."""
    if is_node_file(path):
        return read_node(path, content)
    if is_garment_file(path):
        return read_garment(path, content)
    if is_body_file(path):
        return read_body(path, content)
    return read_settings(path, content)
