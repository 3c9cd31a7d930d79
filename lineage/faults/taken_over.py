"""Where a place was shaped by a step that grafts take over: at which step it is mended in all."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.lineage.faults.inquiry import Inquiry, Place
from trueup.lineage.files.records import StepRecord
from trueup.lineage.files.state import State


@dataclass(frozen=True)
class Rank:
    """A node on the way up, and what one correction of the place there would mend.

    With a `step`, which grafts take over from there, what another amount of that would mend.
    """

    node: str
    patterns: tuple[str, ...]
    garments: tuple[str, ...]
    step: StepRecord | None = None


def taken_over(inquiry: Inquiry, place: Place, having: Mapping[str, Place]) -> Rank | None:
    """Return what another amount of the step that shaped a place would reach, and no garments yet.

    None where several steps shaped it, where nothing takes that step over, or it is no more.
    """
    made = {(trace.source.node, trace.source.step) for trace in place.traces}
    node, step = next(iter(made))
    if len(made) > 1 or node not in inquiry.state.nodes:
        return None
    now = inquiry.state.node(node).step(step)
    if now is None or not any(each.nearest.taken_by for each in having.values()):
        return None
    reached = tuple(name for name, there in having.items() if _arrives(inquiry.state, node, there))
    return Rank(node, reached, (), now)


def _arrives(state: State, node: str, place: Place) -> bool:
    """Return whether what is changed of a step at a node arrives in a place that it shaped."""
    return all(
        not trace.held and (not trace.taken_by or node in _followed(state, trace.taken_by))
        for trace in place.traces
    )


def _followed(state: State, graft: str) -> set[str]:
    """Return the nodes whose steps a graft takes over as they are now."""
    found: set[str] = set()
    waiting = [graft]
    while waiting:
        node = state.node(waiting.pop())
        above = [node.style] if node.style else node.parents
        names = {each.name for each in above if not each.hold} - found
        found |= names
        waiting += names
    return found
