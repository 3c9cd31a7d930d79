"""An open wardrobe, for reading: its nodes as they are or were, evaluated, and its history."""

from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Self

from msgspec import Struct

from trueup.geometry.errors import GeometryError
from trueup.lineage.errors import BadInput, Damaged, NoSuchFile, WardrobeError
from trueup.lineage.evaluation.cache import FileCache
from trueup.lineage.evaluation.evaluate import Evaluator, Progress
from trueup.lineage.evaluation.lanes import Lanes, Processes
from trueup.lineage.files.gaps import Gaps
from trueup.lineage.files.records import ConflictRecord
from trueup.lineage.files.state import State
from trueup.lineage.hand_edits.looking import HandEdits, look
from trueup.lineage.hand_edits.paths import is_read
from trueup.lineage.loading import Loader
from trueup.lineage.store import Commit, HandEdit, Store

_KEPT_AT_HAND = 64  # versions; who walks through a history asks for neighbours


class _Working(Struct, frozen=True):
    """The wardrobe as it was read: at which commit, and which files were edited by hand since."""

    head: str
    state: State
    evaluator: Evaluator
    edited: tuple[HandEdit, ...]
    edits: HandEdits
    is_unfinished: bool


class OpenWardrobe:
    """A wardrobe that was opened: its nodes as they are, and as they were. Close it after use.

    `progress`, where it is set, is told how many nodes are done of how many that take a while.
    `gaps` are what git could not give of the versions that were asked for.
    """

    def __init__(self, store: Store, folder: Path, lanes: Lanes | None = None) -> None:
        self.folder = folder
        self._store = store
        self._cache = FileCache(folder)
        self.gaps = Gaps()
        self._loader = Loader(store, self._cache, self.gaps)
        self._way: list[str] = []
        self._lanes = lanes or Processes()
        self.progress: Progress | None = None
        self._evaluators: OrderedDict[str, Evaluator] = OrderedDict()
        self._commits: dict[str, Commit] = {}
        self._working: _Working | None = None
        self._recorded: str | None = None

    # --- opening ----------------------------------------------------------------------------------

    @classmethod
    def open(cls, folder: Path, lanes: Lanes | None = None) -> Self:
        """Open the wardrobe in a folder; raises NotAWardrobe, GitMissing, Damaged.

        `lanes` are where many nodes are evaluated beside one another: without them, on all cores
        of this machine.
        """
        return cls(Store.open(folder), folder, lanes)

    def close(self) -> None:
        """Keep what was evaluated and read, and let go of the folder."""
        self._lanes.close()
        if self._recorded is not None:
            with suppress(WardrobeError, OSError):  # who opens it next is told what is wrong
                self._loader.latest(self._recorded)
        if self._working is not None:
            self._cache.keep_looks(self._store.looks)
        self._cache.close()
        self._store.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, _type: object, error: BaseException | None, _trace: object) -> None:
        if isinstance(error, GeometryError | BadInput):
            with suppress(WardrobeError):
                error.unit = self.state.unit.value
        self.close()

    @contextmanager
    def dividing(self) -> Iterator[Callable[[], None]]:
        """Let go of what no two processes may share, while this process is forked.

        Yields what each of the others has to call first. From here on none of them, nor this one,
        has nodes evaluated elsewhere.
        """
        self._lanes.give_up()
        self._cache.close()
        try:
            yield self._cache.take_up
        finally:
            self._cache.take_up()

    # --- reading ----------------------------------------------------------------------------------

    @property
    def head(self) -> str:
        """Return the id of the last recorded step."""
        return self._store.head()

    @property
    def base(self) -> str:
        """Return the version this was read at, from which whatever it proposes is worked out."""
        return self._read().head

    def hand_edits(self) -> tuple[HandEdit, ...]:
        """Return the files the maker edited since the last step."""
        return self._store.hand_edits()

    @property
    def fetched(self) -> str | None:
        """Return the commit git fetched last that still waits to be joined; None without one."""
        return self._store.fetched()

    @property
    def is_edited(self) -> bool:
        """Return whether edits made by hand are part of the wardrobe as it is."""
        read = self._read()
        return not {*read.state.broken_files, *read.edits.refused}.issuperset(self.edited)

    @property
    def edited(self) -> tuple[str, ...]:
        """Return the files the maker had edited by hand when the wardrobe was read."""
        return tuple(edit.path for edit in self._read().edited)

    @property
    def edited_files(self) -> tuple[HandEdit, ...]:
        """Return the same with what was done to each."""
        return self._read().edited

    @property
    def is_unfinished(self) -> bool:
        """Return whether files were still to follow the last step when the wardrobe was read."""
        return self._read().is_unfinished

    @property
    def state(self) -> State:
        """Return the wardrobe as it is, with edits made by hand; raises BadRecord, Damaged."""
        return self._read().state

    @property
    def edits(self) -> HandEdits:
        """Return what the maker wrote into the files since the last step, as it is to be taken."""
        return self._read().edits

    def _read(self) -> "_Working":
        if self._working is None:
            self._store.looks.update(self._cache.looks())
            if kept := self._loader.last.wardrobe:
                self._store.at_hand.know(kept.tree, kept.files, kept.special)
            seen = self._store.look()
            paths = (edit.path for edit in seen.edits)
            edits = look(self._store, seen.head, filter(is_read, paths))
            state = self._loader.latest(seen.head, {**edits.contents, **edits.unreadable})
            evaluator = self.evaluator_of(state)
            self._working = _Working(
                seen.head, state, evaluator, seen.edits, edits, seen.is_unfinished
            )
        return self._working

    def look_again(self) -> bool:
        """Look whether the wardrobe is as it was read; where not, it is read anew when asked for.

        Returns whether it may be another now.
        """
        read = self._working
        if read is None:
            return True
        seen = self._store.look()
        as_seen = (seen.head, seen.edits, seen.is_unfinished)
        if as_seen == (read.head, read.edited, read.is_unfinished):
            paths = [edit.path for edit in seen.edits if is_read(edit.path)]
            if not paths or look(self._store, seen.head, paths).written == read.edits.written:
                return False
        self._working = None
        return True

    def _see_again(self) -> None:
        """Keep what was read for as long as the wardrobe is as it was."""
        try:
            self.look_again()
        except WardrobeError:  # whoever reads it is told
            self._working = None

    def conflict(self, conflict_id: str) -> ConflictRecord:
        """Return a conflict by its id, or what `check` finds by its; raises NoSuchConflict."""
        # Remedies of what is found are tried out, for which the geometry is loaded.
        from trueup.lineage.replay.findings import spoken_of  # noqa: PLC0415

        return spoken_of(self.evaluator, conflict_id).conflict(conflict_id)

    @property
    def evaluator(self) -> Evaluator:
        """Return the evaluator of the wardrobe as it is."""
        return self._read().evaluator

    def evaluator_of(self, state: State) -> Evaluator:
        """Return an evaluator of any state, which shares what was evaluated before."""
        return Evaluator(
            state,
            self._cache,
            self.evaluator_at,
            way=self._way,
            lanes=self._lanes,
            progress=self._tell_progress,
        )

    def _tell_progress(self, done: int, of: int) -> None:
        if self.progress is not None:
            self.progress(done, of)

    def evaluator_at(self, revision: str) -> Evaluator:
        """Return the evaluator of the wardrobe as of a revision; raises UnknownRevision."""
        # A full id, as a hold names it, need not be asked of git again.
        with self.gaps.noted(revision):
            commit = revision if revision in self._evaluators else self._store.resolve(revision)
        if commit not in self._evaluators:
            with self.gaps.noted(commit):
                state = self._loader.at(commit)
            self._evaluators[commit] = self.evaluator_of(state)
        self._evaluators.move_to_end(commit)
        if len(self._evaluators) > _KEPT_AT_HAND:
            self._evaluators.popitem(last=False)
        return self._evaluators[commit]

    def history(
        self,
        paths: Sequence[str] = (),
        *,
        until: str = "HEAD",
        beyond: Sequence[str] = (),
        trailer: str = "",
    ) -> Iterator[Commit]:
        """Yield the recorded steps up to a version, newest first.

        With paths, only those that touched them; the versions `beyond`, and all before them, are
        left out; with `trailer`, those that do not state it. HEAD is the version this was read at.
        Raises UnknownRevision.
        """
        last = self._working.head if self._working and until == "HEAD" else until
        return self._store.log(last, paths, beyond, trailer)

    def resolve(self, revision: str) -> str:
        """Return the full id of the version a maker names; raises UnknownRevision."""
        return self._store.resolve(revision)

    def commit(self, revision: str = "HEAD") -> Commit:
        """Return the step that made the version a maker names; raises UnknownRevision.

        HEAD is the version this was read at.
        """
        last = self._working.head if self._working and revision == "HEAD" else revision
        found = self._store.resolve(last)
        if found not in self._commits:
            self._commits[found] = next(self._store.log(found))
        return self._commits[found]

    @property
    def paths(self) -> frozenset[str]:
        """Return the names of all files as the last step left them."""
        return frozenset(self._store.listing(self.head))

    def listing(self, revision: str = "HEAD") -> Mapping[str, str]:
        """Return every file of a version with the id of its content; raises UnknownRevision."""
        return self._store.listing(revision)

    def files(self, paths: Iterable[str], revision: str) -> dict[str, bytes]:
        """Return those of the files that a version has, as recorded; raises UnknownRevision."""
        listing = self._store.listing(revision)
        standing = {path: listing[path] for path in paths if path in listing}
        contents = self._store.read(set(standing.values()))
        return {path: contents[blob] for path, blob in standing.items()}

    def file(self, path: str, revision: str | None = None) -> bytes:
        """Return a file of the wardrobe as recorded; raises NoSuchFile, UnknownRevision."""
        listing = self._store.listing(self._store.resolve(revision) if revision else self.head)
        if path not in listing:
            raise NoSuchFile(path)
        try:
            return self._store.read([listing[path]])[listing[path]]
        except Damaged as error:
            self.gaps.note(revision or self.head, path, listing[path], error)
            raise
