"""Find again what is missing: in the working files, in git's index, between versions, in a clone.

Whatever is found is laid down on the bench under the id it has; so nothing wrong is ever found.
"""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from lineage.restoring.findings import Cure
from lineage.restoring.stored import loose
from lineage.restoring.stored.bench import Bench
from lineage.restoring.stored.commits import History, contents, read_history
from lineage.restoring.stored.from_files import lists_in_index, lists_of_files, wanted_files
from lineage.restoring.stored.from_versions import lists_between
from lineage.restoring.stored.missing import missing_things

Found = Iterable[tuple[str, bytes]]
"""Ids with the files of the things found."""


@dataclass(frozen=True)
class Known:
    """The history as far as it can be read, the commits asked about, and what they lack."""

    history: History
    readable: tuple[str, ...]
    lost: frozenset[str]
    missing: frozenset[str]

    @property
    def wanted(self) -> frozenset[str]:
        """Return the ids of all that is missing."""
        return self.lost | self.missing


def known(made: Bench, starts: Collection[str], begins: Collection[str]) -> Known:
    """Look at the history of some commits, as far as it lies on the bench; raises `Damaged`."""
    history = read_history(made.git, begins)
    reached = history.reached(starts or history.tips())
    readable = tuple(each for each in reached if each in history.commits)
    lost = frozenset(each for each in reached if not history.holds(each))
    return Known(history, readable, lost, missing_things(made.git, readable))


def derive(
    made: Bench,
    folder: Path,
    starts: Collection[str],
    begins: Collection[str],
    clone: Bench | None,
) -> tuple[Known, dict[str, Cure]]:
    """Find what can be found; return what is known then, and how each thing was found."""
    found: dict[str, Cure] = {}
    now = known(made, starts, begins)
    sources: list[tuple[Cure, Callable[[Known], Found]]] = [
        (Cure.FROM_FILES, lambda now: wanted_files(folder, now.wanted, made.letters)),
        (Cure.FROM_INDEX, lambda _: lists_in_index(folder, made.letters)),
        (Cure.FROM_FILES, lambda _: lists_of_files(folder, made.letters)),
        (Cure.FROM_VERSIONS, lambda now: lists_between(made.git, now)),
    ]
    if clone is not None:
        there = clone
        sources.insert(0, (Cure.FROM_CLONE, lambda now: in_clone(there, now)))
    is_new = True
    while is_new and now.wanted:
        is_new = False
        for cure, source in sources:
            new = {each: content for each, content in source(now) if each in now.wanted}
            for object_id, content in new.items():
                made.put(object_id, content)
                found[object_id] = cure
            if new:
                is_new = True
                now = known(made, starts, begins)
    return now, found


def in_clone(clone: Bench, now: Known) -> Iterator[tuple[str, bytes]]:
    """Yield what a clone has of what is missing; of lost commits, with all before them."""
    there = read_history(clone.git)
    lost = there.reached(each for each in now.lost if each in there.commits)
    wanted = {each for each in lost if each in there.commits and each not in now.history.commits}
    wanted |= {each for each in now.missing if there.holds(each)}
    kinds = {b"commit": there.commits, b"tree": there.trees, b"blob": there.blobs}
    for object_id, content in contents(clone.git, wanted):
        for kind, ids in kinds.items():
            if object_id in ids:
                yield object_id, loose.packed(kind, content)
