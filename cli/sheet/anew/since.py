"""Since when a maker's paper is old, where she names no version."""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.cli.failures import Misused
from trueup.cli.sheet.moved_lines import moved_lines
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.calling.own_names import called_as
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.sides.parting import parted_as
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.versions import versions

_MOST_STEPS = 20
"""So many steps are looked at, the latest first, for one that moved a line."""

_LINES = (Layer.SEAM, Layer.CUTTING)


@dataclass(frozen=True)
class PaperOf:
    """The version that the paper at hand is taken to show: its commit, and why that one.

    It is that from which `garment` was cut last, or the one before a `step`, in words; by neither,
    the maker named it, or it is that before her edits by hand.
    """

    commit: str
    garment: str = ""
    step: str = ""


def paper_of(wardrobe: OpenWardrobe, evaluator: Evaluator, node: str, as_of: str | None) -> PaperOf:
    """Return the last version that is likely to be on paper and that shows other lines than now.

    Whoever cut a garment had the pattern of then on paper; else it is that before the last step
    that moved a line of it. Raises Misused where no line ever moved, Damaged where that
    cannot be told, and UnknownRevision.
    """
    for found in _likely(wardrobe, evaluator, node, as_of or "HEAD"):
        before = wardrobe.evaluator_at(found.commit)
        if before.state.has(node) and differ(before.draft(node), evaluator.draft(node)):
            return found
    for gap in wardrobe.gaps:
        raise gap.cause  # a step that moved one may be among what cannot be read
    raise Misused(
        f"No line of {node} has moved since it was made or cut; leave out --only-moved to print it "
        "whole, or name with --since the version of the paper you have."
    )


def _likely(
    wardrobe: OpenWardrobe, evaluator: Evaluator, node: str, until: str
) -> Iterator[PaperOf]:
    places = {commit.id: n for n, commit in enumerate(wardrobe.history(until=until))}
    cut = [g for g in evaluator.state.garments.values() if g.pattern == node]
    known = [garment for garment in cut if garment.cut_from in places]
    if known:
        last = min(known, key=lambda each: (places[each.cut_from], each.name))
        yield PaperOf(last.cut_from, garment=last.name)
    if until == "HEAD" and wardrobe.is_edited:
        yield PaperOf(wardrobe.head)
    for most in (1, _MOST_STEPS):  # almost always the last step is the one
        for commit in versions(wardrobe, (node,), most, until)[node]:
            if commit.parents:
                yield PaperOf(commit.parents[0], step=commit.subject)


def differ(before: Draft, after: Draft) -> bool:
    """Return whether some line of a pattern lies elsewhere on paper than in an earlier draft."""
    if before == after:
        return False
    old, new = as_cut(parted_as(called_as(before, after), after)), as_cut(after)
    if {*old.piece_names} != {*new.piece_names}:
        return True
    pairs = ((old.piece(piece.name), piece) for piece in new.pieces)
    return any(each.former or each.redrawn for each in (moved_lines(*p, _LINES) for p in pairs))
