"""For whom a pattern is, in words: the body and the day it was measured, or the size."""

from trueup.lineage.files.records import NodeRecord, Role
from trueup.lineage.files.state import State

_TOLD = 2
"""So many measurements tell a body that has no name."""


def fitted_for(state: State, node: str) -> tuple[str, ...]:
    """Return a line for each block above a node that is drafted for somebody or for a size."""
    waiting, above = [node], set[str]()
    while waiting:
        above.add(name := waiting.pop())
        # Whose style or corrections it takes has another body.
        waiting += [p.name for p in state.node(name).parents if p.name in state.nodes]
    lines = (_line(state, state.node(name)) for name in sorted(above))
    return tuple(dict.fromkeys(line for line in lines if line))


def _line(state: State, block: NodeRecord) -> str:
    """Return for whom a block is drafted; nothing of one that is not drafted."""
    of, style = block.drafted_for, block.style
    if of is not None:
        body = state.bodies.get(of.body)
        wearer = body.wearer if body else of.body
        return f"{block.name} for {wearer}, measured {of.measured.isoformat()}"
    if block.draft is None:
        return ""
    if style is not None and style.takes is Role.CORRECTION:
        return f"{block.name} for size {block.name.removeprefix(f'{style.name}-')}"
    told = list(block.draft.body.items())[:_TOLD]
    day = block.remeasured[-1].date if block.remeasured else None
    measured = f", measured {day.isoformat()}" if day else ""
    return f"{block.name} for {', '.join(f'{name} {mm}' for name, mm in told)}{measured}"
