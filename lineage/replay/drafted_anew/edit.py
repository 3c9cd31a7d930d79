"""The edit that drafts a block from measurements taken anew. Pure."""

from collections.abc import Mapping

from trueup.geometry.drafting import system_named
from trueup.geometry.errors import NoSuchName
from trueup.geometry.units import with_unit
from trueup.lineage.errors import NotDrafted, NothingToChange
from trueup.lineage.evaluation.starting import start_of
from trueup.lineage.files import graph
from trueup.lineage.files.records import replace
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import remeasured
from trueup.lineage.replay.edits import Edit


def remeasure(state: State, name: str, body: Mapping[str, str], why: str) -> Edit:
    """Return the edit that drafts a block from measurements taken anew; its steps stay.

    `body` are those taken, by name, as they are written; what is not among them stays as it was.
    Raises NotDrafted for a node that is not drafted itself, NothingToChange, and what drafting
    raises.
    """
    node = state.node(name)
    if node.draft is None:
        raise NotDrafted(name, _drafted_above(state, name))
    known = [each.name for each in system_named(node.draft.system).measurements]
    for taken in body:
        if taken not in known:
            raise NoSuchName("body measurement", taken, node.draft.system, known)
    written = {taken: with_unit(text, state.unit) for taken, text in body.items()}
    drafted = replace(node.draft, body={**node.draft.body, **written})
    told = remeasured(node, replace(node, draft=drafted), state.unit)
    if not told:
        raise NothingToChange(f"{name} is drafted from these measurements already")
    changed = {each.name: each.after for each in told}
    drafted = replace(node.draft, body={**node.draft.body, **changed})
    start_of(drafted, state.unit)
    subject = f"Re-measure {name}: {', '.join(each.words for each in told)}"
    return Edit((replace(node, draft=drafted),), name, (), subject, why)


def _drafted_above(state: State, name: str) -> tuple[str, ...]:
    """Return the drafted blocks that a node derives from."""
    above = graph.above(state.graph, name)
    return tuple(each for each in state.in_order if each in above and state.nodes[each].draft)
