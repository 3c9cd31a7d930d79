"""Start a new wardrobe, so that a kill leaves either nothing or a whole wardrobe.

Everything is prepared in a hidden folder; one rename of `.git` makes it a wardrobe. From then
on the first step is like any other whose branch has moved: whoever opens the wardrobe finishes it.
"""

import os
import shutil
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from trueup.lineage.errors import CannotWrite, FolderNotEmpty, WardrobeError
from trueup.lineage.store.files.paths import OWN_FOLDER
from trueup.lineage.store.files.working_files import FileChange, WorkingFiles, blob_id
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.writing import step, unfinished
from trueup.lineage.store.writing.recorded import say_recorded

BRANCH = "refs/heads/main"

_PREPARING = ".trueup-start-"


def found(folder: Path, files: Mapping[str, bytes], message: str) -> None:
    """Make `folder` a repository with one commit of `files`, whose step is still to be finished.

    Raises `FolderNotEmpty`, `CannotWrite`; the folder is then as before.
    """
    is_new = not folder.exists()
    try:
        _require_empty(folder)
        folder.mkdir(parents=True, exist_ok=True)
        preparing = Path(tempfile.mkdtemp(prefix=_PREPARING, dir=folder))
    except OSError as error:
        raise CannotWrite(str(folder), error.strerror or str(error)) from error
    try:
        target = _prepare(preparing, files, message)
        (preparing / ".git").rename(folder / ".git")
        say_recorded(target)
    except (OSError, WardrobeError) as error:
        shutil.rmtree(preparing, ignore_errors=True)
        if (folder / ".git").exists():
            raise FolderNotEmpty(folder) from error
        if is_new:
            shutil.rmtree(folder, ignore_errors=True)
        if isinstance(error, OSError):
            raise CannotWrite(str(folder), error.strerror or str(error)) from error
        raise
    with suppress(OSError):
        for entry in preparing.iterdir():
            entry.rename(folder / entry.name)
    clear(folder)


def clear(folder: Path) -> None:
    """Take away what a start prepared, once the wardrobe is there."""
    for leftover in folder.glob(f"{_PREPARING}*"):
        shutil.rmtree(leftover, ignore_errors=True)


def _require_empty(folder: Path) -> None:
    if not folder.exists() and not folder.is_symlink():
        return
    if not folder.is_dir():
        raise FolderNotEmpty(folder)
    if any(not name.startswith(_PREPARING) for name in os.listdir(folder)):
        raise FolderNotEmpty(folder)


def _prepare(preparing: Path, files: Mapping[str, bytes], message: str) -> str:
    git = QuietGit(preparing, preparing / ".git")
    git.run("init", "--quiet", "--template=", "--object-format=sha1", "--initial-branch=main")
    for trial in git.git_dir.glob("t??????"):
        trial.unlink()  # by which git tried whether there are links, and could not remove
    (git.git_dir / OWN_FOLDER).mkdir()
    target = step.record(git, None, files, message)
    unfinished.keep(git.git_dir, target, BRANCH)
    step.move_branch(git, BRANCH, target, None)
    git.with_index(git.git_dir / "index").run("read-tree", target)
    working = WorkingFiles(preparing)
    working.stage(files)
    working.bring(
        {path: FileChange(None, blob_id(new, target)) for path, new in files.items()}, target
    )
    return target
