"""A drawing looked over, with what its maker says of it: as a picture, as lines, and as a file."""

import hashlib
from collections.abc import Iterator
from dataclasses import replace

from trueup.cli.amounts import length
from trueup.cli.book.figures import figure
from trueup.cli.book.lines import html_lines
from trueup.cli.drawing.proposal_picture import proposal_picture
from trueup.cli.look.drawing_at_hand import DrawingAtHand
from trueup.cli.look.owning.line import Line
from trueup.cli.look.tracing.asked import AskedDrawing
from trueup.cli.render.patterns.proposal import (
    line_names,
    lines_table,
    other_lines,
    pieces_table,
    seams_table,
)
from trueup.cli.wording.words import worded_error
from trueup.geometry.units import Unit
from trueup.lineage.drawings.proposing.bringing_in import (
    draft_as_stated,
    look_at_shapes,
    own_draft,
    restated,
    shapes_of,
)
from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.stating.names_file import names_text
from trueup.lineage.drawings.stating.restating import on_fold, sewn_as, sewn_to_nothing
from trueup.lineage.drawings.stating.stated import Stated
from trueup.lineage.drawings.tracing.errors import CannotTrace


def handed_over(told: AskedDrawing) -> DrawingAtHand:
    """Return a drawing with its lines; raises CannotTrace, and Misused for its frame."""
    told.require_small()
    page = shapes_of(told.content, told.file, told.reach)
    return DrawingAtHand(known_as(told), page, own_draft(told.content, told.file))


def known_as(told: AskedDrawing) -> str:
    """Return what a drawing is known by, read as it was asked to be."""
    read = f"{told.file}\0{told.strip}\0".encode()
    return hashlib.sha256(read + told.content).hexdigest()


def looked_at(drawing: DrawingAtHand, told: AskedDrawing, unit: Unit) -> LookedAt:
    """Return what its lines are taken for, with all that is said of them; raises CannotTrace."""
    looked = look_at_shapes(drawing.page, told.file, told.names, told.lengths, over=told.over)
    stated = restated(looked.stated, told.file, lambda it: _said_of(it, told, unit))
    return replace(looked, stated=stated)


def _said_of(stated: Stated, told: AskedDrawing, unit: Unit) -> Stated:
    """Return a proposal with what a maker says of folds and seams."""
    for piece, edge in told.folds.items():
        stated = on_fold(stated, piece, edge or None, told.file)
    for seam in told.seams:
        if seam.mate:
            stated = sewn_as(stated, seam.stated(unit), told.file)
        else:
            stated = sewn_to_nothing(stated, seam.side, told.file)
    return stated


def told_of(drawing: DrawingAtHand, told: AskedDrawing, unit: Unit) -> Line:
    """Return all that a page shows of a drawing; raises CannotTrace."""
    looked = looked_at(drawing, told, unit)
    picture = proposal_picture(looked, {}, f"Lines of {told.file}")
    tables = [pieces_table(looked), lines_table(looked, unit)]
    if looked.stated.seams:
        tables.append(seams_table(looked, unit))
    try:
        drawn = draft_as_stated(looked, told.file)
        refused, missing = "", [f"Nothing states {each}." for each in drawn.missing]
    except CannotTrace as error:
        refused, missing = worded_error(error, unit), []
    return {
        "known": drawing.known,
        "picture": str(figure(picture, 1)),
        "html": str(html_lines([*tables, *other_lines(looked)], {})),
        "lines": list(_lines(looked, unit)),
        "edges": [f"{p.name}.{edge}" for p in looked.stated.pieces for edge in p.edges],
        "seams": [[s.name, list(s.side), list(s.mate)] for s in looked.stated.seams],
        "free": [f"{p.name}.{edge}" for p in looked.stated.pieces for edge in p.free],
        "names_itself": drawing.own is not None,
        "refused_yet": refused,
        "missing": missing,
        "text": names_text(looked.found, looked.stated, told.file, unit),
    }


def _lines(looked: LookedAt, unit: Unit) -> Iterator[list[str | bool]]:
    """Yield of each line its number, what it is taken for, its length, and if it is on the fold."""
    unfolded = tuple(replace(piece, fold=None) for piece in looked.stated.pieces)
    names = line_names(replace(looked.stated, pieces=unfolded))
    folds = {f"{piece.name}.{piece.fold}" for piece in looked.stated.pieces if piece.fold}
    for piece in looked.found.pieces:
        for line in (*piece.ring, *piece.inner):
            name = names.get(line.number, "")
            yield [str(line.number), name, length(line.chain.length, unit), name in folds]
