"""Find lines that no maker would cut: they wave, or bend too tightly.

Lines are looked at as they are sewn, their darts closed, between the corners they have.
"""

import itertools
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.limits import LARGEST_LENGTH
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.corners import between_corners
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Fact, Said, said
from trueup.geometry.tolerance import (
    SAME_POINT,
    TIGHTEST_RADIUS,
    WAVE,
    WORSE,
)

_STEP = 0.5
"""Lines are read in steps of this length, mm."""

_CLOSE = 2
"""How many points of a curve are read in each step."""

_BEND = 5.0
"""A bend is as tight as it is over this length: a shorter one vanishes in sewing."""

_TURNS = 3.0
"""A line has turned back where its direction has by so many degrees."""

_SENSES = {"neck": 1}
_USUAL_SENSES = 3
"""How often a line may bend one way and then the other. A neck bends one way; a cap rises and falls
in an S; a seam down the body goes in at the waist and out over the hip."""

_SHAPED_SENSES = 5
"""A shirt-tail bends down and back, and may do so at its centre once more."""

_EASY = 110.0
"""A line that goes in and out does so more gently than a circle of this radius, mm."""

_SHAPED = ("cap", "cap-front", "cap-back")
"""Edges that may go in and out as tightly as they like, besides those that are shaped so."""


class _Fault(NamedTuple):
    """How much is wrong with a line, mm, and how far from its start."""

    measured: float
    at: float


def fairness_findings(piece: Piece) -> Iterator[Finding]:
    """Yield the worst wave and the tightest bend of each edge, where no maker would cut it."""
    for edge in piece.edges:
        wave, radius = _faults(edge)
        here = f"{piece.name}.{edge.name}"
        if wave and wave.measured > WAVE:
            says = said("wave", place=here, **_at(edge, wave), allowed=WAVE)
            yield _finding("wave", piece, edge.name, wave.measured, (0.0, WAVE), says)
        if radius and radius.measured < TIGHTEST_RADIUS:
            says = said("radius", place=here, **_at(edge, radius), allowed=TIGHTEST_RADIUS)
            allowed = (TIGHTEST_RADIUS, LARGEST_LENGTH)
            yield _finding("radius", piece, edge.name, radius.measured, allowed, says)


def unfairness(before: Edge, after: Edge) -> Said | None:
    """Return what a redrawn edge now has that no maker would cut; None for nothing."""
    (wave, radius), (old_wave, old_radius) = _faults(after), _faults(before)
    if wave and wave.measured > max(WAVE, old_wave.measured + WORSE if old_wave else 0.0):
        return said("would-wave", **_at(after, wave))
    if (
        radius
        and radius.measured < TIGHTEST_RADIUS
        and (old_radius is None or radius.measured < old_radius.measured - WORSE)
    ):
        return said("would-bend", **_at(after, radius))
    return None


def _at(edge: Edge, fault: _Fault) -> dict[str, Fact]:
    corner = edge.starts_at.replace("-", " ")
    return {"measured": fault.measured, "at": fault.at, "corner": corner}


def _finding(
    code: str, piece: Piece, edge: str, measured: float, allowed: tuple[float, float], says: Said
) -> Finding:
    places = ((piece.name, edge),)
    return Finding(code, Severity.WARNING, piece.name, edge, measured, *allowed, says, places)


# --- one line -------------------------------------------------------------------------------------


@lru_cache(maxsize=2048)
def _faults(edge: Edge) -> tuple[_Fault | None, _Fault | None]:
    """Return the worst wave and the tightest bend of an edge as sewn, between its corners."""
    waves: list[_Fault] = []
    bends: list[_Fault] = []
    before: list[Chain] = []
    for run in between_corners(closed(edge).chain):
        if len(run.cubics) == 1 and run.cubics[0].is_straight:
            before.append(run)
            continue
        start = sum(each.length for each in before)
        heading, places = _headings(run)
        if wave := _wave(heading, places, edge):
            waves.append(_Fault(wave.measured, start + wave.at))
        if bend := _tightest(heading):
            bends.append(_Fault(bend.measured, start + bend.at))
        before.append(run)
    return max(waves, default=None), min(bends, default=None)


