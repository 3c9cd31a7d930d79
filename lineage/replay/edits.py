"""The edits a verb makes to nodes, as pure functions from a state to the nodes that change."""

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from trueup.geometry.changes import Change
from trueup.geometry.units import with_unit
from trueup.lineage.errors import (
    BadName,
    CannotStep,
    NameTaken,
    NoSuchRemedy,
    NothingToChange,
    NothingToDecide,
)
from trueup.lineage.evaluation.steps import amount_of, change_of, step_from, step_id
from trueup.lineage.files import graph
from trueup.lineage.files.reading import is_name
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictKind,
    ConflictRecord,
    ConflictState,
    Decision,
    DraftedFor,
    NodeRecord,
    ParentRecord,
    Remedy,
    Role,
    StepRecord,
    TracedDraft,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.replay.accepting import accepted
from trueup.lineage.replay.around import (
    NOTHING_AROUND,
    Surroundings,
    with_step,
    without_step,
)
from trueup.lineage.replay.bookkeeping import BY_DECISION_ONLY
from trueup.lineage.replay.curing import names, remedies
from trueup.lineage.replay.curing.choosing import chosen


@dataclass(frozen=True)
class Edit:
    """What a verb changes: the nodes as they become, and the steps by which.

    `judged_from` are nodes without a step that is moved: its effect is measured from there.
    `beside` are the ids of what it makes that is no step of a chain: a re-measuring. `anew` are the
    blocks that it drafts anew where that is none of `node`: sizes.
    """

    nodes: tuple[NodeRecord, ...]
    node: str
    steps: tuple[StepRecord, ...]
    subject: str
    why: str = ""
    judged_from: tuple[NodeRecord, ...] = ()
    beside: tuple[str, ...] = ()
    anew: tuple[str, ...] = ()

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids of all it makes, changes or takes out."""
        return (*(step.id for step in self.steps), *self.beside)

    @property
    def is_style(self) -> bool:
        """Return whether all its steps were made for looks."""
        return bool(self.steps) and all(step.role is Role.STYLE for step in self.steps)


def new_block(
    state: State, name: str, draft: BlockDraft, drafted_for: DraftedFor | None = None
) -> Edit:
    """Return the edit that adds a drafted block; raises BadName, NameTaken, BadLength."""
    require_free(state, name)
    body = {taken: with_unit(text, state.unit) for taken, text in draft.body.items()}
    drafted = replace(draft, body=body)
    node = NodeRecord(name=name, is_block=True, draft=drafted, drafted_for=drafted_for)
    of = f" for {drafted_for.body} of {drafted_for.measured}" if drafted_for else ""
    return Edit((node,), name, (), f"Draft the block {name}{of}")


def new_traced_block(state: State, name: str, source: str, drawing: str) -> Edit:
    """Return the edit that adds a block from a drawing; raises BadName, NameTaken."""
    require_free(state, name)
    node = NodeRecord(name=name, is_block=True, traced=TracedDraft(source, drawing))
    return Edit((node,), name, (), f"Trace the block {name} from {source}")


def new_child(state: State, name: str, parents: Sequence[ParentRecord], is_block: bool) -> Edit:
    """Return the edit that derives a node; raises BadName, NameTaken, NoSuchNode."""
    require_free(state, name)
    if not parents:
        raise CannotStep(name, "it derives from nothing; name its parent")
    for index, parent in enumerate(parents):
        state.node(parent.name)
        if parent.name in [other.name for other in parents[:index]]:
            raise CannotStep(name, f"{parent.name} is named twice; name it once with its pieces")
    node = NodeRecord(name=name, is_block=is_block, parents=tuple(parents))
    origin = " and ".join(parent.name for parent in parents)
    return Edit((node,), name, (), f"Derive the {node.kind} {name} from {origin}")


def require_free(state: State, name: str) -> None:
    """Refuse a name that is none, or that a node or a garment has; raises BadName, NameTaken.

    A file that cannot be read keeps its name.
    """
    if not is_name(name):
        raise BadName(name)
    taken = state.path_of(name)
    if taken is not None:
        raise NameTaken(name, taken)


def add_steps(
    state: State,
    head: str,
    node_name: str,
    changes: Sequence[Change],
    role: Role,
    why: str,
    date: datetime.date,
) -> Edit:
    """Return the edit that adds changes at the end of a node's chain, made together."""
    node = state.node(node_name)
    steps: list[StepRecord] = []
    for index, change in enumerate(changes):
        bare = step_from(change, role, "", why=why, date=date)
        taken = {step.id for step in (*node.steps, *steps)}
        made = step_id(head, node_name, bare.kind, bare.values, index)
        while made in taken:
            made = step_id(made, node_name, bare.kind, bare.values, index)
        steps.append(replace(bare, id=made))
    if len(steps) > 1:
        steps = [replace(step, fitting=f"fitting-{steps[0].id}") for step in steps]
    verb = "Correct" if role is Role.CORRECTION else "Style"
    subject = f"{verb} {node_name}: {', '.join(step.kind for step in steps)}"
    changed = replace(node, steps=(*node.steps, *steps))
    return Edit((changed,), node_name, tuple(steps), subject, why)


