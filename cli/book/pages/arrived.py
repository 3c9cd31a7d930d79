"""How much of what was wanted arrived in a pattern: in figures, and as bars."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from trueup.cli.book.pages.bars import bar
from trueup.cli.render.replay import arrived_of_wanted, most_telling
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Carried


@dataclass(frozen=True)
class Arrived:
    """One measure: how much of what was wanted arrived, in words and as a bar."""

    name: str
    got: str
    wanted: str
    bar: Markup


def arrived_of(measures: Sequence[Carried], unit: Unit) -> tuple[tuple[Arrived, ...], str]:
    """Return the measures to tell one by one, and of very many in words how many arrived."""
    told, more = most_telling(measures)
    return tuple(Arrived(e.name, *arrived_of_wanted(e, unit), bar(e)) for e in told), more
