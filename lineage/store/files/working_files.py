"""The files the maker sees: read, compared and replaced without ever leaving the folder.

A symbolic link, a device or a folder where a file should stand is refused, never followed.
"""

import hashlib
import io
import os
import stat
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from trueup.lineage.errors import CannotWrite, FileTooLarge, NoSuchFile, UnsafePath
from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.store.files.exchange import exchange
from trueup.lineage.store.files.lying import Looks, look_of, lying
from trueup.lineage.store.files.paths import (
    OWN_FOLDER,
    require_contained,
)

_CHUNK = 2**20  # bytes

_SETTLED = 3 * 10**9
"""Nanoseconds after which a file that is written again tells another time than before."""


class FileChange(Struct, frozen=True):
    """What a step does to one file: the ids of its content before and after; None is no file."""

    before: str | None
    after: str | None


def blob_id(content: bytes, like: str) -> str:
    """Return the id git gives to `content`, in the kind of hash that `like` is written in."""
    return _id_of((content,), len(content), like)


def _id_of(parts: Iterable[bytes], size: int, like: str) -> str:
    header = b"blob %d\0" % size
    is_long = len(like) == 64
    digest = hashlib.sha256(header) if is_long else hashlib.sha1(header, usedforsecurity=False)
    for part in parts:
        digest.update(part)
    return digest.hexdigest()


def write_file(path: Path, content: bytes) -> None:
    """Write a new file and see it onto the disk. Every file of a step goes through here."""
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


