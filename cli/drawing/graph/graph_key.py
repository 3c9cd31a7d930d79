"""The key of a graph: what its frames and lines mean, as far as they occur in it."""

from collections.abc import Iterator

from trueup.cli.drawing.graph.placing import placed
from trueup.cli.drawing.key import KeyEntry, Sample
from trueup.cli.drawing.scene.crossings import crossings
from trueup.lineage.files.state import State


def graph_key(state: State) -> tuple[KeyEntry, ...]:
    """Return a sample and words for every frame and line in the picture of a state."""
    return tuple(_entries(state))


def _entries(state: State) -> Iterator[KeyEntry]:
    nodes = state.nodes.values()
    if any(node.is_block for node in nodes):
        yield KeyEntry(Sample.BLOCK, "block")
    if not all(node.is_block for node in nodes):
        yield KeyEntry(Sample.PATTERN, "pattern")
    if any(node.open_conflicts for node in nodes):
        yield KeyEntry(Sample.WAITS, "a conflict waits for a decision")
    holds = {parent.hold is not None for node in nodes for parent in node.parents}
    if False in holds:
        yield KeyEntry(Sample.DERIVES, "derives from what stands on the left")
    if True in holds:
        yield KeyEntry(Sample.STAYS, "stays on an earlier version of it")
    ways = placed(state, {name: (name,) for name in state.in_order}, 0.0).ways
    if any(crossings(ways).values()):
        yield KeyEntry(Sample.CROSSES, "lines that cross and do not join")
