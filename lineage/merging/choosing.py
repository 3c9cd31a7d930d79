"""What choosing one maker's way does to a node: the remedies of `contradictions.py`. Pure."""

from typing import Any

from geometry.units import Unit
from lineage.records import (
    BlockDraft,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    Remedy,
    StepRecord,
    replace,
)
from lineage.steps import change_of


def chosen(
    node: NodeRecord, conflict: ConflictRecord, remedy: Remedy, unit: Unit
) -> tuple[NodeRecord, tuple[StepRecord, ...]]:
    """Return the node after a remedy of a conflict between two makers, and the steps it touched.

    Raises what `change_of` raises for amounts that cannot be read.
    """
    values = remedy.values
    steps: list[StepRecord] = []
    if "step" in values:
        node, touched = _with_amounts(node, conflict, remedy, unit)
        steps += touched
    for step_id in values.get("drop", ()):
        gone = node.step(step_id)
        if gone is not None:
            node = replace(node, steps=tuple(s for s in node.steps if s.id != gone.id))
            steps.append(gone)
    for parent in values.get("parents", ()):
        node = _with_parent(node, parent)
    if "draft" in values:
        body = {name: str(text) for name, text in values["draft"].items() if name != "system"}
        node = replace(node, draft=BlockDraft(str(values["draft"]["system"]), body))
    return node, tuple(steps)


def _with_amounts(
    node: NodeRecord, conflict: ConflictRecord, remedy: Remedy, unit: Unit
) -> tuple[NodeRecord, tuple[StepRecord, ...]]:
    old = node.step(conflict.change)
    if old is None:
        return node, ()
    version, values = int(remedy.values["version"]), dict(remedy.values["values"])
    new = replace(old, kind=str(remedy.kind), version=version, values=values)
    if new == old:
        return node, ()
    change_of(new, unit)
    steps = tuple(new if each.id == old.id else each for each in node.steps)
    return replace(node, steps=steps), (new,)


def _with_parent(node: NodeRecord, values: dict[str, Any]) -> NodeRecord:
    pieces = values.get("pieces")
    wanted = ParentRecord(
        str(values["name"]), None if pieces is None else tuple(pieces), values.get("hold")
    )
    parents = tuple(wanted if each.name == wanted.name else each for each in node.parents)
    return replace(node, parents=parents)
