"""What is known of faults of fit: symptoms, what to check in order, causes and corrections.

The rows are kept in `rows.toml` beside this file; its head says what each field means.
"""

from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

import msgspec
import tomli
from msgspec import Struct

PIECE = "{piece}"
"""Stands in a row for the piece that is complained of."""


class Area(StrEnum):
    """The parts of a garment in the order in which a fitter sets them right.

    The order is published in part (USDA, Fitting Dresses, parts 5 and 14); the rest is from
    memory.
    """

    SIZE = "size"
    GRAIN = "grain"
    SHOULDER = "shoulder"
    NECK = "neck"
    BUST = "bust"
    BACK = "back"
    ARMHOLE = "armhole"
    SLEEVE = "sleeve"
    WAIST = "waist"
    HIP = "hip"
    HEM = "hem"

    @property
    def rank(self) -> int:
        """Return its place in the general order, from nought."""
        return list(Area).index(self)


class Attested(StrEnum):
    """How well something is attested."""

    PUBLISHED = "published"
    IDEA_PUBLISHED = "idea published"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"


class Check(Struct, frozen=True, forbid_unknown_fields=True):
    """One thing to look at, why it would be at fault, and what would mend it. Amounts in mm.

    `kind` is None where no change can be proposed with its amounts: `done_by` is the kind that does
    it then, or `remedy` says what to do by hand.
    `on_edge` names the edge its dart has to open on for that; `inside` asks for a dart within the
    piece. The other fields are told at the head of rows.toml.
    """

    look_at: str
    area: Area
    cause: str
    remedy: str
    shapes: str
    mark: Attested
    kind: str | None = None
    done_by: str = ""
    values: dict[str, str | bool] = {}
    factor: float = 1.0
    target: str = ""
    typical: tuple[float, float] | None = None
    largest: float | None = None
    least: float | None = None
    counted: str = "per half pattern"
    amounts: Attested = Attested.FROM_MEMORY
    sources: tuple[str, ...] = ()
    reads: tuple[str, ...] = ()
    on_edge: str = ""
    inside: bool = False

    def __post_init__(self) -> None:
        if self.mark in (Attested.PUBLISHED, Attested.IDEA_PUBLISHED) and not self.sources:
            raise ValueError("it is marked as published and names no source")
        low, high = self.typical or (0.0, 0.0)
        if not 0 <= low <= high <= (high if self.largest is None else self.largest):
            raise ValueError("its typical amounts are not in order, or beyond its largest")
        if self.kind and self.factor and self.typical is None:
            raise ValueError("it names a kind of change that takes an amount, and no typical one")


class SymptomRow(Struct, frozen=True, forbid_unknown_fields=True):
    """A symptom, where it is seen, and the checks it calls for in their order."""

    symptom: str
    words: str
    places: tuple[str, ...]
    checks: tuple[Check, ...]

    def __post_init__(self) -> None:
        ranks = [check.area.rank for check in self.checks]
        if not ranks or ranks != sorted(ranks):
            raise ValueError("it has no checks, or they are not in the general order")


class _Table(Struct, frozen=True, forbid_unknown_fields=True):
    sources: dict[str, str]
    rows: tuple[SymptomRow, ...]


def read_rows(tables: Mapping[str, Any]) -> tuple[dict[str, SymptomRow], dict[str, str]]:
    """Return rows by symptom and sources by tag; raises ValueError naming what is wrong."""
    table = msgspec.convert(tables, _Table)
    rows = {row.symptom: row for row in table.rows}
    if len(rows) != len(table.rows):
        raise ValueError("a symptom has two rows")
    for row in table.rows:
        for check in row.checks:
            unknown = [tag for tag in check.sources if tag not in table.sources]
            if unknown:
                raise ValueError(f"{row.symptom} names the source {unknown[0]}, which has no title")
    return rows, table.sources


@lru_cache(maxsize=1)
def _loaded() -> tuple[dict[str, SymptomRow], dict[str, str]]:
    return read_rows(tomli.loads(files(__package__).joinpath("rows.toml").read_text("utf-8")))


ROWS: Mapping[str, SymptomRow] = MappingProxyType(_loaded()[0])
"""Every row by its symptom, in the order of the file."""

SOURCES: Mapping[str, str] = MappingProxyType(_loaded()[1])
"""The title behind every tag of a source."""

SYMPTOMS: Mapping[str, str] = MappingProxyType({row.symptom: row.words for row in ROWS.values()})
"""The vocabulary of a fit note: every symptom and what it says in plain words."""
