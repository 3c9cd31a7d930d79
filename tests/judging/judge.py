"""Is each verdict so? Judged by what a maker means with each kind, read by sampling alone."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from tests.judging.sampled import SHARES, dart_of, depths, edge_of, laid_closed, length, way
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge

STILL = 0.05  # mm; what moved by less did not move
SAME, SAME_SHARE = 0.6, 0.03  # mm, or a share: above this something is missing
SURELY, SURELY_SHARE = 0.4, 0.015  # below this nothing is
SIDES = ("left", "right")
NEAR = 0.2  # share of a line's way within which a move is at the same place


@dataclass(frozen=True)
class Arrival:
    what: str
    wanted: float
    got: float | None

    @property
    def surely_whole(self) -> bool:
        # Of what is hardly more than the slack, none at all would pass for the whole.
        slack = min(max(SURELY, SURELY_SHARE * abs(self.wanted)), abs(self.wanted) / 2)
        return self.got is not None and abs(self.got - self.wanted) <= slack

    @property
    def surely_not_whole(self) -> bool:
        slack = max(SAME, SAME_SHARE * abs(self.wanted))
        return self.got is None or abs(self.got - self.wanted) > slack

    @property
    def surely_nothing(self) -> bool:
        return self.got is None or abs(self.got) < STILL / 2


def meant(kind: str, values: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return what a maker means with a kind: sorts of readings and their places."""
    piece, dart = values.get("piece"), values.get("dart")
    both = ("front", "back")
    table: dict[str, tuple[tuple[str, str], ...]] = {
        "scoop-armhole": (("line", f"{piece}.armhole"),),
        "redraw-edge": (("line", str(values.get("edge"))),),
        "deepen-dart": (("dart", str(dart)),),
        "release-dart": (("dart", str(dart)),),
        "move-apex": ((f"{values.get('tip', 'upper')} tip", str(dart)),),
        "shorten-shoulder": tuple(("length", f"{p}.shoulder") for p in both),
        "widen-neck": tuple(("length", f"{p}.shoulder") for p in both),
        "lower-armhole": tuple(("length", f"{p}.side") for p in both),
        "slope-shoulder": tuple(("drop", f"{p}.shoulder") for p in both),
        "lower-neck": (("drop", f"{piece}.neck"),),
        "true-hem": (("length", f"{piece}.side"),),
        "shape-neck": (("line", f"{piece}.neck"),),
        "shift-shoulder": tuple(("drop", f"{p}.shoulder") for p in both),
        "raise-cap": (("height", "sleeve.cap"),),
        "widen-sleeve": (("width", "sleeve.cap"),),
        "lengthen": (("length", "sleeve.front-seam"),)
        if piece == "sleeve"
        else (("length", "front.centre"),),
    }
    return table.get(kind, ())


def arrivals(
    kind: str,
    values: Mapping[str, Any],
    own: tuple[Draft, Draft],
    here: tuple[Draft, Draft],
    sides: Sequence[str] = SIDES,
) -> Iterator[Arrival]:
    """Yield what a correction meant at its own node and how much of it arrived in another.

    It is read on each of the sides of the body that it was made for.
    """
    for side, (sort, shared) in product(sides, meant(kind, values)):
        place = f"{side}-{shared}"
        found = _line(place, own, here) if sort == "line" else _number(sort, place, own, here)
        unread = found is None or math.isnan(found.wanted) or math.isnan(found.got or 0.0)
        if found and not unread and abs(found.wanted) > 4 * STILL:
            yield found


def _line(place: str, own: tuple[Draft, Draft], here: tuple[Draft, Draft]) -> Arrival | None:
    lines = [edge_of(draft, place) for draft in (*own, *here)]
    if lines[0] is None or lines[1] is None:
        return None
    move = _move(lines[0], lines[1])
    at = int(np.argmax(np.abs(move)))
    if lines[2] is None or lines[3] is None:
        return Arrival(f"{place} line", float(move[at]), None)
    theirs = _move(lines[2], lines[3])
    near = theirs[np.abs(SHARES - SHARES[at]) <= NEAR]
    sign = 1.0 if move[at] > 0 else -1.0
    return Arrival(f"{place} line", float(move[at]), float(sign * (near * sign).max()))


def _move(old: Edge, new: Edge) -> NDArray[np.float64]:
    """Return how far the new line lies from the old, at shares of the way between its ends."""
    was, now = depths(old), depths(new)
    along = np.array([0.0, *SHARES, 1.0]) * way(new)
    line = shapely.LineString(np.column_stack([along, [0.0, *was, 0.0]]))
    points = shapely.points(along[1:-1], now)
    return np.asarray(shapely.distance(points, line) * np.sign(now - was))


def _number(
    sort: str, place: str, own: tuple[Draft, Draft], here: tuple[Draft, Draft]
) -> Arrival | None:
    if sort == "dart":
        return _dart(place, own, here)
    mine = [_read(sort, draft, place) for draft in own]
    theirs = [_read(sort, draft, place) for draft in here]
    if mine[0] is None or mine[1] is None:
        return None
    got = None if theirs[0] is None or theirs[1] is None else theirs[1] - theirs[0]
    return Arrival(f"{place} {sort}", mine[1] - mine[0], got)


def _dart(place: str, own: tuple[Draft, Draft], here: tuple[Draft, Draft]) -> Arrival | None:
    """Return the intake that arrived: by the angle where both darts open on an edge."""
    if _taken(own[0], place) is None:
        return None
    wide = [_taken(draft, place) or (0.0, 0.0) for draft in own]
    there = [_taken(draft, place) for draft in here]
    wanted = wide[1][0] - wide[0][0]
    if there[0] is None:
        return Arrival(f"{place} intake", wanted, None)
    old, new = there[0], there[1] or (0.0, 0.0)
    if wide[0][1] and old[1]:
        return Arrival(
            f"{place} angle", wanted, wanted * (new[1] - old[1]) / (wide[1][1] - wide[0][1])
        )
    return Arrival(f"{place} intake", wanted, new[0] - old[0])


def _taken(draft: Draft, place: str) -> tuple[float, float] | None:
    try:
        first, second, pivot, _, _ = dart_of(draft, place)
    except LookupError:
        return None
    if pivot is None:
        return abs(second - first), 0.0
    return abs(second - first), abs(float(np.angle((second - pivot) / (first - pivot))))


def _read(sort: str, draft: Draft, place: str) -> float | None:
    if sort.endswith("tip"):
        return _tip(sort, draft, place)
    edge = edge_of(draft, place)
    return None if edge is None else _EDGE_READINGS[sort](edge)


def _tip(sort: str, draft: Draft, place: str) -> float | None:
    try:
        first, second, _, upper, lower = dart_of(draft, place)
    except LookupError:
        return None
    return abs((first + second) / 2 - (lower if sort.startswith("lower") else upper))


def _drop(edge: Edge) -> float:
    """Return how far an edge falls: a shoulder with its dart closed, as it hangs from the neck."""
    if edge.darts and edge.name != "shoulder":
        return math.nan  # what lies beyond a dart lies turned: it is not read off here
    line = laid_closed(edge, "neck-point")
    return float(line[-1].imag - line[0].imag)


_EDGE_READINGS: dict[str, Callable[[Edge], float]] = {
    "length": length,
    "drop": _drop,
    "width": lambda edge: abs(edge.end - edge.start),
    "height": lambda edge: float(np.abs(depths(edge)).max()),
}
