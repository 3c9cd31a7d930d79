"""Answers as they are made: line by line."""

from collections.abc import Callable, Mapping

Line = Mapping[str, object]
"""One line of an answer, as it becomes JSON."""

Deliver = Callable[[Line | None], None]
"""Takes the lines of an answer as they are made; None after the last."""
