"""Write down what was measured of a body."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.geometry.units import parse_length, with_unit
from trueup.lineage.errors import BadName, NothingToChange
from trueup.lineage.files.bodies.errors import MeasuredOtherwise, NoMeasurement
from trueup.lineage.files.bodies.known import KnownMeasurement, known_of
from trueup.lineage.files.bodies.naming import called, name_for
from trueup.lineage.files.bodies.reading import OLDEST, SET_FIELDS
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.bodies.writing import body_text
from trueup.lineage.files.reading import is_name
from trueup.lineage.files.records import replace
from trueup.lineage.garments.saying import LONGEST_WORDS, day, words
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.recordable import Standing
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, is_same_length
from trueup.lineage.trail import VERB

BODY = "body"
LONGEST_MEASURED = 3000.0
"""mm: no girth and no length of a body is more."""


@dataclass(frozen=True)
class MeasuredNow:
    """What a maker says was measured, as written; `date` today when it is None."""

    wearer: str
    measurements: Mapping[str, str]
    date: str | None = None
    taken_by: str = ""
    age: int | None = None
    words: str = ""


@dataclass(frozen=True)
class Recording:
    """One set of measurements as a step: the body as it becomes; a `Recordable`.

    `changes` are the measurements that are otherwise than they were known before, or new.
    """

    base: str
    body: BodyRecord
    date: datetime.date
    changes: tuple[Remeasured, ...]
    why: str = field(default="")

    @property
    def joins(self) -> None:
        """Return None: it joins nothing."""
        return

    @property
    def says(self) -> str:
        """Return what was measured, and what is otherwise than before."""
        told = ", ".join(_in_words(each) for each in self.changes)
        return f"Measure {self.body.name} on {self.date}{f': {told}' if told else ''}"

    @property
    def message(self) -> str:
        """Return what was measured, and what was said of it."""
        return f"{self.says}\n\n{self.why}" if self.why else self.says

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return its verb."""
        return {VERB: BODY}

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:
        """Return the body's file, with all that it held besides."""
        path = self.body.path
        return {path: body_text(self.body, standing([path]).get(path))}


def record(wardrobe: OpenWardrobe, taken: MeasuredNow, today: datetime.date) -> Recording:
    """Return the step that adds what was measured to a body; nothing is written yet.

    What is measured on a day of which there is a set is added to it. Raises BadName for a wearer
    whose name makes no file, BadDate, BadWords, BadLength, NoMeasurement, MeasuredOtherwise,
    NothingToChange, and Damaged for a file that cannot be read.
    """
    state = wardrobe.state
    wearer = words(taken.wearer, "wearer")
    body = called(state.bodies.values(), wearer)
    if body is None:
        name = name_for(wearer)
        if name is None:
            raise BadName(wearer)
        body = BodyRecord(name, wearer)
        if body.path in state.unreadable:
            raise state.unreadable[body.path]
    date = day(taken.date, today)
    if taken.age is not None and not 0 <= taken.age <= OLDEST:
        raise NoMeasurement(f"age {taken.age}", f"an age lies between 0 and {OLDEST} years")
    lengths = {name: _written(wardrobe, name, text) for name, text in taken.measurements.items()}
    old = body.set_of(date)
    new = _added(wardrobe, body, old or MeasurementSet(date, {}), lengths, taken)
    if new == old or not new.taken:
        raise NothingToChange(f"{body.path} says this of {date} already")
    others = [each for each in body.sets if each.date != date]
    sets = tuple(sorted((*others, new), key=lambda each: each.date))
    made = replace(body, sets=sets)
    changes = _changes(wardrobe, body, made, date, lengths)
    return Recording(wardrobe.base, made, date, changes, new.words)


def _written(wardrobe: OpenWardrobe, name: str, text: str) -> str:
    """Return a length as it is kept; raises BadLength, NoMeasurement."""
    if not is_name(name) or name in SET_FIELDS:
        reason = "its name is of small letters, digits and hyphens"
        raise NoMeasurement(f"{name}={text}", reason)
    if not 0 < parse_length(text, wardrobe.state.unit) <= LONGEST_MEASURED:
        raise NoMeasurement(f"{name}={text}", "no body measures so much, or nothing")
    return with_unit(text, wardrobe.state.unit)


def _added(
    wardrobe: OpenWardrobe,
    body: BodyRecord,
    old: MeasurementSet,
    lengths: Mapping[str, str],
    taken: MeasuredNow,
) -> MeasurementSet:
    for name, text in lengths.items():
        there = old.taken.get(name)
        if there is not None and not is_same_length(there, text, wardrobe.state.unit):
            raise MeasuredOtherwise(body.path, str(old.date), name, there)
    said = words(taken.words, "words", LONGEST_WORDS)
    return MeasurementSet(
        old.date,
        {**lengths, **old.taken},
        words(taken.taken_by, "name of who measured") or old.taken_by,
        old.age if taken.age is None else taken.age,
        "; ".join(dict.fromkeys(filter(None, (old.words, said)))),
    )


def _changes(
    wardrobe: OpenWardrobe,
    before: BodyRecord,
    after: BodyRecord,
    date: datetime.date,
    lengths: Mapping[str, str],
) -> tuple[Remeasured, ...]:
    """Return what is known otherwise as of the day than it was, or is known only now."""
    earlier = [each.date for each in before.sets if each.date <= date]
    was: Mapping[str, KnownMeasurement] = known_of(before, max(earlier)).known if earlier else {}
    now = known_of(after, date).known
    pairs = ((name, was[name].text if name in was else "", now[name].text) for name in lengths)
    unit = wardrobe.state.unit
    return tuple(
        Remeasured(name, old, new) for name, old, new in pairs if not is_same_length(old, new, unit)
    )


def _in_words(change: Remeasured) -> str:
    return change.words if change.before else f"{change.name} {change.after}"
