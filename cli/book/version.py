"""A version of a node as a book tells it: the step that made it, drawn over the one before."""

from collections.abc import Iterator
from dataclasses import dataclass

from rich.console import RenderableType

from cli.book.source import Source
from cli.comparing import Version, caption
from cli.drawing.draft_picture import draft_picture
from cli.drawing.overlay import overlay
from cli.drawing.scene import Scene
from cli.render.comparison import comparison_lines
from cli.render.entries import who
from geometry.alignment import alignment
from geometry.comparison import compare
from lineage.errors import WardrobeError
from lineage.store import Commit


@dataclass(frozen=True)
class Told:
    """One version: what made it, by whom, when and why, what moved, and the picture of that."""

    commit: Commit
    day: str
    by: str
    why: str
    lines: tuple[RenderableType, ...]
    scene: Scene


def told_versions(source: Source, name: str) -> Iterator[Told]:
    """Yield the last versions of a node, newest first; none where its history cannot be read."""
    for commit in source.versions.get(name, ()):
        entry = source.chronicle.entry(commit)
        try:
            lines, scene = _drawn(source, name, commit)
        except WardrobeError:
            return
        yield Told(commit, f"{commit.when:%Y-%m-%d}", who(commit), entry.why, lines, scene)


def _drawn(source: Source, name: str, commit: Commit) -> tuple[tuple[RenderableType, ...], Scene]:
    """Return what a version moved, in lines and as a picture."""
    new = _version(source, name, commit)
    before = source.chronicle.find(commit.parents[0]) if commit.parents else None
    if before is None or name not in source.wardrobe.evaluator_at(before.commit.id).state.nodes:
        return (f"{name} was made.",), draft_picture(new.draft, new.words)
    old = _version(source, name, before.commit)
    found = compare(old.draft, new.draft, alignment("centre", old.draft, new.draft))
    lines = comparison_lines(found, old.words, new.words, source.unit)
    return tuple(lines), overlay(found, caption(found, old, new, source.unit))


def _version(source: Source, name: str, commit: Commit) -> Version:
    return Version(name, source.wardrobe.evaluator_at(commit.id).draft(name), commit)
