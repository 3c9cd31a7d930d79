"""Merge one garment: what it is, how far it has come, and its fit notes by id. Pure."""

from typing import Any

from msgspec.structs import asdict, replace

from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.merging.three_way import Note, Sides, in_order, three_way, united
from trueup.lineage.store.joins.merge_errors import CannotJoin

_WORDS = ("words",)
_LISTS = ("stitched_down", "resolved_by")


def merge_garment(
    base: GarmentRecord | None, ours: GarmentRecord, theirs: GarmentRecord, sides: Sides
) -> tuple[GarmentRecord, tuple[Note, ...]]:
    """Return a garment that both sides have, and the notes that came in; `base` None for a new one.

    Of two statuses the later holds. Raises CannotJoin where both say something else of one fact,
    or recorded different garments under one name.
    """
    if base is None:
        if _bare(ours) != _bare(theirs):
            raise CannotJoin(
                ours.path,
                f"{sides.ours} and {sides.theirs} each recorded another garment of this name",
                "rename one of them (its file and the name in it) and join again",
            )
        base = _bare(ours)
    _require_one_alteration(base, ours, theirs, sides)
    allowances = _allowances(base, ours, theirs, sides)
    facts = _facts(ours.path, base, ours, theirs, sides, ("allowances", "notes", "status"))
    notes, came_in = _notes(base, ours, theirs, sides)
    status = _later(base.status, ours.status, theirs.status)
    merged = replace(ours, **facts, allowances=allowances, notes=notes, status=status)
    return merged, came_in


def _require_one_alteration(
    base: GarmentRecord, ours: GarmentRecord, theirs: GarmentRecord, sides: Sides
) -> None:
    """Raise CannotJoin where both altered it to another version: its cloth is one of the two."""
    here, there = ours.altered_to, theirs.altered_to
    if not three_way(base.altered_to, here, there)[1]:
        raise CannotJoin(
            ours.path,
            f"{sides.ours} altered it to version {here[:10]}, and {sides.theirs} to version "
            f"{there[:10]}; its cloth is one of the two",
            "take one of the two alterations back on its side, and join again",
        )


def _bare(garment: GarmentRecord) -> GarmentRecord:
    """Return a garment as it was cut, before anything was seen on it."""
    return replace(garment, status=Status.CUT, notes=(), altered_to="", lacking={})


def _later(base: Status, ours: Status, theirs: Status) -> Status:
    status, agreed = three_way(base, ours, theirs)
    order = list(Status)
    return status if agreed else max(ours, theirs, key=order.index)


def _allowances(
    base: GarmentRecord, ours: GarmentRecord, theirs: GarmentRecord, sides: Sides
) -> dict[str, float]:
    kept = {}
    sets = (base.allowances, ours.allowances, theirs.allowances)
    for edge in in_order(*sets):
        amounts = tuple(each.get(edge) for each in sets)
        taken, agreed = three_way(*amounts)
        if not agreed:
            raise _both_say(ours.path, f"the allowance of {edge}", amounts[1], amounts[2], sides)
        if taken is not None:
            kept[edge] = taken
    return kept


def _notes(
    base: GarmentRecord, ours: GarmentRecord, theirs: GarmentRecord, sides: Sides
) -> tuple[tuple[FitNote, ...], tuple[Note, ...]]:
    before, mine, others = ({n.id: n for n in g.notes} for g in (base, ours, theirs))
    kept, came_in = [], []
    for name in in_order(before, mine, others):
        was, here, there = before.get(name), mine.get(name), others.get(name)
        if here and there:
            place = f"{ours.path}, note {name}"
            kept.append(replace(here, **_facts(place, was or here, here, there, sides)))
        elif (one := here or there) is not None and one != was:
            kept.append(one)
            if was is None and there:
                says = f"fit note {name} ({there.symptom} at {there.place}), of {sides.theirs}"
                came_in.append(Note("came-in", ours.name, says))
    return tuple(kept), tuple(came_in)


def _facts(
    place: str,
    base: Any,
    ours: Any,
    theirs: Any,
    sides: Sides,
    left_out: tuple[str, ...] = (),
) -> dict[str, Any]:
    """Return the fields of two records of one thing, each merged by itself."""
    records = [asdict(each) for each in (base, ours, theirs)]
    merged: dict[str, Any] = {}
    for field in records[1]:
        if field in left_out:
            continue
        was, here, there = (each[field] for each in records)
        value, agreed = three_way(was, here, there)
        if not agreed and field in _LISTS:
            value = united(was, here, there)
        elif not agreed and field in _WORDS:
            value = "; ".join(sorted((here, there)))
        elif not agreed:
            raise _both_say(place, f"the {field.replace('_', ' ')}", here, there, sides)
        merged[field] = value
    return merged


def _both_say(place: str, what: str, here: object, there: object, sides: Sides) -> CannotJoin:
    return CannotJoin(
        place,
        f'{what} is "{here}" for {sides.ours} and "{there}" for {sides.theirs}',
        "agree on one, write it into the file by hand, and join again",
    )
