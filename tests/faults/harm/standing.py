"""How a wardrobe stands, as plain git and the file system see it, with the program left out."""

import re
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

_ASIDE = ".git/trueup/aside"
_ID = re.compile(r"\b[0-9a-f]{8}\b")


@dataclass(frozen=True)
class Recorded:
    """One commit: its id, and what must be the same whenever the same step is recorded."""

    commit: str
    tree: str
    parents: int
    subject: str

    @property
    def content(self) -> tuple[str, int, str]:
        """What was recorded, whenever that was."""
        return (self.tree, self.parents, self.subject)


Chain = tuple[Recorded, ...]


def git(
    folder: Path, environment: Mapping[str, str], *words: str
) -> subprocess.CompletedProcess[str]:
    """Run plain git on a folder, such that looking changes nothing."""
    return subprocess.run(
        ["git", "-C", str(folder), *words],
        env={**environment, "GIT_OPTIONAL_LOCKS": "0"},
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
    )


def chain(folder: Path, environment: Mapping[str, str], *, in_words: bool = False) -> Chain:
    """Return the steps of a wardrobe, the first first; none where there is no wardrobe yet.

    `in_words` is for several steps made anew each time: the id of a step follows from the version
    it was made on, and a version from its time, so ids and contents are left out. Raises ValueError
    where git cannot read them.
    """
    if not (folder / ".git").exists():
        return ()
    form = "--format=%H%x09%T%x09%P%x09%s"
    told = git(folder, environment, "log", "--first-parent", "--reverse", form)
    if told.returncode != 0:
        raise ValueError(told.stderr.strip())
    lines = [line.split("\t", 3) for line in told.stdout.splitlines()]
    if in_words:
        lines = [[c, "", p, _ID.sub("#", subject)] for c, _, p, subject in lines]
    return tuple(Recorded(c, t, len(p.split()), subject) for c, t, p, subject in lines)


def everything(folder: Path, environment: Mapping[str, str]) -> frozenset[str]:
    """Return the ids of all commits of a wardrobe, those another maker made too."""
    told = git(folder, environment, "rev-list", "HEAD")
    return frozenset(told.stdout.split())


def recorded_names(folder: Path, environment: Mapping[str, str]) -> frozenset[str]:
    """Return the names of all files and folders of the latest version."""
    listed = git(folder, environment, "ls-tree", "-r", "-t", "-z", "--name-only", "HEAD").stdout
    return frozenset(listed.split("\0"))


def same(one: Sequence[Recorded], other: Sequence[Recorded]) -> bool:
    """Return whether two chains hold the same steps."""
    return [each.content for each in one] == [each.content for each in other]


def is_part(one: Sequence[Recorded], whole: Sequence[Recorded]) -> bool:
    """Return whether a chain is the beginning of another, or all of it."""
    return len(one) <= len(whole) and same(one, whole[: len(one)])


def unwhole(folder: Path, environment: Mapping[str, str]) -> str:
    """Return what git finds wrong with its objects or between the files and the latest version."""
    checked = git(folder, environment, "fsck", "--strict", "--no-dangling", "--no-progress")
    if checked.returncode != 0 or checked.stdout or checked.stderr:
        return f"fsck: {(checked.stdout + checked.stderr).strip()}"
    status = git(folder, environment, "status", "--porcelain")
    if status.returncode != 0 or status.stdout:
        return f"status: {(status.stdout + status.stderr).strip()}"
    return ""


def names(folder: Path) -> frozenset[str]:
    """Return the name of every file and folder in a wardrobe, but for those moved aside.

    Of git's objects only those are named that are none: what somebody left behind there.
    """
    found = set()
    for path in folder.rglob("*"):
        name = path.relative_to(folder).as_posix()
        if not _is_object(path, name) and not name.startswith(_ASIDE):
            found.add(name)
    return frozenset(found)


def _is_object(path: Path, name: str) -> bool:
    if not name.startswith(".git/objects/"):
        return False
    below = name.removeprefix(".git/objects/")
    first, _, last = below.partition("/")
    if first == "pack":
        whole = all(path.with_suffix(each).exists() for each in (".pack", ".idx"))
        return not last or (last.startswith("pack-") and whole)
    is_hex = set(first + last) <= set("0123456789abcdef")
    return first == "info" or (len(first) == 2 and is_hex and len(last) in (0, 38))
