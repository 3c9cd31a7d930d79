"""Which steps were recorded, for whoever has to say so although something failed afterwards."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_LISTENING: ContextVar[list[str] | None] = ContextVar("recorded steps", default=None)


@contextmanager
def recorded_steps() -> Iterator[list[str]]:
    """Hand over a list that grows by the id of every commit recorded inside the block."""
    steps: list[str] = []
    before = _LISTENING.set(steps)
    try:
        yield steps
    finally:
        _LISTENING.reset(before)


def say_recorded(commit: str) -> None:
    """Tell whoever listens that a step counts from now on."""
    steps = _LISTENING.get()
    if steps is not None:
        steps.append(commit)
