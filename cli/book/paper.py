"""Which pages of a printed pattern a correction asks to be printed anew."""

from trueup.cli.book.source import BookSource
from trueup.cli.failures import Misused
from trueup.cli.render.patterns.moved_pages import print_anew
from trueup.cli.sheet.anew.planning import pages_moved
from trueup.cli.sheet.facts import version_of
from trueup.geometry.errors import GeometryError
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.errors import WardrobeError


def printed_anew(source: BookSource, entry: Entry, name: str) -> str:
    """Return which pages of a node are printed anew for who has it on paper from before.

    It is told of the last correction that came to a node alone: by then earlier paper is older
    still. Empty where no line moved, or the node cannot be read.
    """
    if entry.before is None or not _is_last(source, entry, name):
        return ""
    try:
        if not (entry.before.state.has(name) and source.state.has(name)):
            return ""
        since = version_of(source.wardrobe, entry.commit.parents[0])
        return print_anew(pages_moved(entry.before, source.evaluator, name, since))
    except (WardrobeError, GeometryError, Misused):
        return ""


def _is_last(source: BookSource, entry: Entry, name: str) -> bool:
    for later in source.corrections.values():
        if later is entry:
            return True
        if name == later.node or any(each.name == name for each in later.effect.patterns):
            return False
    return False
