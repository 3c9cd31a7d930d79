"""Take up edits by hand: whole and sound, joined with what they did not know of, as one step."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

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
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import replay, stale
from trueup.lineage.store import Seen, Store
from trueup.lineage.store.recorded import say_only_edits
from trueup.lineage.trail import EDIT, JOINED_WITH, TAKES_OUT, VERB

MOST_AT_ONCE = 200_000_000
"""Bytes taken up in one step; what is undone or joined later is read at one go."""


@dataclass(frozen=True)
class TakenUp:
    """Edits by hand that became a step: its commit and files, what was recorded since they were
    opened and stays in them, and what they take out.
    """

    commit: str
    paths: tuple[str, ...]
    since: Mapping[str, tuple[Named, ...]]
    taken_out: tuple[Named, ...]


@dataclass(frozen=True)
class TakingUp:
    """Takes up edits by hand; reads and evaluates through what it is given."""

    store: Store
    loader: Loader
    evaluator_at: Callable[[str], Evaluator]
    evaluator_of: Callable[[State], Evaluator]

    def take_up(self, asked: Collection[str] = (), why: str = "") -> TakenUp | None:
        """Record edits by hand as the maker's own step; None where there are none.

        Those `asked` for are taken as they are written. Raises OpenedEarlier, CutClothEdited,
        NotAPicture, TooMuchAtOnce, NotEdited, FileTooLarge, and BadRecord for a file that cannot
        be read: then nothing is recorded.
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
        for path, content in contents.items():
            before = written.get(path)
            if content is not None and before is not None and content != before:
                self.store.rewrite(path, before, content)
        out = self._taken_out(edits)
        commit = self.store.commit(
            contents, _message(written, why), _trailers(edits, out), expected_head=seen.head
        )
        say_only_edits(commit)
        return TakenUp(commit, tuple(sorted(written)), edits.since, out)

    def _written(self, seen: Seen) -> dict[str, bytes | None]:
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


def _message(written: Collection[str], why: str) -> str:
    subject = f"Edited by hand: {listed(sorted(written))}"
    return f"{subject}\n\n{why}" if why else subject


def _trailers(edits: HandEdits, out: Collection[Named]) -> dict[str, str]:
    said = {VERB: EDIT}
    since = [each for path in sorted(edits.since) for each in edits.since[path]]
    for key, named in ((JOINED_WITH, since), (TAKES_OUT, out)):
        if named:
            said[key] = ", ".join(f"{each} of {each.place}" for each in named)
    return said
