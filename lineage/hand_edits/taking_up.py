"""Edits by hand as a step: whole and sound, joined with what they did not know of."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from trueup.lineage.drawings.outline import read_outline
from trueup.lineage.errors import BadRecord, listed
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_errors import BadPhoto
from trueup.lineage.files.pictures import is_picture_name, require_picture
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.hand_edits.errors import NotAPicture, NotEdited, TooMuchAtOnce
from trueup.lineage.hand_edits.looking import HandEdits, as_it_lies, look_at
from trueup.lineage.hand_edits.named import Named, named_apart
from trueup.lineage.loading import Loader
from trueup.lineage.recordable import Standing
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import replay, stale
from trueup.lineage.store import DiskLook, Store
from trueup.lineage.trail import EDIT, JOINED_WITH, TAKES_OUT, VERB

MOST_AT_ONCE = 200_000_000
"""Bytes taken up in one step; what is undone or joined later is read at one go."""


class Brought(NamedTuple):
    """A file on the disk that is joined with what it did not know of: as edited, and as joined."""

    path: str
    before: bytes
    content: bytes


@dataclass(frozen=True)
class TakenUp:
    """Edits by hand as a step; a `Recordable`.

    `paths` are the files edited and `contents` what they and those they bring conflicts to will
    hold; `brought` has to be on the disk before it is recorded. `since` is what was recorded since
    they were opened and stays in them, `taken_out` what they take out.
    """

    base: str
    paths: tuple[str, ...]
    contents: Mapping[str, bytes | None]
    brought: tuple[Brought, ...]
    since: Mapping[str, tuple[Named, ...]]
    taken_out: tuple[Named, ...]
    why: str = ""

    @property
    def joins(self) -> None:
        """Return None: it joins nothing."""
        return

    @property
    def message(self) -> str:
        """Return which files were edited, and why."""
        subject = f"Edited by hand: {listed(self.paths)}"
        return f"{subject}\n\n{self.why}" if self.why else subject

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return what the edits were joined with and what they take out."""
        said = {VERB: EDIT}
        since = [each for path in sorted(self.since) for each in self.since[path]]
        for key, named in ((JOINED_WITH, since), (TAKES_OUT, self.taken_out)):
            if named:
                said[key] = ", ".join(f"{each} of {each.place}" for each in named)
        return said

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:  # noqa: ARG002
        """Return the files it changes."""
        return self.contents


@dataclass(frozen=True)
class TakingUp:
    """Takes up edits by hand; reads and evaluates through what it is given."""

    store: Store
    loader: Loader
    evaluator_at: Callable[[str], Evaluator]
    evaluator_of: Callable[[State], Evaluator]

    def propose(self, asked: Collection[str] = (), why: str = "") -> TakenUp | None:
        """Propose to record edits by hand as the maker's own step; None where there are none.

        Those `asked` for are taken as they are written. Raises OpenedEarlier, CutClothEdited,
        NotAPicture, TooMuchAtOnce, NotEdited, FileTooLarge, and BadRecord for a file that cannot
        be read.
        """
        seen = self.store.look()
        written = self._written(seen)
        for path in asked:
            if path not in written:
                raise NotEdited(path, sorted(written))
        if not written:
            return None
        edits = look_at(self.store, seen.head, written, asked)
        for error in edits.refused.values():
            raise error
        contents = {**edits.contents, **self._sound(edits)}
        brought = tuple(
            Brought(path, before, content)
            for path, content in contents.items()
            if content is not None
            and (before := written.get(path)) is not None
            and content != before
        )
        out = self._taken_out(edits)
        return TakenUp(seen.head, tuple(sorted(written)), contents, brought, edits.since, out, why)

    def _written(self, seen: DiskLook) -> dict[str, bytes | None]:
        """Return what the edited files hold.

        Raises TooMuchAtOnce where it is more than one step may take in or out.
        """
        listing = self.store.listing(seen.head) if seen.edits else {}
        out = (listing[edit.path] for edit in seen.edits if edit.path in listing)
        most = sum(self.store.sizes(out).values())
        written: dict[str, bytes | None] = {}
        taken_in = 0
        for edit in seen.edits:
            content = None if edit.kind == "deleted" else as_it_lies(self.store, edit.path)
            written[edit.path] = content
            taken_in += len(content or b"")
            most = max(most, taken_in)
            if most > MOST_AT_ONCE:
                raise TooMuchAtOnce(MOST_AT_ONCE)
        return written

    def _sound(self, edits: HandEdits) -> dict[str, bytes | None]:
        """Return the files of nodes in which edits bring conflicts, or settle them.

        Everything is read, and what they change is evaluated, before anything is recorded. Raises
        BadRecord for what cannot be read or fits together in no draft, NotAPicture.
        """
        after = self.evaluator_of(self.loader.edited(edits.head, edits.contents))
        _require_drawings(edits, after.state)
        before = self._before(edits.head, after.state)
        found = replay(before, after, Cause("", (), edits.head))
        listing = self.store.listing(edits.head)
        standing = {n.path: listing[n.path] for n in found.changed if n.path in listing}
        blobs = self.store.read(standing.values())
        texts = {**{path: blobs[blob] for path, blob in standing.items()}, **edits.contents}
        return {node.path: node_text(node, texts.get(node.path)) for node in found.changed}

    def _before(self, head: str, after: State) -> Evaluator:
        """Return the evaluator of what was edited; of nothing where the edits mend damage."""
        try:
            before = self.evaluator_at(head)
            for name in stale(before.state, after):
                if name in before.state.nodes:
                    before.summary(name)
        except BadRecord:
            return self.evaluator_of(replace(after, nodes={}))
        return before

    def _taken_out(self, edits: HandEdits) -> tuple[Named, ...]:
        """Return what was recorded and is in none of the files any more."""
        listing = self.store.listing(edits.head)
        standing = {path: listing[path] for path in edits.contents if path in listing}
        blobs = self.store.read(standing.values())
        return tuple(
            each
            for path, blob in sorted(standing.items())
            for each in named_apart(path, blobs[blob], edits.contents[path]).missing
        )


def _require_drawings(edits: HandEdits, after: State) -> None:
    """Refuse the outline of a garment, or a photo, that cannot be read."""
    outlines = {path for garment in after.garments.values() for path in garment.outline_paths}
    for path, content in edits.contents.items():
        if content is None:
            continue
        if path in outlines:
            read_outline(content, path)
        elif is_picture_name(path):
            try:
                require_picture(path, content)
            except BadPhoto as error:
                raise NotAPicture(path, error.reason) from None
