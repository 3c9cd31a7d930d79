"""Arc lengths, splits and areas against two independent libraries.

Sources: SciPy 1.13 or newer, `scipy.integrate.quad` (QUADPACK's adaptive quadrature,
docs.scipy.org); `bezier` 2024.6 or newer by D. Hermes (`Curve.length`, `Curve.specialize`,
`CurvedPolygon.area`, bezier.readthedocs.io). The wanted agreement is 1e-6 relative.
"""

from itertools import pairwise

import bezier
import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from numpy.polynomial import Polynomial
from scipy.integrate import quad

from tests.curves import CUBICS, NASTY, chains
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.tolerance import LENGTH_ERROR

RELATIVE = 1e-6
SHARES = st.floats(0.05, 0.95)

pytestmark = pytest.mark.filterwarnings("ignore::scipy.integrate.IntegrationWarning")
nasty = pytest.mark.parametrize("cubic", NASTY.values(), ids=NASTY.keys())


def close(mm: float) -> object:
    return pytest.approx(mm, rel=RELATIVE, abs=1e-9)


def slow_places(cubic: Cubic) -> list[float]:
    """Return where the speed is least: quadratures of others need their interval cut there."""
    p = np.array(list(cubic))
    first, second, third = np.diff(p)
    v = Polynomial([first, 2 * (second - first), first - 2 * second + third])
    squared = Polynomial(v.coef.real) ** 2 + Polynomial(v.coef.imag) ** 2
    return sorted({float(t.real) for t in squared.deriv().roots() if 0.0 < t.real < 1.0})


def quadrature_length(cubic: Cubic, low: float = 0.0, high: float = 1.0) -> float:
    """Return the arc length by SciPy."""
    p = np.array(list(cubic))

    def speed(t: float) -> float:
        s = 1 - t
        return float(
            3 * abs(s * s * (p[1] - p[0]) + 2 * s * t * (p[2] - p[1]) + t * t * (p[3] - p[2]))
        )

    bounds = [low, *(t for t in slow_places(cubic) if low < t < high), high]
    return sum(
        float(quad(speed, a, b, limit=500, epsabs=1e-11, epsrel=1e-12)[0])
        for a, b in pairwise(bounds)
    )


def quadrature_area(cubic: Cubic) -> float:
    """Return ½∮(x dy − y dx) by SciPy."""
    p = np.array(list(cubic))

    def moment(t: float) -> float:
        s = 1 - t
        at = s**3 * p[0] + 3 * s * s * t * p[1] + 3 * s * t * t * p[2] + t**3 * p[3]
        by = 3 * (s * s * (p[1] - p[0]) + 2 * s * t * (p[2] - p[1]) + t * t * (p[3] - p[2]))
        return float(at.real * by.imag - at.imag * by.real) / 2

    return float(quad(moment, 0.0, 1.0, epsabs=1e-11, epsrel=1e-12)[0])


def library_curve(cubic: Cubic) -> bezier.Curve:
    points = list(cubic)
    return bezier.Curve(np.array([[p.real for p in points], [p.imag for p in points]]), degree=3)


def library_length(cubic: Cubic) -> float:
    """Return the arc length by `bezier`."""
    curve = library_curve(cubic)
    bounds = [0.0, *slow_places(cubic), 1.0]
    return sum(float(curve.specialize(a, b).length) for a, b in pairwise(bounds))


def library_area(chain: Chain) -> float:
    """Return the area between a chain and its chord by `bezier`."""
    closing = Cubic.line(chain.end, chain.start)
    edges = [library_curve(cubic) for cubic in (*chain.cubics, closing)]
    return float(bezier.CurvedPolygon(*edges, verify=False).area)


def chord_area(chain: Chain) -> float:
    return abs(chain.swept_area + Cubic.line(chain.end, chain.start).swept_area)


class TestArcLength:
    @nasty
    def test_nasty_curves_are_as_long_as_scipy_says(self, cubic):
        assert cubic.length == close(quadrature_length(cubic))

    @nasty
    def test_nasty_curves_are_as_long_as_bezier_says(self, cubic):
        assert cubic.length == close(library_length(cubic))

    @given(CUBICS)
    @settings(max_examples=60)
    def test_a_random_curve_is_as_long_as_both_say(self, cubic):
        assert cubic.length == close(quadrature_length(cubic))
        assert cubic.length == close(library_length(cubic))

    @given(chains())
    @settings(max_examples=40)
    def test_a_chain_is_as_long_as_its_curves_are_by_both(self, chain):
        assert chain.length == close(sum(quadrature_length(c) for c in chain.cubics))
        assert chain.length == close(sum(library_length(c) for c in chain.cubics))

    @given(CUBICS, st.floats(0, 1), st.floats(0, 1))
    @settings(max_examples=60)
    def test_the_length_between_two_places_agrees(self, cubic, one, other):
        low, high = sorted((one, other))
        assert cubic.length_between(low, high) == close(quadrature_length(cubic, low, high))


class TestSplits:
    @nasty
    @pytest.mark.parametrize("share", [0.1, 0.5, 0.77])
    def test_nasty_curves_split_where_scipy_measures(self, cubic, share):
        t = cubic.parameter_at(share * cubic.length)
        assert quadrature_length(cubic, 0.0, t) == pytest.approx(
            share * cubic.length, rel=RELATIVE, abs=2 * LENGTH_ERROR
        )

    @given(CUBICS, SHARES)
    @settings(max_examples=60)
    def test_a_split_gives_the_curves_bezier_gives(self, cubic, share):
        t = cubic.parameter_at(share * cubic.length)
        whole = library_curve(cubic)
        for ours, theirs in zip(
            cubic.split(t), (whole.specialize(0, t), whole.specialize(t, 1)), strict=True
        ):
            points = np.array([[p.real for p in ours], [p.imag for p in ours]])
            assert np.allclose(points, theirs.nodes, rtol=RELATIVE, atol=1e-6)

    @given(chains(), SHARES)
    @settings(max_examples=40)
    def test_both_parts_of_a_split_chain_have_the_length_asked_for(self, chain, share):
        assume(chain.length > 1)
        wanted = share * chain.length
        before, after = chain.split_at(wanted)
        assert sum(quadrature_length(c) for c in before.cubics) == close(wanted)
        assert sum(library_length(c) for c in after.cubics) == close(chain.length - wanted)


class TestAreas:
    @nasty
    def test_nasty_curves_sweep_what_scipy_says(self, cubic):
        scale = max(abs(p) for p in cubic) ** 2
        assert cubic.swept_area == pytest.approx(
            quadrature_area(cubic), rel=RELATIVE, abs=1e-12 * scale
        )

    @given(CUBICS)
    @settings(max_examples=60)
    def test_a_random_curve_sweeps_what_scipy_says(self, cubic):
        assert cubic.swept_area == pytest.approx(quadrature_area(cubic), rel=RELATIVE, abs=1e-6)

    @given(chains())
    @example(Chain((NASTY["loop"],)))
    @settings(max_examples=60)
    def test_a_chain_closed_by_its_chord_has_the_area_bezier_gives(self, chain):
        assert chord_area(chain) == pytest.approx(abs(library_area(chain)), rel=RELATIVE, abs=1e-6)


def test_the_comparison_can_fail():
    bent = Cubic(0j, 30 + 1j, 60 + 1j, 100 + 0j)
    assert bent.length != close(quadrature_length(NASTY["nearly straight"]))
