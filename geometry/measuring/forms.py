"""How lines and darts lie in a frame of their own: what no length says, and a correction may mean.

front.armhole.line      how long the straight way between its own ends is, darts closed, and how
                        deep the line lies beside it: mm at `STATIONS`; no numbers where straight
front.bust.angle        the angle at the pivot of a dart that opens on an edge, radians
front.bust.shared-angle what it and all other darts from the same pivot take in together, radians;
                        only where others open from there
front.bust.tip          how far the tip of a dart (the upper of two) lies from its mouth, mm
front.waist.lower-tip   the same of the lower tip of a dart inside a piece
side-seam.least         how much longer one side of a seam has to be than the other, mm
side-seam.most          how much longer it may be, mm; of a section armhole-seam.front.most
"""

from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import FLATTEN, SAME_POINT, UNCHANGED

Form = tuple[float, ...]

_LINE = ".line"
_COUNT = 32
_POINTS = 48

STATIONS = tuple(float(s) for s in (1 - np.cos(np.pi * np.arange(1, _COUNT) / _COUNT)) / 2)
"""Shares of the straight way at which a line is read: closer towards its ends, where it bends."""

_NEAR = 0.15
"""A line was moved in the same place where it moved within this share of the way from there."""


def _weights(t: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return what each control point of a cubic weighs at some parameters."""
    return np.stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3])


_WEIGHTS = _weights(np.linspace(0.0, 1.0, _POINTS))
_BETWEEN = _weights(np.arange(4) / 4)


def forms(draft: Draft) -> dict[str, Form]:
    """Return every form of a draft by name."""
    found: dict[str, Form] = {}
    for piece in draft.told_of:
        found.update(piece_forms(piece))
    for seam in draft.seams:
        for part in (None, *sections_of(draft, seam)):
            allowed = part.allowed if part else seam.allowed
            name = seam.name if part is None else f"{seam.name}.{part.name}"
            found[least_of(name)], found[most_of(name)] = (allowed.low,), (allowed.high,)
    return found


def least_of(seam: str) -> str:
    """Return the name of the least ease a seam, or a section of it, may hold."""
    return f"{seam}.least"


def most_of(seam: str) -> str:
    """Return the name of the most ease a seam, or a section of it, may hold."""
    return f"{seam}.most"


@lru_cache(maxsize=512)
def piece_forms(piece: Piece) -> Mapping[str, Form]:
    """Return the forms of one piece by their full names."""
    found: dict[str, Form] = {line_of(f"{piece.name}.{e.name}"): depths(e) for e in piece.edges}
    for edge in piece.edges:
        for mouth in edge.mouths:
            name = f"{piece.name}.{mouth.dart.name}"
            found[angle_of(name)] = (abs(mouth.angle),)
            found[tip_of(name)] = (abs((mouth.first + mouth.second) / 2 - mouth.tip),)
    found.update(_shared_angles(piece))
    for dart in piece.inner_darts:
        name, middle = f"{piece.name}.{dart.name}", (dart.left + dart.right) / 2
        found[tip_of(name)] = (abs(middle - dart.upper),)
        found[tip_of(name, "lower")] = (abs(middle - dart.lower),)
    return found


def _shared_angles(piece: Piece) -> dict[str, Form]:
    mouths = [mouth for edge in piece.edges for mouth in edge.mouths]
    found: dict[str, Form] = {}
    for one in mouths:
        sharing = [m for m in mouths if abs(m.dart.apex - one.dart.apex) < SAME_POINT]
        if len(sharing) > 1:
            name = shared_angle_of(f"{piece.name}.{one.dart.name}")
            found[name] = (sum(abs(mouth.angle) for mouth in sharing),)
    return found


def line_of(edge: str) -> str:
    """Return the name of the form that is the line of an edge (`piece.edge`)."""
    return f"{edge}{_LINE}"


def is_line(form: str) -> bool:
    """Return whether the form of a name is the line of an edge."""
    return form.endswith(_LINE)


def angle_of(dart: str) -> str:
    """Return the name of the form that is the angle of a dart (`piece.dart`)."""
    return f"{dart}.angle"


def shared_angle_of(dart: str) -> str:
    """Return the name of the form that is the angle of all darts from the pivot of a dart."""
    return f"{dart}.shared-angle"


def tip_of(dart: str, tip: str = "upper") -> str:
    """Return the name of the form that says where a tip of a dart (`piece.dart`) lies."""
    return f"{dart}.tip" if tip == "upper" else f"{dart}.{tip}-tip"


def depths(edge: Edge) -> Form:
    """Return the way between the ends of an edge, then how deep it lies beside it at each station.

    All in mm; no numbers where the line is straight. Its darts are closed. Where the line passes a
    station more than once, the first time counts.
    """
    line = closed(edge).chain
    way = line.end - line.start
    if abs(way) < SAME_POINT:
        return ()
    controls = np.array([list(cubic) for cubic in line.cubics], dtype=np.complex128)
    points = ((controls @ _WEIGHTS).ravel() - line.start) / (way / abs(way))
    if float(np.abs(points.imag).max()) < FLATTEN / 2:
        return ()
    read = _first_at(points, np.array(STATIONS) * abs(way))
    return (round(abs(way), 4), *(round(float(depth), 4) for depth in read))


def _first_at(points: NDArray[np.complex128], stations: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the depth of a line through points where it first comes as far as each station."""
    reached = np.maximum.accumulate(points.real)
    after = np.clip(np.searchsorted(reached, stations), 1, len(points) - 1)
    low, high = points[after - 1], points[after]
    span = high.real - low.real
    share = np.clip((stations - low.real) / np.where(span > 0, span, 1.0), 0.0, 1.0)
    return np.asarray(low.imag + share * (high.imag - low.imag))


def moved(before: Form | None, after: Form | None) -> Form:
    """Return how far a form moved; what is not there counts as nought.

    For a line, how far it lies at each station from where it lay, both laid to the same ends: where
    a line runs steeply off the way between its ends, its depth grows by more than it moves.
    """
    old, new = before or (), after or ()
    if max(len(old), len(new)) <= 1:
        return (sum(new) - sum(old),)
    was, now = (np.array(each[1:] or (0.0,) * len(STATIONS)) for each in (old, new))
    way = (new or old)[0]
    points = np.array(STATIONS) * way + 1j * now
    away = _distances(points, _drawn_through(was, way)) * np.sign(now - was)
    return tuple(float(each) for each in away)


def _drawn_through(depth: NDArray[np.float64], way: float) -> NDArray[np.complex128]:
    """Return points along a smooth line with these depths at the stations, and nought at its ends.

    Straight from station to station it would lie tenths of a millimetre off the bends.
    """
    along = np.array([0.0, *STATIONS, 1.0]) * way
    across = np.array([0.0, *depth, 0.0])
    points, slopes = along + 1j * across, 1 + 1j * np.gradient(across, along)
    thirds = np.diff(along) / 3
    first, last = points[:-1], points[1:]
    controls = (first, first + slopes[:-1] * thirds, last - slopes[1:] * thirds, last)
    return np.append((np.stack(controls, axis=1) @ _BETWEEN).ravel(), points[-1])


def _distances(points: NDArray[np.complex128], line: NDArray[np.complex128]) -> NDArray[np.float64]:
    """Return how far each point lies from a line through points."""
    starts, spans = line[:-1], np.diff(line)
    reach = points[:, None] - starts
    share = np.clip((reach * spans.conj()).real / np.abs(spans) ** 2, 0.0, 1.0)
    return np.asarray(np.abs(reach - share * spans).min(axis=1))


def farthest_move(move: Form) -> float:
    """Return the largest number of a move with its sign; nought for none."""
    return max(move, key=abs, default=0.0)


def like_move(move: Form, model: Form) -> float:
    """Return how far a form moved where and in the direction in which a model moved farthest.

    Nought where it stood still there or went the other way, with the sign it moved by then.
    """
    if len(move) != len(model) or len(model) < 2:
        return farthest_move(move)
    there = max(range(len(model)), key=lambda k: abs(model[k]))
    near = [move[k] for k in range(len(move)) if abs(STATIONS[k] - STATIONS[there]) <= _NEAR]
    sign = 1.0 if model[there] > 0 else -1.0
    best = max(near, key=lambda each: each * sign)
    return best if best * sign > UNCHANGED else move[there]
