"""What a file says, item by item, so that its versions can be compared whatever their layout."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import LARGEST_RECORD

Item = tuple[str, ...]
"""The place of one fact: a field, a field of a table, a field of a table in a list by its
id, name or day."""

Said = Mapping[Item, object]

ABSENT = object()
"""What a file says of an item that is not in it."""

_COMMENT = re.compile(rb"^[ \t]*#[ \t]*(.*?)[ \t\r]*$", re.MULTILINE)


def said_by(content: bytes | None) -> Said | None:
    """Return what a file says, comments on lines of their own too; None where it is no TOML.

    A file that is not there says nothing.

    >>> said_by(b'name = "flat"\\n[[steps]]\\nid = "a1"\\nby = "2mm"')
    {('name',): 'flat', ('steps', 'a1', 'id'): 'a1', ('steps', 'a1', 'by'): '2mm'}
    """
    if content is None:
        return {}
    try:
        tables = tables_in(content, LARGEST_RECORD)
    except NoTables:
        return None
    comments = Counter(_COMMENT.findall(content))
    return {
        **dict(_items(tables)),
        **{("#", text.decode()): number for text, number in comments.items()},
    }


def _items(tables: Mapping[str, object]) -> Iterator[tuple[Item, object]]:
    for field, value in tables.items():
        if isinstance(value, dict):
            yield from (((field, name), each) for name, each in value.items())
        elif isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
            for number, table in enumerate(value):
                # What has neither id nor name goes by its day: a set of measurements.
                name = str(table.get("id", table.get("name", table.get("date", number))))
                yield from (((field, name, key), each) for key, each in table.items())
        else:
            yield (field,), value


def apart(one: Said, other: Said) -> frozenset[Item]:
    """Return the items of which two versions say something else.

    >>> sorted(apart({("a",): 1, ("b",): 2}, {("a",): 1, ("b",): 3, ("c",): 4}))
    [('b',), ('c',)]
    """
    items = one.keys() | other.keys()
    return frozenset(each for each in items if one.get(each, ABSENT) != other.get(each, ABSENT))
