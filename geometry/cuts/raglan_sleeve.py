"""Draw the sleeve of a raglan: what went over from front and back is the top of its cap."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from trueup.geometry.cuts.raglan_line import (
    AT_ARMHOLE,
    AT_NECK,
    LINE,
    LINE_END,
    NECK,
    SHOULDER,
    Parted,
)
from trueup.geometry.marking.places import has_place, nearest_edge, runs_of, seen_from
from trueup.geometry.pieces.closed_line import reshaped, smoothed_at
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, Runs
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.sleeves.raglan import LaidRaglan, LaidUpper
from trueup.geometry.tolerance import SAME_LENGTH

CAP = "cap"
_FAIR = 10.0
"""The neck is drawn fair so far to either side of the shoulder, which is drawn straight."""


def raglan_sleeve(
    sleeve: Piece,
    laid: LaidRaglan,
    front: Parted,
    back: Parted,
    *,
    with_marks: bool,
    notched_from_line: bool,
) -> Piece:
    """Return the sleeve with the upper parts for the top of its cap, and what is marked on them.

    Notches of the cap are measured from where the lines begin, or else from the underarm.
    """
    cap = sleeve.edge(CAP)
    before, behind, tip = laid.front, laid.back, laid.tip
    neck = Edge(
        NECK,
        "front-neck",
        "back-neck",
        (before.neck, behind.neck.reversed()),
        (Dart(SHOULDER, tip),),
    )
    edges = [
        Edge("cap-front", cap.starts_at, "front-raglan", (before.below,)),
        Edge("raglan-front", "front-raglan", "front-neck", (before.line,)),
        reshaped(neck, lambda line: smoothed_at(line, neck.parts[0].length, _fair(neck))),
        Edge("raglan-back", "back-neck", "back-raglan", (behind.line.reversed(),)),
        Edge("cap-back", "back-raglan", cap.ends_at, (behind.below.reversed(),)),
    ]
    index = sleeve.edges.index(cap)
    ring = (*sleeve.edges[:index], *edges, *sleeve.edges[index + 1 :])
    allowances = dict(sleeve.allowances)
    if (beside := allowances.pop(CAP, None)) is not None:
        allowances |= {"cap-front": beside, "cap-back": beside}
    for each, line in ((front, "raglan-front"), (back, "raglan-back")):
        for edge, name in ((LINE, line), (NECK, NECK)):
            if edge in dict(each.upper.allowances):
                allowances.setdefault(name, each.upper.allowance(edge))
    own = tuple(notch for notch in sleeve.notches if notch.edge != CAP)
    drawn = replace(
        sleeve,
        edges=ring,
        notches=(*own, *_notches(sleeve, front, back, from_line=notched_from_line)),
        allowances=tuple(allowances.items()),
        corners=tuple(each for each in sleeve.corners if each.edge != CAP),
    )
    if not with_marks:
        return drawn
    marks = tuple(_marks(sleeve, drawn, (laid.front, front), (laid.back, back)))
    notches = (*drawn.notches, *_on_neck(front, "front"), *_on_neck(back, "back"))
    return replace(drawn, marks=marks, notches=notches)


def _marks(sleeve: Piece, drawn: Piece, *parts: tuple[LaidUpper, Parted]) -> Iterator[InnerMark]:
    """Yield the marks of the sleeve, and those that lie in what goes over to it, laid with that.

    One whose place is gone is measured from the nearest line; a name that is taken is told with
    that of the piece it comes from.
    """
    taken = {*drawn.edge_names, *drawn.dart_names}
    for mark in sleeve.marks:
        taken.add(mark.name)
        runs = runs_of(sleeve, mark)
        yield mark if has_place(drawn, mark) else _placed(drawn, mark, runs, drawn.edge_names)
    for laid, part in parts:
        name = part.lower.name
        for mark in part.upper.marks:
            runs = tuple(tuple(map(laid.motion, run)) for run in runs_of(part.upper, mark))
            called = mark.name if mark.name not in taken else f"{name}-{mark.name}"
            taken.add(called)
            edges = (f"{LINE}-{name}", NECK)
            yield _placed(drawn, replace(mark, name=called), runs, edges)


def _placed(piece: Piece, mark: InnerMark, runs: Runs, edges: Collection[str]) -> InnerMark:
    place = nearest_edge(piece, runs[0][0], edges)
    return replace(mark, place=place, runs=seen_from(piece, place, runs))


def _fair(neck: Edge) -> float:
    """Return how far to either side of the shoulder dart the neck is drawn fair, mm."""
    return min(_FAIR, *(part.length / 2 for part in neck.parts))


def _notches(sleeve: Piece, front: Parted, back: Parted, *, from_line: bool) -> Iterator[Notch]:
    """Yield the notches of the cap below the lines, and those of the lines."""
    cap = sleeve.edge(CAP)
    for each, name, corner in ((front, "front", cap.starts_at), (back, "back", cap.ends_at)):
        rest = each.laid_as.rest
        for notch in sleeve.notches:
            if notch.edge != CAP:
                continue
            along = notch.at.along(cap)
            up = along if corner == cap.starts_at else cap.length - along
            if up < rest + SAME_LENGTH:
                # What lies where the line begins stays there, however the cap below is drawn.
                below = rest - up if up < rest - SAME_LENGTH else 0.0
                begins = Position(f"{name}-{LINE}", distance=below)
                at = begins if from_line or not below else Position(corner, up)
                yield replace(notch, edge=f"{CAP}-{name}", at=at)
        if any(notch.name == LINE_END for notch in each.lower.notches):
            at = Position(f"{name}-{LINE}", distance=0.0)
            yield Notch(f"{LINE_END}-{name}", f"{CAP}-{name}", at)
        for notch in each.upper.notches:
            if notch.edge == LINE:
                share = notch.at.along(each.upper.edge(LINE)) / each.upper.edge(LINE).length
                if each.upper.edge(LINE).starts_at != AT_ARMHOLE:
                    share = 1 - share
                at = Position(f"{name}-{LINE}", share=round(share, 6))
                yield Notch(f"{LINE}-{name}", f"{LINE}-{name}", at)


def _on_neck(part: Parted, name: str) -> Iterator[Notch]:
    """Yield the notches on the bit of neck that goes over to the sleeve."""
    neck = part.upper.edge(NECK)
    for notch in part.upper.notches:
        if notch.edge == NECK:
            along = notch.at.along(neck)
            from_line = along if neck.starts_at == AT_NECK else neck.length - along
            yield replace(notch, at=Position(f"{name}-{NECK}", distance=from_line))
