"""Carry out what was planned, such that nothing is lost and a kill at any moment does no harm.

What stands in the way is moved, never deleted, and new files only come to stand where none is: so
what somebody else put there meanwhile stays.
"""

import errno
import os
import shutil
import stat
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import IO

from trueup.lineage.errors import CannotWrite
from trueup.lineage.restoring.acts import Act, Allow, Aside, Bring, Folder, PutBack, TakeAway, Write
from trueup.lineage.store.files.paths import MADE_READY, OWN_FOLDER
from trueup.lineage.store.files.plain_repository import MOVED_ASIDE

ASIDE = f".git/{OWN_FOLDER}/{MOVED_ASIDE}"
"""Where what was in the way is kept, by the moment it was moved, its path as it was."""

_OWN = f".git/{OWN_FOLDER}"
_GONE = (FileNotFoundError, NotADirectoryError)


class Hands:
    """Does things to one wardrobe; `aside` is where it moves things, once it moved any.

    `content_of` gives a stored content by its id.
    """

    def __init__(self, folder: Path, content_of: Callable[[str], bytes] | None = None) -> None:
        self._folder = folder
        self.content_of = content_of
        self.aside: Path | None = None

    def carry_out(self, acts: Iterable[Act]) -> None:
        """Do one thing after the other; raises `CannotWrite`, and what was done stays done."""
        for act in acts:
            try:
                self._do(act)
            except OSError as error:
                place = str(error.filename2 or error.filename or self._folder / act.place)
                raise CannotWrite(place, error.strerror or str(error)) from error

    def _do(self, act: Act) -> None:
        place = self._folder / act.place
        match act:
            case Aside():
                self._move_aside(act.place)
            case Folder():
                place.mkdir(parents=True, exist_ok=True)
            case Write():
                self._write(act.content, place)
            case PutBack():
                assert self.content_of is not None
                self._write(self.content_of(act.content), place)
            case Bring():
                with (
                    act.source.open("rb") as source,
                    self._new_file() as file,
                ):
                    shutil.copyfileobj(source, file)
                self._put(Path(file.name), place)
            case TakeAway():
                with suppress(*_GONE):
                    place.unlink()
            case Allow():
                _allow(place)

    def _write(self, content: bytes, place: Path) -> None:
        with self._new_file() as file:
            file.write(content)
        self._put(Path(file.name), place)

    def _new_file(self) -> IO[bytes]:
        """Return a file to make ready, on the wardrobe's own disk."""
        room = self._folder / ".git" / OWN_FOLDER
        room.mkdir(exist_ok=True)
        return tempfile.NamedTemporaryFile(dir=room, prefix=MADE_READY, delete=False)

    def _put(self, ready: Path, place: Path) -> None:
        """Give a new file its name, unless there is one by now."""
        try:
            with ready.open("rb+") as file:
                os.fsync(file.fileno())
            ready.chmod(_plain_mode())
            place.parent.mkdir(parents=True, exist_ok=True)
            try:
                os.link(ready, place)
            except FileExistsError:
                pass
            except OSError:
                # A disk that knows no links.
                if not os.path.lexists(place):
                    os.replace(ready, place)
        finally:
            ready.unlink(missing_ok=True)

    def _move_aside(self, path: str) -> None:
        source = self._folder / path
        if not os.path.lexists(source):
            return
        if path in (_OWN, ASIDE):
            # It stands where it is to be moved to.
            first = source.with_name(f"{source.name}.moved")
            os.rename(source, first)
            source = first
        target = self._aside() / path
        target.parent.mkdir(parents=True, exist_ok=True)
        while os.path.lexists(target):
            target = target.with_name(f"{target.name}~")
        try:
            os.rename(source, target)
        except OSError as error:
            if error.errno != errno.EXDEV:
                raise
            shutil.move(source, target)

    def _aside(self) -> Path:
        if self.aside is None:
            self.aside = _new_folder(self._folder / ASIDE)
        return self.aside


def _new_folder(above: Path) -> Path:
    above.mkdir(parents=True, exist_ok=True)
    name = datetime.now().strftime("%Y-%m-%d_%H-%M-%S")
    for ending in ("", *(f"_{number}" for number in range(2, 1000))):
        place = above / f"{name}{ending}"
        try:
            place.mkdir()
        except FileExistsError:
            continue
        return place
    raise OSError(errno.EEXIST, os.strerror(errno.EEXIST), str(above))


def _allow(place: Path) -> None:
    mode = os.lstat(place).st_mode
    wanted = stat.S_IRWXU if stat.S_ISDIR(mode) else stat.S_IRUSR | stat.S_IWUSR
    if not stat.S_ISLNK(mode):
        place.chmod(stat.S_IMODE(mode) | wanted)


def _plain_mode() -> int:
    """Return what anybody may do with a new file, as this system has it."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
