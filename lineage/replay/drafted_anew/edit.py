"""The edit that drafts a block from measurements taken anew. Pure."""

import datetime
from collections.abc import Mapping
from contextlib import suppress

from trueup.geometry.drafting import system_named
from trueup.geometry.errors import NoSuchName
from trueup.geometry.units import with_unit
from trueup.lineage.errors import NotDrafted, NothingToChange
from trueup.lineage.evaluation.starting import start_of
from trueup.lineage.evaluation.steps import step_id
from trueup.lineage.files import graph
from trueup.lineage.files.bodies.errors import NoSuchBody, NothingMeasured
from trueup.lineage.files.bodies.known import known_of
from trueup.lineage.files.records import (
    BlockDraft,
    DraftedFor,
    NodeRecord,
    RemeasuringRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.for_body import ForBody, refuse_otherwise, taken_from
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, remeasured
from trueup.lineage.replay.edits import Edit


def remeasure(
    state: State,
    name: str,
    body: Mapping[str, str],
    why: str,
    wish: ForBody | None = None,
    *,
    head: str = "",
    date: datetime.date | None = None,
) -> Edit:
    """Return the edit that drafts a block from measurements taken anew; its steps stay.

    `body` are those taken, by name, as they are written; what is not among them stays as it was.
    Without any, a block that is drafted for a body takes what is known of that by now; `wish` says
    for whom, or from which set, it is to be drafted from now on. Raises NotDrafted for a node that
    is not drafted itself, NothingToChange, NoSuchBody, NothingMeasured, FollowsABody, and what
    drafting raises. What the measurements were before is kept beside the chain, by an id that
    follows from the version `head` it was made on.
    """
    node = state.node(name)
    if node.draft is None:
        raise NotDrafted(name, _drafted_above(state, name))
    known = [each.name for each in system_named(node.draft.system).measurements]
    for taken in body:
        if taken not in known:
            raise NoSuchName("body measurement", taken, node.draft.system, known)
    body, drafted_for = _taken(state, node, known, body, wish)
    written = {taken: with_unit(text, state.unit) for taken, text in body.items()}
    drafted = replace(node.draft, body={**node.draft.body, **written})
    told = remeasured(node, replace(node, draft=drafted), state.unit)
    if not told and not _is_for_another(node, drafted_for):
        raise NothingToChange(f"{name} is drafted from these measurements already")
    changed = {each.name: each.after for each in told}
    drafted = replace(node.draft, body={**node.draft.body, **changed})
    start_of(drafted, state.unit)
    subject = _subject(node, drafted_for, told)
    made = replace(node, draft=drafted, drafted_for=drafted_for)
    if not told:
        return Edit((made,), name, (), subject, why)
    was = {each.name: each.before for each in told if each.before}
    anew = RemeasuringRecord(_id(node, head, changed), was, why, date)
    made = replace(made, remeasured=(*node.remeasured, anew))
    return Edit((made,), name, (), subject, why, beside=(anew.id,))


def _id(node: NodeRecord, head: str, changed: Mapping[str, str]) -> str:
    taken = {*(step.id for step in node.steps), *(each.id for each in node.remeasured)}
    made = step_id(head, node.name, "remeasure", changed)
    while made in taken:
        made = step_id(made, node.name, "remeasure", changed)
    return made


def for_body(
    state: State, name: str, draft: BlockDraft, wish: ForBody
) -> tuple[BlockDraft, DraftedFor]:
    """Return what a new block is drafted from, what is not given taken from a body, and for whom.

    Raises NoSuchName for an unknown system, and as `taken_from` does.
    """
    asked = [each.name for each in system_named(draft.system).measurements]
    taken = taken_from(state, name, asked, draft.body, wish)
    return replace(draft, body=dict(taken.body)), taken.drafted_for


def _taken(
    state: State,
    node: NodeRecord,
    asked: list[str],
    body: Mapping[str, str],
    wish: ForBody | None,
) -> tuple[Mapping[str, str], DraftedFor | None]:
    """Return what is measured anew, and for whom the block is drafted from then on."""
    stands = node.drafted_for
    if wish is None and stands is not None and not body:
        wish = ForBody(stands.body)
    if wish is not None:
        taken = taken_from(state, node.name, asked, body, wish)
        return taken.body, taken.drafted_for
    if stands is not None:
        # Where its set is gone, nothing contradicts what is given.
        with suppress(NoSuchBody, NothingMeasured):
            as_of = known_of(state.body(stands.body), stands.measured)
            refuse_otherwise(state, node.name, body, as_of)
    return body, stands


def _is_for_another(node: NodeRecord, drafted_for: DraftedFor | None) -> bool:
    before = node.drafted_for and node.drafted_for.body
    return drafted_for is not None and drafted_for.body != before


def _subject(node: NodeRecord, drafted_for: DraftedFor | None, told: tuple[Remeasured, ...]) -> str:
    words = ", ".join(each.words for each in told)
    if drafted_for is None or drafted_for == node.drafted_for:
        return f"Re-measure {node.name}: {words}"
    of = f"{drafted_for.body} of {drafted_for.measured}"
    return f"Re-measure {node.name} as {of}: {words}" if told else f"Draft {node.name} for {of}"


def _drafted_above(state: State, name: str) -> tuple[str, ...]:
    """Return the drafted blocks that a node derives from."""
    above = graph.above(state.graph, name)
    return tuple(each for each in state.in_order if each in above and state.nodes[each].draft)
