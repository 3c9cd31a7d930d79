"""Every field of a file, with a wrong type and left out."""

import copy
from typing import Any

import pytest
import tomlkit

from tests.lineage.files.refusing import FULL, read, refusal, refused


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the way to every field of the full file, tables and lists among them."""
    here = [path] if path else []
    if isinstance(value, dict):
        return here + [p for key, each in value.items() for p in places(each, (*path, key))]
    if isinstance(value, list):
        return here + [p for i, each in enumerate(value) for p in places(each, (*path, i))]
    return here


DOCUMENT = tomlkit.parse(FULL).unwrap()
# A parameter may be of any type for all the file knows, and the type of a step's own parameters
# is for its kind to judge.
FREE = {("steps", 0, "piece"), ("steps", 0, "by"), ("conflicts", 0, "remedies", 0, "values", "to")}
WRONG: tuple[Any, ...] = (True, [[1]], {"a": {"b": 1}}, 1.5, "\x07")


@pytest.mark.parametrize(
    "place",
    [place for place in places(DOCUMENT) if place not in FREE],
    ids=lambda place: ".".join(map(str, place)),
)
def test_a_field_of_a_wrong_type_is_named_with_its_table(place: tuple[Any, ...]):
    right = DOCUMENT
    for key in place:
        right = right[key]
    texts = {"name", "id", "says", "piece", "edge", "code", "why", "since", "correction"}
    for wrong in WRONG:
        is_text = isinstance(wrong, str)
        if type(wrong) is type(right) or (is_text and place[-1] in texts):
            continue
        if isinstance(right, float | int) and isinstance(wrong, float):
            continue
        if isinstance(wrong, dict) and place[-1] in ("values",):
            continue
        document = copy.deepcopy(DOCUMENT)
        table = document
        for key in place[:-1]:
            table = table[key]
        table[place[-1]] = wrong
        error = refused(tomlkit.dumps(document))
        said = f"{error.table} {error.field} {error.reason}".split()
        named = [key for key in place if isinstance(key, str)]
        assert named[0] in said, (wrong, str(error))
        assert named[-1] in " ".join(said), (wrong, str(error))


@pytest.mark.parametrize("place", places(DOCUMENT), ids=lambda place: ".".join(map(str, place)))
def test_a_field_left_out_is_either_not_needed_or_named(place: tuple[Any, ...]):
    document = copy.deepcopy(DOCUMENT)
    table = document
    for key in place[:-1]:
        table = table[key]
    del table[place[-1]]
    said = refusal(lambda: read(tomlkit.dumps(document)))
    assert said == "nothing is refused" or isinstance(place[-1], int) or place[-1] in said
