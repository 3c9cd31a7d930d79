"""Tell on a terminal how far work has come that is waited for, and leave nothing of it there."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Lock
from time import monotonic
from typing import TYPE_CHECKING

from rich.console import Console

if TYPE_CHECKING:
    from rich.live import Live

Tell = Callable[[int, int], None]
"""Told how much is done, of how much."""

_SOON = 1.0
"""Seconds; of what is done before, nothing is told."""
_BETWEEN = 0.1
"""Seconds from one telling to the next: more could not be read."""
_FEWEST = 2
"""Of a single thing there is nothing to count."""


class _Line:
    """The one line of a terminal that says how far it is."""

    def __init__(self) -> None:
        self._live: Live | None = None
        self._lock = Lock()

    def show(self, text: str) -> None:
        with self._lock:
            if self._live is None:
                # Seldom a maker has to wait, and then not for this.
                from rich.live import Live  # noqa: PLC0415

                # It draws when it is told to and in no thread of its own, for others are forked.
                self._live = Live(
                    console=Console(stderr=True, markup=False, highlight=False),
                    auto_refresh=False,
                    transient=True,
                    redirect_stdout=False,
                    redirect_stderr=False,
                )
                self._live.start()
            self._live.update(text, refresh=True)

    def clear(self) -> None:
        with self._lock:
            if self._live is not None:
                self._live.stop()
                self._live = None


_line = _Line()


def clear() -> None:
    """Take the line away: something else is printed."""
    _line.clear()


@contextmanager
def waiting(things: str, *, silent: bool = False) -> Iterator[Tell]:
    """Give what tells how many things are done, once it takes longer than a second.

    It is told on stderr, where that is a terminal, and unless it is to be `silent`.
    """
    if silent or not sys.stderr.isatty():
        yield _tell_nobody
        return
    began, told = monotonic(), 0.0

    def tell(done: int, of: int) -> None:
        nonlocal told
        now = monotonic()
        if now - began >= _SOON and now - told >= _BETWEEN:
            told = now
            _line.show(f"{done} of {of} {things}" if of >= _FEWEST else "Working it out ...")

    try:
        yield tell
    finally:
        _line.clear()


def _tell_nobody(_done: int, _of: int) -> None:
    """Tell nobody."""
