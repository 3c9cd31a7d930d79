"""A size table as a maker has it: CSV or TOML, a row a size, a column a measurement.

size, bust, waist, back-length, sleeve-length        [12]
12,   88cm, 72cm,  41cm,        58cm                 bust = "88cm"
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.files.tables.toml_text import NoTables, tables_in
from trueup.lineage.limits import LARGEST_TABLE, MOST_SIZES
from trueup.lineage.sizes.errors import BadTable
from trueup.lineage.store.files.plain_file import NotPlain, read_plain

_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LONGEST_NAME = 20
_BETWEEN = ",;\t"


@dataclass(frozen=True)
class Size:
    """A size by its name, with its body measurements as they are written."""

    name: str
    body: Mapping[str, str]


def table_content(file: Path) -> bytes:
    """Return what a maker's size table holds, unread; raises BadTable."""
    try:
        return read_plain(file, LARGEST_TABLE)
    except NotPlain as reason:
        raise BadTable(str(file), str(reason)) from None


def read_table(place: str, content: bytes) -> tuple[Size, ...]:
    """Return the sizes a table holds, in its order.

    `place` is how the file is called in a message, and ends in .toml where it is TOML. Raises
    BadTable naming the row.
    """
    read = _of_toml if place.lower().endswith(".toml") else _of_csv
    sizes = read(place, content)
    if not sizes:
        raise BadTable(place, "it holds no size")
    twice = [name for name, times in Counter(each.name for each in sizes).items() if times > 1]
    if twice:
        raise BadTable(place, f'the size "{twice[0]}" stands twice')
    return sizes


def _of_toml(place: str, content: bytes) -> tuple[Size, ...]:
    try:
        tables = tables_in(content, LARGEST_TABLE)
    except NoTables as reason:
        raise BadTable(place, str(reason)) from None
    _require_few(place, len(tables))
    sizes = []
    for name, table in tables.items():
        if not isinstance(table, dict):
            raise BadTable(place, f'"{_short(name)}" is no table of measurements')
        for measurement, value in table.items():
            if isinstance(value, bool) or not isinstance(value, str | int | float):
                where = f"{_short(measurement)} of size {_short(name)}"
                raise BadTable(place, f"the {where} is neither a length nor a number")
        body = {_word(each): str(value) for each, value in table.items()}
        sizes.append(Size(_named(place, name), body))
    return tuple(sizes)


def _of_csv(place: str, content: bytes) -> tuple[Size, ...]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadTable(place, f"it is not UTF-8 text (byte {error.start})") from None
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if not lines:
        return ()
    between = max(_BETWEEN, key=lines[0].count)
    _require_few(place, len(lines) - 1)
    try:
        rows = list(csv.reader(io.StringIO("\n".join(lines)), delimiter=between))
    except csv.Error as error:
        raise BadTable(place, f"it is not CSV: {error}") from None
    heads = [_word(each) for each in rows[0][1:]]
    twice = [name for name, times in Counter(heads).items() if times > 1]
    if twice or not heads:
        reason = f'the column "{_short(twice[0])}" stands twice' if twice else "it has one column"
        raise BadTable(place, reason)
    return tuple(_row(place, heads, row) for row in rows[1:])


def _row(place: str, heads: Sequence[str], row: Sequence[str]) -> Size:
    name = _named(place, row[0])
    if len(row) != len(heads) + 1:
        have = f"{len(row)} of its {len(heads) + 1} columns"
        raise BadTable(place, f"size {name} fills {have}")
    body = {head: value.strip() for head, value in zip(heads, row[1:], strict=True)}
    empty = next((head for head, value in body.items() if not value), None)
    if empty is not None:
        raise BadTable(place, f"size {name} has no {_short(empty)}")
    return Size(name, body)


def _named(place: str, text: str) -> str:
    name = _word(text)
    if len(name) > _LONGEST_NAME or not _NAME.fullmatch(name):
        reason = f'"{_short(text)}" is no name of a size: write letters, digits and hyphens'
        raise BadTable(place, reason)
    return name


def _word(text: str) -> str:
    return "-".join(text.strip().lower().split())


def _short(text: str) -> str:
    kept = "".join(each for each in text if each.isprintable())
    return kept if len(kept) <= 40 else f"{kept[:39]}…"


def _require_few(place: str, count: int) -> None:
    if count > MOST_SIZES:
        raise BadTable(place, f"it holds {count:,} sizes, and a run has {MOST_SIZES} at most")
