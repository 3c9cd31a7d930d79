"""The edits that graft a style onto another block, as pure functions from a state."""

from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files import graph
from trueup.lineage.files.records import NodeRecord, ParentRecord, StyleRecord
from trueup.lineage.replay.edits import Edit, require_free


def graft(evaluator: Evaluator, name: str, pattern: str, block: ParentRecord, why: str) -> Edit:
    """Return the edit that makes a pattern of one's style on another's block.

    Raises BadName, NameTaken, NoSuchNode, and CannotStep where that would be the pattern again.
    """
    state = evaluator.state
    require_free(state, name)
    state.node(pattern)
    state.node(block.name)
    if pattern == block.name or pattern in graph.above(state.graph, block.name):
        reason = f"{block.name} has the style of {pattern} already; name a block that has not"
        raise CannotStep(name, reason)
    node = NodeRecord(name=name, is_block=False, parents=(block,), style=StyleRecord(name=pattern))
    return Edit((node,), name, (), f"Graft {pattern} onto {block.name} as {name}", why)
