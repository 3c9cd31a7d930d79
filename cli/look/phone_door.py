"""Who may still come in from a phone, and the note that came: one, for one garment, in its time."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from threading import Lock

from trueup.lineage.files.photos import Photo

OPEN_FOR = 600.0
"""Seconds for which the door is open."""


class DoorState(StrEnum):
    """Whether a note can still come, is here, or can come no more."""

    OPEN = "open"
    WAITING = "waiting"
    OVER = "over"


@dataclass(frozen=True)
class SentNote:
    """A fit note as a phone sent it: words alone, for it knows no place of the pattern."""

    symptom: str
    where: str
    amount: str
    words: str
    photo: Photo | None


class PhoneDoor:
    """The way in for one note on one garment; `now` is a clock, s.

    It is asked by the thread that serves and by the one that owns the wardrobe.
    """

    def __init__(self, garment: str, now: Callable[[], float] = time.monotonic) -> None:
        self.garment = garment
        self.address = ""
        self._now = now
        self._closes = now() + OPEN_FOR
        self._lock = Lock()
        self._is_claimed = False
        self._note: SentNote | None = None
        self._is_spent = False

    @property
    def seconds_left(self) -> float:
        """Return for how long the door is still open, s; nought where it is not."""
        left = self._closes - self._now()
        return 0.0 if self._is_spent else max(left, 0.0)

    @property
    def state(self) -> DoorState:
        """Return whether a note can still come."""
        if self._note is not None:
            return DoorState.WAITING
        return DoorState.OPEN if self.seconds_left > 0 else DoorState.OVER

    def claim(self) -> bool:
        """Return whether one who comes may send a note; no other may until it was given up."""
        with self._lock:
            if self._is_claimed or self.seconds_left == 0:
                return False
            self._is_claimed = True
            return True

    def give_up(self) -> None:
        """Say that what was sent is no note, and that another may be sent."""
        with self._lock:
            self._is_claimed = False

    def take(self, note: SentNote) -> bool:
        """Take the one note that may come, and return whether it came in time."""
        with self._lock:
            if self.seconds_left == 0:
                return False
            self._note, self._is_spent = note, True
            return True

    @property
    def note(self) -> SentNote | None:
        """Return the note that waits to be confirmed."""
        return self._note

    def confirm(self) -> None:
        """Say that the note that waited was recorded."""
        self._note = None
