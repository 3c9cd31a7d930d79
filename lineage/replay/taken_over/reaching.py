"""Which nodes a step reaches: a correction by the fit, a style by way of grafts as well. Pure."""

from collections.abc import Iterable

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import NodeRecord, Role
from trueup.lineage.replay.bookkeeping import Cause


def reached(evaluator: Evaluator, roots: Iterable[str], cause: Cause) -> set[str]:
    """Return the nodes below some that the steps of a cause are to arrive in, themselves left out.

    Whoever takes the style of a node takes none of its corrections, and nobody takes what a graft
    below it is corrected by.
    """
    state = evaluator.state
    top = set(roots)
    found = set(top)
    by_style = set(top)  # reached with all on the way being style that is handed on
    roles = {step.role for step in cause.steps}
    for name in state.below(top):
        node = state.node(name)
        if any(parent.name in found for parent in node.parents):
            found.add(name)
        if takes(node, roles) and node.style is not None and node.style.name in by_style:
            found.add(name)
            by_style.add(name)
        elif any(parent.name in by_style for parent in node.parents) and node.style is None:
            by_style.add(name)
    return found - top


def takes(node: NodeRecord, roles: Iterable[Role]) -> bool:
    """Return whether a node takes over steps of some role from whose style it takes."""
    return node.style is not None and node.style.takes in roles
