"""Bring the wardrobe to a step that is recorded; finish, or drop, one that was interrupted."""

from collections.abc import Mapping
from contextlib import suppress

from trueup.lineage.errors import CannotWrite, Locked, WardrobeError, WorkingFilesBehind
from trueup.lineage.store.files.paths import MADE_READY, OWN_FOLDER
from trueup.lineage.store.files.working_files import FileChange, WorkingFiles
from trueup.lineage.store.git import lock_files, making, objects
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins import text_merge
from trueup.lineage.store.joins.half_merge import finish, half_merge, other_side
from trueup.lineage.store.writing import founding, index, step, unfinished
from trueup.lineage.store.writing.unfinished import Unfinished


class Settling:
    """What is done with a step on its way, by whoever keeps all other writers out."""

    def __init__(self, git: QuietGit, files: WorkingFiles) -> None:
        self._git = git
        self._files = files

    def follow(
        self, target: str, changes: Mapping[str, FileChange], joins: str | None = None
    ) -> None:
        """Bring the working files and the index to a step that is recorded.

        Whatever goes wrong here, the step is recorded, and what is raised says so.
        """
        try:
            self._files.bring(changes, target)
            index.bring(self._git, target, changes)
            if joins is not None:
                finish(self._git, joins)
            self.drop()
        except OSError as error:
            place = str(error.filename2 or error.filename or self._git.work_tree)
            raise WorkingFilesBehind(place, error.strerror or str(error), target) from error
        except Locked as error:
            reason = "another git has held it for too long"
            raise WorkingFilesBehind(error.path, reason, target) from error
        except WardrobeError as error:
            place = str(getattr(error, "place", self._git.git_dir))
            reason = str(getattr(error, "reason", error))
            raise WorkingFilesBehind(place, reason, target) from error

    def drop(self) -> None:
        """Take away what a step on its way left; its line last, or nobody would see to the rest."""
        self._files.discard_staged()
        unfinished.forget(self._git.git_dir)

    def settle(self) -> None:
        """Finish a step that was interrupted, or drop it. The lock must be held."""
        found = unfinished.read(self._git.git_dir)
        self._sweep(found)
        if found is None:
            self.drop()
            return
        names = [found.commit, f"{found.commit}~1", "HEAD", f"{found.commit}^2"]
        names = [f"{name}^{{commit}}" for name in names]
        target, parent, head, joins = (
            each.id if each else None for each in objects.look_up(self._git, names)
        )
        if target is None:
            self.drop()
            return
        changes = self._changes_of(target, parent, joins)
        # Who was interrupted may have been about to move the branch. The step is taken forward and
        # not dropped, unless the maker has since edited what it would replace.
        is_next = head == parent and step.current_branch(self._git) == found.branch
        if head is not None and is_next and self._untouched(changes, target):
            step.move_branch(self._git, found.branch, target, head)
            head = target
        if head != target:
            self.drop()
            return
        try:
            if joins is None:  # what git's half merge left in the files is nobody's save
                self._files.give_back(changes, target)
            self._stage_late(changes, target)
        except OSError as error:
            place = str(error.filename2 or error.filename or self._git.work_tree)
            raise WorkingFilesBehind(place, error.strerror or str(error), target) from error
        except CannotWrite as error:
            raise WorkingFilesBehind(error.place, error.reason, target) from error
        self.follow(target, changes, joins)

    def _stage_late(self, changes: Mapping[str, FileChange], target: str) -> None:
        """Put the new content of the files that have not followed yet in the waiting room."""
        late = {
            path: change.after
            for path, change in self._still_before(changes, target).items()
            if change.after is not None
        }
        contents = objects.read_blobs(self._git, late.values())
        self._files.stage({path: contents[blob] for path, blob in late.items()})

    def _sweep(self, found: Unfinished | None) -> None:
        """Take away what gits of ours left that were killed; none of them lives any more."""
        git_dir = self._git.git_dir
        try:
            lock_files.take_away_marked(index.lock_of(git_dir))
            making.clear(git_dir)
            index.clear(git_dir)
            text_merge.clear(git_dir)
            for left in (git_dir / OWN_FOLDER).glob(f"{MADE_READY}*"):
                left.unlink(missing_ok=True)
            founding.clear(self._git.work_tree)
            self.take_locks_away(found)
        except OSError as error:
            place = str(error.filename or git_dir)
            raise CannotWrite(place, error.strerror or str(error)) from error

    def take_locks_away(self, found: Unfinished | None) -> None:
        """Take away the locks on its branch that a git left which moved it and ended badly."""
        if found is not None:
            with suppress(OSError):
                for lock in step.locks_of(self._git, found.branch):
                    lock_files.take_away_stale(lock, found.since)

    def _changes_of(
        self, target: str, parent: str | None, joins: str | None
    ) -> dict[str, FileChange]:
        """Return what an interrupted step does to the files, with those git's half merge left."""
        changes = objects.differences(self._git, parent, target)
        if joins is None or parent is None or other_side(self._git) != joins:
            return changes
        half = half_merge(self._git, parent)
        before, after = (objects.list_tree(self._git, each) for each in (parent, target))
        return {**changes, **(half.changes(self._files, before, after, target) if half else {})}

    def _untouched(self, changes: Mapping[str, FileChange], like: str) -> bool:
        return len(self._still_before(changes, like)) == len(changes)

    def _still_before(self, changes: Mapping[str, FileChange], like: str) -> dict[str, FileChange]:
        """Return the changes whose working files are as they were before the step."""
        return {
            path: change
            for path, change in changes.items()
            if self._files.content_id_if_plain(path, like) == change.before
        }
