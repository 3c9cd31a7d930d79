"""The remedies of a conflict tried out: the line each would draw, the ease then, what follows."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from trueup.cli.amounts import before_and_after
from trueup.cli.book.figures import figure
from trueup.cli.book.pages.bands import BandWords, band_words, on_bands
from trueup.cli.book.source import BookSource
from trueup.cli.drawing.conflict_picture import seam_of
from trueup.cli.drawing.small_overlay import small_overlay
from trueup.cli.render.conflicts import left_in_words
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.words import worded, worded_error
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import Walk, walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import ConflictKind, ConflictRecord, Remedy
from trueup.lineage.replay.curing.names import ACCEPT
from trueup.lineage.trying import tried

_MOST_EFFECTS = 3
_EASE = " ease"  # what the bands tell already


@dataclass(frozen=True)
class Effect:
    """A measure that something changes: its name, and what it was and would be."""

    name: str
    words: str


@dataclass(frozen=True)
class TriedOut:
    """What something does at a node: what moves, the seam's ease on its bands, measures.

    `more` are the measures that change besides those that a maker would ask about first.
    """

    picture: Markup | None
    bands: tuple[BandWords, ...]
    effects: tuple[Effect, ...]
    more: tuple[Effect, ...]


@dataclass(frozen=True)
class RemedyCard:
    """One remedy as a page tells it; without an `outcome`, `says_not` is why none is known."""

    name: str
    title: str
    command: str
    leaves: tuple[str, ...]
    outcome: TriedOut | None
    says_not: str = ""


def remedy_cards(
    source: BookSource, conflict: ConflictRecord, numbers: Iterator[int]
) -> Iterator[RemedyCard]:
    """Yield the remedies of a conflict in their order, each tried out at the node it arose at."""
    for remedy in conflict.remedies:
        says = worded(remedy.says, source.unit) or remedy.name
        outcome, says_not = None, ""
        try:
            outcome = _tried(source, conflict, remedy, next(numbers))
        except (GeometryError, WardrobeError) as error:
            says_not = worded_error(error, source.unit)
        yield RemedyCard(
            remedy.name,
            upper_first(says),
            source.commands.decide(conflict.id, remedy.name),
            tuple(left_in_words(each, source.unit) for each in remedy.leaves),
            outcome,
            says_not,
        )


def _tried(source: BookSource, conflict: ConflictRecord, remedy: Remedy, number: int) -> TriedOut:
    now = source.evaluator
    if remedy.name == ACCEPT:
        return outcome(now, now, conflict, source.unit, number)
    after = tried(now, source.wardrobe.base, conflict.id, remedy.name)
    first = [effect.name for effect in remedy.effects]
    return outcome(now, after, conflict, source.unit, number, first)


def outcome(
    before: Evaluator,
    after: Evaluator,
    conflict: ConflictRecord,
    unit: Unit,
    number: int,
    first: Iterable[str] = (),
) -> TriedOut:
    """Return what lies between two versions of the node a conflict arose at.

    `first` are measures to be told before others. Raises what evaluating raises.
    """
    node = conflict.arose_at
    old = before.draft(node)
    # What is tried is worked out for its lines and measures alone, and nothing of it is checked.
    new = old if after is before else after.stages(node)[-1].draft
    moved = compare(old, new, alignment("centre", old, new))
    walks = (_walked(conflict, draft) for draft in (old, new))
    bands = tuple(band_words(on_bands(*walks), unit))
    found = _effects(before.summary(node), measures(new), unit, tuple(first))
    effects = tuple(each for each in found if not (bands and each.name.endswith(_EASE)))
    return TriedOut(
        _picture(moved, number),
        bands,
        effects[:_MOST_EFFECTS],
        effects[_MOST_EFFECTS:],
    )


def _picture(moved: Comparison, number: int) -> Markup | None:
    return None if moved.is_same else figure(small_overlay(moved, "What moves"), number)


def _walked(conflict: ConflictRecord, draft: Draft) -> Walk | None:
    seam = seam_of(conflict, draft) if conflict.kind is ConflictKind.SEAM else None
    return walk(draft, seam) if seam else None


def _effects(
    before: Summary, becomes: Mapping[str, float], unit: Unit, first: tuple[str, ...]
) -> Iterator[Effect]:
    """Yield the measures that change: those to be told first, then the others by how much."""
    was = before.chosen((), "")
    changes = {
        name: becomes[name] - mm
        for name, mm in was.items()
        if name in becomes and abs(becomes[name] - mm) > UNCHANGED
    }
    ranked = sorted(changes, key=lambda name: (name not in first, -abs(changes[name])))
    for name in ranked:
        words = name.replace(".", " ").replace("-", " ")
        yield Effect(words, before_and_after(was[name], becomes[name], unit))
