"""Merge one body: what was measured, by the day and by the measurement. Pure."""

import datetime

from trueup.geometry.units import Unit
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.merging.three_way import Note, Sides, in_order, three_way
from trueup.lineage.replay.drafted_anew.measurements import is_same_length
from trueup.lineage.store.joins.merge_errors import CannotJoin


def merge_body(
    base: BodyRecord | None, ours: BodyRecord, theirs: BodyRecord, sides: Sides, unit: Unit
) -> tuple[BodyRecord, tuple[Note, ...]]:
    """Return a body that both sides have, and the sets that came in; `base` None for a new one.

    What both measured on one day is taken once, however it is written. Raises CannotJoin where
    they say two things of one measurement, or of who is measured.
    """
    wearer, agreed = three_way(base.wearer if base else "", ours.wearer, theirs.wearer)
    if not agreed:
        raise _both_say(ours.path, "the wearer", ours.wearer, theirs.wearer, sides)
    before, mine, others = (
        {s.date: s for s in each.sets} if each else {} for each in (base, ours, theirs)
    )
    kept: list[MeasurementSet] = []
    came_in: list[Note] = []
    for day in in_order(before, mine, others):
        was, here, there = before.get(day), mine.get(day), others.get(day)
        if here and there:
            place = f"{ours.path}, set of {day}"
            kept.append(_merged(place, was or MeasurementSet(day, {}), here, there, sides, unit))
        elif (one := here or there) is not None and one != was:
            kept.append(one)
            if was is None and there:
                says = f"the set of {day}, of {sides.theirs}"
                came_in.append(Note("came-in", ours.name, says))
    return BodyRecord(ours.name, wearer, tuple(sorted(kept, key=_day))), tuple(came_in)


def _day(each: MeasurementSet) -> datetime.date:
    return each.date


def _merged(
    place: str,
    was: MeasurementSet,
    here: MeasurementSet,
    there: MeasurementSet,
    sides: Sides,
    unit: Unit,
) -> MeasurementSet:
    taken: dict[str, str] = {}
    for name in in_order(was.taken, here.taken, there.taken):
        before, mine, other = (each.taken.get(name) for each in (was, here, there))
        text, agreed = three_way(before, mine, other)
        if not agreed and not is_same_length(mine, other, unit):
            raise _both_say(place, name, mine, other, sides)
        if text is not None:
            taken[name] = text
    age, agreed = three_way(was.age, here.age, there.age)
    if not agreed:
        raise _both_say(place, "the age", here.age, there.age, sides)
    return MeasurementSet(
        here.date,
        taken,
        _both_said(was.taken_by, here.taken_by, there.taken_by),
        age,
        _both_said(was.words, here.words, there.words),
    )


def _both_said(was: str, here: str, there: str) -> str:
    """Return free words as one side has them, or those of both."""
    text, agreed = three_way(was, here, there)
    return text if agreed else "; ".join(sorted(filter(None, (here, there))))


def _both_say(place: str, what: str, here: object, there: object, sides: Sides) -> CannotJoin:
    return CannotJoin(
        place,
        f'{what} is "{here}" for {sides.ours} and "{there}" for {sides.theirs}',
        "agree on one, write it into the file by hand, and join again",
    )
