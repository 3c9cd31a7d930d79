"""Merge one block or pattern: where it comes from, its chain, its conflicts. Pure."""

from dataclasses import dataclass

from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.starting import start_of
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictRecord,
    DraftedFor,
    NodeRecord,
    ParentRecord,
    RemeasuringRecord,
    StyleRecord,
    TracedDraft,
    replace,
)
from trueup.lineage.merging.chains import merge_chains
from trueup.lineage.merging.contradictions import drafted_twice, followed_twice
from trueup.lineage.merging.settled import merge_conflicts
from trueup.lineage.merging.three_way import Note, Sides, in_order, three_way, united
from trueup.lineage.replay.drafted_anew.measurements import is_same_length, remeasured
from trueup.lineage.store.joins.merge_errors import CannotJoin


@dataclass(frozen=True)
class MergedNode:
    """A node as both sides made it, what was done without asking, and what is asked."""

    node: NodeRecord
    notes: tuple[Note, ...]
    questions: tuple[ConflictRecord, ...]


def merge_node(
    base: NodeRecord | None, ours: NodeRecord, theirs: NodeRecord, sides: Sides, unit: Unit
) -> MergedNode:
    """Return a node that both sides have; `base` None where both made it.

    Raises CannotJoin for one name that both gave to different things.
    """
    if base is None:
        if _origin(ours) != _origin(theirs):
            raise CannotJoin(
                ours.path,
                f"{sides.ours} and {sides.theirs} each made a {theirs.kind} of this name, and the "
                "two come from different things",
                "rename one of them (its file and the name in it) and join again",
            )
        base = replace(ours, steps=(), conflicts=(), remeasured=())
    chain = merge_chains(ours.name, base.steps, ours.steps, theirs.steps, sides, unit)
    conflicts, undecided = merge_conflicts(base, ours, theirs, sides)
    questions = [*chain.questions, *undecided]
    parents = _parents(base, ours, theirs, sides, questions)
    draft = _draft(base, ours, theirs, sides, unit, questions)
    known = {conflict.id for conflict in conflicts}
    fresh = tuple(each for each in questions if each.id not in known)
    node = replace(
        ours,
        is_block=three_way(base.is_block, ours.is_block, theirs.is_block)[0],
        parents=parents,
        draft=draft,
        style=_style(base, ours, theirs),
        drafted_for=_drafted_for(base, ours, theirs, draft),
        remeasured=_remeasured(base, ours, theirs),
        traced=_traced(base, ours, theirs),
        steps=chain.steps,
        conflicts=(*conflicts, *fresh),
    )
    told = ", ".join(each.words for each in remeasured(ours, node, unit))
    came_in = Note("came-in", ours.name, f"measurements ({told}), of {sides.theirs}")
    return MergedNode(node, (*([came_in] if told else []), *chain.notes), fresh)


def _origin(node: NodeRecord) -> tuple[object, ...]:
    return node.is_block, node.parents, node.draft, node.traced, node.style, node.drafted_for


def _style(base: NodeRecord, ours: NodeRecord, theirs: NodeRecord) -> StyleRecord | None:
    """Return whose style a node takes; raises CannotJoin where both sides changed that."""
    style, agreed = three_way(base.style, ours.style, theirs.style)
    if agreed:
        return style
    if base.style and ours.style and theirs.style:
        every = (base.style, ours.style, theirs.style)
        bare = [replace(each, without=()) for each in every]
        kept, agreed = three_way(*bare)
        if agreed:
            return replace(kept, without=united(*(each.without for each in every)))
    raise CannotJoin(
        ours.path,
        "both sides changed whose style it takes",
        "make it the same on one side (`git checkout VERSION -- FILE`), and join again",
    )


