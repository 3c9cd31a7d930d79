"""Lines that cross and do not join: the one across goes over the other in a small arc. Pure."""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from trueup.geometry.lines.points import Point

RADIUS = 5.0
"""How high the arc is, and how far it reaches to either side."""
_STEPS = 8

Way = tuple[Point, ...]


def crossings(ways: Mapping[tuple[str, str], Way]) -> dict[tuple[str, str], tuple[Point, ...]]:
    """Return, for each way that runs across others, where.

    Ways are from a parent to a child, square to the page; those of one parent are one line.
    """
    upright = [
        (parent, start, end)
        for (parent, _), way in ways.items()
        for start, end in pairwise(way)
        if start.real == end.real
    ]
    return {
        (parent, child): tuple(
            complex(across.real, start.imag)
            for start, end in pairwise(way)
            if start.imag == end.imag
            for other, across, to in upright
            if other != parent
            if _lies_between(across.real, start.real, end.real)
            if _lies_between(start.imag, across.imag, to.imag)
        )
        for (parent, child), way in ways.items()
    }


def bridged(way: Way, over: Sequence[Point]) -> Way:
    """Return a way that goes in an arc over each of some points on its lines across."""
    found = [way[0]]
    for start, end in pairwise(way):
        on = {at for at in over if at.imag == start.imag == end.imag}
        here = [at for at in on if _lies_between(at.real, start.real, end.real)]
        turn = math.copysign(1.0, end.real - start.real)
        for at in sorted(here, key=lambda each: turn * each.real):
            found += [at + RADIUS * _on_arc(step / _STEPS, turn) for step in range(_STEPS + 1)]
        found.append(end)
    return tuple(found)


def _on_arc(share: float, turn: float) -> complex:
    angle = math.pi * share
    return complex(-turn * math.cos(angle), -math.sin(angle))


def _lies_between(value: float, one: float, other: float) -> bool:
    return min(one, other) < value < max(one, other)
