"""The pages there is one of: the graph, all conflicts, all garments, shared faults, the history."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from types import MappingProxyType

from markupsafe import Markup

from trueup.cli.book.addresses import correction
from trueup.cli.book.figures import figure
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.conflict_page import titled
from trueup.cli.book.pages.correction_page import correction_title
from trueup.cli.book.pages.graph import graph_picture
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.page import said
from trueup.cli.render.attention import attention_lines
from trueup.cli.render.bodies import all_measured_lines
from trueup.cli.render.chronicle.entries import who
from trueup.cli.render.garments.faults import cause_lines
from trueup.cli.render.garments.garment import garment_list
from trueup.cli.render.tree import node_words
from trueup.cli.unreadable import unreadable_line
from trueup.lineage.files.records import ConflictRecord, ConflictState

_MOST_CORRECTIONS = 5
_HEADS: Mapping[str, str] = MappingProxyType(
    {
        ConflictState.OPEN.value: "! Open: they wait for a decision",
        ConflictState.ACCEPTED.value: "+ Accepted: it was decided to leave them, or not to follow",
        ConflictState.SETTLED.value: "+ Settled: they hold again",
    }
)
_MOST_UNFOLDED = 20  # children beyond which they are folded away


@dataclass(frozen=True)
class _Branch:
    """A node in the list of who derives from whom, under its first parent."""

    name: str
    address: str
    words: str
    children: "list[_Branch]" = field(default_factory=list)


def start_page(source: BookSource) -> Markup:
    """Return the page of the graph, and what needs attention."""
    state = source.state
    edited = source.wardrobe.edited_files
    damage = [said(unreadable_line(state))] if state.unreadable else []
    attention = (*damage, *attention_lines(state, edited, source.commands))
    drawn = graph_picture(source)
    return page(
        "start.html",
        name=state.settings.name,
        attention=html_lines(attention, source.addresses),
        corrections=list(islice(_corrections(source), _MOST_CORRECTIONS)),
        picture=figure(drawn, 1) if drawn else None,
        most=_MOST_UNFOLDED,
        roots=_roots(source),
    )


def _corrections(source: BookSource) -> Iterator[tuple[str, str, str]]:
    """Yield the corrections that stand: title, address and day, the last first."""
    for commit, entry in source.corrections.items():
        if entry.taken_back_by is None:
            day = f"{entry.commit.when:%Y-%m-%d}"
            yield correction_title(source, commit), correction(commit), day


def _roots(source: BookSource) -> list[_Branch]:
    branches: dict[str, _Branch] = {}
    roots: list[_Branch] = []
    for name in source.state.in_order:
        node = source.state.nodes[name]
        branches[name] = _Branch(name, source.addresses[name], node_words(node))
        above = branches[node.parents[0].name].children if node.parents else roots
        above.append(branches[name])
    return roots


def conflicts_page(source: BookSource) -> Markup:
    """Return the page that lists all conflicts, those that wait for a decision first."""
    groups: Mapping[ConflictState, list[ConflictRecord]] = defaultdict(list)
    for conflict in source.state.conflicts:
        groups[conflict.state].append(conflict)
    listed = [(state.value, groups[state]) for state in ConflictState if groups[state]]
    return page(
        "conflicts.html",
        groups=listed,
        heads=_HEADS,
        titles={each.id: titled(source, each.id) for each in source.state.conflicts},
        unit=source.unit,
        addresses=source.addresses,
    )


def garments_page(source: BookSource) -> Markup:
    """Return the page that lists all garments, and what was measured of their wearers."""
    garments = list(source.state.garments.values())
    found = garment_list(garments, source.state, source.commands) if garments else ()
    measured = html_lines(all_measured_lines(source.state), source.addresses)
    return page("garments.html", lines=html_lines(found, source.addresses), measured=measured)


def faults_page(source: BookSource) -> Markup:
    """Return the page of the causes behind all open fit notes."""
    found = cause_lines(source.causes, source.unit, source.commands, with_single=True)
    return page("faults.html", lines=html_lines(found, source.addresses))


def history_page(source: BookSource) -> Markup:
    """Return the page of all that was done, newest first."""
    entries = list(source.chronicle.entries())
    return page(
        "history.html",
        entries=entries,
        who=who,
        addresses=source.addresses,
        corrections=source.corrections,
    )
