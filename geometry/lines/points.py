"""Points of the plane as complex numbers, and the motions that move pieces of paper about.

A point is `complex(x, y)` in millimetres, x to the right and y DOWN the page, as on a drafting
table (and in SVG). Python's complex numbers are immutable, hashable and fast, and turning a point
about another is one multiplication.
"""

import cmath
import math
from collections.abc import Iterable

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

Point = complex


def dot(a: Point, b: Point) -> float:
    """Return the scalar product of two vectors, mm²."""
    return a.real * b.real + a.imag * b.imag


def cross(a: Point, b: Point) -> float:
    """Return the z part of the vector product, mm²; positive when b is clockwise of a."""
    return a.real * b.imag - a.imag * b.real


def unit(vector: Point) -> Point:
    """Return the vector of length one in the same direction; ZeroDivisionError for no direction."""
    return vector / abs(vector)


def turn_between(a: Point, b: Point) -> float:
    """Return the signed turn in radians (-π, π] that brings direction a onto direction b.

    A half turn is always +π, whatever the sign of a zero. ZeroDivisionError for no direction `a`.
    """
    turn = cmath.phase(b / a)
    return math.pi if turn == -math.pi else turn


def degrees_between(a: Point, b: Point) -> float:
    """Return the unsigned angle between two directions, in degrees."""
    return abs(math.degrees(turn_between(a, b)))


def coordinates(points: Iterable[Point]) -> NDArray[np.float64]:
    """Return points as rows of x and y, as shapely takes them."""
    return np.array(list(points), dtype=np.complex128).view(np.float64).reshape(-1, 2)


class Motion(Struct, frozen=True):
    """A rigid motion of paper on the table: turn, then shift. `motion(point)` moves a point.

    >>> quarter = Motion.turn(about=1 + 0j, radians=math.pi / 2)
    >>> abs(quarter(2 + 0j) - (1 + 1j)) < 1e-12
    True
    """

    rotation: complex = 1 + 0j
    shift: complex = 0j

    @classmethod
    def turn(cls, about: Point, radians: float) -> "Motion":
        """Return the turn by so many radians (clockwise on paper when positive) about a point."""
        rotation = cmath.rect(1.0, radians)
        return cls(rotation, about - rotation * about)

    @classmethod
    def bringing(cls, moved: Point, to: Point, about: Point) -> "Motion":
        """Return the turn about a point that brings the ray through `moved` onto that of `to`."""
        return cls.turn(about, turn_between(moved - about, to - about))

    def __call__(self, point: Point) -> Point:
        """Return where the motion takes a point."""
        return self.rotation * point + self.shift

    def after(self, first: "Motion") -> "Motion":
        """Return the motion that does `first` and then this one."""
        return Motion(self.rotation * first.rotation, self.rotation * first.shift + self.shift)

    def inverse(self) -> "Motion":
        """Return the motion that takes this one back."""
        back = self.rotation.conjugate()
        return Motion(back, -back * self.shift)


STILL = Motion()
"""The motion that moves nothing."""
