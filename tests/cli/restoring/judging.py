"""Is a wardrobe whole after `restore`, is everything told, and was nothing deleted?"""

import hashlib
import os
from dataclasses import dataclass
from pathlib import Path

from tests.cli.conftest import Answer, run
from tests.cli.restoring.story import git

UNEXPECTED = "something it did not expect"

_LITTER = ("trueup/lock", "trueup/gits")


def restore(folder: Path, *words: str) -> Answer:
    return run("-C", str(folder), "restore", *words)


@dataclass(frozen=True)
class Before:
    """What a wardrobe was: its steps, and its working files."""

    steps: frozenset[str]
    files: dict[str, bytes]


def before(folder: Path) -> Before:
    return Before(frozenset(git(folder, "rev-list", "--all").split()), working_files(folder))


def working_files(folder: Path) -> dict[str, bytes]:
    found = {}
    for above, folders, files in os.walk(folder):
        if ".git" in folders:
            folders.remove(".git")
        for name in files:
            path = Path(above) / name
            if not path.is_symlink() and not name.startswith(".trueup-cache"):
                found[path.relative_to(folder).as_posix()] = path.read_bytes()
    return found


def contents(folder: Path) -> set[str]:
    """Return a digest of what each file holds, wherever it lies, and where each link leads."""
    found = set()
    for above, _, files in os.walk(folder):
        for name in files:
            path = Path(above) / name
            text = os.readlink(path).encode() if path.is_symlink() else path.read_bytes()
            found.add(hashlib.sha256(text).hexdigest())
    return found


def snapshot(folder: Path) -> dict[str, tuple[int, str]]:
    """Return every file with when it was written and what it holds, but for the writers' lock."""
    found = {}
    for above, _, files in os.walk(folder):
        for name in files:
            path = Path(above) / name
            place = path.relative_to(folder).as_posix()
            if not place.endswith(_LITTER) and not name.startswith(".trueup-cache"):
                text = os.readlink(path).encode() if path.is_symlink() else path.read_bytes()
                digest = hashlib.sha256(text).hexdigest()
                found[place] = (os.lstat(path).st_mtime_ns, digest)
    return found


def faults(folder: Path, was: Before, *words: str) -> list[str]:
    """Restore a damaged wardrobe, twice, and return everything about it that is not as promised."""
    lying = contents(folder)
    answer = restore(folder, *words)
    told = answer.out + answer.err
    found = []
    if answer.code not in (0, 3) or UNEXPECTED in told or "Traceback" in told:
        found.append(f"exit {answer.code}: {told}")
    gone = lying - contents(folder)
    if gone and "taken away" not in told:
        found.append(f"{len(gone)} contents were deleted: {told}")
    if answer.code == 0:
        found += _not_whole(folder, was, told)
    elif "Not whole" not in told and not answer.err:
        found.append(f"exit 3 without saying what helps: {told}")
    for path, content in was.files.items():
        lies = working_files(folder).get(path)
        if lies != content and path not in told:
            found.append(f"{path} is another and nothing is told of it: {told}")
    seen = snapshot(folder)
    again = restore(folder, *words)
    if again.code != answer.code:
        found.append(f"exit {answer.code}, then {again.code}: {told} --- {again.out}{again.err}")
    if "Mended" in again.out:
        found.append(f"mended twice: {told} --- {again.out}")
    if snapshot(folder) != seen:
        changed = {p for p in seen | snapshot(folder) if seen.get(p) != snapshot(folder).get(p)}
        found.append(f"the second time changed {changed}: {again.out}")
    return found


def _not_whole(folder: Path, was: Before, told: str) -> list[str]:
    found = []
    checked = git(folder, "fsck", "--full", "--strict", "--no-dangling", fails=True)
    complaint = [line for line in checked.splitlines() if line]
    if complaint:
        found.append(f"git fsck: {complaint}")
    kept = set(git(folder, "rev-list", "--all", fails=True).split())
    untold = [step for step in was.steps - kept if step[:10] not in told]
    if untold:
        found.append(f"lost and not told: {untold}; {told}")
    history = run("-C", str(folder), "history")
    if history.code != 0:
        found.append(f"history: {history.err}")
    status = git(folder, "status", "--porcelain", "--untracked-files=no", fails=True)
    if status and "Edited by hand" not in told:
        found.append(f"status: {status}; {told}")
    return found
