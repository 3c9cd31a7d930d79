"""Answers that were worked out, kept as long as there is room."""

from collections import OrderedDict
from collections.abc import Hashable, Sequence

from trueup.cli.look.owning.line import Line

ROOM = 16_000_000  # letters


class KeptAnswers:
    """The lines of answers by what was asked; those asked for longest ago go first."""

    def __init__(self, room: int = ROOM) -> None:
        self._room, self._taken = room, 0
        self._kept: OrderedDict[Hashable, tuple[Line, ...]] = OrderedDict()

    def get(self, asked: Hashable) -> tuple[Line, ...] | None:
        """Return the lines of an answer, None where it is not kept."""
        if asked in self._kept:
            self._kept.move_to_end(asked)
        return self._kept.get(asked)

    def keep(self, asked: Hashable, lines: Sequence[Line]) -> None:
        """Keep an answer, unless there is no room for it."""
        if asked in self._kept or _size(lines) > self._room:
            return
        self._kept[asked] = tuple(lines)
        self._taken += _size(lines)
        while self._taken > self._room:
            self._taken -= _size(self._kept.popitem(last=False)[1])

    def clear(self) -> None:
        """Forget all."""
        self._kept.clear()
        self._taken = 0


def _size(lines: Sequence[Line]) -> int:
    texts = (value for line in lines for value in line.values())
    return sum(len(text) if isinstance(text, str) else 100 for text in texts)
