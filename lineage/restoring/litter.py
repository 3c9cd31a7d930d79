"""What killed gits leave behind: lock files, which block the next one, and half-written things."""

import os
import re
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

from trueup.lineage.restoring.acts import Act, Aside, TakeAway
from trueup.lineage.restoring.findings import Cure, Help, Trouble, Wrong
from trueup.lineage.restoring.plain import GitEntry
from trueup.lineage.store.files.paths import MADE_READY

STALE = 60.0
"""Seconds after which a lock file is nobody's, where it can be seen that no git is at work here."""

STALE_UNSEEN = 3600.0
"""The same where that cannot be seen; an editor of a commit's message may stand open for long."""

_LOCK = re.compile(r"(?!objects/[0-9a-f]{2}/|trueup/).+\.lock|gc\.pid|packed-refs\.new")
_HALF = re.compile(
    r"objects/([0-9a-f]{2}/|pack/)?(\.?tmp[_-][^/]+)|objects/info/[^/]*tmp[^/]*"
    rf"|trueup/{MADE_READY}[^/]+"
)
_REPORT = re.compile(r"fast_import_crash_[^/]+")


def litter(
    folder: Path, lying: Iterable[GitEntry], now: float
) -> Iterator[tuple[Trouble, tuple[Act, ...]]]:
    """Yield what is left behind, with what is to be done; what a git at work may need is named."""
    found = [each for each in lying if each.is_file and _is_litter(each.path)]
    if not found:
        return
    at_work = git_at_work(folder)
    longest = STALE_UNSEEN if at_work is None else STALE
    for each in found:
        place = f".git/{each.path}"
        is_stale = not at_work and now - each.status.st_mtime >= longest
        if _LOCK.fullmatch(each.path):
            if is_stale:
                yield Trouble(Wrong.LOCK, place, Cure.ASIDE), (Aside(place),)
            else:
                yield Trouble(Wrong.LOCK, place, help=Help.WAIT), ()
        elif is_stale:
            is_report = _REPORT.fullmatch(each.path) is not None
            cure = Cure.ASIDE if is_report else Cure.TAKEN_AWAY
            yield (
                Trouble(Wrong.LITTER, place, cure),
                (Aside(place) if is_report else TakeAway(place),),
            )


def _is_litter(path: str) -> bool:
    return any(form.fullmatch(path) for form in (_LOCK, _HALF, _REPORT))


def git_at_work(folder: Path) -> bool | None:
    """Return whether a git is at work in a folder; None where this system does not say."""
    processes = Path("/proc")
    if not (processes / "self" / "cwd").exists():
        return None
    inside = os.path.realpath(folder)
    for process in processes.iterdir():
        if not process.name.isdigit():
            continue
        try:
            if not (process / "comm").read_bytes().startswith(b"git"):
                continue
            place = os.readlink(process / "cwd")
        except PermissionError:
            return True  # somebody else's git, that may be at work anywhere
        except OSError:
            continue
        if place == inside or place.startswith(inside + os.sep):
            return True
    return False


def moment() -> float:
    """Return the time as files have it, in seconds."""
    return time.time()