def _parents(
    base: NodeRecord,
    ours: NodeRecord,
    theirs: NodeRecord,
    sides: Sides,
    questions: list[ConflictRecord],
) -> tuple[ParentRecord, ...]:
    before, mine, others = ({p.name: p for p in node.parents} for node in (base, ours, theirs))
    kept = []
    for name in in_order(before, mine, others):
        was, here, there = before.get(name), mine.get(name), others.get(name)
        if here and there:
            merged = _parent(was or replace(here, pieces=None, hold=None), here, there)
            if merged is None:
                questions.append(followed_twice(ours.name, here, there, sides))
            kept.append(merged or here)
        elif (one := here or there) is not None and one != was:
            kept.append(one)
    return tuple(kept)


def _parent(was: ParentRecord, here: ParentRecord, there: ParentRecord) -> ParentRecord | None:
    """Return a parent with what each side changed; None where both changed the same."""
    pieces, same_pieces = three_way(was.pieces, here.pieces, there.pieces)
    hold, same_hold = three_way(was.hold, here.hold, there.hold)
    if not (same_pieces and same_hold):
        return None
    return ParentRecord(here.name, pieces, hold)


def _traced(base: NodeRecord, ours: NodeRecord, theirs: NodeRecord) -> TracedDraft | None:
    """Return the drawing of a block; raises CannotJoin where both sides redrew it."""
    traced, agreed = three_way(base.traced, ours.traced, theirs.traced)
    if not agreed:
        raise CannotJoin(
            ours.drawing_path,
            "both sides redrew it",
            "make it the same on one side (`git checkout VERSION -- FILE`), and join again",
        )
    return traced


def _draft(
    base: NodeRecord,
    ours: NodeRecord,
    theirs: NodeRecord,
    sides: Sides,
    unit: Unit,
    questions: list[ConflictRecord],
) -> BlockDraft | None:
    """Return what a block is drafted from; measurements are merged one by one.

    Where those of the two are at odds with each other, it is asked which to draft from.
    """
    draft, agreed = three_way(base.draft, ours.draft, theirs.draft)
    if agreed or not (base.draft and ours.draft and theirs.draft):
        return draft
    system, agreed = three_way(base.draft.system, ours.draft.system, theirs.draft.system)
    body: dict[str, str] = {}
    bodies = (base.draft.body, ours.draft.body, theirs.draft.body)
    for name in in_order(*bodies):
        was, here, there = (each.get(name) for each in bodies)
        taken, same = three_way(was, here, there)
        agreed = agreed and (same or is_same_length(here, there, unit))
        if taken is not None:
            body[name] = taken
    merged = BlockDraft(system, body)
    if agreed and _can_be_drafted(merged, unit):
        return merged
    drafted_for = (ours.drafted_for, theirs.drafted_for)
    questions.append(drafted_twice(ours.name, ours.draft, theirs.draft, sides, drafted_for))
    return ours.draft


def _remeasured(
    base: NodeRecord, ours: NodeRecord, theirs: NodeRecord
) -> tuple[RemeasuringRecord, ...]:
    """Return the re-measurings of both sides, without those that either took out."""
    before, mine, others = ({r.id: r for r in n.remeasured} for n in (base, ours, theirs))
    kept = united(before, mine, others)
    in_their_order = [each for each in in_order(before, mine, others) if each in kept]
    return tuple(mine.get(each) or others[each] for each in in_their_order)


def _drafted_for(
    base: NodeRecord, ours: NodeRecord, theirs: NodeRecord, draft: BlockDraft | None
) -> DraftedFor | None:
    """Return for whom a block is drafted: as whoever's draft it is says, else by the later set."""
    found, agreed = three_way(base.drafted_for, ours.drafted_for, theirs.drafted_for)
    if agreed:
        return found
    here, there = ours.drafted_for, theirs.drafted_for
    is_ours = draft == ours.draft and draft != theirs.draft
    if is_ours or here is None or there is None or here.body != there.body:
        return here
    return max(here, there, key=lambda each: each.measured)


def _can_be_drafted(draft: BlockDraft, unit: Unit) -> bool:
    try:
        start_of(draft, unit)
    except GeometryError:
        return False
    return True
