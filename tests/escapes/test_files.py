"""A field, a key and the name of any file: a terminal only shows what a stranger put there."""

import os
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from tests.escapes.hostile import TEXTS, leaves, replaced
from tests.escapes.showing import ALL, READING, records, shown


def _structural(folder: Path) -> list[tuple[str, tuple[Any, ...]]]:
    found = []
    for file in records(folder):
        document = tomlkit.parse(file.read_text()).unwrap()
        found += [(file.relative_to(folder).as_posix(), way) for way in leaves(document)]
    return found


def test_a_text_in_any_field_of_any_file_is_shown_and_not_obeyed(folder: Path) -> None:
    """Names, kinds, ids, lengths: most are refused, and the refusal names them."""
    ways = _structural(folder)
    assert len(ways) > 60
    for file, way in ways:
        place = folder / file
        before = place.read_text()
        document = tomlkit.parse(before).unwrap()
        replaced(document, way, ALL)
        place.write_text(tomlkit.dumps(document))
        for words in (("tree",), ("explain", "blouse"), ("garment", "linen"), ("conflicts",)):
            shown("-C", str(folder), *words)
        place.write_text(before)


def test_a_key_of_any_table_is_shown_and_not_obeyed(folder: Path) -> None:
    for file in records(folder):
        before = file.read_text()
        document = tomlkit.parse(before).unwrap()
        document[ALL] = {ALL: ALL}
        for table in document.get("steps", []):
            table[ALL] = ALL
        file.write_text(tomlkit.dumps(document))
        for words in (("tree",), ("explain", "blouse"), ("garment", "linen")):
            shown("-C", str(folder), *words)
        file.write_text(before)


@pytest.mark.parametrize(
    "name", ["blocks/{}.toml", "patterns/{}.toml", "garments/{}.toml", "photos/{}.jpg", "{}.toml"]
)
def test_a_name_of_a_file_is_shown_and_not_obeyed(folder: Path, name: str) -> None:
    for text in TEXTS.values():
        place = folder / name.format(text.replace("/", "")[:80])
        place.write_bytes((folder / "patterns" / "vest.toml").read_bytes())
        for words in (("tree",), ("garments",), ("style", "vest", "lengthen", "--by", "1mm")):
            shown("-C", str(folder), *words)
        place.unlink()


def test_bytes_that_are_no_text_in_a_name_are_shown(folder: Path) -> None:
    place = os.fsencode(folder) + b"/patterns/\xff\xfe\x9b31m.toml"
    with open(place, "wb") as file:
        file.write(b"format = 1\n")
    for words in READING:
        shown("-C", str(folder), *words)
