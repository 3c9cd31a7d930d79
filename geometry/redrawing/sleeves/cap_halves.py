"""Solve a sleeve cap half by half: how wide and high it is where each half has a wanted length.

The crown may lie nearer to one underarm point than before, so that both points move out alike,
and so both sleeve seams stay as long as each other, whatever each half asks for.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.sleeve_cap import crown, halves

SMALLEST, LARGEST = 0.6, 1.8
"""A cap is refitted between these shares of its size; beyond it is another sleeve."""

_NARROWEST_HALF = 0.25
"""A half keeps at least this share of the width: a crown farther aside is no crown."""

_EXACT, _GOOD_ENOUGH = 1e-9, 1e-6

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_T = (_NODES + 1) / 2
_SPEEDS = 3 * np.stack([-((1 - _T) ** 2), (1 - _T) * (1 - 3 * _T), _T * (2 - 3 * _T), _T**2])
"""What each control point of a cubic adds to its velocity at the nodes."""


Uneven = Callable[[tuple[float, float]], float]


@dataclass(frozen=True)
class CapShape:
    """The size of a cap, mm: the width of its two halves along the cap line, and its height."""

    front: float
    back: float
    height: float

    @property
    def width(self) -> float:
        """Return the width of the whole."""
        return self.front + self.back


@dataclass(frozen=True)
class Cap:
    """A cap line as it is scaled: its shape, and the velocities of its halves seen from it."""

    shape: CapShape
    front: NDArray[np.complex128]
    back: NDArray[np.complex128]

    @classmethod
    def of(cls, line: Chain) -> "Cap":
        """Return the cap of a line from underarm point to underarm point; raises CannotChange."""
        top = crown(line)
        across = (line.end - line.start) / abs(line.end - line.start)
        front, back = (
            np.concatenate([(np.array([*cubic]) / across) @ _SPEEDS for cubic in half])
            for half in halves(line)
        )
        return cls(CapShape(top.before, top.after, abs(top.rise)), front, back)

    def lengths(self, shape: CapShape) -> tuple[float, float]:
        """Return how long the two halves are where the cap is scaled to a shape, mm."""
        high = shape.height / self.shape.height
        return (
            _length(self.front, shape.front / self.shape.front, high),
            _length(self.back, shape.back / self.shape.back, high),
        )


def _length(velocities: NDArray[np.complex128], wide: float, high: float) -> float:
    speeds = np.hypot(velocities.real * wide, velocities.imag * high).reshape(-1, len(_WEIGHTS))
    return float((speeds @ _WEIGHTS).sum() / 2)


@dataclass(frozen=True)
class Way:
    """What of a cap may change: from a share of its size to its width and height, mm.

    The share runs from `low` to `high`; both width and height grow with it or stay.
    """

    width: tuple[float, float]
    height: tuple[float, float]
    low: float = SMALLEST
    high: float = LARGEST

    def size(self, share: float) -> tuple[float, float]:
        """Return width and height at a share."""
        return self.width[0] + share * self.width[1], self.height[0] + share * self.height[1]


def solved(cap: Cap, way: Way, lengths: tuple[float, ...]) -> CapShape | None:
    """Return the shape at which both halves have their lengths, mm, or the whole its one length.

    None where there is none. A cap grows longer with width and height, and a half with its own
    width: so at each size the crown is moved aside until the front half is right, and the size is
    sought at which the back half is right as well. For a whole, both ends move out alike.
    """
    first, total = lengths[0], sum(lengths)
    uneven: Uneven | None = (lambda each: each[0] - first) if len(lengths) == 2 else None

    def shape(share: float) -> CapShape:
        return _shaped(cap, way.size(share), uneven)

    def missing(share: float) -> float:
        return sum(cap.lengths(shape(share))) - total

    share = root_between(missing, way.low, way.high, _EXACT)
    if share is None:
        return None
    found = shape(share)
    is_right = uneven is None or abs(uneven(cap.lengths(found))) < _GOOD_ENOUGH
    return found if is_right else None


def at_the_ends(cap: Cap, way: Way, uneven: Uneven | None) -> tuple[CapShape, CapShape]:
    """Return the smallest and the largest shape that the cap can be given.

    `uneven` says of the lengths of its halves by how much the front one is too long for the other,
    and comes to nothing; None where the halves are as they come.
    """
    return _shaped(cap, way.size(way.low), uneven), _shaped(cap, way.size(way.high), uneven)


def _shaped(cap: Cap, size: tuple[float, float], uneven: Uneven | None) -> CapShape:
    if uneven is not None:
        return _aside(cap, size, uneven)
    width, height = size
    out = (width - cap.shape.width) / 2
    return CapShape(cap.shape.front + out, cap.shape.back + out, height)


def _aside(cap: Cap, size: tuple[float, float], uneven: Uneven) -> CapShape:
    """Return the shape of a width and height with the crown moved aside until nothing is uneven."""
    width, height = size

    def shape(front: float) -> CapShape:
        return CapShape(front * width, (1 - front) * width, height)

    def off(front: float) -> float:
        return uneven(cap.lengths(shape(front)))

    low, high = _NARROWEST_HALF, 1 - _NARROWEST_HALF
    found = root_between(off, low, high, _EXACT)
    if found is None:
        found = low if off(low) > 0 else high
    return shape(found)
