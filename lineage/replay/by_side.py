"""A node's conflicts where left and right were parted, or are one again, since they were recorded.

What was said of a place that both sides shared is said of each from then on; what was accepted
there stays accepted. Pure.
"""

from collections.abc import Collection, Iterator, Sequence

from trueup.geometry.pieces.side import Side, sided, unsided
from trueup.lineage.files.records import ConflictRecord, ConflictState, replace
from trueup.lineage.replay.collisions import Key
from trueup.lineage.replay.naming import conflict_id


def told_by_side(
    node: str, conflicts: Sequence[ConflictRecord], standing: Collection[Key]
) -> tuple[ConflictRecord, ...]:
    """Return conflicts by the places that are found now, `standing`; each place is told once."""
    told: dict[str, ConflictRecord] = {}
    for record in conflicts:
        spoken = {each.key for each in told.values() if each.state is not ConflictState.SETTLED}
        for each in _told(node, record, standing):
            if each is record or each.key not in spoken:
                told.setdefault(each.id, each)
    return tuple(told.values())


def _told(node: str, record: ConflictRecord, standing: Collection[Key]) -> Iterator[ConflictRecord]:
    code, piece, edge = record.key
    keys = [(code, sided(piece, side), edge) for side in Side]
    apart = [key for key in keys if key in standing]
    if record.key in standing:
        yield record
    elif apart:
        for key in apart:
            yield replace(
                record, piece=key[1], own_name="", id=conflict_id(node, record.kind, key, record.id)
            )
    elif (code, unsided(piece), edge) in standing:
        yield replace(record, piece=unsided(piece), own_name="")
    else:
        yield record
