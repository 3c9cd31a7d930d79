"""The store: committed files in, committed files out, one commit a step."""

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from functools import cached_property
from itertools import islice
from pathlib import Path
from types import MappingProxyType, TracebackType
from typing import TYPE_CHECKING, Self

from trueup.lineage.errors import BeyondLimits, UnknownRevision
from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.store import disk
from trueup.lineage.store.disk import DiskLook, HandEdit
from trueup.lineage.store.files.lying import Looks
from trueup.lineage.store.files.paths import (
    FIRST_FILES,
    SETTINGS,
    require_contained,
    require_room_beside,
    require_writable_name,
)
from trueup.lineage.store.files.plain_repository import require_plain_repository
from trueup.lineage.store.files.working_files import WorkingFiles
from trueup.lineage.store.git import history, objects
from trueup.lineage.store.git.at_hand import AtHand
from trueup.lineage.store.git.history import Commit
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.joins import half_merge
from trueup.lineage.store.joins.merge_errors import HalfMerged
from trueup.lineage.store.whole import require_whole
from trueup.lineage.store.writing import unfinished

if TYPE_CHECKING:
    from trueup.lineage.store.writing.writer import Writer


class Store:
    """One wardrobe's repository.

    Reads see only what is committed. Use `Store.open` or `Store.create`, and close it after
    use or use it in a `with`.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._git_dir = folder / ".git"
        self._git = QuietGit(folder, self._git_dir)
        self._files = WorkingFiles(folder)
        self._known: set[str] = set()  # ids of commits that were seen, which stand for themselves
        self.at_hand = AtHand(self._git)

    @cached_property
    def _writer(self) -> "Writer":
        # Loaded with the first step that is written, or settled: most commands only read.
        from trueup.lineage.store.writing.writer import Writer  # noqa: PLC0415

        return Writer(self._git, self._files, self.at_hand.listing)

    @classmethod
    def create(cls, folder: Path, files: Mapping[str, bytes], message: str) -> Self:
        """Start a wardrobe in a new or empty folder, with `files` as its first step.

        `files` must hold `wardrobe.toml`. Raises `FolderNotEmpty`, `UnsafePath`, `CannotWrite`.
        """
        from trueup.lineage.store.writing import founding  # noqa: PLC0415  (see `_writer`)

        if SETTINGS not in files:
            raise ValueError(f"a wardrobe starts with a {SETTINGS}")
        everything = {**FIRST_FILES, **files}
        for path in everything:
            require_writable_name(path)
        require_room_beside(everything, ())
        place = Path(os.path.abspath(folder))
        founding.found(place, everything, history.compose_message(message, {}))
        store = cls(place)
        # From here on it is a wardrobe: what does not follow now is left to the next command.
        store._writer.settle_unless_busy()
        return store

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Open a wardrobe; a step that was interrupted is finished or dropped first.

        Raises `NotAWardrobe`, `Damaged`, `GitMissing`.
        """
        place = Path(os.path.abspath(folder))
        require_plain_repository(place)
        store = cls(place)
        store.at_hand.latest = require_whole(store._git)
        is_on_its_way = unfinished.place(store._git_dir).exists()
        if is_on_its_way or store._files.waiting_room.exists():
            store._writer.settle_unless_busy()
        return store

    def close(self) -> None:
        """Let go of the wardrobe."""
        if "_writer" in vars(self):
            self._writer.let_go()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        self.close()

    @property
    def looks(self) -> Looks:
        """Return how working files looked when they were read last; such are not read again."""
        return self._files.looks

    def head(self) -> str:
        """Return the id of the latest commit."""
        return self.resolve("HEAD")

    def resolve(self, revision: str) -> str:
        """Return the full id of the commit `revision` names, as git would understand it.

        Takes a full or short id, HEAD, HEAD~2, a branch or a tag. Raises as `history.version_id`.
        """
        if revision not in self._known:
            revision = history.version_id(self._git, revision)
            self._known.add(revision)
        return revision

    def listing(self, revision: str) -> objects.Listing:
        """Return every file of a version with the id of its content.

        Raises `UnknownRevision`, `UnsafePath` for a name that leads out of the folder, `Damaged`.
        """
        return self.at_hand.listing(self.resolve(revision))

    def read(self, blob_ids: Iterable[str], at_most: int = LARGEST_FILE) -> Mapping[str, bytes]:
        """Return the content behind each id of a listing, cut off just beyond `at_most` bytes.

        Raises `Damaged` where one is missing or broken, `BeyondLimits` where it is absurdly large.
        """
        try:
            return MappingProxyType(self.at_hand.contents(blob_ids, at_most))
        except BeyondLimits as error:
            paths = (path for path, blob in self.listing("HEAD").items() if blob == error.place)
            place = next(paths, f"the content {error.place}")
            raise BeyondLimits(place, error.reason) from None

    def sizes(self, blob_ids: Iterable[str]) -> Mapping[str, int]:
        """Return how many bytes contents of a listing take, by their ids; none is read."""
        return objects.sizes(self._git, blob_ids)

    def working_file(self, path: str) -> bytes:
        """Return a file as it lies on the disk, recorded or not.

        Raises `NoSuchFile`, `UnsafePath`, `FileTooLarge`.
        """
        return self._files.read(path)

    def look(self) -> DiskLook:
        """Return the latest version, and which of the wardrobe's own files differ from it on disk.

        Files are compared by their bytes, and no lock is needed; a link, or a file that may not be
        read, is one that was changed. Raises `HalfMerged` while the files are neither one version's
        nor the other's.
        """
        if (joining := self.half_merged()) is not None:
            raise HalfMerged(self.folder, joining)
        seen = disk.look(self._git, self._files, self.at_hand)
        self._known.add(seen.head)
        return seen

    def hand_edits(self) -> tuple[HandEdit, ...]:
        """Return which of the wardrobe's own files differ on disk; see `look`."""
        return self.look().edits

    def log(
        self,
        revision: str = "HEAD",
        paths: Sequence[str] = (),
        beyond: Sequence[str] = (),
        trailer: str = "",
    ) -> Iterator[Commit]:
        """Yield a version and all before it, newest first, no further than it is asked for.

        With `paths`, only the steps that changed one of these files or folders; the versions
        `beyond`, and all before them, are left out; with `trailer`, those without that key. Raises
        `UnknownRevision`, `UnsafePath`, `Damaged`.
        """
        for path in paths:
            require_contained(path)
        left_out = [self.resolve(each) for each in beyond]
        found = history.walk(self._git, self.resolve(revision), paths, left_out, trailer)
        return self._seen(found)

    def _seen(self, commits: Iterator[Commit]) -> Iterator[Commit]:
        for commit in commits:
            self._known.add(commit.id)
            yield commit

    def past(
        self, revision: str, paths: Sequence[str], most: int
    ) -> list[tuple[Commit, Mapping[str, str]]]:
        """Return the latest steps on some files, newest first, and the id of what each left.

        A file that a step took out is not among what it left. Raises `UnknownRevision`,
        `UnsafePath`, `Damaged`.
        """
        steps = list(islice(self.log(revision, paths), most))
        names = [f"{step.id}:{path}" for step in steps for path in paths]
        found = iter(objects.look_up(self._git, names))
        return [(step, {p: blob.id for p in paths if (blob := next(found))}) for step in steps]

    def rewrite(self, path: str, written: bytes, content: bytes) -> None:
        """Give a file the maker edited another content on the disk; nothing is recorded.

        Raises `HandEdited` where it is no longer as it was `written`, `CannotWrite`.
        """
        with self.writing():
            self._writer.rewrite(path, written, content)

    def writing(self) -> AbstractContextManager[None]:
        """Keep other writers out, so that what is read inside still holds when it is written.

        May be entered again inside itself. On entering, an interrupted step is finished or
        dropped. Raises `Busy` when another writer does not finish, `CannotWrite`.
        """
        self.at_hand.just_opened()  # who is waited for may record another
        return self._writer.writing()

    def commit(
        self,
        writes: Mapping[str, bytes | None],
        message: str,
        trailers: Mapping[str, str] = MappingProxyType({}),
        *,
        expected_head: str,
    ) -> str:
        """Record one step and return its commit's id.

        `writes` maps each file to its new content, None to take it out. Raises, with nothing
        changed: `MovedOn` unless the wardrobe is at `expected_head`, `HandEdited` where a file
        was edited to something other than the step would write, `UnsafePath`, `NoSuchFile`,
        `Detached`, `Busy`, `CannotWrite`. With the step recorded: `WorkingFilesBehind`.
        """
        return self._committed(writes, history.compose_message(message, trailers), expected_head)

    def _committed(
        self,
        writes: Mapping[str, bytes | None],
        text: str,
        expected_head: str,
        joins: str | None = None,
    ) -> str:
        commit = self._writer.commit(writes, text, expected_head, joins)
        self.at_hand.keep_step(expected_head, commit, writes)
        self._known.add(commit)
        return commit

    def half_merged(self) -> str | None:
        """Return the commit git was joining when it stopped halfway; None where it did not."""
        return half_merge.other_side(self._git)

    def last_fetched(self) -> str | None:
        """Return what git fetched last, None where it never did; raises `UnknownRevision`."""
        name = "FETCH_HEAD"
        return objects.commit_id(self._git, name) if (self._git_dir / name).exists() else None

    def fetched(self) -> str | None:
        """Return what git fetched last of this wardrobe and is no part of ours yet, if anything."""
        try:
            other = self.last_fetched()
        except UnknownRevision:
            return None
        bases = () if other is None else self.merge_bases(self.head(), other)
        return other if bases and bases != (other,) else None

    def merge_bases(self, one: str, other: str) -> tuple[str, ...]:
        """Return the latest commits two versions both come from; none for unrelated ones."""
        return objects.merge_bases(self._git, self.resolve(one), self.resolve(other))

    def special_files(self, before: str, after: str) -> tuple[str, ...]:
        """Return the links and foreign repositories put in or changed between two versions."""
        return objects.special_files(self._git, before, after)

    def merged_text(self, base: bytes, ours: bytes, theirs: bytes) -> bytes | None:
        """Return a text with the changes of two others; None where they touch the same lines."""
        from trueup.lineage.store.joins import text_merge  # noqa: PLC0415  (see `_writer`)

        return text_merge.merged_text(self._git, base, ours, theirs)

    def latest_of(self, clone: Path) -> str:
        """Return the latest commit of another clone, after bringing what it needs in here.

        Nothing of the clone runs; no branch and no file changes. Raises `NotAClone`.
        """
        from trueup.lineage.store.joins import neighbour  # noqa: PLC0415  (see `_writer`)

        with self.writing():
            return neighbour.latest_of(self._git, Path(os.path.abspath(clone)), self.head())

    def commit_merge(
        self,
        writes: Mapping[str, bytes | None],
        message: str,
        trailers: Mapping[str, str] = MappingProxyType({}),
        *,
        expected_head: str,
        joins: str,
    ) -> str:
        """Record one step that joins another version, and return its commit's id.

        As `commit`, with `joins` as second parent; `writes` are the changes to our own version. A
        merge of the same version that git left half done is finished by it; raises `HandEdited`
        where the maker edited one of its files since.
        """
        text = history.compose_message(message, trailers)
        return self._committed(writes, text, expected_head, self.resolve(joins))
