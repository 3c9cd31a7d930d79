"""The sizes of a pattern: which there are, and the edit that makes or re-measures them. Pure.

Each size is a block drafted from its row, which takes the corrections of the block it is a size of,
and the pattern grafted onto it. So a later correction of that block, and a later change of the
style, arrive in every size.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.drafting import system_named
from trueup.geometry.errors import BadLength, GeometryError
from trueup.geometry.said import parts
from trueup.geometry.units import Unit, parse_length, with_unit
from trueup.lineage.errors import NothingToChange
from trueup.lineage.evaluation.starting import start_of
from trueup.lineage.files.records import (
    BlockDraft,
    NodeRecord,
    ParentRecord,
    Role,
    StyleRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import is_same_length
from trueup.lineage.replay.edits import Edit, require_free
from trueup.lineage.sizes.errors import BadTable, NoOneBody
from trueup.lineage.sizes.table import Size


@dataclass(frozen=True)
class SizeOf:
    """One size of a pattern: its name, the node it is, and the block drafted for it.

    The two are one where the sizes are those of a block.
    """

    size: str
    node: NodeRecord
    block: NodeRecord


def base_of(state: State, name: str) -> NodeRecord:
    """Return the one drafted block that a node's fit comes from; raises NoSuchNode, NoOneBody."""
    found: dict[str, NodeRecord] = {}
    waiting = [name]
    while waiting:
        node = state.node(waiting.pop())
        if node.draft is not None:
            found[node.name] = node
        waiting += [parent.name for parent in node.parents]
    if len(found) != 1:
        raise NoOneBody(name, tuple(sorted(found)))
    return next(iter(found.values()))


def sizes_of(state: State, name: str) -> tuple[SizeOf, ...]:
    """Return the sizes that were made of a node, by their measurements; raises as `base_of`."""
    base = base_of(state, name)
    found = [
        SizeOf(block.name.removeprefix(f"{base.name}-"), node, block)
        for block in state.nodes.values()
        if _is_size_of(block, base)
        and (node := block if name == base.name else state.nodes.get(_called(name, base, block)))
        and (node is block or _is_graft(node, name, block))
    ]
    known = drafted_from(base)
    return tuple(sorted(found, key=lambda each: _measured(each.block, known, state.unit)))


def drafted_from(base: NodeRecord) -> tuple[str, ...]:
    """Return the names of the measurements that a block is drafted from."""
    return tuple(m.name for m in system_named(base.draft.system).measurements) if base.draft else ()


def _called(name: str, base: NodeRecord, block: NodeRecord) -> str:
    return f"{name}-{block.name.removeprefix(f'{base.name}-')}"


def _is_size_of(block: NodeRecord, base: NodeRecord) -> bool:
    style = block.style
    takes = style is not None and style.name == base.name and style.takes is Role.CORRECTION
    return takes and block.draft is not None and block.name.startswith(f"{base.name}-")


def _is_graft(node: NodeRecord, name: str, block: NodeRecord) -> bool:
    onto = [parent.name for parent in node.parents]
    return onto == [block.name] and node.style is not None and node.style.name == name


def _measured(block: NodeRecord, known: Sequence[str], unit: Unit) -> list[float]:
    body = block.draft.body if block.draft else {}
    found = []
    for name in known:
        try:
            found.append(parse_length(str(body.get(name, "0")), unit))
        except BadLength:
            found.append(0.0)
    return found


def make_sizes(state: State, name: str, table: Sequence[Size], place: str, why: str) -> Edit:
    """Return the edit that makes the sizes of a table, or measures anew those that are there.

    `place` is how the table is called in a message. Raises NoSuchNode, NoOneBody, NameTaken,
    NothingToChange, and BadTable for what no block can be drafted from.
    """
    base = base_of(state, name)
    made = {each.size: each for each in sizes_of(state, name)}
    nodes: list[NodeRecord] = []
    anew: list[str] = []
    for size in table:
        block = _block(state, base, size, place)
        standing = state.nodes.get(block.name)
        if standing is None or not _is_size_of(standing, base):
            require_free(state, block.name)
            nodes.append(block)
        elif _differ(standing, block, state.unit):
            nodes.append(replace(standing, draft=block.draft))
            anew.append(block.name)
        if name != base.name and size.name not in made:
            require_free(state, f"{name}-{size.name}")
            onto = (ParentRecord(block.name),)
            graft = NodeRecord(f"{name}-{size.name}", False, onto, style=StyleRecord(name))
            nodes.append(graft)
    if not nodes:
        raise NothingToChange(f"{name} has the sizes of this table already")
    called = ", ".join(each.name for each in table)
    return Edit(
        tuple(nodes), name, (), f"Make the sizes of {name}: {called}", why, anew=tuple(anew)
    )


def _block(state: State, base: NodeRecord, size: Size, place: str) -> NodeRecord:
    """Return the block of a size; raises BadTable for one that cannot be drafted."""
    system = base.draft.system if base.draft else ""
    known = drafted_from(base)
    missing = [name for name in known if name not in size.body]
    if missing:
        raise BadTable(place, f"it has no column {missing[0]}, which {base.name} is drafted from")
    beyond = [name for name in size.body if name not in known]
    if beyond:
        reason = f'{base.name} is drafted from no "{beyond[0][:40]}", but from {", ".join(known)}'
        raise BadTable(place, reason)
    try:
        body = {each: with_unit(text, state.unit) for each, text in size.body.items()}
        draft = BlockDraft(system, body)
        start_of(draft, state.unit)
    except GeometryError as error:
        raise BadTable(place, parts(f"size {size.name} cannot be drafted: ", error.says)) from None
    style = StyleRecord(base.name, takes=Role.CORRECTION)
    return NodeRecord(f"{base.name}-{size.name}", True, draft=draft, style=style)


def _differ(one: NodeRecord, other: NodeRecord, unit: Unit) -> bool:
    if one.draft is None or other.draft is None:
        return True
    old, new = one.draft.body, other.draft.body
    return old.keys() != new.keys() or not all(is_same_length(old[n], new[n], unit) for n in old)
