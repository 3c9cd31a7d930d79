"""What a recorded step did to what is known of bodies."""

from collections.abc import Iterator

from msgspec import Struct

from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import Remeasured


class BodyChange(Struct, frozen=True):
    """What happened to one body: a sentence, and the measurements of a set that are otherwise."""

    body: str
    says: str
    measurements: tuple[Remeasured, ...] = ()


def body_changes(before: State | None, after: State) -> tuple[BodyChange, ...]:
    """Return what a step did to every body that can be read before and after, by their names."""
    old = before.bodies if before else {}
    lost = {path for state in (before, after) if state for path in state.unreadable}
    found: list[BodyChange] = []
    for name in sorted(old.keys() | after.bodies.keys()):
        one, other = old.get(name), after.bodies.get(name)
        if one != other and not {each.path for each in (one, other) if each} & lost:
            found += _changes(name, one, other)
    return tuple(found)


def _changes(
    name: str, before: BodyRecord | None, after: BodyRecord | None
) -> Iterator[BodyChange]:
    if after is None:
        yield BodyChange(name, "its measurements were taken out")
        return
    if before is not None and before.wearer != after.wearer:
        yield BodyChange(name, f"now called {after.wearer}")
    days = {each.date for body in (before, after) if body for each in body.sets}
    for day in sorted(days):
        old = before.set_of(day) if before else None
        new = after.set_of(day)
        if new is None:
            yield BodyChange(name, f"the set of {day} was taken out")
        elif old != new:
            told = _otherwise(old, new)
            yield BodyChange(name, _measured(old, new, told), told)


def _otherwise(old: MeasurementSet | None, new: MeasurementSet) -> tuple[Remeasured, ...]:
    was = old.taken if old else {}
    names = dict.fromkeys((*was, *new.taken))
    return tuple(
        Remeasured(each, was.get(each, ""), new.taken.get(each, ""))
        for each in names
        if was.get(each) != new.taken.get(each)
    )


def _measured(old: MeasurementSet | None, new: MeasurementSet, told: tuple[Remeasured, ...]) -> str:
    by = f" by {new.taken_by}" if new.taken_by else ""
    start = f"measured on {new.date}{by}" if old is None else f"the set of {new.date} was changed"
    words = ", ".join(each.words if each.before else f"{each.name} {each.after}" for each in told)
    return f"{start}: {words}" if words else start
