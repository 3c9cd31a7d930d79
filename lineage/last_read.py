"""Which nodes that cannot be read may derive from a node: from where each stood when last read."""

from collections.abc import Iterable, Mapping
from itertools import islice

from trueup.lineage.errors import Damaged, StandsOnUnreadable, VerdictUnknown, WardrobeError
from trueup.lineage.files import graph
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import NODES
from trueup.lineage.opened import OpenWardrobe

FARTHEST_BACK = 200
"""So many versions are looked at; what nobody could read in all of them could be anywhere."""


def require_verdicts(wardrobe: OpenWardrobe, nodes: Iterable[str]) -> None:
    """Raise VerdictUnknown where a node that cannot be read derives from one of these, or may."""
    state = wardrobe.state
    changed = sorted(state.nodes.keys() & set(nodes))
    if not changed or not state.lost_nodes:
        return
    above = _ancestry(wardrobe, state)
    for name, error in sorted(state.lost_nodes.items()):
        if name not in above:
            raise VerdictUnknown(name, f"{name} may derive from", changed[0], _cause(error))
        for node in changed:
            if node in above[name]:
                raise VerdictUnknown(name, f"{name} derives from", node, _cause(error))


def _cause(error: Damaged) -> Damaged:
    return error.cause if isinstance(error, StandsOnUnreadable) else error


def _ancestry(wardrobe: OpenWardrobe, state: State) -> Mapping[str, frozenset[str]]:
    """Return all that nodes which cannot be read now derived from when they could be."""
    found: dict[str, frozenset[str]] = {}
    commits = wardrobe.history(NODES)
    for commit in islice(commits, FARTHEST_BACK):
        missing = state.lost_nodes.keys() - found.keys()
        if not missing:
            break
        try:
            then = wardrobe.evaluator_at(commit.id).state
        except WardrobeError:
            continue
        for name in missing & then.nodes.keys():
            above = graph.above(then.graph, name)
            # Some of these may have been given other parents since.
            now = (graph.above(state.graph, each) for each in above & state.nodes.keys())
            found[name] = frozenset(above.union(*now))
    return found
