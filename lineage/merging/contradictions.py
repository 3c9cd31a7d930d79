"""Where two makers did different things with the same: a conflict that waits for a decision. Pure.

Its remedies carry, in `values`, what taking them does to the node; see `choosing.py`.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import asdict

from trueup.geometry.said import Said, said
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import amount_of
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictKind,
    ConflictRecord,
    DraftedFor,
    ParentRecord,
    Remedy,
    StepRecord,
)
from trueup.lineage.merging.three_way import Sides

KEEP_OURS = "keep-ours"
KEEP_THEIRS = "keep-theirs"
KEEP_BOTH = "keep-both"

Values = Mapping[str, Any]


def amended_twice(
    node: str,
    base: StepRecord | None,
    ours: StepRecord,
    theirs: StepRecord,
    sides: Sides,
    unit: Unit,
) -> ConflictRecord:
    """Return the conflict of a step that both sides gave other amounts."""
    differ = [
        name
        for name in dict.fromkeys((*ours.values, *theirs.values))
        if ours.values.get(name) != theirs.values.get(name)
    ]
    mine, other = in_words(ours, differ), in_words(theirs, differ)
    remedies = [
        _amounts(KEEP_OURS, ours, said("make-with", values=mine, maker=sides.ours), unit),
        _amounts(KEEP_THEIRS, theirs, said("make-with", values=other, maker=sides.theirs), unit),
    ]
    both = _combined(base, ours, theirs)
    if both is not None:
        combined = said("make-combined", values=in_words(both, differ))
        remedies.append(_amounts(KEEP_BOTH, both, combined, unit))
    makers = {"ours": sides.ours, "theirs": sides.theirs}
    says = said("amended-twice", **makers, kind=ours.kind, node=node, mine=mine, other=other)
    return contradiction(node, f"step:{ours.id}", says, remedies, step=ours)


def _combined(base: StepRecord | None, ours: StepRecord, theirs: StepRecord) -> StepRecord | None:
    """Return a step with what each side changed, None where both changed the same parameter."""
    if base is None or len({(s.kind, s.version) for s in (base, ours, theirs)}) > 1:
        return None
    names = {*base.values, *ours.values, *theirs.values}
    mine = {n for n in names if ours.values.get(n) != base.values.get(n)}
    other = {n for n in names if theirs.values.get(n) != base.values.get(n)}
    if mine & other:
        return None
    chosen = {n: (theirs if n in other else ours).values.get(n) for n in sorted(names)}
    return _with_values(ours, {n: v for n, v in chosen.items() if v is not None})


def _with_values(step: StepRecord, values: dict[str, Any]) -> StepRecord:
    return StepRecord(step.id, step.role, step.kind, step.version, values)


def dropped_and_amended(
    node: str, kept: StepRecord, *, by_ours: bool, sides: Sides, unit: Unit
) -> ConflictRecord:
    """Return the conflict of a step that one side took out and the other gave other amounts."""
    dropper, amender = (sides.ours, sides.theirs) if by_ours else (sides.theirs, sides.ours)
    drop = Remedy(
        KEEP_OURS if by_ours else KEEP_THEIRS,
        says=said("take-out", maker=dropper),
        values={"drop": [kept.id]},
    )
    says = said("make-with", values=in_words(kept), maker=amender)
    keep = _amounts(KEEP_THEIRS if by_ours else KEEP_OURS, kept, says, unit)
    words = said("dropped-and-amended", dropper=dropper, kind=kept.kind, node=node, amender=amender)
    return contradiction(node, f"drop:{kept.id}", words, (keep, drop), step=kept)


def made_twice(
    node: str, ours: Sequence[StepRecord], theirs: Sequence[StepRecord], sides: Sides
) -> ConflictRecord:
    """Return the conflict of steps of one kind that both sides made at the same place."""
    mine, other = (" and ".join(in_words(step) for step in each) for each in (ours, theirs))
    kind = ours[0].kind
    makers = {"ours": sides.ours, "theirs": sides.theirs}
    says = said("made-twice", **makers, kind=kind, node=node, mine=mine, other=other)
    mine_ids, other_ids = (sorted(step.id for step in each) for each in (ours, theirs))
    remedies = (
        _way(KEEP_OURS, said("keep-only", values=mine, maker=sides.ours), {"drop": other_ids}),
        _way(KEEP_THEIRS, said("keep-only", values=other, maker=sides.theirs), {"drop": mine_ids}),
        Remedy(KEEP_BOTH, says=said("accept-both")),
    )
    code = f"pair:{'+'.join(sorted((*mine_ids, *other_ids)))}"
    return contradiction(
        node, code, says, remedies, step=ours[0], other=" ".join(each.id for each in theirs)
    )


def added_and_amended(
    node: str,
    added: StepRecord,
    amended: StepRecord,
    base: StepRecord,
    *,
    by_ours: bool,
    sides: Sides,
    unit: Unit,
) -> ConflictRecord:
    """Return the conflict of a step one side added where the other amended one of the kind.

    `base` is the amended step as it was; `by_ours` whether ours is the side that added.
    """
    adder, amender = (sides.ours, sides.theirs) if by_ours else (sides.theirs, sides.ours)
    new, now = in_words(added), in_words(amended)
    makers = {"adder": adder, "amender": amender}
    says = said("added-and-amended", **makers, kind=added.kind, node=node, new=new, now=now)
    back = said("keep-added", maker=adder, values=in_words(base))
    keep_added = _amounts(KEEP_OURS if by_ours else KEEP_THEIRS, base, back, unit)
    keep_amended = Remedy(
        KEEP_THEIRS if by_ours else KEEP_OURS,
        amount_of(amended, unit),
        said("keep-amended", maker=amender, values=now),
        values={"drop": [added.id]},
    )
    both = Remedy(KEEP_BOTH, says=said("accept-both"))
    code = f"added:{added.id}+{amended.id}"
    return contradiction(node, code, says, (keep_added, keep_amended, both), step=added)


def decided_twice(
    node: str,
    conflict: ConflictRecord,
    remedies: Sequence[str],
    undo: tuple[Values, Values],
    sides: Sides,
) -> ConflictRecord:
    """Return the conflict of a conflict that was decided in two ways.

    `undo` says what takes back what ours, and what theirs, did to the node.
    """
    mine, other = remedies
    makers = {"ours": sides.ours, "theirs": sides.theirs}
    says = said("decided-twice", **makers, conflict=conflict.id, node=node, mine=mine, other=other)
    offered = (
        Remedy(
            KEEP_OURS, says=said("decided-so", remedy=mine, maker=sides.ours), values=dict(undo[1])
        ),
        Remedy(
            KEEP_THEIRS,
            says=said("decided-so", remedy=other, maker=sides.theirs),
            values=dict(undo[0]),
        ),
        Remedy(KEEP_BOTH, says=said("keep-what-both-did")),
    )
    made = contradiction(node, f"decision:{conflict.id}", says, offered)
    place = (conflict.piece, conflict.edge)
    return ConflictRecord(made.id, made.kind, node, *place, made.code, says, remedies=offered)


def followed_twice(
    node: str, ours: ParentRecord, theirs: ParentRecord, sides: Sides
) -> ConflictRecord:
    """Return the conflict of a parent of which the two sides take different pieces or versions."""

    def words(parent: ParentRecord) -> str:
        pieces = ", ".join(parent.pieces) if parent.pieces else "all pieces"
        return f"{pieces} of {parent.name} " + (
            f"as of {parent.hold[:10]}" if parent.hold else "as it now is"
        )

    makers = {"ours": sides.ours, "theirs": sides.theirs}
    mine, other = words(ours), words(theirs)
    says = said("followed-twice", **makers, node=node, mine=mine, other=other)
    remedies = (
        Remedy(
            KEEP_OURS,
            says=said("take-parent", values=mine),
            values={"parents": [parent_values(ours)]},
        ),
        Remedy(
            KEEP_THEIRS,
            says=said("take-parent", values=other),
            values={"parents": [parent_values(theirs)]},
        ),
    )
    return contradiction(node, f"parent:{ours.name}", says, remedies)


def drafted_twice(
    node: str,
    ours: BlockDraft,
    theirs: BlockDraft,
    sides: Sides,
    drafted_for: tuple[DraftedFor | None, DraftedFor | None] = (None, None),
) -> ConflictRecord:
    """Return the conflict of a block that the two sides draft from different measurements.

    `drafted_for` says of each for whom it is drafted.
    """

    def words(draft: BlockDraft, other: BlockDraft) -> str:
        differ = [
            f"{name} {taken}" for name, taken in draft.body.items() if other.body.get(name) != taken
        ]
        system = [] if draft.system == other.system else [f"the system {draft.system}"]
        return ", ".join((*system, *differ)) or "no other measurement"

    mine, other = words(ours, theirs), words(theirs, ours)
    makers = {"ours": sides.ours, "theirs": sides.theirs}
    says = said("drafted-twice", **makers, node=node, mine=mine, other=other)
    remedies = (
        Remedy(
            KEEP_OURS,
            says=said("draft-from", values=mine),
            values={"draft": _draft_values(ours), **_body_values(drafted_for[0])},
        ),
        Remedy(
            KEEP_THEIRS,
            says=said("draft-from", values=other),
            values={"draft": _draft_values(theirs), **_body_values(drafted_for[1])},
        ),
    )
    return contradiction(node, "draft", says, remedies)


def contradiction(
    node: str,
    code: str,
    says: Said,
    remedies: Sequence[Remedy],
    step: StepRecord | None = None,
    other: str = "",
) -> ConflictRecord:
    """Return an open conflict between two makers; its id is the same whoever of them merges."""
    ways = sorted(json.dumps(r.values, sort_keys=True, default=str) for r in remedies)
    text = json.dumps([node, code, ways])
    kind = ConflictKind.TWO_MAKERS
    piece, edge = _place_of(step.values) if step else ("", "")
    return ConflictRecord(
        id=f"{kind.value}-{hashlib.sha256(text.encode()).hexdigest()[:8]}",
        kind=kind,
        arose_at=node,
        piece=piece,
        edge=edge,
        code=f"{kind.value}:{code}",
        says=says,
        correction=other,
        corrected=node if other else "",
        change=step.id if step else "",
        remedies=tuple(remedies),
    )


def in_words(step: StepRecord, names: Sequence[str] | None = None) -> str:
    """Return the parameters of a step as a maker reads them, `by 20mm, piece front`."""
    shown = step.values if names is None else {n: step.values.get(n, "none") for n in names}
    return ", ".join(f"{name} {value}" for name, value in shown.items()) or "nothing said"


def parent_values(parent: ParentRecord) -> dict[str, Any]:
    """Return a parent as the values of a remedy."""
    pieces = {} if parent.pieces is None else {"pieces": list(parent.pieces)}
    return {"name": parent.name, **pieces, **({"hold": parent.hold} if parent.hold else {})}


def _draft_values(draft: BlockDraft) -> dict[str, Any]:
    return {"system": draft.system, **draft.body}


def _body_values(drafted_for: DraftedFor | None) -> dict[str, Any]:
    return {"drafted_for": asdict(drafted_for)} if drafted_for else {}


def _way(name: str, says: Said, values: dict[str, Any]) -> Remedy:
    return Remedy(name, says=says, values=values)


def _amounts(name: str, step: StepRecord, says: Said, unit: Unit) -> Remedy:
    values = {"step": step.id, "version": step.version, "values": dict(step.values)}
    return Remedy(name, amount_of(step, unit), says, step.kind, values)


def _place_of(values: Values) -> tuple[str, str]:
    full = str(values.get("edge") or values.get("dart") or "")
    piece, _, place = full.partition(".")
    return piece or str(values.get("piece", "")), place
