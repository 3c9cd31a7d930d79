"""The one who writes: take the lock, plan a step, record it; finish what was interrupted."""

import os
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress

from filelock import FileLock, Timeout

from lineage.errors import (
    Busy,
    CannotWrite,
    Damaged,
    Detached,
    HandEdited,
    MovedOn,
    NoSuchFile,
    WardrobeError,
    WorkingFilesBehind,
)
from lineage.store import objects, step
from lineage.store.half_merge import HalfMerge, edited_since, finish, half_merge, other_side
from lineage.store.merge_errors import HalfMerged
from lineage.store.paths import require_contained, require_room_beside, require_writable_name
from lineage.store.quiet_git import QuietGit
from lineage.store.working_files import Change, WorkingFiles, blob_id

PATIENCE = 10.0
"""Seconds to wait for another writer; a step takes far less."""


class Writer:
    """Writes steps to one wardrobe, one writer at a time."""

    def __init__(self, git: QuietGit, files: WorkingFiles) -> None:
        self._git = git
        self._files = files
        self._lock = FileLock(git.git_dir / "trueup" / "lock", poll_interval=0.01)

    @contextmanager
    def writing(self) -> Iterator[None]:
        """See `Store.writing`."""
        nested = self._lock.is_locked
        self._take_lock(PATIENCE)
        try:
            if not nested:
                self._settle()
            yield
        finally:
            self._lock.release()

    def let_go(self) -> None:
        """Give the lock back, if it is held."""
        self._lock.release(force=True)

    def branch(self) -> str | None:
        """Return the full name of the branch the wardrobe stands on, None where on none."""
        answer = self._git.ask("symbolic-ref", "--quiet", "HEAD")
        name = answer.output.decode(errors="replace").strip()
        return name if name.startswith("refs/heads/") else None

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
            branch = self.branch()
            if branch is None:
                raise Detached(self._git.work_tree, head)
            if head != expected_head:
                raise MovedOn(expected_head, head)
            half = self._half_merge(head, joins)
            present = objects.list_tree(self._git, head)
            changes = self._plan(writes, present, head, half)
            contents = {path: writes[path] for path in changes}
            if half is not None:
                changes |= self._put_right(half, changes, present, head)
            staged = self._staged(changes, contents)
            self._wait_for_index()
            self._files.require_replaceable(changes)
            try:
                self._files.stage(staged)
                target = step.record(self._git, head, contents, message, joins)
                step.move_branch(self._git, branch, target, head)
            except WardrobeError:
                with suppress(WardrobeError):
                    self._drop()
                raise
            self._follow(target, changes, staged, joins)
            return target

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
        changes: Mapping[str, Change],
        present: Mapping[str, str],
        head: str,
    ) -> dict[str, Change]:
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
        self, changes: Mapping[str, Change], contents: Mapping[str, bytes | None]
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
        except (Busy, CannotWrite):
            return
        try:
            self._settle()
        except CannotWrite:
            return
        finally:
            self._lock.release()

    def _plan(
        self,
        writes: Mapping[str, bytes | None],
        present: Mapping[str, str],
        head: str,
        half: HalfMerge | None = None,
    ) -> dict[str, Change]:
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
                changes[path] = Change(present.get(path), after)
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

    def _follow(
        self,
        target: str,
        changes: Mapping[str, Change],
        staged: Mapping[str, bytes],
        joins: str | None = None,
    ) -> None:
        """Bring the working files and the index to a step that is recorded."""
        try:
            self._files.bring(changes, staged, target)
            step.bring_index(self._git, target, changes)
            if joins is not None:
                finish(self._git, joins)
            self._drop()
        except OSError as error:
            place = str(error.filename2 or error.filename or self._git.work_tree)
            raise WorkingFilesBehind(place, error.strerror or str(error), target) from error
        except (CannotWrite, Damaged) as error:
            raise WorkingFilesBehind(error.place, error.reason, target) from error

    def _drop(self) -> None:
        step.forget(self._git)
        self._files.discard_staged()

    def _settle(self) -> None:
        """Finish a step that was interrupted, or drop it. The lock must be held."""
        names = [step.STEP, f"{step.STEP}~1", "HEAD", f"{step.STEP}^2"]
        names = [f"{name}^{{commit}}" for name in names]
        target, parent, head, joins = (
            found.id if found else None for found in objects.look_up(self._git, names)
        )
        if target is None:
            self._files.discard_staged()
            return
        changes = self._changes_of(target, parent, joins)
        if head == parent and head is not None:
            # A killed writer's git may still be about to move the branch. So the step is taken
            # forward and not dropped, unless the maker has since edited what it would replace.
            branch = self.branch()
            if branch is not None and self._untouched(changes, target):
                step.move_branch(self._git, branch, target, head)
                head = target
        if head != target:
            self._drop()
            return
        late = {
            path: change.after
            for path, change in self._still_before(changes, target).items()
            if change.after is not None
        }
        contents = objects.read_blobs(self._git, late.values())
        staged = {path: contents[blob] for path, blob in late.items()}
        try:
            self._files.stage(staged)
        except CannotWrite as error:
            raise WorkingFilesBehind(error.place, error.reason, target) from error
        self._follow(target, changes, staged, joins)

    def _changes_of(self, target: str, parent: str | None, joins: str | None) -> dict[str, Change]:
        """Return what an interrupted step does to the files, with those git's half merge left."""
        changes = objects.differences(self._git, parent, target)
        if joins is None or parent is None or other_side(self._git) != joins:
            return changes
        half = half_merge(self._git, parent)
        before, after = (objects.list_tree(self._git, each) for each in (parent, target))
        return {**changes, **(half.changes(self._files, before, after, target) if half else {})}

    def _untouched(self, changes: Mapping[str, Change], like: str) -> bool:
        return len(self._still_before(changes, like)) == len(changes)

    def _still_before(self, changes: Mapping[str, Change], like: str) -> dict[str, Change]:
        """Return the changes whose working files are as they were before the step."""
        return {
            path: change
            for path, change in changes.items()
            if self._files.content_id_if_plain(path, like) == change.before
        }

    def _take_lock(self, patience: float) -> None:
        try:
            (self._git.git_dir / "trueup").mkdir(exist_ok=True)
            self._lock.acquire(timeout=patience)
        except Timeout:
            raise Busy(self._git.work_tree, "another trueup") from None
        except OSError as error:
            raise CannotWrite(str(self._git.git_dir), error.strerror or str(error)) from error

    def _wait_for_index(self) -> None:
        """Let a git command of the maker's finish before a step begins."""
        give_up = time.monotonic() + PATIENCE
        while os.path.lexists(self._git.git_dir / "index.lock"):
            if time.monotonic() > give_up:
                raise Busy(
                    self._git.work_tree, "a git command (if none runs, delete .git/index.lock)"
                )
            time.sleep(0.05)
