"""Is everything in git's folder the kind of thing it should be, and may it be read and written?

Nothing is followed: a link, a pipe or a device is in the way, wherever it leads.
"""

import os
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.restoring.acts import Act, Allow, Aside, Folder
from trueup.lineage.restoring.findings import Cure, Trouble, Wrong

NEEDED = (".git/objects", ".git/refs")
"""The folders without which git takes no folder for a repository."""

_FOLDERS = {
    *("branches", "info", "logs", "logs/refs", "logs/refs/heads", "logs/refs/remotes"),
    *("objects", "objects/info", "objects/pack", "refs", "refs/heads", "refs/remotes"),
    *("refs/tags", "trueup", "trueup/aside", "trueup/making", "trueup/waiting"),
}
_FILES = re.compile(
    r"[A-Z_]+|[A-Z_]+\.lock|config|config\.worktree|description|index|packed-refs|shallow"
    r"|info/(attributes|exclude|grafts|refs|sparse-checkout)|logs/HEAD"
    r"|trueup/(gits|index|index\.lock|index-lock|lock|step|step\.new|format)"
    r"|objects/[0-9a-f]{2}/[0-9a-f]{38,62}|objects/info/(commit-graph|packs)"
    r"|objects/pack/(pack-[^/]*\.[a-z]+|multi-pack-index)"
)
_FAN_OUT = re.compile(r"objects/[0-9a-f]{2}")
_LEFT_ALONE = {"hooks", "trueup/aside"}


@dataclass(frozen=True)
class GitEntry:
    """Something in git's folder: its path there, and what the system says of it."""

    path: str
    status: os.stat_result

    @property
    def is_folder(self) -> bool:
        """Return whether it is a folder, and no link to one."""
        return stat.S_ISDIR(self.status.st_mode)

    @property
    def is_file(self) -> bool:
        """Return whether it is a plain file."""
        return stat.S_ISREG(self.status.st_mode)


def lying_in(git_dir: Path) -> Iterator[GitEntry]:
    """Yield all that lies in git's folder, but what was moved aside and the hooks, which never run.

    What may not be read is passed over; see `plainness`.
    """
    waiting = [""]
    while waiting:
        inside = waiting.pop()
        try:
            entries = sorted(os.scandir(git_dir / inside), key=lambda entry: entry.name)
        except OSError:
            continue
        for entry in entries:
            path = f"{inside}/{entry.name}" if inside else entry.name
            try:
                found = GitEntry(path, entry.stat(follow_symlinks=False))
            except FileNotFoundError:
                continue  # taken away this moment, by a git at work
            yield found
            if found.is_folder and path not in _LEFT_ALONE:
                waiting.append(path)


def plainness(lying: tuple[GitEntry, ...]) -> Iterator[tuple[Trouble, Act]]:
    """Yield what is of the wrong kind, and what is missing for git to see a repository there."""
    gone: set[str] = set()
    for each in lying:
        if any(each.path.startswith(f"{path}/") for path in gone):
            continue
        if not _is_right(each):
            gone.add(each.path)
            place = f".git/{each.path}"
            yield Trouble(Wrong.NOT_PLAIN, place, Cure.ASIDE), Aside(place)
    there = {f".git/{each.path}" for each in lying if each.path not in gone}
    for place in NEEDED:
        if place not in there:
            yield Trouble(Wrong.FOLDER, place, Cure.ANEW), Folder(place)


def closed(git_dir: Path, lying: tuple[GitEntry, ...]) -> Iterator[tuple[Trouble, Act]]:
    """Yield what may not be read, and the logs and folders that may not be written.

    In a folder that as a whole may only be read, that is how the maker wants it.
    """
    may_write = os.access(git_dir, os.W_OK)
    for each in lying:
        if each.path in _LEFT_ALONE or not (each.is_file or each.is_folder):
            continue
        is_written = each.is_folder or each.path.split("/")[0] == "logs"
        asked = (os.R_OK | os.X_OK) if each.is_folder else os.R_OK
        if may_write and is_written:
            asked |= os.W_OK
        if not os.access(git_dir / each.path, asked):
            place = f".git/{each.path}"
            yield Trouble(Wrong.CLOSED, place, Cure.ALLOWED), Allow(place)


def _is_right(each: GitEntry) -> bool:
    if each.path in _FOLDERS or _FAN_OUT.fullmatch(each.path):
        return each.is_folder
    if _FILES.fullmatch(each.path):
        return each.is_file
    if each.path == "hooks":
        return True
    return each.is_file or each.is_folder
