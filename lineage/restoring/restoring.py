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

from trueup.lineage.errors import CannotWrite, NotAWardrobe, WardrobeError
from trueup.lineage.restoring.acts import Act, Aside, Folder, TakeAway
from trueup.lineage.restoring.carrying_out import Hands
from trueup.lineage.restoring.findings import Restored, Trouble
from trueup.lineage.restoring.looking_over import DamageSeen, is_joining, look_at_files, look_over
from trueup.lineage.restoring.repository import planned
from trueup.lineage.restoring.working.looking import FilesLook
from trueup.lineage.restoring.working.versions import Source, content_of
from trueup.lineage.store import Store
from trueup.lineage.store.files.paths import MADE_READY, OWN_FOLDER, SETTINGS, require_contained
from trueup.lineage.store.files.plain_repository import require_own_folder, require_plain_repository
from trueup.lineage.store.git.lock_files import PATIENCE
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins.merge_errors import NotAClone
from trueup.lineage.store.writing import unfinished
from trueup.lineage.store.writing.writers_lock import WritersLock
from trueup.lineage.trail import VERB

_MOST_ROUNDS = 4
"""What was in the way can hide more; what is left after so many looks is told."""

RESTORE = "restore"


def restore(folder: Path, *, clone: Path | None = None, preview: bool = False) -> Restored:
    """Look over a whole wardrobe and mend what can be mended; with `preview` only say it.

    What is missing is also looked for in another clone on this machine, of which nothing runs.
    Raises `NotAWardrobe`, `NotAClone`, `Busy`, `GitMissing`.
    """
    place = Path(os.path.abspath(folder))
    other = _require_clone(clone)
    if other is None or os.path.lexists(place / ".git") or not (place / SETTINGS).is_file():
        require_own_folder(place)
    if not preview:
        _settle(place)
    seen = look_over(place, other)
    if preview or not seen.can_be_restored:
        return Restored(seen.found, seen.found, edited=seen.edited)
    return _Restoring(place, other, seen).run()


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
        raise NotAClone(place, str(error.reason)) from error
    return place


def _settle(folder: Path) -> None:
    """Finish a step that was interrupted, if the wardrobe is whole enough to be opened."""
    if unfinished.read(folder / ".git") is not None:
        try:
            Store.open(folder).close()
        except WardrobeError:
            return


class _Restoring:
    """Mends one wardrobe, round by round, until nothing is left that can be mended."""

    def __init__(self, folder: Path, clone: Path | None, seen: DamageSeen) -> None:
        self._folder = folder
        self._clone = clone
        self._seen = seen
        self._hands = Hands(folder)
        self._found: dict[Trouble, None] = {}
        self._commit: str | None = None

    def run(self) -> Restored:
        """Mend what can be mended, looking again after each round whether all is whole."""
        stopped: WardrobeError | None = None
        for _ in range(_MOST_ROUNDS):
            before = self._seen
            try:
                if before.of_git:
                    self._restore_repository()
                self._restore_files()
            except WardrobeError as error:
                stopped = error
            self._seen = look_over(self._folder, self._clone)
            if stopped or not self._seen.can_be_restored or self._seen == before:
                break
        left = self._seen.found
        return Restored(
            tuple(self._found | dict.fromkeys(left)),
            left, self._hands.aside, self._commit, self._seen.edited, stopped,
        )  # fmt: skip

    def _restore_repository(self) -> None:
        """Mend what git keeps."""
        with (
            _lock(self._folder, self._hands),
            planned(self._folder, self._clone, time.time()) as plan,
        ):
            behind, _ = look_at_files(self._folder, plan)
            acts = [*_acts(plan.planned), *behind.acts, *_acts(plan.step)]
            if acts:
                self._found |= dict.fromkeys((*plan.findings, *behind.findings))
                if plan.made is not None:
                    self._hands.content_of = _reader(plan.made.git)
                self._hands.carry_out(acts)

    def _restore_files(self) -> None:
        """Mend the working files, if the wardrobe can be opened."""
        if is_joining(self._folder):
            return
        git = QuietGit(self._folder, self._folder / ".git")
        try:
            store = Store.open(self._folder)
        except WardrobeError:
            return  # told when all is looked over again
        with store, store.writing():
            try:
                plan = FilesLook(self._folder, git, store.head()).over_all()
            except WardrobeError:
                return  # as above
            if not plan.acts:
                return
            self._found |= dict.fromkeys(plan.findings)
            self._hands.content_of = _reader(git)
            self._hands.carry_out(plan.acts)
            self._commit = _record(store, git, plan.record) or self._commit


def _acts(told: Sequence[tuple[Trouble | None, tuple[Act, ...]]]) -> list[Act]:
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
    hands.carry_out([Folder(".git")])
    for place in (room, f"{room}/lock", f"{room}/gits"):
        there = folder / place
        is_right = there.is_dir() if place == room else there.is_file()
        if os.path.lexists(there) and (there.is_symlink() or not is_right):
            hands.carry_out([Aside(place)])
    lock = WritersLock(folder, folder / ".git")
    lock.take(PATIENCE)
    try:
        # Nobody else makes such files: who has the lock knows that whoever did is dead.
        for left in (folder / room).glob(f"{MADE_READY}*"):
            hands.carry_out([TakeAway(f"{room}/{left.name}")])
        yield
    finally:
        lock.let_go()
