"""What is asked for on a sheet, looked up in the wardrobe."""

from collections.abc import Collection
from dataclasses import replace

from trueup.cli.failures import Misused
from trueup.cli.sheet.changes import between
from trueup.cli.sheet.document import Sheet
from trueup.cli.sheet.facts import facts_of, version_of
from trueup.cli.sheet.laying.layout import ToPrint, to_print
from trueup.cli.sheet.laying.paper import paper_named
from trueup.cli.sheet.laying.sheets import Moved
from trueup.cli.sheet.moved_lines import moved_lines
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.cli.sheet.nested import facts_of_run, nested, size_lines
from trueup.cli.sheet.piece_lines import Layer
from trueup.cli.sheet.wanted import Wanted
from trueup.geometry.calling.own_names import called_as
from trueup.geometry.cloth.turned_hem import hems_of
from trueup.geometry.comparing.difference import difference
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.sides.parting import parted_as
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.sizes.errors import NoSizes
from trueup.lineage.sizes.run import sizes_of


def planned(wardrobe: OpenWardrobe, evaluator: Evaluator, wanted: Wanted) -> Sheet:
    """Return what is to be printed.

    Raises NoSuchNode, UnknownRevision, and Misused for a paper, lines or an earlier version of the
    node that there are not.
    """
    layers = layers_of(wanted)
    facts = facts_of(wardrobe, evaluator, wanted.node, wanted.as_of, wanted.fabric)
    paper = paper_named(wanted.paper, facts.unit)
    if wanted.sizes:
        run = sizes_of(evaluator.state, wanted.node)
        if not run:
            raise NoSizes(wanted.node)
        for each in evaluator.announced([size.node.name for size in run]):
            evaluator.summary(each)
        told = facts_of_run(facts, evaluator, run)
        only = layers if wanted.lines else (Layer.CUTTING,)
        pieces, seams = nested(evaluator, run)
        return Sheet(told, pieces, paper, only, None, size_lines(run), seams)
    draft = evaluator.draft(wanted.node)
    if wanted.since is None:
        return Sheet(facts, to_print(draft), paper, layers, seams=lettered(as_cut(draft)))
    earlier = wardrobe.evaluator_at(wanted.since)
    require_had(earlier, wanted)
    since = str(version_of(wardrobe, wanted.since))
    return against(earlier.draft(wanted.node), draft, Sheet(facts, (), paper, layers), since)


def require_had(earlier: Evaluator, wanted: Wanted) -> None:
    """Raise Misused where there was no such node at the earlier version that is asked for."""
    if not earlier.state.has(wanted.node):
        raise Misused(
            f"There was no {wanted.node} at version {wanted.since}; name a later one, or leave out "
            "--since."
        )


def against(before: Draft, draft: Draft, sheet: Sheet, since: str) -> Sheet:
    """Return a sheet of a draft with what moved since it was another, at a version in words.

    A piece that is new has nothing to compare with. Seams keep the letters they had.
    """
    old = parted_as(called_as(before, draft), draft)
    moved = Moved(
        since,
        difference(old, draft),
        tuple(name for name in draft.piece_names if not old.has_piece(name)),
        tuple(name for name in old.piece_names if not draft.has_piece(name)),
    )
    pieces = pieces_against(old, draft, sheet.layers)
    seams = lettered(as_cut(draft), lettered(as_cut(before)))
    return replace(sheet, pieces=pieces, moved=moved, seams=seams)


def pieces_against(
    old: Draft, draft: Draft, layers: Collection[Layer], *, with_places: bool = True
) -> tuple[ToPrint, ...]:
    """Return the pieces of a draft with the lines that moved since it was another, parted as it is.

    Places that changed, which are hatched, come with them unless they are not wanted.
    """
    below, hems = as_cut(old), hems_of(old)
    found = []
    for each in to_print(draft):
        name = each.piece.name
        if below.has_piece(name):
            was = below.piece(name)
            lines = moved_lines(was, each.piece, layers, (hems.get(name, ()), each.hems))
            changed = between(was, each.piece) if with_places else each.changed
            found.append(replace(each, changed=changed, lines=lines))
        else:
            found.append(each)
    return tuple(found)


def layers_of(wanted: Wanted) -> tuple[Layer, ...]:
    """Return the lines a maker asks for; raises Misused."""
    text, since = wanted.lines, wanted.since
    if wanted.only_moved:
        asked = layers_of(replace(wanted, only_moved=False, since=None))
        return (*asked, Layer.CHANGES)
    if text is None:
        chosen = (Layer.SEAM, Layer.CUTTING)
        return chosen if since is None else (*chosen, Layer.CHANGES)
    named = [word.strip() for word in text.split(",") if word.strip()]
    known = [layer.value for layer in Layer]
    for word in named:
        if word not in known:
            raise Misused(f'"{word}" are no lines; choose of {", ".join(known)}.')
    layers = tuple(layer for layer in Layer if layer.value in named)
    if not {Layer.SEAM, Layer.CUTTING} & set(layers):
        raise Misused("A sheet needs seam or cutting lines; add one to --lines.")
    if Layer.CHANGES in layers and since is None:
        raise Misused("Changes are shown since a version; name the one of the last print: --since.")
    if since is not None and Layer.CHANGES not in layers:
        raise Misused("--since goes with the lines called changes; add them to --lines.")
    return layers
