"""Take the latest version out of another clone on this machine, without running anything of it.

The clone may be a stranger's. Nothing is fetched: git would start a second git in that folder,
under that folder's settings. Instead its objects are packed by our own quiet git and unpacked
into ours, each checked on the way.
"""

import tempfile
from pathlib import Path
from typing import IO

from trueup.lineage.errors import (
    CannotRead,
    CannotWrite,
    Damaged,
    NotAWardrobe,
    UnknownRevision,
    WardrobeError,
)
from trueup.lineage.limits import LARGEST_FILE, LARGEST_PACK
from trueup.lineage.store.files.plain_repository import require_plain_repository
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.making import making
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins.merge_errors import NotAClone

LONGEST_ANSWER = 60.0
"""Seconds a git may take over another clone; ten thousand patterns take a tenth of it."""


def latest_of(git: QuietGit, folder: Path, head: str) -> str:
    """Return the id of a clone's latest commit, with all it needs brought into our objects.

    No branch of ours moves and no file changes. The writer's lock must be held. Raises NotAClone,
    CannotWrite, Damaged.
    """
    try:
        require_plain_repository(folder)
    except NotAWardrobe as error:
        raise NotAClone(folder, str(error.reason)) from error
    there = QuietGit(folder, folder / ".git", time_limit=LONGEST_ANSWER)
    try:
        wanted = objects.commit_id(there, "HEAD")
        if objects.look_up(git, [f"{wanted}^{{commit}}"]) != [None] and _is_whole(
            git, wanted, head
        ):
            return wanted
        _require_common(git, there, folder, head, wanted)
        _bring(git, there, wanted)
    except UnknownRevision as error:
        raise NotAClone(folder, _why_no_version(there)) from error
    except CannotRead:
        raise
    except Damaged as error:
        if error.place != str(there.git_dir):
            raise
        raise NotAClone(folder, f"it is damaged ({error.reason})") from error
    if not _is_whole(git, wanted, head):
        raise NotAClone(folder, "a part of its history is missing")
    return wanted


def _why_no_version(there: QuietGit) -> str:
    """Return why a clone gives no latest version: it names one that is gone, or none."""
    answer = there.ask("rev-parse", "--quiet", "--verify", "HEAD")
    if answer.status != 0:
        return "it has no version yet"
    named = answer.output.decode(errors="replace").strip()
    return f"it is damaged (its latest version {named} cannot be read)"


def _require_common(git: QuietGit, there: QuietGit, folder: Path, head: str, wanted: str) -> None:
    """Refuse another wardrobe before any of it is brought in."""
    mine = set(git.run("rev-list", head).split())
    with there.reading("rev-list", wanted) as output:
        if not any(line.strip() in mine for line in output):
            raise NotAClone(folder, "it has no version in common with this wardrobe")


def _bring(git: QuietGit, there: QuietGit, wanted: str) -> None:
    known = [line.split(b" ")[0] for line in git.run("for-each-ref").splitlines()]
    found = [each.id for each in objects.look_up(there, [k.decode() for k in known]) if each]
    _require_moderate(there, wanted, found)
    revisions = _revisions(wanted, found)
    try:
        with tempfile.TemporaryFile(dir=git.git_dir) as pack:
            size = 0
            with there.reading(
                "pack-objects", "--quiet", "--revs", "--stdout", feed=revisions
            ) as data:
                while chunk := data.read(1 << 20):
                    size += len(chunk)
                    if size > LARGEST_PACK:
                        raise NotAClone(there.work_tree, "its history is too large to be read")
                    pack.write(chunk)
            pack.seek(0)
            _unpack(git, there, wanted, pack)
    except OSError as error:
        raise CannotWrite(str(git.git_dir), error.strerror or str(error)) from error


def _unpack(git: QuietGit, there: QuietGit, wanted: str, pack: IO[bytes]) -> None:
    with making(git, wanted) as aside:
        answer = aside.ask("unpack-objects", "-q", "--strict", feed=pack)
        if answer.status != 0:
            failure = git.failure("unpack-objects", answer)
            if isinstance(failure, Damaged):
                raise NotAClone(there.work_tree, f"its objects are damaged ({failure.reason})")
            raise failure


def _require_moderate(there: QuietGit, wanted: str, known: list[str]) -> None:
    """Refuse contents that would unpack to more than can be read safely."""
    revisions = _revisions(wanted, known)
    objects_of = ("rev-list", "--objects", "--no-object-names", "--stdin")
    total = 0
    with (
        there.reading(*objects_of, feed=revisions) as ids,
        there.reading("cat-file", "--batch-check=%(objectsize)", "--buffer", feed=ids) as sizes,
    ):
        for line in sizes:
            if not line.strip().isdigit():
                raise NotAClone(there.work_tree, "a part of its history is missing")
            total += int(line)
            if total > LARGEST_PACK or int(line) > LARGEST_FILE:
                raise NotAClone(there.work_tree, "what it holds is too large to be read")


def _revisions(wanted: str, known: list[str]) -> bytes:
    return "\n".join([wanted, *(f"^{each}" for each in known), ""]).encode()


def _is_whole(git: QuietGit, wanted: str, head: str) -> bool:
    """Return whether everything a version needs is here, beyond what our own has."""
    try:
        git.run("rev-list", "--objects", "--quiet", wanted, "--not", head)
    except WardrobeError:
        return False
    return True
