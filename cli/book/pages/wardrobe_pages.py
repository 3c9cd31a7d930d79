"""The pages of all conflicts, and of the history."""

from collections import defaultdict
from collections.abc import Mapping
from types import MappingProxyType

from markupsafe import Markup

from trueup.cli.book.pages.conflict_page import met, titled
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.render.chronicle.entries import measure_in_words, who
from trueup.cli.render.chronicle.recorded import recorded
from trueup.lineage.files.records import ConflictRecord, ConflictState

_Parts = Mapping[tuple[str, str], list[ConflictRecord]]

_HEADS: Mapping[str, str] = MappingProxyType(
    {
        ConflictState.OPEN.value: "! Open: they wait for a decision",
        ConflictState.ACCEPTED.value: "+ Accepted: it was decided to leave them, or not to follow",
        ConflictState.SETTLED.value: "+ Settled: they hold again",
    }
)


def conflicts_page(source: BookSource) -> Markup:
    """Return the page that lists all conflicts, those that wait for a decision first.

    Those of one state stand together by the correction that they were met by.
    """
    groups: Mapping[ConflictState, _Parts] = defaultdict(lambda: defaultdict(list))
    for conflict in source.state.conflicts:
        groups[conflict.state][met(source, conflict)].append(conflict)
    listed = [(state.value, groups[state].items()) for state in ConflictState if groups[state]]
    return page(
        "conflicts.html",
        groups=listed,
        inheriting=source.inheriting,
        heads=_HEADS,
        titles={each.id: titled(source, each.id) for each in source.state.conflicts},
        unit=source.unit,
        addresses=source.addresses,
    )


def history_page(source: BookSource) -> Markup:
    """Return the page of all that was done, newest first."""
    entries = list(source.chronicle.entries())
    return page(
        "history.html",
        entries=entries,
        recorded=recorded,
        measured=measure_in_words,
        unit=source.unit,
        who=who,
        addresses=source.addresses,
        corrections=source.corrections,
    )