def _headings(chain: Chain) -> tuple[NDArray[np.float64], NDArray[np.complex128]]:
    """Return the direction of each step along a line, radians, and the ends of the steps."""
    points = np.concatenate([[chain.start], *(_close_points(cubic) for cubic in chain.cubics)])
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    wanted = np.linspace(0.0, along[-1], max(int(along[-1] / _STEP), 2) + 1)
    places = np.interp(wanted, along, points.real) + 1j * np.interp(wanted, along, points.imag)
    return np.unwrap(np.angle(np.diff(places))), places


def _close_points(cubic: Cubic) -> NDArray[np.complex128]:
    """Return points along a curve, so close that chords of a step turn as the curve does."""
    a, b, c, d = cubic
    count = int(_CLOSE * (abs(b - a) + abs(c - b) + abs(d - c)) / _STEP) + 1
    t = np.arange(1, count + 1) / count
    # Horner's form costs a third of Bernstein's.
    points: NDArray[np.complex128] = a + t * (
        3 * (b - a) + t * (3 * (a - 2 * b + c) + t * (d - 3 * c + 3 * b - a))
    )
    return points


def _tightest(heading: NDArray[np.float64]) -> _Fault | None:
    steps = round(_BEND / _STEP)
    if len(heading) <= steps:
        return None
    turned = np.abs(heading[steps:] - heading[:-steps])
    at = int(turned.argmax())
    if turned[at] < SAME_POINT:
        return None
    return _Fault(float(_BEND / turned[at]), (at + steps / 2) * _STEP)


class _Bend(NamedTuple):
    """A stretch that bends one way: how far it stands out, where most, and how tight it gets."""

    out: float
    at: float
    radius: float


def _wave(
    heading: NDArray[np.float64], places: NDArray[np.complex128], edge: Edge
) -> _Fault | None:
    """Return how far the largest bend stands out that a line has beyond those it may have.

    The line is cut where it turns back; each stretch stands out from the way between its ends. The
    flattest is taken for straight, until no more bends are left than the line may have, and none
    that turns back as tightly as it turned.
    """
    ends = _turning_points(np.degrees(heading))
    bends = [_bend(heading, places, *stretch) for stretch in itertools.pairwise(ends)]
    surplus: list[_Bend] = []
    senses = _SHAPED_SENSES if edge.shaped else _SENSES.get(edge.name, _USUAL_SENSES)
    while len(bends) > senses or _turns_back(bends, edge):
        surplus.append(min(bends))
        k = bends.index(surplus[-1])
        # Inside the line its two neighbours, which bend alike, become one bend.
        bends[max(k - 1, 0) : k + 2] = [max(bends[max(k - 1, 0) : k] + bends[k + 1 : k + 2])]
    worst = max(surplus, default=None)
    return _Fault(worst.out, worst.at) if worst else None


def _turns_back(bends: list[_Bend], edge: Edge) -> bool:
    return not (edge.shaped or edge.name in _SHAPED) and any(
        max(one.radius, other.radius) < _EASY for one, other in itertools.pairwise(bends)
    )


def _turning_points(heading: NDArray[np.float64]) -> list[int]:
    """Return the steps at which a line begins, turns back by more than a little, and ends."""
    whole = [0, len(heading) - 1]
    rises, falls = np.maximum.accumulate(heading), np.minimum.accumulate(heading)
    if min((rises - heading).max(), (heading - falls).max()) <= _TURNS:
        return whole
    found = [0]
    low = high = 0
    sense = 0
    for k, each in enumerate(heading.tolist()):
        low, high = (k if each < heading[low] else low), (k if each > heading[high] else high)
        if sense >= 0 and heading[high] - each > _TURNS:
            found += [high] if sense else []
            sense, low, high = -1, k, k
        elif sense <= 0 and each - heading[low] > _TURNS:
            found += [low] if sense else []
            sense, low, high = 1, k, k
    return [*found, whole[1]]


def _bend(
    heading: NDArray[np.float64], places: NDArray[np.complex128], first: int, last: int
) -> _Bend:
    points = places[first : last + 2]
    way = points[-1] - points[0]
    if abs(way) < SAME_POINT:
        return _Bend(0.0, first * _STEP, float("inf"))
    beside = np.abs(((points - points[0]) / (way / abs(way))).imag)
    at = int(beside.argmax())
    tightest = _tightest(heading[first : last + 1])
    radius = tightest.measured if tightest else float("inf")
    return _Bend(float(beside[at]), (first + at) * _STEP, radius)
