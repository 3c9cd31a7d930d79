"""Fingerprints of content: of a draft, and of the shape of one edge.

They depend on names and on amounts rounded to a grid, never on objects, on the process or on the
order in which pieces, seams and marks are kept.
"""

import hashlib
import json
import math
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

import msgspec

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtLevel, BesideEdge, InnerMark, MarkPlace, OnEdge
from trueup.geometry.pieces.piece import Notch, Piece, Pleat, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.seams.joined import Joined
from trueup.geometry.tolerance import FINGERPRINT_GRID, SAME_POINT, SHAPE_GRID

Shape = tuple[Any, ...]
"""The shape of an edge: whole numbers and the names of its darts; equal for equal shapes."""

_FORM = "draft 1"
_SHARE_GRID = 1e-9

_OFF_CENTRE = 1 / math.pi
"""The grid is laid a third of a step off: round amounts, 1/16 in among them, would otherwise lie
just between two of its lines, where noise decides to which they go."""


def fingerprint(draft: Draft) -> str:
    """Return the SHA-256 of a draft's content, in hexadecimal digits.

    Two drafts have the same one when their pieces (edges, darts, notches, grainlines, folds,
    levels, allowances, pleats, marks, labels and cut corners), seams and joins are the same, and
    they are called the same, coordinates to `tolerance.FINGERPRINT_GRID`.
    """
    content = [
        _FORM,
        [[piece.name, piece_fingerprint(piece)] for piece in _by_name(draft.pieces)],
        [_seam(seam) for seam in _by_name(draft.seams)],
        [_join(join) for join in _by_name(draft.joins)],
    ]
    if draft.cuts:
        content.append([_cut(cut) for cut in _by_name(draft.cuts)])
    if draft.drafted:
        content.append([msgspec.to_builtins(each) for each in draft.drafted])
    if draft.joined:
        content.append([_joined(each) for each in _by_name(draft.joined)])
    if draft.called:
        called: Any = {"called": sorted(draft.called)}
        content.append(called)
    return _digest(content)


@lru_cache(maxsize=512)
def piece_fingerprint(piece: Piece) -> str:
    """Return the SHA-256 of one piece's content, in hexadecimal digits."""
    grainline = piece.grainline
    content: list[Any] = [
        piece.name,
        piece.fold,
        [_edge(edge) for edge in piece.edges],
        [
            [dart.name, _points((dart.upper, dart.lower, dart.left, dart.right))]
            for dart in _by_name(piece.inner_darts)
        ],
        [_notch(n) for n in sorted(piece.notches, key=lambda n: (n.edge, n.name))],
        _points((grainline.start, grainline.end)) if grainline else None,
        [[level.name, _on_grid(level.y), level.along] for level in _by_name(piece.levels)],
    ]
    if piece.allowances:
        # Only then, so that a piece cut without keeps the fingerprint it always had.
        content.append([[edge, _on_grid(mm)] for edge, mm in sorted(piece.allowances)])
    if piece.worn:
        content.append(piece.worn.value)
    if piece.pleats:
        content.append([_pleat(pleat) for pleat in _by_name(piece.pleats)])
    if piece.vents:
        content.append([_vent(vent) for vent in _by_name(piece.vents)])
    if piece.marks:
        content.append({"marks": [_mark(mark) for mark in _by_name(piece.marks)]})
    if piece.label:
        content.append({"label": msgspec.to_builtins(piece.label)})
    if piece.corners:
        told = sorted(piece.corners, key=lambda each: each.corner)
        corners = [[c.corner, c.treatment.value, c.edge, _on_grid(c.by)] for c in told]
        content.append({"corners": corners})
    if piece.free:
        content.append({"free": sorted(piece.free)})
    return _digest(content)


def shape_of(piece: Piece, edge: str) -> Shape:
    """Return the shape of an edge up to a rigid motion; raises NoSuchName for no such edge.

    It is the edge with its darts closed, in the frame of its own ends, to `tolerance.SHAPE_GRID`,
    with the name, the intake and the place of each dart. A piece, or a part of one, that is turned
    or shifted bodily keeps the shapes of its edges; a mirror image has another.
    """
    return _shape(piece.edge(edge))


@lru_cache(maxsize=4096)
def _shape(edge: Edge) -> Shape:
    line = closed(edge)
    chain = line.chain
    across = chain.end - chain.start
    axis = unit(across) if abs(across) > SAME_POINT else chain.start_tangent
    points = [
        (point - chain.start) / axis
        for cubic in chain.cubics
        for point in (cubic.start_control, cubic.end_control, cubic.end)
    ]
    darts = tuple(
        (
            mouth.dart.name,
            _on_grid(mouth.intake, SHAPE_GRID),
            _on_grid(station, SHAPE_GRID),
        )
        for mouth, station in zip(edge.mouths, line.dart_stations, strict=True)
    )
    return (*_points(points, SHAPE_GRID), darts)


