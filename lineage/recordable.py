"""A step worked out to the end and not yet recorded: what every such step says of itself."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

Standing = Callable[[Collection[str]], Mapping[str, bytes]]
"""Gives the files of these paths as they stand in the version a step was worked out from.

One that is not there is left out.
"""


class Recordable(Protocol):
    """A step as one commit: from which version it was worked out, and what it would say and write.

    Whatever is proposed is one of these, and `WritableWardrobe.record` carries any of them out.
    """

    @property
    def base(self) -> str:
        """Return the version it was worked out from; it is recorded on no other."""
        ...

    @property
    def joins(self) -> str | None:
        """Return the other version that it joins with its own; None where it joins none."""
        ...

    @property
    def message(self) -> str:
        """Return what a maker reads of it in the history."""
        ...

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return what it says for programs to read."""
        ...

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:
        """Return each file it changes with its new content, None for one it takes out."""
        ...


StepT_co = TypeVar("StepT_co", bound=Recordable, covariant=True)


@dataclass(frozen=True)
class Recorded(Generic[StepT_co]):
    """A step that was recorded, and the id of its commit."""

    step: StepT_co
    commit: str
