"""A file that a command writes outside the wardrobe: there in full, or not at all."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Self

from tests.faults.cases import Case, Writes
from tests.faults.commands import Outcome, Workshop
from tests.faults.harm.faults import Wrong
from tests.faults.harm.truth import Told

_LINES_WITH_THE_HOUR = 8


@dataclass(frozen=True)
class WrittenFile:
    """What an undisturbed command wrote, what was there before, and where."""

    place: Path
    old: bytes | None
    new: bytes
    beside: frozenset[str]

    @classmethod
    def of(cls, workshop: Workshop, case: Case) -> Self | None:
        """Return the file a command has just written; None for one that writes no file."""
        if case.writes is not Writes.FILE:
            return None
        place = workshop.place / case.file
        before = workshop.templates / case.scene / "place" / case.file
        old = before.read_bytes() if before.exists() else None
        beside = frozenset(each.name for each in place.parent.iterdir())
        return cls(place, old, place.read_bytes(), beside)

    def is_written(self) -> bool:
        """Return whether it is there as the undisturbed command wrote it."""
        return self._is_new(self._now())

    def _is_new(self, now: bytes | None) -> bool:
        """Return whether that is what was to be written, but for the hour in a few of its lines."""
        if now is None or now == self.old:
            return False
        lines, wanted = now.splitlines(), self.new.splitlines()
        others = sum(one != other for one, other in zip(lines, wanted, strict=False))
        return len(lines) == len(wanted) and others <= _LINES_WITH_THE_HOUR

    def _now(self) -> bytes | None:
        return self.place.read_bytes() if self.place.exists() else None

    def untrue(self, outcome: Outcome, code: int) -> Iterator[Told]:
        """Yield what is not whole, or told otherwise; `code` is the exit code of one that wrote."""
        now = self._now()
        if now != self.old and not self._is_new(now):
            yield Wrong.HALF_DONE, f"{self.place.name} holds {len(now or b'')} bytes"
        if outcome.hung:
            yield Wrong.BLOCKED, "it hangs"
        elif outcome.killed:
            return
        elif outcome.code == code:
            if not self._is_new(now):
                yield Wrong.LOST, f"it ended as if it was done: {outcome.out.splitlines()[:2]}"
        elif self._is_new(now):
            yield Wrong.TOLD_FALSELY, f"written, and told otherwise: {outcome.err.strip()}"
        elif outcome.code != 2 or "Traceback" in outcome.err or "not expect" in outcome.err:
            yield Wrong.TOLD_FALSELY, f"(exit {outcome.code}) {outcome.err.strip()[-300:]}"

    def litter(self) -> list[str]:
        """Return what lies beside the file and was not there before."""
        return sorted({each.name for each in self.place.parent.iterdir()} - self.beside)
