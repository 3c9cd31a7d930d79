"""The edits that graft a style onto another block, as pure functions from a state."""

from collections.abc import Mapping

from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files import graph
from trueup.lineage.files.records import NodeRecord, ParentRecord, StyleRecord
from trueup.lineage.replay.edits import Edit, require_free
from trueup.lineage.replay.taken_over.naming_there import names_there


def graft(
    evaluator: Evaluator,
    name: str,
    pattern: str,
    block: ParentRecord,
    why: str,
    called: Mapping[str, str] | None = None,
) -> Edit:
    """Return the edit that makes a pattern of one's style on another's block.

    `called` is what the block calls otherwise than the style, by its names. Raises BadName,
    NameTaken, NoSuchNode, NoSuchName for what either has not, and CannotStep where that would be
    the pattern again.
    """
    state = evaluator.state
    require_free(state, name)
    state.node(pattern)
    state.node(block.name)
    if pattern == block.name or pattern in graph.above(state.graph, block.name):
        reason = f"{block.name} has the style of {pattern} already; name a block that has not"
        raise CannotStep(name, reason)
    names = _names(evaluator, name, pattern, block, called or {})
    style = StyleRecord(name=pattern, called=names)
    node = NodeRecord(name=name, is_block=False, parents=(block,), style=style)
    return Edit((node,), name, (), f"Graft {pattern} onto {block.name} as {name}", why)


def _names(
    evaluator: Evaluator, name: str, pattern: str, block: ParentRecord, called: Mapping[str, str]
) -> dict[str, str]:
    if not called:
        return {}
    state = evaluator.state
    known = [evaluator.draft(each) for each in (pattern, *graph.above(state.graph, pattern))]
    ours = evaluator.followed(block).draft(block.name)
    return names_there(called, pattern, known, block.name, ours, name)
