"""Is this folder a repository of its own, that nothing in it leads out of?"""

import os
import stat
from pathlib import Path

from lineage.errors import NotAWardrobe

_WRITTEN_TO = ("info", "logs", "objects", "refs", "trueup")


def require_plain_repository(folder: Path) -> None:
    """Refuse a folder whose git data is elsewhere, in whole or in part.

    Git follows links and pointers inside its own folder when it writes; in a folder from a
    stranger they could point at any file of the maker's. Hooks may be links: they never run.
    Raises `NotAWardrobe`.
    """
    git_dir = folder / ".git"
    try:
        kind = os.lstat(git_dir).st_mode
    except FileNotFoundError:
        what = "it has no .git folder" if folder.is_dir() else "there is no such folder"
        raise NotAWardrobe(folder, what) from None
    except OSError as error:
        raise NotAWardrobe(folder, error.strerror or str(error)) from error
    if not stat.S_ISDIR(kind):
        raise NotAWardrobe(folder, "its .git is not a folder and points elsewhere")
    for pointer in ("commondir", "gitdir"):
        if os.path.lexists(git_dir / pointer):
            raise NotAWardrobe(folder, f"its .git/{pointer} points elsewhere")
    try:
        _refuse_links(folder, git_dir)
        for name in _WRITTEN_TO:
            for above, _, _ in os.walk(git_dir / name):
                _refuse_links(folder, Path(above))
    except OSError as error:
        raise NotAWardrobe(folder, error.strerror or str(error)) from error


def _refuse_links(folder: Path, inside: Path) -> None:
    with os.scandir(inside) as entries:
        for entry in entries:
            if entry.name == "hooks":
                continue
            plain = entry.is_file(follow_symlinks=False) or entry.is_dir(follow_symlinks=False)
            if not plain:
                place = Path(entry.path).relative_to(folder).as_posix()
                raise NotAWardrobe(folder, f"{place} is a link that leads elsewhere")
