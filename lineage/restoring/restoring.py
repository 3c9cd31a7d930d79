"""Say what is wrong with a wardrobe and mend it; deletes nothing, and says what is lost.

First all is looked over, in a room of its own, and planned to the end; only then, and only if there
is something to do, the writers' lock is taken and the plan made again and carried out. Killed at
any moment, the next look finds what is left to do.
"""

import os
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from lineage.errors import (
    BadRecord,
    CannotWrite,
    NotAWardrobe,
    UnsafePath,
    WardrobeError,
)
from lineage.opened import OpenWardrobe
from lineage.restoring.acts import Act, Aside, TakeAway
from lineage.restoring.carrying_out import MAKING, Hands
from lineage.restoring.findings import Finding, Help, Restored, Wrong
from lineage.restoring.repository import Plan, planned
from lineage.restoring.working.looking import FilesLook, FilesPlan
from lineage.restoring.working.versions import Source, content_of
from lineage.store import Store, unfinished
from lineage.store.lock_files import PATIENCE
from lineage.store.merge_errors import NotAClone
from lineage.store.objects import list_tree
from lineage.store.paths import OWN_FOLDER, SETTINGS, require_contained
from lineage.store.plain_repository import require_own_folder, require_plain_repository
from lineage.store.quiet_git import QuietGit
from lineage.store.writers_lock import WritersLock
from lineage.trail import VERB
from lineage.unreadable import causes

_MOST_ROUNDS = 4
"""What was in the way can hide more; what is left after so many looks is told."""

RESTORE = "restore"


def restore(folder: Path, *, clone: Path | None = None, preview: bool = False) -> Restored:
    """Look over a whole wardrobe and mend what can be mended; with `preview` only say it.

    What is missing is also looked for in another clone on this machine, of which nothing runs.
    Raises `NotAWardrobe`, `NotAClone`, `Busy`, `GitMissing`.
    """
    place = Path(os.path.abspath(folder))
    require_own_folder(place)
    other = _require_clone(clone)
    if not preview:
        _settle(place)
    found, edited = _look(place, other)
    if preview or not any(finding.cure for finding in found):
        return Restored(found, found, edited=edited)
    return _Mending(place, other).run()


def put_back(folder: Path, paths: Sequence[str], *, preview: bool = False) -> Restored:
    """Put the last version that can be read of some working files back, whatever is there now.

    Raises `NoSuchFile` for a file that was never recorded, and whatever opening raises.
    """
    place = Path(os.path.abspath(folder))
    named = [_named(place, path) for path in paths]
    with Store.open(place) as store:
        git = QuietGit(place, place / ".git")
        if preview:
            plan = FilesLook(place, git, store.head()).at(named)
            return Restored(plan.findings, plan.findings)
        hands = Hands(place, _reader(git))
        with store.writing():
            plan = FilesLook(place, git, store.head()).at(named)
            hands.carry_out(plan.acts)
            commit = _record(store, git, plan.record)
    return Restored(plan.findings, (), hands.aside, commit)


def _named(folder: Path, path: str) -> str:
    """Return a path as the wardrobe has it, from one that begins at its folder or at the root."""
    plain = os.path.normpath(path)
    if os.path.isabs(plain):
        plain = os.path.relpath(plain, folder)
    named = Path(plain).as_posix()
    require_contained(named)
    return named


def _require_clone(clone: Path | None) -> Path | None:
    if clone is None:
        return None
    place = Path(os.path.abspath(clone))
    try:
        require_plain_repository(place)
    except NotAWardrobe as error:
        raise NotAClone(place, error.reason) from error
    return place


def _settle(folder: Path) -> None:
    """Finish a step that was interrupted, if the wardrobe is whole enough to be opened."""
    if unfinished.read(folder / ".git") is not None:
        try:
            Store.open(folder).close()
        except WardrobeError:
            return


