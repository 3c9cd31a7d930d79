"""What the thread that owns the wardrobe is asked to do, and how it is given up."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from enum import IntEnum
from threading import Event

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Deliver, Line


class Urgency(IntEnum):
    """What is done first of what waits."""

    STEP = 0
    PAGE = 1
    FOLLOW = 2
    TRIAL = 3
    IDLE = 4


class GivenUp(BaseException):
    """Nobody waits for an answer any more.

    No `Exception`: what works an answer out must not take it for trouble of its own.
    """


@dataclass(frozen=True, eq=False)
class Job:
    """Something to do: lines to make, and who takes them.

    `page` is the open page that asks. A later trial of the same page takes the place of an earlier.
    """

    urgency: Urgency
    page: str
    make: Callable[[Desk], Iterator[Line]]
    deliver: Deliver
    _unwanted: Event = field(default_factory=Event)

    def give_up(self) -> None:
        """Say that nobody waits for it any more."""
        self._unwanted.set()

    def require_wanted(self) -> None:
        """Raise GivenUp where nobody waits for it any more."""
        if self._unwanted.is_set():
            raise GivenUp

    def is_replaced_by(self, other: "Job") -> bool:
        """Return whether nobody waits for it any more once the other is asked for.

        What is worked out because there is time is no longer, when something is asked; but a page
        that follows the wardrobe, as it does again and again, waits until it is done.
        """
        if self.urgency is Urgency.IDLE:
            return other.urgency not in (Urgency.IDLE, Urgency.FOLLOW)
        return self.urgency is other.urgency is Urgency.TRIAL and self.page == other.page
