"""Join two texts line by line, as git would, without any program a repository could name."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from trueup.lineage.errors import CannotWrite
from trueup.lineage.store.files.paths import OWN_FOLDER
from trueup.lineage.store.git.quiet_git import QuietGit

_NAMES = ("ours", "base", "theirs")


def merged_text(git: QuietGit, base: bytes, ours: bytes, theirs: bytes) -> bytes | None:
    """Return both changes in one text; None where they touch the same lines, or are no text."""
    try:
        with _room(git) as folder:
            places = [folder / name for name in _NAMES]
            for place, content in zip(places, (ours, base, theirs), strict=True):
                place.write_bytes(content)
            # Not `git merge-tree`: that asks the repository which program merges a file.
            answer = git.ask("merge-file", "-p", "-q", *map(str, places))
    except OSError as error:
        raise CannotWrite(str(git.git_dir), error.strerror or str(error)) from error
    return answer.output if answer.status == 0 else None


def clear(git_dir: Path) -> None:
    """Take away the texts that a writer was joining; raises `OSError`."""
    if _place(git_dir).exists():
        shutil.rmtree(_place(git_dir))


def _place(git_dir: Path) -> Path:
    return git_dir / OWN_FOLDER / "merging"


@contextmanager
def _room(git: QuietGit) -> Iterator[Path]:
    """Make a folder for the texts: a writer's own, in which its successor clears up, or any."""
    if not git.kept_open:
        with _temporary(git.git_dir / OWN_FOLDER) as folder:
            yield Path(folder)
        return
    clear(git.git_dir)
    _place(git.git_dir).mkdir()
    try:
        yield _place(git.git_dir)
    finally:
        shutil.rmtree(_place(git.git_dir), ignore_errors=True)


def _temporary(otherwise: Path) -> "tempfile.TemporaryDirectory[str]":
    try:
        return tempfile.TemporaryDirectory(prefix="trueup-")
    except OSError:
        return tempfile.TemporaryDirectory(prefix="merging-", dir=otherwise)
