"""Where the lines of a path go, as text.

Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition), section 8.3.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat
from types import MappingProxyType
from typing import Literal

import numpy as np

from trueup.cli.drawing.scene.scene import Run
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point

Letter = Literal["M", "L", "C"]

_POINTS: Mapping[Letter, int] = MappingProxyType({"M": 1, "L": 1, "C": 3})
_FINENESS = 100
"""Parts of a unit that a relative path is told in."""


def pairs(number: str, many: int = 1) -> str:
    """Return the form of some points, each written as two numbers."""
    return " ".join([f"{number},{number}"] * many)


_RELATIVE: Mapping[Letter, str] = MappingProxyType(
    {each: each.lower() + pairs("%.10g", many) for each, many in _POINTS.items()}
)


@dataclass(frozen=True)
class PathData:
    """The letters of a path, M, L and C, and its points in the order in which they ask for them."""

    letters: Sequence[Letter]
    points: Sequence[Point]

    @classmethod
    def of(cls, runs: Iterable[Run], *, straightened: bool = False) -> "PathData":
        """Return the data of chains and of broken lines by their corners, one after another.

        The straight curves of a chain may be told as the lines they are.
        """
        letters: list[Letter] = []
        points: list[Point] = []
        for run in runs:
            letters.append("M")
            if isinstance(run, Chain):
                points.append(run.start)
                for curve in run.cubics:
                    if curve.is_straight and straightened:
                        letters.append("L")
                        points.append(curve.end)
                    else:
                        letters.append("C")
                        points += (curve.start_control, curve.end_control, curve.end)
            else:
                letters.extend(repeat("L", len(run) - 1))
                points += run
        return cls(letters, points)

    def absolute(self, number: str, motion: Motion) -> str:
        """Return the text of the path moved, each point from the corner of the page.

        `number` is how a coordinate is written, for the operator %.
        """
        forms = {each: f"{each} {pairs(number, many)}" for each, many in _POINTS.items()}
        form = " ".join([forms[letter] for letter in self.letters])
        return numbers(form, self.points, number, motion)

    def relative(self, motion: Motion) -> str:
        """Return the text of the path moved, each point from the end of what comes before it.

        It takes less room, and each point is as near its place as told from the corner, to a
        hundredth: it is told from where the end before was written, not from where it is.
        """
        moved = motion.rotation * np.array(self.points, dtype=np.complex128) + motion.shift
        placed = np.rint(moved.view(np.float64) * _FINENESS).reshape(-1, 2)
        many = np.array([_POINTS[letter] for letter in self.letters], dtype=np.intp)
        before = np.repeat(np.cumsum(many) - many, many)
        steps = placed - np.vstack([np.zeros(2), placed])[before]
        form = "".join([_RELATIVE[letter] for letter in self.letters])
        # Nought added takes the sign off a nought.
        return form % tuple((steps / _FINENESS + 0.0).ravel().tolist())


def numbers(form: str, points: Iterable[Point], number: str, motion: Motion) -> str:
    """Return a text in which each pair of numbers is the next of some points, moved."""
    moved = map(motion, points)
    written = form % tuple([amount for at in moved for amount in (at.real, at.imag)])
    nought = number % 0.0
    return written.replace(f"-{nought}", nought)
