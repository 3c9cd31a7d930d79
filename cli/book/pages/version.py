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
from trueup.cli.render.chronicle.titles import entry_title
from trueup.cli.render.patterns.comparison import comparison_lines
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.store import Commit

_Drawn = tuple[
    tuple[RenderableType, ...], tuple[Scene, ...], tuple[KeyEntry, ...], Comparison | None
]


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
    title: str
    scenes: tuple[Scene, ...]
    key: tuple[KeyEntry, ...] = ()
    found: Comparison | None = None

    @property
    def is_first(self) -> bool:
        """Return whether nothing came before this version."""
        return self.found is None


def told_versions(source: BookSource, name: str) -> Iterator[ShownVersion]:
    """Yield the last versions of a node, newest first; none where its history cannot be read."""
    now = source.evaluator
    drawing = _Drawing(source, name, {now.summary(name).fingerprint: now.draft(name)})
    for commit in source.versions.get(name, ()):
        try:
            drawn = drawing.of(commit)
        except WardrobeError:
            return
        entry = source.chronicle.entry(commit)
        day, title = f"{commit.when:%Y-%m-%d}", entry_title(entry, source.unit)
        yield ShownVersion(commit, day, who(commit), entry.why, drawn[0], title, *drawn[1:])


@dataclass(frozen=True)
class _Drawing:
    """Draws the versions of one node; a version and the one after it share their geometry."""

    source: BookSource
    name: str
    drafts: dict[str, Draft]
    """The geometry known so far, by its fingerprint."""

    def of(self, commit: Commit) -> _Drawn:
        """Return what a version moved: in lines, as a picture of each piece, its key, as found."""
        new = self._version(commit)
        before = self.source.chronicle.find(commit.parents[0]) if commit.parents else None
        if before is None:
            says = f"The history here goes no further back; {self.name} was made then or before."
            return (says,), pieces_of_draft(new.draft, new.words), (), None
        if not self._at(before.commit).state.has(self.name):
            return (f"{self.name} was made.",), pieces_of_draft(new.draft, new.words), (), None
        old = self._version(before.commit)
        found = compare(old.draft, new.draft, alignment("centre", old.draft, new.draft))
        lines = comparison_lines(found, old.words, new.words, self.source.unit, numbered=True)
        key = () if found.is_same else overlay_key(found, "before", "after")
        return tuple(lines), overlays(found, f"{old.words} -> {new.words}"), key, found

    def _version(self, commit: Commit) -> ComparedVersion:
        evaluator = self._at(commit)
        shape = evaluator.summary(self.name).fingerprint
        if shape not in self.drafts:
            self.drafts[shape] = evaluator.draft(self.name)
        return ComparedVersion(self.name, self.drafts[shape], commit)

    def _at(self, commit: Commit) -> Evaluator:
        return self.source.wardrobe.evaluator_at(commit.id)
