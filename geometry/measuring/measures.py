"""Measures by name: what a maker reads off a draft with a tape, in mm.

front.shoulder          sewn length of an edge, darts skipped
front.side.allowance    cloth cut outside an edge's seam line, where there is any
front.bust.intake       width of a dart at its mouth (bust is the dart)
front.bust.leg          length of its legs
front.chest-width       width of the piece as sewn at a level (chest, bust, waist, hip, ...)
front.underarm-depth    how far the underarm lies below the shoulder point, as sewn
front.shoulder-drop     how far the shoulder point lies below the neck point, as sewn
front.neck-depth        how far the centre of the neck lies below the neck point, as sewn
front.neck-width        how far the neck point lies beside the centre of the neck, as sewn
trouser-front.fork-depth  how far the fork of a trouser leg lies below the waist at the centre
trouser-front.fork-width  how far it lies beside it
front.pocket.along      how far a mark inside the piece (pocket is its name) lies along its edge
                        from its corner, below its level, or back from the tip of its dart
front.pocket.inside     how far it lies square to that, into the piece
sleeve.cap-height       how far the crown of a cap rises above the line between its lower ends
sleeve.cap-ease         how much longer the cap is than the armhole it is sewn into
side-seam.ease          how much longer one side of any other seam is than the other

Of a piece that was cut in two, front.shoulder is read across its parts as they are sewn.

Where left and right differ, each is read by itself: left-front.shoulder, right-side-seam.ease.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import lru_cache

from trueup.geometry.errors import GeometryError, NoSuchName
from trueup.geometry.measuring.sections import sewn_to
from trueup.geometry.measuring.tape import level_width
from trueup.geometry.measuring.walk import run_length, walk
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtLevel, BesideEdge, InnerMark, OnEdge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import sided
from trueup.geometry.pieces.sleeve_cap import cap_height
from trueup.geometry.pleats.folding import folds
from trueup.geometry.pleats.laid_open import laid_open
from trueup.geometry.tolerance import SAME_POINT

CAP_SEAM = "armhole-seam"
CAP_EASE = "sleeve.cap-ease"


def measures(draft: Draft) -> dict[str, float]:
    """Return every measure of a draft by name, in mm."""
    found: dict[str, float] = {}
    for piece in draft.told_of:
        found.update(piece_measures(piece))
    for seam in draft.seams:
        found[sided(seam_measure(seam.shared_name), seam.worn)] = walk(draft, seam).ease
        if sewn := sewn_to(draft, seam):
            name = sided(seam.shared_name, seam.worn)
            found[f"{name}.sewn"] = sewn[0]
            found[f"{name}.open"] = run_length(draft, seam.side) - sewn[0]
    return found


def measure(draft: Draft, name: str) -> float:
    """Return one measure by name, mm; raises NoSuchName with the nearest there are."""
    piece = name.partition(".")[0]
    if draft.has_piece(piece):
        of_piece = piece_measures(draft.piece(piece))
        if name in of_piece:
            return of_piece[name]
    found = measures(draft)
    if name not in found:
        raise NoSuchName("measure", name, "this draft", tuple(found))
    return found[name]


def seam_measure(seam: str) -> str:
    """Return the name of the measure that is a seam's ease."""
    return CAP_EASE if seam == CAP_SEAM else f"{seam}.ease"


def seams_sewing(draft: Draft, edge: str) -> tuple[str, ...]:
    """Return the measures of the seams that sew an edge, written `piece.edge`."""
    return tuple(
        seam_measure(seam.name)
        for seam in draft.seams
        if any(str(run) == edge for run in seam.runs)
    )


def allowance_measure(piece: str, edge: str) -> str:
    """Return the name of the measure that is an edge's seam or hem allowance."""
    return f"{piece}.{edge}.allowance"


@lru_cache(maxsize=512)
def piece_measures(piece: Piece) -> Mapping[str, float]:
    """Return the measures of one piece by their full names, mm."""
    found = {f"{piece.name}.{edge.name}": edge.length for edge in piece.edges}
    for name, allowed in piece.allowances:
        found[allowance_measure(piece.name, name)] = allowed
    for edge in piece.edges:
        for mouth in edge.mouths:
            found[f"{piece.name}.{mouth.dart.name}.intake"] = mouth.intake
            found[f"{piece.name}.{mouth.dart.name}.leg"] = mouth.legs[0]
    for dart in piece.inner_darts:
        found[f"{piece.name}.{dart.name}.intake"] = dart.intake
    found.update(_measures_as_cut(piece))
    for level in piece.levels:
        # A width that cannot be read is left out: reading never stops a step.
        with suppress(GeometryError):
            found[f"{piece.name}.{level.name}-width"] = level_width(piece, level)
    for mark in piece.marks:
        found.update(_mark_measures(piece, mark))
    for edge in piece.edges:
        found.update(_spans(piece.name, edge))
    return found


def _spans(piece: str, edge: Edge) -> Mapping[str, float]:
    """Return how far the ends of an edge lie apart, across and down, where that has a name."""
    match edge.name:
        case "cap":
            return {f"{piece}.cap-height": cap_height(edge)}
        case "armhole":
            return {f"{piece}.underarm-depth": sewn_span(edge).imag}
        case "shoulder":
            return {f"{piece}.shoulder-drop": sewn_span(edge).imag}
        case "neck":
            span = sewn_span(edge)
            return {f"{piece}.neck-depth": -span.imag, f"{piece}.neck-width": abs(span.real)}
        case "crotch":
            span = sewn_span(edge)
            return {f"{piece}.fork-depth": -span.imag, f"{piece}.fork-width": abs(span.real)}
        case _:
            return {}


def _measures_as_cut(piece: Piece) -> dict[str, float]:
    found = {f"{piece.name}.{vent.name}.width": vent.width for vent in piece.vents}
    if not piece.pleats:
        return found
    with suppress(GeometryError):
        for fold in folds(piece):
            found[f"{piece.name}.{fold.pleat.name}.intake"] = fold.take_up
        for name in {edge for pleat in piece.pleats for edge in (pleat.edge, pleat.ends)}:
            found[f"{piece.name}.{name}.laid-open"] = laid_open(piece).edge(name).length
    return found


def mark_measures(piece: str, mark: str) -> tuple[str, str]:
    """Return the names of the measures that say where a mark of a piece lies."""
    return f"{piece}.{mark}.along", f"{piece}.{mark}.inside"


def _mark_measures(piece: Piece, mark: InnerMark) -> Iterator[tuple[str, float]]:
    """Yield how far the first point of a mark lies along and inside; not what is nought."""
    way = mark.runs[0][0]
    if isinstance(mark.place, BesideEdge):
        way += 1j * mark.place.inside
    if isinstance(mark.place, AtLevel):
        way += mark.place.down
    if isinstance(mark.place, OnEdge):
        at = mark.place.at
        distance = (
            at.distance if at.share is None else at.share * piece.edge(mark.place.edge).length
        )
        way += distance or 0.0
    for name, amount in zip(
        mark_measures(piece.name, mark.name), (way.real, way.imag), strict=True
    ):
        if abs(amount) > SAME_POINT:
            yield name, amount


def sewn_span(edge: Edge) -> complex:
    """Return the step from the start of an edge to its end with its darts closed, mm."""
    return closed(edge).to_closed_end(edge.end) - edge.start
