"""The lock by which writers of one wardrobe keep each other out, the dead ones' gits included.

A writer that is killed lets go of its lock, but a git it started may live on and still move the
branch. So every git of a writer inherits a descriptor that a second lock is held through: who has
both locks knows that nobody else is at work.
"""

import os
import time
from pathlib import Path

from filelock import FileLock, Timeout

from trueup.lineage.errors import Busy, CannotWrite
from trueup.lineage.store.files.paths import OWN_FOLDER

try:
    import fcntl
except ImportError:  # Windows: a git that outlives its writer is not waited for there
    fcntl = None  # type: ignore[assignment]


class WritersLock:
    """The lock of one wardrobe; may be taken again by who has it, and is let go as often."""

    def __init__(self, folder: Path, git_dir: Path) -> None:
        self._folder = folder
        self._room = git_dir / OWN_FOLDER
        self._lock = FileLock(self._room / "lock", poll_interval=0.01)
        self._gits: int | None = None

    @property
    def is_held(self) -> bool:
        """Return whether this very lock is held."""
        return bool(self._lock.is_locked)

    @property
    def inherited(self) -> tuple[int, ...]:
        """Return the descriptors that a git of the writer is to inherit."""
        return () if self._gits is None else (self._gits,)

    def take(self, patience: float) -> None:
        """Take the lock; raises `Busy` when nobody lets go within `patience` s, `CannotWrite`."""
        give_up = time.monotonic() + patience
        try:
            self._room.mkdir(exist_ok=True)
            self._lock.acquire(timeout=patience)
        except Timeout:
            raise Busy(self._folder, "another trueup") from None
        except OSError as error:
            raise CannotWrite(str(self._room), error.strerror or str(error)) from error
        if self._gits is None:
            try:
                self._gits = self._alone(give_up)
            except BaseException:
                self._lock.release()
                raise

    def release(self) -> None:
        """Let go once."""
        self._lock.release()
        self._let_gits_go()

    def let_go(self) -> None:
        """Let go for good, however often it was taken."""
        self._lock.release(force=True)
        self._let_gits_go()

    def _let_gits_go(self) -> None:
        if self._gits is not None and not self._lock.is_locked:
            os.close(self._gits)
            self._gits = None

    def _alone(self, give_up: float) -> int | None:
        """Return the descriptor of the second lock once no git of another writer holds it."""
        if fcntl is None:
            return None
        try:
            descriptor = os.open(self._room / "gits", os.O_RDWR | os.O_CREAT, 0o666)
        except OSError as error:
            raise CannotWrite(str(self._room), error.strerror or str(error)) from error
        while not _locked(descriptor):
            if time.monotonic() >= give_up:
                os.close(descriptor)
                raise Busy(self._folder, "a git of a trueup that was killed")
            time.sleep(0.01)
        return descriptor


def _locked(descriptor: int) -> bool:
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True  # a disk that knows no such locks: the first one is held all the same
    return True
