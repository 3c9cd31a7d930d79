"""The start page: what needs attention, and who derives from whom, under the last correction."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice

from markupsafe import Markup

from trueup.cli.book.addresses import correction
from trueup.cli.book.figures import figure, key_list
from trueup.cli.book.pages.correction_page import correction_title
from trueup.cli.book.pages.graph import drawn_graph
from trueup.cli.book.pages.start.rows import attention_groups
from trueup.cli.book.source import BookSource, short_id
from trueup.cli.book.templating import page
from trueup.cli.render.attention import next_step, of_what
from trueup.cli.render.chronicle.titles import entry_title
from trueup.cli.render.last_correction import LastCorrection
from trueup.cli.render.tree import node_words
from trueup.cli.wording.attention import EMPTY, NOTHING

_MOST_CORRECTIONS = 5
_MOST_UNFOLDED = 20  # children beyond which they are folded away
_MOST_ROWS = 6  # of one matter, beyond which the rest is folded away
_MOST_FOLDED = 60  # beyond which the rest is left to the page that lists them all


@dataclass(frozen=True)
class _Branch:
    """A node in the list of who derives from whom, under its first parent.

    `words` say what it is and takes, and `became` what has become of the last correction.
    """

    name: str
    address: str
    words: str
    became: str
    children: "list[_Branch]" = field(default_factory=list)


def start_page(source: BookSource) -> Markup:
    """Return the page of what needs attention, and of the graph."""
    state = source.state
    drawn = drawn_graph(source)
    last = drawn.last if drawn else None
    groups = attention_groups(source)
    comes_next, command = next_step(state, source.commands)
    return page(
        "start.html",
        name=state.settings.name,
        addresses=source.addresses,
        holds=of_what(state),
        groups=groups,
        most_rows=_MOST_ROWS,
        most_folded=_MOST_FOLDED,
        nothing="" if groups else (NOTHING if state.nodes else EMPTY),
        comes_next=comes_next,
        command=command,
        last=_told(source, last) if last else None,
        tally=last.tally if last else "",
        corrections=list(islice(_earlier(source, last), _MOST_CORRECTIONS)),
        picture=figure(drawn.picture, 1) if drawn else None,
        key=key_list(drawn.key) if drawn else None,
        is_whole=drawn is not None and drawn.is_whole,
        most=_MOST_UNFOLDED,
        roots=_roots(source, last),
    )


def _told(source: BookSource, last: LastCorrection) -> tuple[str, str, str]:
    """Return the title of the last correction, its day, and its address, empty for no page."""
    made = last.entry.commit
    address = correction(short_id(made)) if short_id(made) in source.corrections else ""
    return entry_title(last.entry, source.unit), f"{made.when:%Y-%m-%d}", address


def _earlier(source: BookSource, last: LastCorrection | None) -> Iterator[tuple[str, str, str]]:
    """Yield the other corrections that stand: title, address and day, the last first."""
    shown = short_id(last.entry.commit) if last else ""
    for commit, entry in source.corrections.items():
        if entry.taken_back_by is None and commit != shown:
            day = f"{entry.commit.when:%Y-%m-%d}"
            yield correction_title(source, commit), correction(commit), day


def _roots(source: BookSource, last: LastCorrection | None) -> list[_Branch]:
    branches: dict[str, _Branch] = {}
    roots: list[_Branch] = []
    words = last.words if last else {}
    for name in source.state.in_order:
        node = source.state.nodes[name]
        became = words.get(name, "")
        branches[name] = _Branch(name, source.addresses[name], node_words(node), became)
        above = branches[node.parents[0].name].children if node.parents else roots
        above.append(branches[name])
    return roots
