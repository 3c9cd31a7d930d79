"""What the graph of a wardrobe, and a look over the whole of it, needs to know of a node."""

from msgspec import Struct

from trueup.lineage.files.records import NodeRecord


class Kin(Struct, frozen=True, array_like=True):
    """Whether a node is a block, the names of all it follows, and what there is to ask of it.

    `in_conflict` says that conflicts are recorded with it, settled or not, `for_body` that it is
    drafted for a body.
    """

    is_block: bool
    follows: tuple[str, ...]
    in_conflict: bool = False
    for_body: bool = False


def kin_of(node: NodeRecord) -> Kin:
    """Return what there is to know of a node beside others."""
    follows = tuple(each.name for each in node.followed)
    return Kin(node.is_block, follows, bool(node.conflicts), node.drafted_for is not None)
