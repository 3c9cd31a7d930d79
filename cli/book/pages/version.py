"""A version of a node as a book tells it: the step that made it, drawn over the one before."""

from collections.abc import Iterator
from dataclasses import dataclass

from rich.console import RenderableType

from trueup.cli.book.source import BookSource
from trueup.cli.drawing.draft_picture import pieces_of_draft
from trueup.cli.drawing.key import KeyEntry
from trueup.cli.drawing.overlay import overlay_key, overlays
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.pictures.comparing import ComparedVersion
from trueup.cli.render.chronicle.entries import who
from trueup.cli.render.patterns.comparison import comparison_lines
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.store import Commit

_Drawn = tuple[tuple[RenderableType, ...], tuple[Scene, ...], tuple[KeyEntry, ...]]


@dataclass(frozen=True)
class ShownVersion:
    """One version: what made it, by whom, when and why, what moved, and the picture of that."""

    commit: Commit
    day: str
    by: str
    why: str
    lines: tuple[RenderableType, ...]
    scenes: tuple[Scene, ...]
    key: tuple[KeyEntry, ...] = ()


def told_versions(source: BookSource, name: str) -> Iterator[ShownVersion]:
    """Yield the last versions of a node, newest first; none where its history cannot be read."""
    now = source.evaluator
    drawing = _Drawing(source, name, {now.summary(name).fingerprint: now.draft(name)})
    for commit in source.versions.get(name, ()):
        try:
            drawn = drawing.of(commit)
        except WardrobeError:
            return
        why = source.chronicle.entry(commit).why
        yield ShownVersion(commit, f"{commit.when:%Y-%m-%d}", who(commit), why, *drawn)


@dataclass(frozen=True)
class _Drawing:
    """Draws the versions of one node; a version and the one after it share their geometry."""

    source: BookSource
    name: str
    drafts: dict[str, Draft]
    """The geometry known so far, by its fingerprint."""

    def of(self, commit: Commit) -> _Drawn:
        """Return what a version moved, in lines, as a picture of each piece, and its key."""
        new = self._version(commit)
        before = self.source.chronicle.find(commit.parents[0]) if commit.parents else None
        if before is None:
            says = f"The history here goes no further back; {self.name} was made then or before."
            return (says,), pieces_of_draft(new.draft, new.words), ()
        if not self._at(before.commit).state.has(self.name):
            return (f"{self.name} was made.",), pieces_of_draft(new.draft, new.words), ()
        old = self._version(before.commit)
        found = compare(old.draft, new.draft, alignment("centre", old.draft, new.draft))
        lines = comparison_lines(found, old.words, new.words, self.source.unit, numbered=True)
        key = () if found.is_same else overlay_key(found, "before", "after")
        return tuple(lines), overlays(found, f"{old.words} -> {new.words}"), key

    def _version(self, commit: Commit) -> ComparedVersion:
        evaluator = self._at(commit)
        shape = evaluator.summary(self.name).fingerprint
        if shape not in self.drafts:
            self.drafts[shape] = evaluator.draft(self.name)
        return ComparedVersion(self.name, self.drafts[shape], commit)

    def _at(self, commit: Commit) -> Evaluator:
        return self.source.wardrobe.evaluator_at(commit.id)
