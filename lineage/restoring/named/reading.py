"""Read the names, packed and loose, and the logs from a damaged repository's files alone."""

import os
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.restoring.named.logs import read_log
from trueup.lineage.restoring.named.names import Packed, is_name, packed_names, target_of
from trueup.lineage.restoring.named.standing import Names
from trueup.lineage.restoring.plain import GitEntry, lying_in

LARGEST = 64 * 2**20
"""Bytes of one of git's small files; a log of a hundred thousand steps has a quarter of it."""

_PLAIN = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)


def plain_content(path: Path) -> bytes | None:
    """Return what a plain file holds; None where there is none that can be read as ours."""
    try:
        if not stat.S_ISREG(os.lstat(path).st_mode):
            return None
        with open(os.open(path, _PLAIN), "rb") as file:
            content = file.read(LARGEST + 1)
    except OSError:
        return None
    return content if len(content) <= LARGEST else None


@dataclass(frozen=True)
class Written:
    """What was read: the names, those that only stand for other names, and the packed ones.

    `loose` are the names that have a file of their own.
    """

    names: Names
    symbolic: dict[str, str]
    packed: Packed
    loose: frozenset[str]


def read_names(git_dir: Path, lying: Iterable[GitEntry]) -> Written:
    """Return what git's names and logs say."""
    head = target_of(plain_content(git_dir / "HEAD") or b"")
    content = plain_content(git_dir / "packed-refs")
    packed = Packed({}) if content is None else packed_names(content)
    ids, damaged, symbolic, logs = dict(packed.names), set(), {}, {}
    loose = set()
    for each in lying:
        if not each.is_file or each.path.endswith(".lock"):
            continue
        if each.path.startswith("refs/") and is_name(each.path):
            found = target_of(plain_content(git_dir / each.path) or b"")
            loose.add(each.path)
            if found is None:
                damaged.add(each.path)
                ids.pop(each.path, None)
            elif found.name:
                symbolic[each.path] = found.name
            elif found.id:
                ids[each.path] = found.id
        elif each.path.startswith("logs/"):
            name = each.path.removeprefix("logs/")
            if name == "HEAD" or is_name(name):
                logs[name] = read_log(plain_content(git_dir / each.path) or b"")
    for name in packed.names:
        # A branch that is packed and has a log stands where the log says: had it moved since, it
        # would have a file of its own, which is lost.
        newest = logs[name].newest if name in logs else None
        if name not in loose and newest not in (None, ids[name]):
            ids[name] = str(newest)
            damaged.add(name)
    return Written(Names(head, ids, damaged, logs), symbolic, packed, frozenset(loose))


def latest_of(clone: Path) -> str | None:
    """Return the latest commit another clone names."""
    git_dir = clone / ".git"
    return read_names(git_dir, lying_in(git_dir)).names.latest
