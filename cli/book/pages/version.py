"""A version of a node as a book tells it: the step that made it, drawn over the one before."""

from collections.abc import Iterator
from dataclasses import dataclass

from rich.console import RenderableType

from trueup.cli.book.source import BookSource
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.overlay import overlay
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.pictures.comparing import ComparedVersion, caption
from trueup.cli.render.chronicle.entries import who
from trueup.cli.render.chronicle.titles import entry_title
from trueup.cli.render.patterns.comparison import comparison_lines
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.store import Commit


@dataclass(frozen=True)
class ShownVersion:
    """One version: what made it, by whom, when and why, what moved, and the picture of that.

    `title` is what made it in the words of the trade; `found` is None where nothing came before.
    """

    commit: Commit
    day: str
    by: str
    why: str
    lines: tuple[RenderableType, ...]
    scene: Scene
    title: str
    found: Comparison | None


def told_versions(source: BookSource, name: str) -> Iterator[ShownVersion]:
    """Yield the last versions of a node, newest first; none where its history cannot be read."""
    now = source.evaluator
    drawing = _Drawing(source, name, {now.summary(name).fingerprint: now.draft(name)})
    for commit in source.versions.get(name, ()):
        try:
            lines, scene, found = drawing.of(commit)
        except WardrobeError:
            return
        entry = source.chronicle.entry(commit)
        day, title = f"{commit.when:%Y-%m-%d}", entry_title(entry, source.unit)
        yield ShownVersion(commit, day, who(commit), entry.why, lines, scene, title, found)


@dataclass(frozen=True)
class _Drawing:
    """Draws the versions of one node; a version and the one after it share their geometry."""

    source: BookSource
    name: str
    drafts: dict[str, Draft]
    """The geometry known so far, by its fingerprint."""

    def of(self, commit: Commit) -> tuple[tuple[RenderableType, ...], Scene, Comparison | None]:
        """Return what a version moved, in lines, as a picture, and as it was found."""
        new = self._version(commit)
        before = self.source.chronicle.find(commit.parents[0]) if commit.parents else None
        if before is None:
            says = f"The history here goes no further back; {self.name} was made then or before."
            return (says,), draft_picture(new.draft, new.words), None
        if not self._at(before.commit).state.has(self.name):
            return (f"{self.name} was made.",), draft_picture(new.draft, new.words), None
        old = self._version(before.commit)
        found = compare(old.draft, new.draft, alignment("centre", old.draft, new.draft))
        lines = comparison_lines(found, old.words, new.words, self.source.unit)
        return tuple(lines), overlay(found, caption(found, old, new, self.source.unit)), found

    def _version(self, commit: Commit) -> ComparedVersion:
        evaluator = self._at(commit)
        shape = evaluator.summary(self.name).fingerprint
        if shape not in self.drafts:
            self.drafts[shape] = evaluator.draft(self.name)
        return ComparedVersion(self.name, self.drafts[shape], commit)

    def _at(self, commit: Commit) -> Evaluator:
        return self.source.wardrobe.evaluator_at(commit.id)
