"""Which sizes a step drafted anew, and from which measurements."""

from collections.abc import Mapping

from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, remeasured
from trueup.lineage.sizes.anew import sizes_anew


def sizes_measured(entry: Entry) -> Mapping[str, tuple[Remeasured, ...]]:
    """Return, for each block of a size that an entry drafted anew, what was measured otherwise.

    Not its own node, of which the entry itself tells; nothing for a join.
    """
    states = None if entry.is_join else entry.states
    if not states or states[0] is None:
        return {}
    before, after = states[0], states[1]
    return {
        name: remeasured(before.nodes[name], after.nodes[name], after.unit)
        for name in sizes_anew(before, after)
        if name != entry.node
    }
