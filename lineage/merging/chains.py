"""Merge the chain of one node: steps by their ids, each side's order kept. Pure."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from trueup.geometry.changes import Change
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import ConflictRecord, Role, StepRecord, replace
from trueup.lineage.merging import contradictions
from trueup.lineage.merging.three_way import Note, Sides, identities, in_order, three_way

Chain = Sequence[StepRecord]


@dataclass
class MergedChain:
    """The merge of one chain under way: what is kept, what is said of it, what is asked."""

    node: str
    sides: Sides
    unit: Unit
    steps: tuple[StepRecord, ...] = ()
    notes: list[Note] = field(default_factory=list)
    questions: list[ConflictRecord] = field(default_factory=list)

    def note(self, what: str, says: str, *steps: StepRecord) -> None:
        """Say one thing that was done without asking."""
        self.notes.append(Note(what, self.node, says, tuple(step.id for step in steps)))


def merge_chains(
    node: str, base: Chain, ours: Chain, theirs: Chain, sides: Sides, unit: Unit
) -> MergedChain:
    """Return the merged chain of a node.

    A step only one side has is kept, unless the other took it out and this one left it as it was.
    A step both gave other amounts keeps ours until the conflict about it is decided; so does one
    that was taken out by one side and amended by the other. The same change made by both is one
    step with both ids; two changes of one kind at one place both stand, and are asked about.
    """
    made = MergedChain(node, sides, unit)
    key = identities(base, ours, theirs)
    before, mine, others = ({key[s.id]: s for s in chain} for chain in (base, ours, theirs))
    kept = dict(_kept(made, before, mine, others))
    new_mine = [k for k in mine if k in kept and k not in before and k not in others]
    new_others = [k for k in others if k in kept and k not in before and k not in mine]
    _join_twins(made, kept, new_mine, new_others)
    for theirs_key in (k for k in new_others if k in kept):
        made.note("came-in", f"{_said(kept[theirs_key])}, of {sides.theirs}", kept[theirs_key])
    _ask_of_places(made, [kept[k] for k in new_mine], [kept[k] for k in new_others])
    for new, side, by_ours in ((new_mine, others, True), (new_others, mine, False)):
        _ask_of_amended(made, [kept[k] for k in new], _amended(before, side, kept), by_ours)
    order = in_order(before, mine, others)
    made.steps = tuple(kept[k] for k in order if k in kept)
    return made


def _kept(
    made: MergedChain,
    before: Mapping[str, StepRecord],
    mine: Mapping[str, StepRecord],
    others: Mapping[str, StepRecord],
) -> Iterator[tuple[str, StepRecord]]:
    for key in dict.fromkeys((*mine, *others)):
        base, ours, theirs = before.get(key), mine.get(key), others.get(key)
        if ours and theirs:
            yield key, _both(made, base, ours, theirs)
            continue
        step = ours or theirs
        assert step is not None
        if base is None:
            yield key, step
        elif _amounts(base) != _amounts(step):
            made.questions.append(
                contradictions.dropped_and_amended(
                    made.node, step, by_ours=ours is None, sides=made.sides, unit=made.unit
                )
            )
            yield key, step
        elif theirs is None:
            made.note("dropped", f"{_said(step)}, which {made.sides.theirs} took out", step)


def _both(
    made: MergedChain, base: StepRecord | None, ours: StepRecord, theirs: StepRecord
) -> StepRecord:
    """Return a step that both sides have, as one."""
    if base is None:
        made.note("same", f"{_said(ours)}, made by both", ours)
    amounts, agreed = three_way(_amounts(base) if base else None, _amounts(ours), _amounts(theirs))
    if not agreed:
        made.questions.append(
            contradictions.amended_twice(made.node, base, ours, theirs, made.sides, made.unit)
        )
        amounts = _amounts(ours)
    elif base is not None and amounts != _amounts(ours):
        words = contradictions.in_words(theirs)
        made.note("came-in", f"{theirs.kind} ({words}), amended by {made.sides.theirs}", theirs)
    lead = theirs if amounts == _amounts(theirs) else ours
    step = _joined(base, ours, theirs)
    return replace(step, kind=lead.kind, version=lead.version, values=lead.values)


def _joined(base: StepRecord | None, ours: StepRecord, theirs: StepRecord) -> StepRecord:
    """Return ours with what theirs says beside its amounts, and with both ids."""
    ids = {ours.id, *ours.same_as, theirs.id, *theirs.same_as}
    first = min(ours.id, theirs.id)
    why, agreed = three_way(base.why if base else "", ours.why, theirs.why)
    dates = [step.date for step in (ours, theirs) if step.date]
    is_correction = Role.CORRECTION in (ours.role, theirs.role)
    lead = ours if ours.id == first else theirs
    return replace(
        ours,
        id=first,
        role=ours.role if not is_correction else Role.CORRECTION,
        why=why if agreed else "; ".join(sorted({ours.why, theirs.why})),
        date=min(dates, default=None),
        fitting=lead.fitting,
        settles=lead.settles,
        same_as=tuple(sorted(ids - {first})),
    )


def _join_twins(
    made: MergedChain, kept: dict[str, StepRecord], new_mine: list[str], new_others: list[str]
) -> None:
    """Make one step of a change that both sides made on different versions, one for one."""
    free = list(new_mine)
    for theirs in list(new_others):
        twin = next((k for k in free if _same_change(kept[k], kept[theirs], made.unit)), None)
        if twin is None:
            continue
        free.remove(twin)
        new_mine.remove(twin)
        new_others.remove(theirs)
        one = _joined(None, kept[twin], kept.pop(theirs))
        made.note("same", f"{_said(one)}, made by both: kept once, with both ids", one)
        kept[twin] = one


def _ask_of_places(made: MergedChain, ours: Chain, theirs: Chain) -> None:
    """Ask once about each place where both sides made new changes of one kind."""
    left = list(ours)
    while left:
        first = left[0]
        mine = [step for step in left if step is first or _same_place(first, step, made.unit)]
        others = [step for step in theirs if _same_place(first, step, made.unit)]
        left = [step for step in left if step not in mine]
        if others:
            made.questions.append(contradictions.made_twice(made.node, mine, others, made.sides))


def _amended(
    before: Mapping[str, StepRecord], side: Mapping[str, StepRecord], kept: Mapping[str, StepRecord]
) -> Iterator[tuple[StepRecord, StepRecord]]:
    """Yield the steps a side gave other amounts, each as it was and as it is kept."""
    for key, base in before.items():
        if key in side and key in kept and _amounts(side[key]) != _amounts(base):
            yield base, kept[key]


def _ask_of_amended(
    made: MergedChain,
    new: Chain,
    amended: Iterator[tuple[StepRecord, StepRecord]],
    by_ours: bool,
) -> None:
    """Ask about each step one side added where the other amended one of the kind."""
    for base, now in amended:
        for added in new:
            if _same_place(added, now, made.unit):
                made.questions.append(
                    contradictions.added_and_amended(
                        made.node,
                        added,
                        now,
                        base,
                        by_ours=by_ours,
                        sides=made.sides,
                        unit=made.unit,
                    )
                )


def _amounts(step: StepRecord) -> tuple[str, int, dict[str, object]]:
    return step.kind, step.version, step.values


def _said(step: StepRecord) -> str:
    return f"{step.kind} ({contradictions.in_words(step)})" if step.values else step.kind


def _same_change(ours: StepRecord, theirs: StepRecord, unit: Unit) -> bool:
    """Return whether two steps do the same with the same amounts, however these are written."""
    mine, other = _change(ours, unit), _change(theirs, unit)
    if mine is None or other is None:
        return _amounts(ours) == _amounts(theirs)
    return mine == other


def _same_place(ours: StepRecord, theirs: StepRecord, unit: Unit) -> bool:
    """Return whether two steps of one kind work on the same dart, or the same piece and edge."""
    mine, other = _change(ours, unit), _change(theirs, unit)
    if mine is None or other is None or mine.kind != other.kind:
        return False
    dart = getattr(mine, "dart", None)
    if dart is not None:
        return bool(dart == getattr(other, "dart", None))
    return mine.same_place(other)


def _change(step: StepRecord, unit: Unit) -> Change | None:
    try:
        return change_of(step, unit)
    except GeometryError:
        return None
