"""What stands in a file by itself, named for a maker to find: steps, conflicts, notes, sets."""

from collections.abc import Iterator

from msgspec import Struct

from trueup.lineage.errors import BadRecord
from trueup.lineage.files.bodies.reading import is_body_file, read_body
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_files import is_garment_file, read_garment
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.reading import is_node_file, read_node
from trueup.lineage.files.records import NodeRecord

Held = NodeRecord | GarmentRecord | BodyRecord


class Named(Struct, frozen=True):
    """One thing that was recorded: `what` it is, its id, and whose it is.

    It belongs to a node, a garment or a body, whose sets go by their days.
    """

    what: str
    id: str
    place: str
    is_step: bool = False

    def __str__(self) -> str:
        return f"{self.what} ({self.id})"


class Apart(Struct, frozen=True):
    """What is in one version of a file and not in another, and what they say differently."""

    missing: tuple[Named, ...] = ()
    otherwise: tuple[Named, ...] = ()


def recorded(path: str, content: bytes | None) -> Held | None:
    """Return the node, garment or body of a file; None for any other, and for a damaged one."""
    if content is None:
        return None
    try:
        if is_node_file(path):
            return read_node(path, content)
        if is_body_file(path):
            return read_body(path, content)
        return read_garment(path, content) if is_garment_file(path) else None
    except BadRecord:
        return None


def named_apart(path: str, before: bytes | None, after: bytes | None) -> Apart:
    """Return what a file says in one version and not, or not so, in another, by its names."""
    was, now = recorded(path, before), recorded(path, after)
    there = dict(_named(now))
    known = {each.id for each, _ in there.items()} | _other_ids(now)
    missing, otherwise = [], []
    for each, record in _named(was):
        if each.id not in known:
            missing.append(each)
        elif each in there and there[each] != record:
            otherwise.append(each)
    return Apart(tuple(missing), tuple(otherwise))


def _named(record: Held | None) -> Iterator[tuple[Named, object]]:
    if isinstance(record, NodeRecord):
        yield from ((Named(s.kind, s.id, record.name, True), s) for s in record.steps)
        yield from ((Named("the re-measuring", r.id, record.name), r) for r in record.remeasured)
        yield from ((Named("the conflict", c.id, record.name), c) for c in record.conflicts)
    elif isinstance(record, BodyRecord):
        yield from ((Named("the set", str(s.date), record.name), s) for s in record.sets)
    elif record is not None:
        yield from (
            (Named(f"{n.symptom} at {n.place}", n.id, record.name), n) for n in record.notes
        )


def _other_ids(record: Held | None) -> set[str]:
    """Return the ids under which other makers know the steps of a node."""
    steps = record.steps if isinstance(record, NodeRecord) else ()
    return {each for step in steps for each in step.same_as}