def _seam(seam: Seam) -> list[Any]:
    return [
        seam.name,
        [_run(run) for run in seam.side],
        [_run(run) for run in seam.mate],
        *(_on_grid(mm) for mm in _mm_of(seam.allowed)),
        *([s.name, list(s.ends_at), *map(_on_grid, _mm_of(s.allowed))] for s in seam.sections),
        *([seam.worn.value] if seam.worn else []),
        *([["open", *seam.open_from]] if seam.open_from else []),
    ]


def _mm_of(band: Band) -> tuple[float, float, float]:
    return band.low, band.high, band.tolerance


def _run(run: Run) -> list[Any]:
    return [run.piece, run.edge, run.backwards]


def _join(join: Join) -> list[Any]:
    worn = [join.worn.value] if join.worn else []
    return [join.name, list(join.first), list(join.second), _on_grid(join.degrees), *worn]


def _cut(cut: Cut) -> list[Any]:
    other = cut.second
    places = (cut.begins, cut.ends, *((other.begins, other.ends) if other else ()))
    ends = [[end.edge, end.dart, _on_grid(end.setback)] for end in places]
    more = [other.line] if other else []
    return [cut.name, list(cut.parts), ends, piece_fingerprint(cut.whole), *more]


def _joined(joined: Joined) -> list[Any]:
    return [
        _cut(joined.cut),
        [piece_fingerprint(part) for part in joined.parts],
        [[list(pair) for pair in pairs] for pairs in joined.names],
        _seam(joined.seam),
        [_join(join) for join in _by_name(joined.joins)],
    ]


def _edge(edge: Edge) -> list[Any]:
    return [
        edge.name,
        edge.starts_at,
        edge.ends_at,
        [_chain(part) for part in edge.parts],
        [[d.name, _points((d.apex,)), _on_grid(d.setback), d.turned] for d in edge.darts],
        *(["shaped"] if edge.shaped else []),
    ]


def _chain(chain: Chain) -> list[int]:
    return _points(
        [
            chain.start,
            *(p for c in chain.cubics for p in (c.start_control, c.end_control, c.end)),
        ]
    )


def _notch(notch: Notch) -> list[Any]:
    return [notch.name, notch.edge, *_position(notch.at)]


def _position(at: Position) -> list[Any]:
    distance = None if at.distance is None else _on_grid(at.distance)
    share = None if at.share is None else _on_grid(at.share, _SHARE_GRID)
    return [at.corner, distance, share]


def _vent(vent: Vent) -> list[Any]:
    amounts = map(_on_grid, (vent.width, vent.slope, vent.allowance))
    return ["vent", vent.name, vent.edge, *_position(vent.at), vent.hem, *amounts]


def _pleat(pleat: Pleat) -> list[Any]:
    line = [pleat.edge, *_position(pleat.at), pleat.ends, *_position(pleat.ends_at)]
    amounts = (_on_grid(pleat.depth), _on_grid(pleat.stitched))
    return [pleat.name, *line, pleat.style.value, pleat.towards, *amounts]


def _mark(mark: InnerMark) -> list[Any]:
    runs = [_points(run) for run in mark.runs]
    return [mark.name, mark.purpose.value, _place(mark.place), runs]


def _place(place: MarkPlace) -> list[Any]:
    match place:
        case OnEdge():
            return ["edge", place.edge, *_position(place.at)]
        case AtLevel():
            return ["level", place.edge, place.level, _on_grid(place.down)]
        case BesideEdge():
            return ["beside", place.edge, _on_grid(place.inside)]
        case _:
            return [type(place).__struct_config__.tag, *msgspec.structs.astuple(place)]


def _points(points: Iterable[Point], grid: float = FINGERPRINT_GRID) -> list[int]:
    return [_on_grid(amount, grid) for p in points for amount in (p.real, p.imag)]


def _on_grid(amount: float, grid: float = FINGERPRINT_GRID) -> int:
    """Return the number of the grid line an amount goes to; nought and minus nought go to one."""
    return math.floor(amount / grid + _OFF_CENTRE)


def _by_name(things: Iterable[Any]) -> list[Any]:
    return sorted(things, key=lambda thing: thing.name)


def _digest(content: list[Any]) -> str:
    text = json.dumps(content, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(text.encode("ascii")).hexdigest()
