"""Another clone of the wardrobe, where what is missing here may still be; nothing of it runs."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from trueup.lineage.errors import Damaged
from trueup.lineage.limits import LARGEST_PACK
from trueup.lineage.restoring.named.reading import latest_of
from trueup.lineage.restoring.stored import loose
from trueup.lineage.restoring.stored.bench import Bench, bench
from trueup.lineage.restoring.stored.commits import History, contents, read_history
from trueup.lineage.restoring.stored.gathering import gather
from trueup.lineage.restoring.stored.known import Known
from trueup.lineage.store.joins.merge_errors import NotAClone
from trueup.lineage.store.joins.neighbour import LONGEST_ANSWER


@dataclass(frozen=True)
class Clone:
    """What is sound in another clone, on a bench of its own, and its `latest` commit by name."""

    folder: Path
    latest: str | None
    made: Bench

    def things(self, now: Known) -> Iterator[tuple[str, bytes]]:
        """Yield what it has of what is missing; of lost commits, with all before them.

        Raises `NotAClone` for one that holds more than is ever read.
        """
        there = self._history
        lost = there.reached(each for each in now.lost if each in there.commits)
        wanted = {c for c in lost if c in there.commits and c not in now.history.commits}
        wanted |= {each for each in now.missing if there.holds(each)}
        kinds = {b"commit": there.commits, b"tree": there.trees, b"blob": there.blobs}
        total = 0
        try:
            for object_id, content in contents(self.made.git, wanted):
                total += len(content)
                if total > LARGEST_PACK:
                    raise NotAClone(self.folder, "its history is too large to be read")
                for kind, ids in kinds.items():
                    if object_id in ids:
                        yield object_id, loose.packed(kind, content)
        except Damaged as error:
            raise NotAClone(self.folder, str(error.reason)) from error

    @cached_property
    def _history(self) -> History:
        try:
            return read_history(self.made.git)
        except Damaged as error:
            raise NotAClone(self.folder, str(error.reason)) from error


@contextmanager
def opened(folder: Path, letters: int) -> Iterator[Clone]:
    """Look into a clone whose ids have so many letters; raises `CannotWrite` without room."""
    with bench(letters, LONGEST_ANSWER) as made:
        gather(made, folder / ".git" / "objects", letters)
        yield Clone(folder, latest_of(folder), made)