def amend_step(
    state: State,
    node_name: str,
    step: str,
    values: Mapping[str, Any],
    why: str,
    around: Surroundings = NOTHING_AROUND,
) -> Edit:
    """Return the edit that gives a step other amounts; it keeps its id and its place."""
    node = state.node(node_name)
    old = around.step(node, step)
    merged = replace(old, values={**old.values, **values}, why=why or old.why)
    change = change_of(merged, state.unit, around.body)
    new = step_from(
        change,
        old.role,
        old.id,
        why=merged.why,
        date=old.date,
        fitting=old.fitting,
        settles=old.settles,
    )
    new = replace(new, same_as=old.same_as)
    if new.values == old.values:
        raise NothingToChange(f"{old.kind} of {node_name} has these amounts already")
    subject = f"Amend {node_name}: {old.kind}"
    return Edit((with_step(node, new),), node_name, (new,), subject, why)


def drop_step(
    state: State, node_name: str, step: str, why: str, around: Surroundings = NOTHING_AROUND
) -> Edit:
    """Return the edit that takes a step out of a chain."""
    node = state.node(node_name)
    old = around.step(node, step)
    subject = f"Drop from {node_name}: {old.kind}"
    return Edit((without_step(node, old),), node_name, (old,), subject, why)


def decide(
    state: State,
    head: str,
    conflict_id: str,
    remedy_name: str,
    why: str,
    date: datetime.date,
    around: Callable[[str], Surroundings] = lambda _: NOTHING_AROUND,
) -> Edit:
    """Return the edit that settles a conflict by one of its remedies.

    Raises NoSuchConflict, NothingToDecide, NoSuchRemedy with those offered.
    """
    conflict = state.conflict(conflict_id)
    offered = conflict.remedies if conflict.state is not ConflictState.SETTLED else ()
    if not offered and conflict.state is not ConflictState.OPEN:
        before = [decision.remedy for decision in conflict.decisions]
        raise NothingToDecide(conflict_id, conflict.arose_at, conflict.state.value, before)
    remedy = next((each for each in offered if each.name == remedy_name), None)
    if remedy is None:
        raise NoSuchRemedy(conflict_id, remedy_name, [each.name for each in offered])
    node = state.node(conflict.arose_at)
    if remedy.name == names.ACCEPT:
        decided = accepted(conflict, why, date)
    else:
        made = Decision(remedy.name, why, date)
        decided = replace(conflict, decisions=(*conflict.decisions, made))
    if conflict.kind is ConflictKind.TWO_MAKERS:
        changed, steps = chosen(node, conflict, remedy, state.unit, around(node.name).body)
        decided = replace(decided, state=ConflictState.SETTLED, remedies=())
    else:
        told = (why, date, around(node.name))
        changed, steps, decided = _carry_out(state, head, node, remedy, decided, *told)
    conflicts = tuple(decided if c.id == conflict.id else c for c in changed.conflicts)
    subject = f"Decide {conflict.id} on {node.name}: {remedy.name}"
    return Edit((replace(changed, conflicts=conflicts),), node.name, steps, subject, why)


