"""Verdicts on the page: as signs and words, by urgency, with what arrived of what was wanted."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rich.text import Text

from trueup.cli.amounts import before_and_after, change, exact_change
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.kinds import kinds_in_words, note_in_words
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Carried, Judged, MeasureChange, Verdict

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay

_MOST_MEASURES = 12  # told one by one; a block drafted anew has more
_MOST_SHORT = 4

SIGNS = {
    Verdict.CARRIED: ("+", "green"),
    Verdict.PARTLY: ("~", "yellow"),
    Verdict.LOST: ("-", "red"),
    Verdict.DOUBLED: ("2", "magenta"),
    Verdict.CONFLICT: ("!", "bold red"),
    Verdict.HELD: ("=", "cyan"),
}


def measure_table(measures: Sequence[MeasureChange], unit: Unit) -> PlainTable:
    """Return the measures of the node itself, before and after."""
    rows = [(each.name, before_and_after(each.before_mm, each.after_mm, unit)) for each in measures]
    return PlainTable(("measure", "before -> after"), rows)


_URGENCY = (
    Verdict.CONFLICT,
    Verdict.LOST,
    Verdict.PARTLY,
    Verdict.DOUBLED,
    Verdict.HELD,
    Verdict.CARRIED,
)


def by_urgency(patterns: "Iterable[PatternReplay]") -> "list[PatternReplay]":
    """Return descendants, those first that ask something of the maker; else in the given order."""
    return sorted(patterns, key=urgency)


def urgency(pattern: "PatternReplay") -> tuple[bool, int, bool]:
    """Return how urgent a descendant is, the least first."""
    return not pattern.conflicts, _URGENCY.index(pattern.verdict), not pattern.inherits


def is_exception(pattern: "PatternReplay") -> bool:
    """Return whether there is more to say of a descendant than that all of it arrived."""
    return pattern.verdict is not Verdict.CARRIED or bool(pattern.conflicts or pattern.inherits)


def arrived_lines(measures: Sequence[Carried], unit: Unit) -> list[str]:
    """Return a line for each measure; of very many only for those farthest off, and how many."""
    if len(measures) <= _MOST_MEASURES:
        return [got_of_wanted(each, unit) for each in measures]
    return [*shortfalls(measures, unit), _share_arrived(measures)]


def _share_arrived(measures: Sequence[Carried]) -> str:
    return f"{sum(each.arrived for each in measures)} of {len(measures)} measures arrived"


def _farthest_off(measures: Sequence[Carried]) -> list[Carried]:
    """Return the measures that did not arrive whole, the farthest off first."""
    short = (each for each in measures if not each.arrived)
    return sorted(short, key=lambda each: -abs((each.got_mm or 0.0) - each.wanted_mm))


def shortfalls(measures: Sequence[Carried], unit: Unit) -> list[str]:
    """Return what did not arrive whole; of very much only what is farthest off, and how much."""
    if len(measures) <= _MOST_MEASURES:
        return [got_of_wanted(each, unit) for each in measures if not each.arrived]
    short = _farthest_off(measures)
    told = [got_of_wanted(each, unit) for each in short[:_MOST_SHORT]]
    more = len(short) - _MOST_SHORT
    return [*told, f"and {more} more"] if more > 0 else told


def verdict_word(verdict: Verdict) -> Text:
    """Return a verdict as a sign and a word, so that its colour says nothing alone."""
    sign, style = SIGNS[verdict]
    return Text(f"{sign} {verdict.value}", style)


def most_telling(measures: Sequence[Carried]) -> tuple[tuple[Carried, ...], str]:
    """Return the measures to tell one by one, and of very many how many arrived."""
    if len(measures) <= _MOST_MEASURES:
        return tuple(measures), ""
    return tuple(_farthest_off(measures)[:_MOST_SHORT]), _share_arrived(measures)


def got_of_wanted(carried: Carried, unit: Unit) -> str:
    """Return how much of a wanted change arrived, with its signs."""
    return f"{carried.name} {' / '.join(arrived_of_wanted(carried, unit))}"


def arrived_of_wanted(carried: Carried, unit: Unit) -> tuple[str, str]:
    """Return how much of a change arrived and how much was wanted, with their signs."""
    wanted = change(carried.wanted_mm, unit)
    if carried.got_mm is None:
        return "none", wanted
    got = change(carried.got_mm, unit)
    if got == wanted and not carried.arrived:
        # Not the same, though the unit's last digit does not show it.
        return exact_change(carried.got_mm, unit), exact_change(carried.wanted_mm, unit)
    return got, wanted


def unstated(pieces: Sequence[str]) -> str:
    """Return why pieces could not be checked."""
    return f"no seam is stated for {', '.join(pieces)}"


def remarks(pattern: "PatternReplay") -> Iterator[str]:
    """Yield what there is to say of a descendant besides its verdict, measures and conflicts."""
    for each in others(pattern):
        yield f"{each.verdict.value}: {kinds_in_words(each.kinds)}"
    if pattern.unchecked:
        yield f"not checked: {unstated(pattern.unchecked)}"
    if pattern.note:
        yield note_in_words(pattern.note)


def others(pattern: "PatternReplay") -> list[Judged]:
    """Return the corrections of a step that came to another verdict than the gravest."""
    return (
        [each for each in pattern.corrections if each.verdict is not pattern.verdict]
        if len(pattern.corrections) > 1
        else []
    )


def tally(patterns: "Sequence[PatternReplay]") -> str:
    """Return how many descendants came out with which verdict."""
    counted = Counter(pattern.verdict for pattern in patterns)
    words = [f"{counted[verdict]} {verdict.value}" for verdict in Verdict if counted[verdict]]
    total = "1 descendant" if len(patterns) == 1 else f"{len(patterns)} descendants"
    return f"{total}: {', '.join(words)}."
