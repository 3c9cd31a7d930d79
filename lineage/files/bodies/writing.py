"""The file of a body, written from its record with the maker's comments left where they are."""

import datetime

import tomlkit

from trueup.lineage.files.bodies.reading import read_body
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.records import FORMAT
from trueup.lineage.files.tables import comments
from trueup.lineage.files.tables.tables import present, readable, sync


def body_text(new: BodyRecord, text: bytes | None = None) -> bytes:
    """Return the file of a body; `text` is what it held before, None for a new one.

    Raises CannotKeep for what `read_body` would refuse.
    """
    document = comments.parsed(text) if text else tomlkit.document()
    old = read_body(new.path, text) if text else None
    end = comments.take_end(document)
    if old is None:
        document["format"] = FORMAT
        document["name"] = new.name
    if old is None or old.wearer != new.wearer:
        document["wearer"] = new.wearer
    if old is None:
        document.add(tomlkit.nl())
    # In the order in which the file has them: a maker may have written the newest first.
    standing = [] if old is None else [old.set_of(day) for day in _days(document)]
    was = [each for each in standing if each is not None]
    known = [each.date for each in was]
    kept = [found for day in known if (found := new.set_of(day)) is not None]
    added = [each for each in new.sets if each.date not in known]
    sync(document, "sets", was, [*kept, *added], lambda s: s.date.isoformat(), _fields)
    comments.put_end(document, end)
    return readable(new.path, tomlkit.dumps(document).encode(), read_body)


def _days(document: tomlkit.TOMLDocument) -> list[datetime.date]:
    return [each["date"] for each in document.get("sets", [])]


def _fields(one: MeasurementSet) -> dict[str, object]:
    about = present(taken_by=one.taken_by, words=one.words)
    age = {} if one.age is None else {"age": one.age}
    return {"date": one.date, **about, **age, **one.taken}
