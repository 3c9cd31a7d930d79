"""Which sizes are drafted from other measurements in one version than in another. Pure."""

from trueup.lineage.files.records import Role
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import is_drafted_anew


def sizes_anew(before: State, after: State) -> tuple[str, ...]:
    """Return the blocks of sizes, by name, that two versions draft from other measurements."""
    return tuple(
        name
        for name, node in sorted(after.nodes.items())
        if node.style is not None
        and node.style.takes is Role.CORRECTION
        and is_drafted_anew(before.nodes.get(name), node)
    )
