"""The page of a correction: what it is and mends, and what became of it in every pattern below."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup
from rich.console import RenderableType

from trueup.cli.book.figures import figure_of_pieces
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.arrived import Arrived, arrived_of
from trueup.cli.book.pages.conflict_page import titled
from trueup.cli.book.reaching import moved_at, reached
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.overlay import overlay_key, overlays
from trueup.cli.pictures.comparing import ComparedVersion
from trueup.cli.render.chronicle.entries import who
from trueup.cli.render.patterns.comparison import comparison_lines
from trueup.cli.render.replay import (
    by_urgency,
    is_exception,
    measure_table,
    remarks,
    tally,
    verdict_word,
)
from trueup.cli.wording.kinds import chosen_in_words, subject_in_words
from trueup.geometry.comparing.comparison import Comparison
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.errors import UnknownRevision
from trueup.lineage.files.records import ConflictRecord, ConflictState

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay


@dataclass(frozen=True)
class _Became:
    """What became of the correction in one pattern.

    `garments` are those that were cut from it before; `paper` says what is printed anew; `picture`
    shows what moved.
    """

    name: str
    verdict: str
    arrived: tuple[Arrived, ...]
    more: str
    remarks: tuple[str, ...]
    conflicts: tuple[ConflictRecord, ...]
    inherits: tuple[str, ...]
    garments: tuple[str, ...]
    paper: str
    picture: Markup | None = None


def correction_title(source: BookSource, commit: str) -> str:
    """Return in words which correction a page is about; raises UnknownRevision."""
    entry = _entry(source, commit)
    if entry.remeasured:
        return f"{entry.node} measured anew"
    made = _made(source, entry)
    if len(made) == 1:
        return f"{entry.node}: {made[0]}"
    return (
        f"{entry.node}: a fitting of {len(made)} corrections"
        if made
        else subject_in_words(entry.commit.subject)
    )


def correction_page(source: BookSource, commit: str) -> Markup:
    """Return the page of a correction, by the id of its step; raises UnknownRevision."""
    entry = _entry(source, commit)
    effect = entry.effect
    ranked = by_urgency(effect.patterns)
    exceptions = [each for each in ranked if is_exception(each)]
    carried = [each for each in ranked if not is_exception(each)]
    measures = [measure_table(effect.measures, source.unit)] if effect.measures else []
    moved = moved_at(entry, entry.node)
    return page(
        "correction.html",
        title=correction_title(source, commit),
        entry=entry,
        who=who,
        addresses=source.addresses,
        unit=source.unit,
        made=_made(source, entry),
        measures=html_lines(measures, source.addresses),
        picture=figure_of_pieces(
            overlays(moved, f"What moved in {entry.node}"),
            1,
            f"What moved in {entry.node}",
            overlay_key(moved, "before", "after"),
        )
        if moved
        else None,
        moves=html_lines(_moves(source, entry, moved), source.addresses) if moved else None,
        garments=_garments(source, entry, entry.node),
        paper=reached(source, entry, entry.node, with_picture=False).printed_anew,
        tally=tally(effect.patterns) if effect.patterns else "",
        exceptions=[_became(source, entry, each, pictured=True) for each in exceptions],
        carried=[_became(source, entry, each) for each in carried],
        own=[each for each in effect.opened if each.arose_at == entry.node],
        settled=_settled(source),
        decided=entry.decided,
        chosen=chosen_in_words,
        titles=_titles(source, entry),
    )


def _made(source: BookSource, entry: Entry) -> list[str]:
    return [step_in_words(step, source.unit, entry.body) for step in entry.steps]


def _entry(source: BookSource, commit: str) -> Entry:
    if commit not in source.corrections:
        raise UnknownRevision(commit)
    return source.corrections[commit]


def _became(
    source: BookSource, entry: Entry, pattern: "PatternReplay", *, pictured: bool = False
) -> _Became:
    """Return what became of a correction in a pattern."""
    arrived, more = arrived_of(pattern.measures, source.unit)
    found = reached(source, entry, pattern.name, with_picture=pictured)
    return _Became(
        pattern.name,
        verdict_word(pattern.verdict).plain,
        arrived,
        more,
        tuple(remarks(pattern)),
        pattern.conflicts,
        tuple(dict.fromkeys(pattern.inherits)),
        _garments(source, entry, pattern.name),
        found.printed_anew,
        found.moved if pictured else None,
    )


def _titles(source: BookSource, entry: Entry) -> dict[str, str]:
    """Return what the conflicts are about that a pattern took over or that were decided, by id."""
    told = {each.conflict.id for each in entry.decided}
    told.update(id_ for pattern in entry.effect.patterns for id_ in pattern.inherits)
    there = told & {each.id for each in source.state.conflicts}
    return {id_: titled(source, id_) for id_ in sorted(there)}


def _settled(source: BookSource) -> frozenset[str]:
    conflicts = source.state.conflicts
    return frozenset(each.id for each in conflicts if each.state is ConflictState.SETTLED)


def _moves(source: BookSource, entry: Entry, found: Comparison) -> Iterator[RenderableType]:
    """Yield what moved, numbered as in the picture."""
    parent = source.chronicle.find(entry.commit.parents[0])
    old = ComparedVersion(entry.node, found.old, parent.commit if parent else entry.commit)
    new = ComparedVersion(entry.node, found.new, entry.commit)
    return comparison_lines(found, old.words, new.words, source.unit, numbered=True)


def _garments(source: BookSource, entry: Entry, pattern: str) -> tuple[str, ...]:
    """Return the garments that were cut from a pattern before the correction."""
    place = source.chronicle.place(entry.commit.id)
    return tuple(
        garment.name
        for garment in source.state.garments.values()
        if garment.pattern == pattern and 0 <= source.chronicle.place(garment.cut_from) < place
    )
