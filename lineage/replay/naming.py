"""What does not hold at a node by its id, and the node where it arose. Pure."""

import hashlib

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ConflictKind, NodeRecord
from trueup.lineage.replay.collisions import Collision, Key, arose_here, collisions, found_at


def conflict_id(node: str, kind: ConflictKind, key: Key, steps: str) -> str:
    """Return the id of a conflict: the same in a preview and in what is recorded after it."""
    text = "\n".join((node, *key, steps))
    return f"{kind.value}-{hashlib.sha256(text.encode()).hexdigest()[:8]}"


def arising(evaluator: Evaluator, name: str, collision: Collision) -> tuple[str, Collision]:
    """Return the node at which a collision arose, the highest that has it, and how it is there."""
    node = evaluator.state.node(name)
    if not arose_here(collision, evaluator.summary(name), evaluator.parent_summaries(name)):
        for parent in node.parents:
            if parent.hold is None:
                above = found_at(collisions(evaluator.summary(parent.name)), collision.key)
                if above is not None:
                    return arising(evaluator, parent.name, above)
    return name, collision


def id_of(node: NodeRecord, collision: Collision) -> str:
    """Return the id of what does not hold at the node where it arose: the same as long as it does.

    That of the conflict which spoke of it before, if one did.
    """
    known = [record.id for record in node.conflicts if record.key == collision.key]
    return known[-1] if known else conflict_id(node.name, collision.kind, collision.key, "")
