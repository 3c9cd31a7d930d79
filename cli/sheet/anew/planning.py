"""Which pages are printed anew, looked up in a wardrobe and between two versions of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from trueup.cli.failures import Misused
from trueup.cli.sheet.anew.pages import MovedPages, is_laid_out_alike, moved_pages
from trueup.cli.sheet.anew.since import PaperOf, paper_of
from trueup.cli.sheet.document import Sheet
from trueup.cli.sheet.facts import PrintedVersion, facts_at, facts_of, version_of
from trueup.cli.sheet.laying.layout import ToPrint, to_print
from trueup.cli.sheet.laying.paper import A4, Paper, paper_named
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.cli.sheet.piece_lines import Layer
from trueup.cli.sheet.planning import against, layers_of, pieces_against, require_had
from trueup.cli.sheet.wanted import Wanted
from trueup.geometry.calling.own_names import called_as
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import unsided
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.sides.parting import parted_as
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.opened import OpenWardrobe

_LINES = (Layer.SEAM, Layer.CUTTING)


@dataclass(frozen=True)
class PlannedAnew:
    """What is printed anew of a sheet: today's pattern, its pages, and what the paper shows.

    `alike` says whether a whole sheet of today has everything on the same pages.
    """

    sheet: Sheet
    pages: MovedPages
    paper_of: PaperOf
    since: PrintedVersion
    alike: bool


def planned_anew(wardrobe: OpenWardrobe, evaluator: Evaluator, wanted: Wanted) -> PlannedAnew:
    """Return what is printed of a node for who has an earlier version of it on paper.

    Raises NoSuchNode, UnknownRevision, and Misused for a paper that is not spread over pages, lines
    there are none of, and where there is no earlier version.
    """
    layers = layers_of(wanted)
    facts = facts_of(wardrobe, evaluator, wanted.node, wanted.as_of, wanted.fabric)
    paper = paper_named(wanted.paper, facts.unit)
    if not paper.is_tiled:
        raise Misused(
            f"On {paper.name} each piece lies whole on one page; print --only-moved on a4, letter "
            "or a3, or all of it with --since."
        )
    of = (
        PaperOf(wardrobe.resolve(wanted.since))
        if wanted.since
        else paper_of(wardrobe, evaluator, wanted.node, wanted.as_of)
    )
    earlier = wardrobe.evaluator_at(of.commit)
    require_had(earlier, wanted)
    since = version_of(wardrobe, of.commit)
    old_draft, draft = earlier.draft(wanted.node), evaluator.draft(wanted.node)
    new = against(old_draft, draft, Sheet(facts, (), paper, layers), str(since))
    before = facts_at(earlier, wanted.node, since, wanted.fabric)
    shown = tuple(layer for layer in layers if layer is not Layer.CHANGES)
    pages = pages_since(Sheet(before, (), paper, shown), old_draft, new, draft)
    return PlannedAnew(new, pages, of, since, _laid_out_alike(pages, new, shown))


def _laid_out_alike(pages: MovedPages, new: Sheet, shown: tuple[Layer, ...]) -> bool:
    plain = tuple(ToPrint(each.piece, hems=each.hems) for each in new.pieces)
    return is_laid_out_alike(pages, replace(new, pieces=plain, layers=shown, moved=None))


def pages_moved(
    before: Evaluator, after: Evaluator, node: str, since: PrintedVersion, paper: Paper = A4
) -> MovedPages:
    """Return which pages of the sheet of a node, as it was, show a line that moved since.

    The sheet is as it is printed unless other lines or a fabric are asked for. Raises NoSuchNode,
    and Misused for a paper that is too small.
    """
    sheet = Sheet(facts_at(before, node, since), (), paper, _LINES)
    old_draft, draft = before.draft(node), after.draft(node)
    old = parted_as(called_as(old_draft, draft), draft)
    # Only what is laid out anew needs more room for places that are hatched; that is seldom.
    for with_places in (False, True):
        pieces = pieces_against(old, draft, _LINES, with_places=with_places)
        found = pages_since(sheet, old_draft, replace(sheet, pieces=pieces), draft)
        if not found.anew:
            break
    return found


def pages_since(old: Sheet, old_draft: Draft, new: Sheet, draft: Draft) -> MovedPages:
    """Return which pages of an earlier sheet, given without its pieces, are printed anew."""
    seams = lettered(as_cut(old_draft))
    printed = Sheet(old.facts, to_print(old_draft), old.paper, old.layers, seams=seams)
    return moved_pages(printed, new, _as_called_now(printed.pieces, old_draft, draft))


def _as_called_now(printed: Sequence[ToPrint], old: Draft, new: Draft) -> Mapping[str, Piece]:
    """Return the pieces of an earlier draft by the names that they have by now."""
    renamed = called_as(old, new)
    names = [*parted_as(renamed, new).piece_names]
    own = {name: each.piece for name, each in zip(renamed.piece_names, printed, strict=True)}
    shared = {name: own.get(name, own.get(unsided(name))) for name in names}
    return {name: was for name, was in shared.items() if was}
