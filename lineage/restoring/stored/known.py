"""What is known of a history on the bench: what of it can be read, and what is missing."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import cached_property

from trueup.lineage.restoring.stored.bench import Bench
from trueup.lineage.restoring.stored.commits import History, read_history
from trueup.lineage.restoring.stored.missing import Broken, broken_lists, missing_things
from trueup.lineage.store.git.quiet_git import QuietGit

Found = Iterable[tuple[str, bytes]]
"""Ids with the files of the things found."""


@dataclass(frozen=True)
class Known:
    """The history as far as it can be read, the commits asked about, and what they lack."""

    git: QuietGit
    history: History
    readable: tuple[str, ...]
    lost: frozenset[str]
    missing: frozenset[str]

    @property
    def wanted(self) -> frozenset[str]:
        """Return the ids of all that is missing."""
        return self.lost | self.missing

    @cached_property
    def broken(self) -> Broken:
        """Return the lists of files that lack something below them."""
        return broken_lists(self.git, self.history, self.missing)


def known(made: Bench, starts: Collection[str], begins: Collection[str]) -> Known:
    """Look at the history of some commits, as far as it lies on the bench; raises `Damaged`."""
    history = read_history(made.git, begins)
    reached = history.reached(starts or history.tips())
    readable = tuple(each for each in reached if each in history.commits)
    lost = frozenset(each for each in reached if not history.holds(each))
    return Known(made.git, history, readable, lost, missing_things(made.git, readable))
