"""Where every strip of the frame lies on the table, and how the camera sees it, from its markers.

All is found at once: the homography of the table, the bend of the lens, the place and turn of each
strip, and how far ink or light spreads round the black of a marker; what is made least is the
distance, in pixels, between the corners that were found and those that should be seen. The size of
the strips is what gives the scale.

Source: bundle adjustment, as in B. Triggs, P. McLauchlan, R. Hartley, A. Fitzgibbon, "Bundle
adjustment: a modern synthesis" (2000), here with rigid planar bodies.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.frame.strips import SIDE, markers_of
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import Places, TableView

Strips = Mapping[int, Mapping[int, Places]]
"""The corners, in pixels, of each marker by its number, of each strip by its own."""

_SHARP = 0.3
"""Corners count less the more pixels beyond this they are off: one that is covered tells little."""

_FIRST = 0.1
"""A corner is found to about so many pixels; by that is weighed what is known beforehand."""

_LIKELY = (0.3, 0.2, 0.03, 0.03, 0.4)
"""How large the bend of a lens, how far off the middle its centre (half diagonals), and how far
the spread of ink (mm) usually are at the most (from memory): it settles what a picture cannot."""

_SETTLED = 1e-6
"""What is made least changes by no greater share any more: less than any line would show."""

_TURNED = np.array([0, 1, 1 + 1j, 1j]) - (0.5 + 0.5j)


@dataclass(frozen=True)
class Solved:
    """The view of the table; the corner and turn of each strip on it; the spread of ink, mm.

    `off` is the usual distance between a corner that is found and where it should be seen, pixels.
    """

    view: TableView
    strips: Mapping[int, tuple[complex, complex]]
    spread: float
    off: float

    def on_table(self, strip: int, places: Places) -> Places:
        """Return where places on a strip lie on the table."""
        corner, turn = self.strips[strip]
        return corner + turn * places


def corners_of(strip: int, numbers: Sequence[int], scale: float, spread: float = 0.0) -> Places:
    """Return the corners of markers on their strip, mm: a row for each marker."""
    known = {marker.number: marker for marker in markers_of(strip)}
    middles = np.array([known[n].at + SIDE * (0.5 + 0.5j) for n in numbers])
    return np.asarray(scale * middles[:, None] + (scale * SIDE + 2 * spread) * _TURNED)


def solved(size: tuple[int, int], strips: Strips, scale: float = 1.0) -> Solved:
    """Return what explains the corners of at least one strip best.

    `size` is that of the picture, pixels, `scale` how large the frame was printed. Raises
    Unclear where nothing explains them.
    """
    start, table = _begun(size, strips, scale)
    return _best(size, strips, scale, start, table)


def without(found: Solved, strips: Strips, strip: int, scale: float = 1.0) -> Solved:
    """Return what explains the corners of all strips but one best."""
    rest = {number: markers for number, markers in strips.items() if number != strip}
    places = {number: found.strips[number] for number in rest}
    size = (found.view.width, found.view.height)
    start = [*found.view.ways[:8], *found.view.radial]
    start += [found.view.centre.real, found.view.centre.imag, found.spread]
    return _best(size, rest, scale, start, places)


_Places = Mapping[int, tuple[complex, complex]]


def _begun(size: tuple[int, int], strips: Strips, scale: float) -> tuple[list[float], _Places]:
    """Return how it would be if the camera stood straight above: a beginning to work from."""
    flat = TableView(*size, (1.0, 0, 0, 0, 1.0, 0, 0, 0, 1.0))
    ways = {}
    for number, markers in strips.items():
        known = corners_of(number, tuple(markers), scale).ravel()
        seen = ((np.array(list(markers.values())).ravel() - flat.middle) / flat.half) * 100
        apart, aside = known - known.mean(), seen - seen.mean()
        turn = complex((aside * apart.conj()).sum() / (abs(apart) ** 2).sum())
        ways[number] = (complex(seen.mean() - turn * known.mean()), turn)
    size_of = float(np.median([abs(turn) for _, turn in ways.values()]))
    places = {n: (corner / size_of, turn / abs(turn)) for n, (corner, turn) in ways.items()}
    return [size_of, 0, 0, 0, size_of, 0, 0, 0, 0, 0, 0, 0, 0], places


def _best(
    size: tuple[int, int], strips: Strips, scale: float, start: Sequence[float], places: _Places
) -> Solved:
    numbers = sorted(strips, key=lambda n: (-len(strips[n]), n))
    # The first keeps its place, from which those of the others are told.
    moving = numbers[1:]
    seen = np.concatenate([np.array(list(strips[n].values())).ravel() for n in numbers])
    likely = _FIRST / np.array(_LIKELY)

    def read(x: NDArray[np.float64]) -> tuple[TableView, _Places, float]:
        lie = {numbers[0]: places[numbers[0]]}
        for k, number in enumerate(moving):
            across, down, turn = x[13 + 3 * k : 16 + 3 * k]
            corner, way = places[number]
            lie[number] = (corner + complex(across, down), way * np.exp(1j * turn))
        view = TableView(*size, (*x[:8], 1.0), (x[8], x[9]), complex(x[10], x[11]))
        return view, lie, x[12]

    def expected(x: NDArray[np.float64]) -> Places:
        view, lie, spread = read(x)
        table = [
            lie[n][0] + lie[n][1] * corners_of(n, tuple(strips[n]), scale, spread).ravel()
            for n in numbers
        ]
        return view.seen(np.concatenate(table))

    def off(x: NDArray[np.float64]) -> NDArray[np.float64]:
        away = expected(x) - seen
        # As the square root of what a far corner counts, so that both its parts count alike.
        far = np.abs(away) / _SHARP
        weight = np.sqrt(2 * (np.sqrt(1 + far**2) - 1)) / np.maximum(far, 1e-9)
        return np.concatenate([away.real * weight, away.imag * weight, x[8:13] * likely])

    begun = [*start, *([0.0] * (3 * len(moving)))]
    try:
        found = least_squares(off, begun, x_scale="jac", ftol=_SETTLED, xtol=_SETTLED, max_nfev=200)
    except (ValueError, np.linalg.LinAlgError):  # it went where nothing is a number
        raise Unclear(
            said("no-view"), "photograph the flat table from straight above with the frame round it"
        ) from None
    view, lie, spread = read(found.x)
    return Solved(view, lie, spread, float(np.median(np.abs(expected(found.x) - seen))))
