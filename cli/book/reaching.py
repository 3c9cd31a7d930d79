"""What a correction did at each node it came to, as its page shows that.

It is found once for a book, beside the page of the node, whose geometry is at hand then.
"""

from markupsafe import Markup

from trueup.cli.book.figures import figure
from trueup.cli.book.source import BookSource, Reached
from trueup.cli.drawing.small_overlay import small_overlay
from trueup.cli.failures import Misused
from trueup.cli.render.patterns.moved_pages import print_anew
from trueup.cli.render.replay import is_exception
from trueup.cli.sheet.anew.planning import pages_moved
from trueup.cli.sheet.facts import version_of
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.errors import GeometryError
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.errors import WardrobeError


def reach_all(source: BookSource, name: str) -> None:
    """Find what every correction that has a page did at a node."""
    for entry, pattern in source.came_to.get(name, ()):
        reached(source, entry, name, with_picture=pattern is not None and is_exception(pattern))


def reached(source: BookSource, entry: Entry, name: str, *, with_picture: bool) -> Reached:
    """Return what a correction did at a node: which paper is printed anew, and what moved."""
    key = entry.commit.id, name
    if key not in source.reached:
        moved = _picture(entry, name) if with_picture else None
        source.reached[key] = Reached(_printed_anew(source, entry, name), moved)
    return source.reached[key]


def moved_at(entry: Entry, name: str) -> Comparison | None:
    """Return a node before and after, None where nothing of it moved or one cannot be read."""
    try:
        if entry.before is None:
            return None
        old, new = entry.before.draft(name), entry.after.draft(name)
    except WardrobeError:
        return None
    found = compare(old, new, alignment("centre", old, new))
    return None if found.is_same else found


def _picture(entry: Entry, name: str) -> Markup | None:
    moved = moved_at(entry, name)
    return figure(small_overlay(moved, f"What moved in {name}"), name) if moved else None


def _printed_anew(source: BookSource, entry: Entry, name: str) -> str:
    """Return which pages of a node are printed anew for who has it on paper from before.

    It is told of the last correction that came to a node alone: by then earlier paper is older
    still. Empty where no line moved, or the node cannot be read.
    """
    (last, _), *_ = source.came_to[name]
    try:
        before = entry.before
        if last is not entry or before is None:
            return ""
        if not (before.state.has(name) and source.state.has(name)):
            return ""
        since = version_of(source.wardrobe, entry.commit.parents[0])
        return print_anew(pages_moved(before, source.evaluator, name, since))
    except (WardrobeError, GeometryError, Misused):
        return ""
