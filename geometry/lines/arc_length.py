"""The arc lengths of several curves at once: most of a replay's time goes here."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.quadrature import PLACES, RULES
from trueup.geometry.tolerance import LENGTH_ERROR

_T, _S = PLACES, 1 - PLACES
_BASIS = 3 * np.array([-_S * _S, _S * _S - 2 * _S * _T, 2 * _S * _T - _T * _T, _T * _T])
"""What turns a cubic's control points into its velocities at PLACES (Bernstein's form)."""


def arc_lengths(cubics: Sequence[Cubic]) -> list[float]:
    """Return the arc length of each curve, mm, as `Cubic.length` gives it.

    Curves whose quadrature does not settle at once, or that may pause, are left to `Cubic.length`.
    """
    if len(cubics) == 1:
        return [cubics[0].length]
    controls = np.array([[c.start, c.start_control, c.end_control, c.end] for c in cubics])
    whole, halves = (np.abs(controls @ _BASIS) @ RULES).T
    settled = (np.abs(whole - halves) < LENGTH_ERROR) & _never_slow(controls)
    return [
        float(halves[k]) if settled[k] and not cubic.is_straight else cubic.length
        for k, cubic in enumerate(cubics)
    ]


def _never_slow(controls: NDArray[np.complex128]) -> NDArray[np.bool_]:
    """Return which curves keep their speed up: see `Cubic.slow_places` for the reason."""
    legs = np.diff(controls, axis=1)
    sizes = np.abs(legs)
    first, second, third = legs[:, 0].conj(), legs[:, 1].conj(), legs[:, 2]
    acute = (
        ((first * legs[:, 1]).real > 0) & ((second * third).real > 0) & ((first * third).real > 0)
    )
    keeps_up: NDArray[np.bool_] = acute & (sizes.min(axis=1) > sizes.max(axis=1) / 20)
    return keeps_up