class WorkingFiles:
    """The working files of one wardrobe.

    New content waits in a folder inside git's own, on the same disk, until its step is recorded.
    A file that looks as in `looks` is not read again.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.looks: Looks = {}

    @property
    def waiting_room(self) -> Path:
        """The folder where new content waits."""
        return self.folder / ".git" / OWN_FOLDER / "waiting"

    def read(self, path: str) -> bytes:
        """Return the bytes of one working file.

        Raises `UnsafePath` where it is not a plain file in plain folders, `NoSuchFile` where
        there is none, `FileTooLarge` before it is read.
        """
        with self._opened(path) as file:
            size = os.fstat(file.fileno()).st_size
            if size > LARGEST_FILE:
                raise FileTooLarge(path, LARGEST_FILE)
            return file.readall()

    def content_id(self, path: str, like: str, at_most: int | None = None) -> str | None:
        """Return the id of a working file's content, None where there is no file.

        One that looks as when it was read before is not read again. Raises `FileTooLarge` for one
        of more than `at_most` bytes, before it is read.
        """
        try:
            known = self.looks.get(path)
            if known and known[0] == look_of(self._plain(path)) and len(known[1]) == len(like):
                return known[1]
            with self._opened(path) as file:
                status = os.fstat(file.fileno())
                if at_most is not None and status.st_size > at_most:
                    raise FileTooLarge(path, at_most)
                if status.st_size <= _CHUNK:
                    found = blob_id(file.readall(), like)
                else:
                    parts = iter(lambda: file.read(_CHUNK), b"")
                    found = _id_of(parts, status.st_size, like)
        except NoSuchFile:
            return None
        # One written a moment ago could be written once more and tell the same time.
        if max(status.st_mtime_ns, status.st_ctime_ns) < time.time_ns() - _SETTLED:
            self.looks[path] = look_of(status), found
        return found

    def size(self, path: str) -> int | None:
        """Return how many bytes a working file takes, None where there is no file."""
        try:
            return os.lstat(self._place(path)).st_size
        except (FileNotFoundError, NotADirectoryError):
            return None

    def _opened(self, path: str) -> io.FileIO:
        self._plain(path)
        try:
            return open(f"{self.folder}/{path}", "rb", buffering=0)
        except (FileNotFoundError, NotADirectoryError):
            raise NoSuchFile(path) from None

    def content_id_if_plain(self, path: str, like: str) -> str | None:
        """Do as `content_id`, and return "" for what is no plain file in plain folders."""
        try:
            return self.content_id(path, like)
        except UnsafePath:
            return ""

    def owned(self, like: str) -> dict[str, str | None]:
        """Return every file on disk that belongs to the wardrobe; see `lying`."""
        return lying(self.folder, self.looks, like)

    def require_replaceable(self, paths: Iterable[str]) -> None:
        """Refuse early what would only fail after the step is recorded.

        Raises `CannotWrite`.
        """
        folders = {self._place(path).parent: path for path in paths}
        for folder, path in folders.items():
            above = folder
            while not above.exists():
                above = above.parent
            if not os.access(above, os.W_OK | os.X_OK):
                raise CannotWrite(path, f"writing to {above} is not allowed")
            if above.stat().st_dev != self.folder.stat().st_dev:
                raise CannotWrite(path, f"{above} is on another disk than the wardrobe")

    def stage(self, contents: Mapping[str, bytes]) -> None:
        """Put new content on the disk, out of sight, before anything is recorded.

        When this has succeeded there is room for the step, and only names are left to change.
        Raises `CannotWrite`.
        """
        self.discard_staged()
        place = self.waiting_room
        try:
            self.waiting_room.mkdir(parents=True)
            for path, content in contents.items():
                place = self.folder / path
                write_file(self._waiting(path), content)
        except OSError as error:
            with suppress(CannotWrite):
                self.discard_staged()
            raise CannotWrite(str(place), error.strerror or str(error)) from error

    def bring(self, changes: Mapping[str, FileChange], like: str) -> None:
        """Give every changed file its new content, except where the maker edited it meanwhile.

        What `stage` was given is what they become. Doing it twice is the same as doing it once.
        Raises `OSError` with the file's name; what was done until then stays done.
        """
        for path, change in changes.items():
            present = self.content_id_if_plain(path, like)
            if present != change.before or present == change.after:
                continue
            # Where an editor takes the file away this moment, that is an edit like any other.
            with suppress(FileNotFoundError):
                if change.after is None:
                    os.replace(self._place(path), self._waiting(path))
                elif change.before is None:
                    self._put_new(path)
                elif not exchange(self._waiting(path), self._place(path)):
                    os.replace(self._waiting(path), self._place(path))
        self.give_back(changes, like)

    def _put_new(self, path: str) -> None:
        """Put a file where none is; one an editor saves there this moment stays."""
        place = self._place(path)
        place.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(self._waiting(path), place)
        except FileExistsError:
            return
        except OSError:
            os.replace(self._waiting(path), place)  # a disk that knows no links

    def give_back(self, changes: Mapping[str, FileChange], like: str) -> None:
        """Put back what an editor saved between our last look at a file and its replacement.

        The old file changes places with the new one, so what came out is there to be looked at,
        and after a kill as well. Raises `OSError`.
        """
        for path, change in changes.items():
            out, place = self._waiting(path), self._place(path)
            try:
                came_out = blob_id(out.read_bytes(), like)
            except FileNotFoundError:
                continue
            if came_out in (change.before, change.after):
                continue
            if self.content_id_if_plain(path, like) == change.after:
                place.parent.mkdir(parents=True, exist_ok=True)
                os.replace(out, place)

    def _waiting(self, path: str) -> Path:
        """Return where the new content of a file waits, and then the old one."""
        return self.waiting_room / hashlib.sha256(path.encode(errors="surrogateescape")).hexdigest()

    def discard_staged(self) -> None:
        """Take away what waits; nothing is lost by it."""
        try:
            for entry in os.scandir(self.waiting_room):
                os.unlink(entry.path)
            self.waiting_room.rmdir()
        except FileNotFoundError:
            pass
        except OSError as error:
            raise CannotWrite(str(self.waiting_room), error.strerror or str(error)) from error

    def _place(self, path: str) -> Path:
        require_contained(path)
        return self.folder / path

    def _plain(self, path: str) -> os.stat_result:
        """Return how a plain file in plain folders looks; raises `UnsafePath`, `NoSuchFile`."""
        require_contained(path)
        try:
            return self._plain_status(path)
        except (FileNotFoundError, NotADirectoryError):
            raise NoSuchFile(path) from None

    def _plain_status(self, path: str) -> os.stat_result:
        parts = path.split("/")
        for depth in range(1, len(parts)):
            above = "/".join(parts[:depth])
            mode = os.lstat(f"{self.folder}/{above}").st_mode
            if stat.S_ISLNK(mode):
                raise UnsafePath(path, f"{above} is a link that leads elsewhere")
            if depth == 1 and not stat.S_ISDIR(mode):
                raise UnsafePath(path, f"{above} should be a folder and is not")
        status = os.lstat(f"{self.folder}/{path}")
        if stat.S_ISLNK(status.st_mode):
            raise UnsafePath(path, "it is a link that leads elsewhere")
        if not stat.S_ISREG(status.st_mode):
            raise UnsafePath(path, "it is not a plain file")
        return status
