"""Bring git's index to a step: prepared beside it, put in its place at one stroke."""

import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from trueup.lineage.errors import CannotWrite, Damaged
from trueup.lineage.store.files.paths import OWN_FOLDER
from trueup.lineage.store.files.working_files import FileChange
from trueup.lineage.store.git import lock_files
from trueup.lineage.store.git.quiet_git import QuietGit

_NOT_WRITTEN = "new index file"
"""What git says of an index that it could read and not write, for a full disk or what is in it."""


def lock_of(git_dir: Path) -> Path:
    """Return the file by which git keeps others from its index."""
    return git_dir / "index.lock"


def bring(git: QuietGit, target: str, changes: Mapping[str, FileChange]) -> None:
    """Bring git's index to the commit `target`, for the changed files only.

    What the maker put into the index themselves stays there; an index that cannot be read is made
    anew. Raises `Locked`, `OSError`, and what git fails with.
    """
    index = git.git_dir / "index"
    if not changes and index.exists():
        return
    prepared = git.git_dir / OWN_FOLDER / "index"
    with lock_files.marked(lock_of(git.git_dir), git.git_dir / OWN_FOLDER / "index-lock"):
        clear(git.git_dir)
        aside = git.with_index(prepared)
        try:
            _change(aside, index, prepared, target, changes)
        except (Damaged, CannotWrite) as error:
            # One that was cut off may be read, and only be found out when it is written again.
            if isinstance(error, CannotWrite) and _NOT_WRITTEN not in error.reason:
                raise
            clear(git.git_dir)
            aside.run("read-tree", target)
        os.replace(prepared, index)


def _change(
    git: QuietGit, index: Path, prepared: Path, target: str, changes: Mapping[str, FileChange]
) -> None:
    try:
        shutil.copyfile(index, prepared)
    except (FileNotFoundError, IsADirectoryError):
        git.run("read-tree", target)
        return
    entries = "".join(
        f"0 {'0' * len(target)}\t{path}\0"
        if change.after is None
        else f"100644 {change.after}\t{path}\0"
        for path, change in changes.items()
    )
    git.run("update-index", "-z", "--index-info", feed=entries.encode())


def clear(git_dir: Path) -> None:
    """Take away what was being prepared."""
    for name in ("index", "index.lock"):
        with suppress(FileNotFoundError):
            (git_dir / OWN_FOLDER / name).unlink()
