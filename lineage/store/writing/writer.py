"""The one who writes: take the lock, plan a step, record it; finish what was interrupted."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress

from trueup.lineage.errors import (
    CannotWrite,
    Detached,
    HandEdited,
    MovedOn,
    NoSuchFile,
    StepUnclear,
    UnsafePath,
    WardrobeError,
)
from trueup.lineage.store.files.paths import (
    require_contained,
    require_room_beside,
    require_writable_name,
)
from trueup.lineage.store.files.working_files import FileChange, WorkingFiles, blob_id
from trueup.lineage.store.git import lock_files, objects
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins.half_merge import HalfMerge, edited_since, half_merge, other_side
from trueup.lineage.store.joins.merge_errors import HalfMerged
from trueup.lineage.store.writing import index, step, unfinished
from trueup.lineage.store.writing.recorded import say_recorded
from trueup.lineage.store.writing.settling import Settling
from trueup.lineage.store.writing.writers_lock import WritersLock


class Writer:
    """Writes steps to one wardrobe, one writer at a time."""

    def __init__(
        self, git: QuietGit, files: WorkingFiles, listing: Callable[[str], objects.Listing]
    ) -> None:
        """Take what it works with; `listing` tells the files of a commit."""
        self._git = git
        self._files = files
        self._listing = listing
        self._lock = WritersLock(git.work_tree, git.git_dir)
        self._settling = Settling(git, files)

    @contextmanager
    def writing(self) -> Iterator[None]:
        """See `Store.writing`."""
        nested = self._lock.is_held
        self._take_lock(lock_files.PATIENCE)
        try:
            if not nested:
                self._settling.settle()
            yield
        finally:
            self._let_go_once()

    def let_go(self) -> None:
        """Give the lock back, if it is held."""
        self._lock.let_go()
        self._git.kept_open = self._lock.inherited

    def _take_lock(self, patience: float) -> None:
        self._lock.take(patience)
        self._git.kept_open = self._lock.inherited

    def _let_go_once(self) -> None:
        self._lock.release()
        self._git.kept_open = self._lock.inherited

    def commit(
        self,
        writes: Mapping[str, bytes | None],
        message: str,
        expected_head: str,
        joins: str | None = None,
    ) -> str:
        """See `Store.commit`; `message` is the whole text, `joins` a second parent."""
        with self.writing():
            head = objects.commit_id(self._git, "HEAD")
            branch = step.current_branch(self._git)
            if branch is None:
                raise Detached(self._git.work_tree, head)
            if head != expected_head:
                raise MovedOn(expected_head, head)
            half = self._half_merge(head, joins)
            present = self._listing(head)
            changes = self._plan(writes, present, head, half)
            contents = {path: writes[path] for path in changes}
            if half is not None:
                changes |= self._put_right(half, changes, present, head)
            staged = self._staged(changes, contents)
            locks = (index.lock_of(self._git.git_dir), *step.locks_of(self._git, branch))
            lock_files.wait_until_free(*locks)
            self._files.require_replaceable(changes)
            target = self._record(staged, contents, message, head, joins)
            self._move(branch, target, head)
            say_recorded(target)
            self._settling.follow(target, changes, joins)
            return target

    def rewrite(self, path: str, written: bytes, content: bytes) -> None:
        """See `Store.rewrite`."""
        head = objects.commit_id(self._git, "HEAD")
        change = FileChange(blob_id(written, head), blob_id(content, head))
        self._files.stage({path: content})
        try:
            self._files.bring({path: change}, head)
        except OSError as error:
            raise CannotWrite(path, error.strerror or str(error)) from error
        self._files.discard_staged()
        if self._files.content_id_if_plain(path, head) != change.after:
            raise HandEdited((path,))

    def _record(
        self,
        staged: Mapping[str, bytes],
        contents: Mapping[str, bytes | None],
        message: str,
        head: str,
        joins: str | None,
    ) -> str:
        """Store all of a step out of sight; where that fails nothing is left of it."""
        self._files.stage(staged)
        try:
            return step.record(self._git, head, contents, message, joins)
        except WardrobeError:
            with suppress(CannotWrite):
                self._files.discard_staged()
            raise

    def _move(self, branch: str, target: str, head: str) -> None:
        """Let a stored step count; where that fails it is dropped, or is told to be unclear."""
        git_dir = self._git.git_dir
        try:
            unfinished.keep(git_dir, target, branch)
            try:
                step.move_branch(self._git, branch, target, head)
            finally:
                self._settling.take_locks_away(unfinished.read(git_dir))
        except StepUnclear:
            raise
        except WardrobeError as error:
            try:
                self._settling.drop()
            except CannotWrite as failure:
                raise StepUnclear(failure.place, failure.reason) from error
            raise

    def _half_merge(self, head: str, joins: str | None) -> HalfMerge | None:
        """Return the merge git stopped in, if it is the one to be finished; refuse any other."""
        other = other_side(self._git)
        if other is None:
            return None
        if other != joins:
            raise HalfMerged(self._git.work_tree, other)
        return half_merge(self._git, head)

    def _put_right(
        self,
        half: HalfMerge,
        changes: Mapping[str, FileChange],
        present: Mapping[str, str],
        head: str,
    ) -> dict[str, FileChange]:
        """Return what becomes of every file git's half merge touched."""
        after = dict(present)
        for path, change in changes.items():
            after.pop(path, None)
            if change.after is not None:
                after[path] = change.after
        found = half.changes(self._files, present, after, head)
        edited = edited_since(half, found, self._files, head)
        if edited:
            raise HandEdited(edited)
        return found

    def _staged(
        self, changes: Mapping[str, FileChange], contents: Mapping[str, bytes | None]
    ) -> dict[str, bytes]:
        """Return the new contents of the working files, those put back to the last version too."""
        back = {p: c.after for p, c in changes.items() if p not in contents and c.after is not None}
        stored = objects.read_blobs(self._git, [b for b in back.values() if b is not None])
        new = {path: content for path, content in contents.items() if content is not None}
        return {**new, **{path: stored[blob] for path, blob in back.items()}}

    def settle_unless_busy(self) -> None:
        """Settle for a reader: who only reads need not wait for a writer, nor be able to write."""
        try:
            self._take_lock(0)
        except WardrobeError:
            return
        try:
            self._settling.settle()
        except UnsafePath:
            raise
        except WardrobeError:
            return
        finally:
            self._let_go_once()

    def _plan(
        self,
        writes: Mapping[str, bytes | None],
        present: Mapping[str, str],
        head: str,
        half: HalfMerge | None = None,
    ) -> dict[str, FileChange]:
        """Return what a step changes, or refuse it for its names or for edits by hand."""
        changes = {}
        for path, content in writes.items():
            if content is None:
                require_contained(path)
                if path not in present:
                    raise NoSuchFile(path)
            elif path not in present:
                require_writable_name(path)
            after = None if content is None else blob_id(content, head)
            if present.get(path) != after:
                changes[path] = FileChange(present.get(path), after)
        new = [path for path, change in changes.items() if change.before is None]
        if new:
            gone = {path for path, change in changes.items() if change.after is None}
            require_room_beside(new, present.keys() - gone)
        edited = [
            path
            for path, change in changes.items()
            if (half is None or path not in half.left)
            and self._files.content_id(path, head) not in (change.before, change.after)
        ]
        if edited:
            raise HandEdited(tuple(edited))
        return changes
