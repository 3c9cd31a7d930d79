"""What every page of a book is made from: an open wardrobe, and what is asked of it often."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from markupsafe import Markup

from trueup.cli.book.addresses import addresses
from trueup.cli.command_line import CommandLine
from trueup.cli.opening import OpenToRead
from trueup.geometry.units import Unit
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.biography import Biographies
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.faults.causes import Causes, causes
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.files.state import State
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.standing import inherited_conflicts
from trueup.lineage.store import Commit
from trueup.lineage.versions import versions

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay

_CORRECTING = ("correct", "promote", "remeasure")
_SHORT = 10  # letters of the id of a step, as the commands print it


@dataclass(frozen=True)
class Reached:
    """What a correction did at a node: pages `printed_anew`, in words, and a picture of it.

    Only what needs a look has a picture.
    """

    printed_anew: str
    moved: Markup | None


@dataclass(frozen=True)
class BookSource:
    """An open wardrobe to make pages from; `most` versions of each node are told."""

    reading: OpenToRead
    most: int

    @property
    def wardrobe(self) -> OpenWardrobe:
        """Return the open wardrobe."""
        return self.reading.wardrobe

    @property
    def evaluator(self) -> Evaluator:
        """Return the evaluator of the wardrobe as it is."""
        return self.reading.evaluator

    @property
    def state(self) -> State:
        """Return the wardrobe as it is."""
        return self.reading.state

    @property
    def unit(self) -> Unit:
        """Return the unit lengths are told in."""
        return self.state.unit

    @property
    def commands(self) -> CommandLine:
        """Return what writes commands: for whoever stands in the wardrobe's folder."""
        return CommandLine()

    @cached_property
    def addresses(self) -> Mapping[str, str]:
        """Return where what has a name is told: nodes, garments, conflicts."""
        return addresses(self.state)

    @cached_property
    def chronicle(self) -> Chronicle:
        """Return the history."""
        return Chronicle(self.wardrobe, now=self.evaluator)

    @cached_property
    def biographies(self) -> Biographies:
        """Return what tells the stories of edges."""
        return Biographies()

    @cached_property
    def versions(self) -> Mapping[str, tuple[Commit, ...]]:
        """Return the last versions of every node, newest first."""
        return versions(self.wardrobe, self.state.nodes, self.most)

    @cached_property
    def corrections(self) -> Mapping[str, Entry]:
        """Return the last corrections of every node by the ids of their steps, newest first.

        A block that was drafted anew from other measurements was corrected as well.
        """
        told: Counter[str] = Counter()
        found = {}
        for entry in self.chronicle.entries():
            if entry.verb in _CORRECTING and entry.node in self.state.nodes:
                told[entry.node] += 1
                if told[entry.node] <= self.most:
                    found[short_id(entry.commit)] = entry
        return found

    @cached_property
    def came_to(self) -> Mapping[str, list[tuple[Entry, "PatternReplay | None"]]]:
        """Return the corrections that came to each node, newest first, and what became of them.

        None for what became of one at the node it was made on.
        """
        found: dict[str, list[tuple[Entry, PatternReplay | None]]] = {}
        for entry in self.corrections.values():
            found.setdefault(entry.node, []).append((entry, None))
            for pattern in entry.effect.patterns:
                found.setdefault(pattern.name, []).append((entry, pattern))
        return found

    @cached_property
    def reached(self) -> dict[tuple[str, str], Reached]:
        """Return what was found of a correction at a node, by the id of its step and by name."""
        return {}

    @cached_property
    def causes(self) -> Causes:
        """Return what lies behind the open fit notes."""
        return causes(Inquiry(self.evaluator))

    @cached_property
    def inheriting(self) -> Mapping[str, tuple[str, ...]]:
        """Return, for each open conflict by its id, the nodes that inherit it."""
        found: dict[str, list[str]] = {}
        if self.state.open_conflicts:
            for name in self.state.in_order:
                for conflict in inherited_conflicts(self.evaluator, name):
                    found.setdefault(conflict.id, []).append(name)
        return {conflict: tuple(names) for conflict, names in found.items()}

    def find_what_pages_share(self) -> None:
        """Find what more than one page asks for, before they are made in several places."""
        shared = (self.addresses, self.versions, self.corrections, self.causes, self.inheriting)
        of_history = (self.chronicle.first_recorded, self.chronicle.decisions)
        _ = self.head, shared, of_history, self.came_to

    @cached_property
    def head(self) -> Commit:
        """Return the last recorded step."""
        return self.chronicle.commits[0]


def short_id(commit: Commit) -> str:
    """Return the letters of the id of a step that its page is known by."""
    return commit.id[:_SHORT]
