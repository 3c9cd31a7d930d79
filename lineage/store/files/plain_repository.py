"""Is this folder a repository of its own, that nothing in it leads out of?"""

import os
import re
import stat
from pathlib import Path

from trueup.lineage.errors import CannotRead, LeadsElsewhere, NotAWardrobe
from trueup.lineage.store.files.paths import OWN_FOLDER

LARGEST_SETTINGS = 262_144
"""Bytes of git's own settings that are read; a clone of many branches has a hundredth of it."""

MOVED_ASIDE = "aside"
"""The folder in our own that keeps what was in the way, links and all; nothing reads in it."""

_WRITTEN_TO = ("info", "logs", "objects", "refs", OWN_FOLDER)
_POINTERS = ("commondir", "gitdir", "objects/info/alternates")
_MAKE_WHOLE = "make a clone of its own of it with `git clone --no-local`, and name that"
_SETTINGS = ("config", "config.worktree")
# A section of this name has git read another file, which may lie anywhere and never end.
# Before it on the line may stand other sections, with a # or ; in their names: only a line that
# starts with one is a comment throughout.
_INCLUDES = re.compile(rb"^(?![ \t\r]*[#;]).*\[include", re.IGNORECASE | re.MULTILINE)


def require_plain_repository(folder: Path) -> None:
    """Refuse a folder whose git data is elsewhere, in whole or in part.

    Git follows links and pointers inside its own folder when it writes, and reads the files its
    settings name; in a folder from a stranger they could lead to any file of the maker's. Hooks may
    be links: they never run. Raises `NotAWardrobe`, `LeadsElsewhere`, `CannotRead`.
    """
    require_own_folder(folder)
    git_dir = folder / ".git"
    try:
        _refuse_links(folder, git_dir)
        for name in _WRITTEN_TO:
            for above, inside, _ in os.walk(git_dir / name, onerror=_raise):
                _refuse_links(folder, Path(above))
                if above == str(git_dir / OWN_FOLDER) and MOVED_ASIDE in inside:
                    inside.remove(MOVED_ASIDE)
        for name in _SETTINGS:
            _refuse_includes(folder, git_dir / name)
    except FileNotFoundError:
        pass  # taken away this moment by a git at work; who opens it next meets no such thing
    except OSError as error:
        raise CannotRead(str(error.filename or git_dir), error.strerror or str(error)) from error


def require_own_folder(folder: Path) -> None:
    """Refuse a folder without a .git of its own, however damaged that one is.

    Raises `NotAWardrobe`, `LeadsElsewhere`.
    """
    git_dir = folder / ".git"
    try:
        kind = os.lstat(git_dir).st_mode
    except (FileNotFoundError, NotADirectoryError):
        what = "it has no .git folder" if folder.is_dir() else "there is no such folder"
        raise NotAWardrobe(folder, what) from None
    except OSError as error:
        raise NotAWardrobe(folder, error.strerror or str(error)) from error
    if not stat.S_ISDIR(kind):
        raise LeadsElsewhere(folder, "its .git is no folder and points elsewhere", _MAKE_WHOLE)
    for pointer in _POINTERS:
        if os.path.lexists(git_dir / pointer):
            raise LeadsElsewhere(folder, f"its .git/{pointer} points elsewhere", _MAKE_WHOLE)


def _raise(error: OSError) -> None:
    if not isinstance(error, FileNotFoundError):
        raise error


def _refuse_links(folder: Path, inside: Path) -> None:
    with os.scandir(inside) as entries:
        for entry in entries:
            if entry.name == "hooks":
                continue
            plain = entry.is_file(follow_symlinks=False) or entry.is_dir(follow_symlinks=False)
            if not plain:
                place = Path(entry.path).relative_to(folder).as_posix()
                what = "a link that leads elsewhere" if entry.is_symlink() else "no plain file"
                hint = "put the file itself there, or take it out"
                raise LeadsElsewhere(folder, f"{place} is {what}", hint)


def _refuse_includes(folder: Path, settings: Path) -> None:
    if not os.path.lexists(settings):
        return
    place = settings.relative_to(folder).as_posix()
    with settings.open("rb") as file:
        text = file.read(LARGEST_SETTINGS + 1)
    if len(text) > LARGEST_SETTINGS:
        hint = "take out what is no setting"
        raise LeadsElsewhere(folder, f"{place} is larger than any settings of git", hint)
    if _INCLUDES.search(text):
        hint = "take the section `include` out of it"
        raise LeadsElsewhere(folder, f"{place} has git read another file", hint)