def _look(folder: Path, clone: Path | None) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Return all that is wrong, and what was edited by hand; nothing is written."""
    with planned(folder, clone, time.time()) as plan:
        _require_wardrobe(folder, plan)
        behind, files = _files(folder, plan)
        found = (*plan.findings, *behind.findings, *files.findings)
        moving = {finding.place for finding in behind.findings}
        edited = tuple(path for path in files.edited if path not in moving)
    if not found:
        found = _what_is_refused(folder)
    return found, edited


def _files(folder: Path, plan: Plan) -> tuple[FilesPlan, FilesPlan]:
    """Return what is planned for files that did not follow the latest step, and for all others."""
    if plan.made is None or plan.tip is None:
        return FilesPlan(), FilesPlan()
    try:
        behind = FilesLook(folder, plan.made.git, plan.tip).behind() if plan.step else FilesPlan()
        return behind, FilesLook(folder, plan.made.git, plan.tip).over_all()
    except WardrobeError as error:
        return FilesPlan(), FilesPlan((_refused(folder, error),))


def _require_wardrobe(folder: Path, plan: Plan) -> None:
    """Refuse a repository that never was a wardrobe: it is none of ours to mend."""
    if any(os.path.lexists(folder / name) for name in (SETTINGS, f".git/{OWN_FOLDER}")):
        return
    if plan.made is not None and plan.tip is not None:
        try:
            if SETTINGS in list_tree(plan.made.git, plan.tip):
                return
        except WardrobeError:
            pass
    raise NotAWardrobe(folder, f"it holds no {SETTINGS}")


def _what_is_refused(folder: Path) -> tuple[Finding, ...]:
    """Return what keeps a wardrobe from being opened and read, now that nothing else is wrong."""
    try:
        with OpenWardrobe.open(folder) as wardrobe:
            found = causes(wardrobe.state.unreadable)
    except CannotWrite:
        return ()
    except BadRecord as error:
        return (Finding(Wrong.FILE, error.place, help=Help.BY_HAND, reason=error.reason),)
    except WardrobeError as error:
        return (_refused(folder, error),)
    return tuple(
        Finding(Wrong.FILE, each.place, help=Help.BY_HAND, reason=each.reason) for each in found
    )


def _refused(folder: Path, error: WardrobeError) -> Finding:
    return Finding(Wrong.REFUSED, str(folder), help=Help.BY_HAND, error=error)


class _Mending:
    """Mends one wardrobe, round by round, until nothing is left that can be mended."""

    def __init__(self, folder: Path, clone: Path | None) -> None:
        self._folder = folder
        self._clone = clone
        self._hands = Hands(folder)
        self._found: dict[Finding, None] = {}
        self._commit: str | None = None

    def run(self) -> Restored:
        """Mend what can be mended, and look again whether all is whole."""
        stopped: WardrobeError | None = None
        try:
            for _ in range(_MOST_ROUNDS):
                if not (self._mend_repository() or self._mend_files()):
                    break
        except WardrobeError as error:
            stopped = error
        remaining, edited = _look(self._folder, self._clone)
        self._found |= dict.fromkeys(remaining)
        return Restored(
            tuple(self._found), remaining, self._hands.aside, self._commit, edited, stopped
        )

    def _mend_repository(self) -> bool:
        """Mend what git keeps; returns whether there was anything to do."""
        with (
            _lock(self._folder, self._hands),
            planned(self._folder, self._clone, time.time()) as plan,
        ):
            behind, _ = _files(self._folder, plan) if plan.step else (FilesPlan(), FilesPlan())
            acts = [*_acts(plan.planned), *behind.acts, *_acts(plan.step)]
            if acts:
                self._found |= dict.fromkeys((*plan.findings, *behind.findings))
                if plan.made is not None:
                    self._hands.content_of = _reader(plan.made.git)
                self._hands.carry_out(acts)
        return bool(acts)

    def _mend_files(self) -> bool:
        """Mend the working files; returns whether there was anything to do."""
        git = QuietGit(self._folder, self._folder / ".git")
        try:
            store = Store.open(self._folder)
        except WardrobeError:
            return False  # told when all is looked over again
        with store, store.writing():
            try:
                plan = FilesLook(self._folder, git, store.head()).over_all()
            except UnsafePath:
                return False
            if not plan.acts:
                return False
            self._found |= dict.fromkeys(plan.findings)
            self._hands.content_of = _reader(git)
            self._hands.carry_out(plan.acts)
            self._commit = _record(store, git, plan.record) or self._commit
        return True


def _acts(told: Sequence[tuple[Finding | None, tuple[Act, ...]]]) -> list[Act]:
    return list(dict.fromkeys(act for _, acts in told for act in acts))


def _reader(git: QuietGit) -> Callable[[str], bytes]:
    def read(blob: str) -> bytes:
        content = content_of(git, blob)
        if content is None:
            raise CannotWrite(str(git.work_tree), f"the content {blob} is gone")
        return content

    return read


def _record(store: Store, git: QuietGit, sources: Sequence[Source]) -> str | None:
    """Record files as they were in an earlier version, as one step; None where there are none."""
    read = _reader(git)
    writes = {source.path: read(source.blob) for source in sources}
    if not writes:
        return None
    told = [
        f"{each.path} as of {each.version.id[:8]} ({each.version.subject})"
        for each in sources
        if each.version is not None
    ]
    subject = f"Restore {told[0]}"
    if len(told) > 1:
        subject = f"Restore {len(told)} files as of earlier versions\n\n" + "\n".join(told)
    return store.commit(writes, subject, {VERB: RESTORE}, expected_head=store.head())


@contextmanager
def _lock(folder: Path, hands: Hands) -> Iterator[None]:
    """Keep all writers out; what stands where the lock should is moved first."""
    room = f".git/{OWN_FOLDER}"
    for place in (room, f"{room}/lock", f"{room}/gits"):
        there = folder / place
        is_right = there.is_dir() if place == room else there.is_file()
        if os.path.lexists(there) and (there.is_symlink() or not is_right):
            hands.carry_out([Aside(place)])
    lock = WritersLock(folder, folder / ".git")
    lock.take(PATIENCE)
    try:
        # Nobody else makes such files: who has the lock knows that whoever did is dead.
        for left in (folder / room).glob(f"{MAKING}*"):
            hands.carry_out([TakeAway(f"{room}/{left.name}")])
        yield
    finally:
        lock.let_go()