def _carry_out(
    state: State,
    head: str,
    node: NodeRecord,
    remedy: Remedy,
    conflict: ConflictRecord,
    why: str,
    date: datetime.date,
    around: Surroundings,
) -> tuple[NodeRecord, tuple[StepRecord, ...], ConflictRecord]:
    """Return the node after a remedy, the steps it made or took out, and the conflict after it."""
    by_decision = conflict.kind in BY_DECISION_ONLY
    done = replace(conflict, state=ConflictState.SETTLED, remedies=()) if by_decision else conflict
    match remedy.name:
        case names.ACCEPT:
            return node, (), conflict
        case names.HOLD:
            held = replace(conflict, state=ConflictState.ACCEPTED, remedies=(remedies.following(),))
            return _holding(state, node, conflict), (), held
        case names.FOLLOW:
            again = replace(_open_again(state, node, conflict), decisions=conflict.decisions)
            return _following(state, node, conflict), (), again
        case names.DROP_OWN_COPY | names.DROP_STEP:
            edit = drop_step(state, node.name, conflict.change, why, around)
            return edit.nodes[0], edit.steps, done
        case names.SMALLER_STEP | names.SAME_SHARE:
            edit = amend_step(state, node.name, conflict.change, remedy.values, why, around)
            return edit.nodes[0], edit.steps, done
        case _:
            bare = StepRecord("", Role.DECISION, str(remedy.kind), remedy.version, remedy.values)
            change = change_of(bare, state.unit, around.body)
            made = step_id(head, node.name, change.kind, {**remedy.values, "of": conflict.id})
            step = step_from(change, Role.DECISION, made, why=why, date=date, settles=conflict.id)
            return replace(node, steps=(*node.steps, step)), (step,), done


def _holding(state: State, node: NodeRecord, conflict: ConflictRecord) -> NodeRecord:
    """Return the node staying on the version before the correction, where it came through.

    A parent that is held already stays as it is; an edit by hand may have come through any.
    """
    known = conflict.corrected in state.nodes
    above = set(
        graph.lineage_between(state.graph, conflict.corrected, node.name) if known else state.nodes
    )
    parents = tuple(
        replace(parent, hold=conflict.since)
        if parent.name in above and parent.hold is None
        else parent
        for parent in node.parents
    )
    style = node.style
    if style and style.hold is None and style.name in above and parents == node.parents:
        style = replace(style, hold=conflict.since)
    return replace(node, parents=parents, style=style)


def _following(state: State, node: NodeRecord, conflict: ConflictRecord) -> NodeRecord:
    """Return the node following the parents again that it held because of a conflict.

    Whatever else was decided by holding on to the same version is open again too.
    """
    parents = tuple(
        replace(parent, hold=None) if parent.hold == conflict.since else parent
        for parent in node.parents
    )
    conflicts = tuple(
        _open_again(state, node, each)
        if remedies.holds(each) and each.since == conflict.since
        else each
        for each in node.conflicts
    )
    style = node.style
    if style and style.hold == conflict.since:
        style = replace(style, hold=None)
    return replace(node, parents=parents, style=style, conflicts=conflicts)


def _open_again(state: State, node: NodeRecord, record: ConflictRecord) -> ConflictRecord:
    """Return a conflict as open; replay settles it, or gives it new numbers, where it finds it."""
    own = node.step(record.change)
    corrected = state.nodes.get(record.corrected)
    correction = corrected.step(record.correction) if corrected else None
    offered: tuple[Remedy, ...] = ()
    if record.kind is ConflictKind.DOUBLED and own:
        offered = remedies.for_doubled(own, amount_of(own, state.unit))
    elif record.kind is ConflictKind.BOTH_SHAPED and correction:
        again = remedies.for_repeating(correction, amount_of(correction, state.unit))
        offered = (again, remedies.KEEP_OWN_LINE)
    if offered:
        offered = (*offered, *remedies.holding(node))
    return replace(record, state=ConflictState.OPEN, remedies=offered)
