"""A repository of our own beside a damaged one, that sees only what is sound of it.

Git refuses a folder whose HEAD or settings are broken, and may not run under a stranger's. Here it
works under our own, on links to the files that were found sound; whatever it makes new lies in this
folder alone. So everything is tried out before anything in the wardrobe is touched.
"""

import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.errors import CannotWrite
from trueup.lineage.store.git.quiet_git import QuietGit

_SETTINGS = "[core]\n\trepositoryformatversion = 0\n\tbare = false\n"
_SETTINGS_SHA256 = (
    "[core]\n\trepositoryformatversion = 1\n\tbare = false\n[extensions]\n\tobjectformat = sha256\n"
)


def plain_settings(letters: int) -> bytes:
    """Return the least that git needs to be told, for ids of so many letters."""
    return (_SETTINGS_SHA256 if letters == 64 else _SETTINGS).encode()


@dataclass(frozen=True)
class Bench:
    """The repository: its git, where new things come to lie, and where it sees the sound ones.

    Its ids have so many `letters`.
    """

    git: QuietGit
    letters: int
    new: Path
    seen: Path

    def see(self, files: Iterable[Path], under: Path) -> None:
        """Let git see files as they lie below a folder of stored things; raises `CannotWrite`."""
        try:
            for file in files:
                place = self.seen / file.relative_to(under)
                place.parent.mkdir(parents=True, exist_ok=True)
                _link(file, place)
        except OSError as error:
            raise CannotWrite(str(self.seen), error.strerror or str(error)) from error

    def see_folder(self, folder: Path, under: Path) -> None:
        """Let git see all a folder holds."""
        self.see([folder], under)

    def put(self, object_id: str, content: bytes) -> None:
        """Lay down the file of a thing, as `loose.packed` gives it; raises `CannotWrite`."""
        place = self.new / object_id[:2] / object_id[2:]
        try:
            place.parent.mkdir(exist_ok=True)
            place.write_bytes(content)
        except OSError as error:
            raise CannotWrite(str(place), error.strerror or str(error)) from error

    def made(self) -> list[Path]:
        """Return the files of all things that are new."""
        found = [p for p in self.new.glob("??/*") if not p.name.startswith("tmp_")]
        return sorted([*found, *(self.new / "pack").glob("pack-*.*")])


def _link(file: Path, place: Path) -> None:
    try:
        place.symlink_to(os.path.abspath(file))
    except OSError:
        # A system that lets no links be made.
        if file.is_dir():
            shutil.copytree(file, place)
        else:
            shutil.copyfile(file, place)


@contextmanager
def bench(letters: int, time_limit: float | None = None) -> Iterator[Bench]:
    """Set up a bench for ids of so many letters, and take it down again.

    A git on it that takes longer than `time_limit` (s) is stopped. Raises `CannotWrite` where there
    is no room for temporary files.
    """
    try:
        room = tempfile.mkdtemp(prefix="trueup-restore-")
    except OSError as error:
        raise CannotWrite(tempfile.gettempdir(), error.strerror or str(error)) from error
    try:
        yield _set_up(Path(os.path.realpath(room)), letters, time_limit)
    finally:
        shutil.rmtree(room, ignore_errors=True)


def _set_up(room: Path, letters: int, time_limit: float | None) -> Bench:
    git_dir, seen = room / "git", room / "seen"
    try:
        for folder in (git_dir / "objects" / "info", git_dir / "refs", seen / "pack"):
            folder.mkdir(parents=True)
        (git_dir / "HEAD").write_bytes(b"ref: refs/heads/main\n")
        (git_dir / "config").write_bytes(plain_settings(letters))
        (git_dir / "objects" / "info" / "alternates").write_bytes(b"../../seen\n")
    except OSError as error:
        raise CannotWrite(str(room), error.strerror or str(error)) from error
    git = QuietGit(room, git_dir, index=git_dir / "index", time_limit=time_limit)
    return Bench(git, letters, git_dir / "objects", seen)
