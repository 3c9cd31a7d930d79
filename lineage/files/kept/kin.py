"""What the graph of a wardrobe, and a look over the whole of it, needs to know of a node."""

from msgspec import Struct

from trueup.lineage.files.records import NodeRecord


class Kin(Struct, frozen=True, array_like=True):
    """Whether a node is a block, the names of all it follows, and what there is to ask of it.

    `conflicts` are as many as are recorded with it, of which `waiting` wait for a decision;
    `for_body` says that it is drafted for a body.
    """

    is_block: bool
    follows: tuple[str, ...]
    conflicts: int = 0
    waiting: int = 0
    for_body: bool = False


def kin_of(node: NodeRecord) -> Kin:
    """Return what there is to know of a node beside others."""
    follows = tuple(each.name for each in node.followed)
    waiting = len(node.open_conflicts)
    for_body = node.drafted_for is not None
    return Kin(node.is_block, follows, len(node.conflicts), waiting, for_body)
