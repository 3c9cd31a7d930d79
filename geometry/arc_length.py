"""The arc lengths of several curves at once: most of a replay's time goes here."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.cubic import Cubic
from geometry.tolerance import LENGTH_ERROR


def _velocities() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return what turns control points into velocities at the nodes, and the nodes' weights.

    Sixteen Gauss–Legendre nodes on the whole curve, then sixteen on each of its halves.
    """
    nodes, weights = np.polynomial.legendre.leggauss(16)
    whole = (nodes + 1) / 2
    t = np.concatenate([whole, whole / 2, (whole + 1) / 2])
    s = 1 - t
    basis = 3 * np.array([-s * s, s * s - 2 * s * t, 2 * s * t - t * t, t * t])
    return basis, weights / 2


_BASIS, _WEIGHTS = _velocities()


def arc_lengths(cubics: Sequence[Cubic]) -> list[float]:
    """Return the arc length of each curve, mm, as `Cubic.length` gives it.

    Curves whose quadrature does not settle at once, or that may pause, are left to `Cubic.length`.
    """
    if len(cubics) == 1:
        return [cubics[0].length]
    controls = np.array([[c.start, c.start_control, c.end_control, c.end] for c in cubics])
    speeds = np.abs(controls @ _BASIS)
    whole = speeds[:, :16] @ _WEIGHTS
    halves = (speeds[:, 16:32] @ _WEIGHTS + speeds[:, 32:] @ _WEIGHTS) / 2
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
