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
from trueup.geometry.lines.cubic import Cubic
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


Uneven = Callable[[CapShape], float]


@dataclass(frozen=True)
class _Half:
    """Half a cap line as it is drawn: its width, and the squared velocities across and up."""

    width: float
    across: NDArray[np.float64]
    up: NDArray[np.float64]

    @classmethod
    def of(cls, half: tuple[Cubic, ...], across: complex, width: float) -> "_Half":
        """Return a half of curves, `across` being the direction of the cap line."""
        velocities = np.concatenate([(np.array([*cubic]) / across) @ _SPEEDS for cubic in half])
        return cls(width, velocities.real**2, velocities.imag**2)

    def length(self, width: float, high: float) -> float:
        """Return how long it is where it is scaled to a width, mm, and to `high` of its height."""
        speeds = np.sqrt(self.across * (width / self.width) ** 2 + self.up * high**2)
        return float((speeds.reshape(-1, len(_WEIGHTS)) @ _WEIGHTS).sum() / 2)


@dataclass(frozen=True)
class Cap:
    """A cap line as it is scaled: its shape and its two halves."""

    shape: CapShape
    front: _Half
    back: _Half

    @classmethod
    def of(cls, line: Chain) -> "Cap":
        """Return the cap of a line from underarm point to underarm point; raises CannotChange."""
        top = crown(line)
        across = (line.end - line.start) / abs(line.end - line.start)
        front, back = halves(line)
        return cls(
            CapShape(top.before, top.after, abs(top.rise)),
            _Half.of(front, across, top.before),
            _Half.of(back, across, top.after),
        )

    def lengths(self, shape: CapShape) -> tuple[float, float]:
        """Return how long the two halves are where the cap is scaled to a shape, mm."""
        high = shape.height / self.shape.height
        return self.front_length(shape), self.back.length(shape.back, high)

    def front_length(self, shape: CapShape) -> float:
        """Return how long the front half is where the cap is scaled to a shape, mm."""
        return self.front.length(shape.front, shape.height / self.shape.height)


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
    uneven: Uneven | None = None
    if len(lengths) == 2:
        uneven = lambda each: cap.front_length(each) - first  # noqa: E731

    def shape(share: float) -> CapShape:
        return _shaped(cap, way.size(share), uneven)

    def missing(share: float) -> float:
        return sum(cap.lengths(shape(share))) - total

    share = root_between(missing, way.low, way.high, _EXACT)
    if share is None:
        return None
    found = shape(share)
    is_right = uneven is None or abs(uneven(found)) < _GOOD_ENOUGH
    return found if is_right else None


def at_the_ends(cap: Cap, way: Way, uneven: Uneven | None) -> tuple[CapShape, CapShape]:
    """Return the smallest and the largest shape that the cap can be given.

    `uneven` says of a shape by how much its front half is too long for the other, and comes to
    nothing; None where the halves are as they come.
    """
    return _shaped(cap, way.size(way.low), uneven), _shaped(cap, way.size(way.high), uneven)


def _shaped(cap: Cap, size: tuple[float, float], uneven: Uneven | None) -> CapShape:
    if uneven is not None:
        return _aside(size, uneven)
    width, height = size
    out = (width - cap.shape.width) / 2
    return CapShape(cap.shape.front + out, cap.shape.back + out, height)


def _aside(size: tuple[float, float], uneven: Uneven) -> CapShape:
    """Return the shape of a width and height with the crown moved aside until nothing is uneven."""
    width, height = size

    def shape(front: float) -> CapShape:
        return CapShape(front * width, (1 - front) * width, height)

    def off(front: float) -> float:
        return uneven(shape(front))

    low, high = _NARROWEST_HALF, 1 - _NARROWEST_HALF
    found = root_between(off, low, high, _EXACT)
    if found is None:
        found = low if off(low) > 0 else high
    return shape(found)
