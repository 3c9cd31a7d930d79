"""Curves for tests: random ones, and the nasty ones that break careless code."""

from hypothesis import strategies as st

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion

COORDINATES = st.floats(-800, 800).map(lambda x: round(x, 3) + 0.0)
POINTS = st.builds(complex, COORDINATES, COORDINATES)
CUBICS = st.builds(Cubic, POINTS, POINTS, POINTS, POINTS)
MOTIONS = st.builds(Motion.turn, POINTS, st.floats(-3, 3))

NASTY = {
    "cusp": Cubic(0j, 100 + 100j, 0 + 100j, 100 + 0j),
    "cusp off the middle": Cubic(0j, 90 + 60j, -10 + 60j, 40 + 10j),
    "loop": Cubic(0j, 200 + 90j, -120 + 90j, 80 + 0j),
    "loop that closes": Cubic(0j, 100 + 100j, -100 + 100j, 0j),
    "hairpin": Cubic(0j, 300 + 0.01j, 300 + 0.01j, 0 + 0.02j),
    "straight but uneven": Cubic(0j, 90 + 0j, 95 + 0j, 100 + 0j),
    "straight and back again": Cubic(0j, 200 + 0j, -100 + 0j, 100 + 0j),
    "nearly straight": Cubic(0j, 30 + 1e-5j, 60 - 1e-5j, 100 + 0j),
    "almost a pencil line off": Cubic(0j, 30 + 0.02j, 60 + 0.02j, 100 + 0j),
    "tiny": Cubic(5 + 5j, 5.001 + 5.002j, 5.003 + 5.001j, 5.004 + 5j),
    "tiny and far away": Cubic(2000 + 1j, 2000.001 + 1.002j, 2000.003 + 1j, 2000.004 + 1.001j),
    "no start handle": Cubic(0j, 0j, 80 + 30j, 100 + 0j),
    "no end handle": Cubic(0j, 20 + 30j, 100 + 0j, 100 + 0j),
    "no handles": Cubic(0j, 0j, 100 + 40j, 100 + 40j),
    "three points on one": Cubic(0j, 0j, 0j, 100 + 40j),
    "large": Cubic(-9000 + 0j, 3000 + 12000j, 6000 - 12000j, 15000 + 0j),
}


@st.composite
def chains(draw: st.DrawFn, smallest: int = 1, largest: int = 4) -> Chain:
    """Draw a chain of random cubics, corners and all."""
    places = draw(st.lists(POINTS, min_size=3 * smallest + 1, max_size=3 * largest + 1))
    count = (len(places) - 1) // 3
    return Chain(tuple(Cubic(*places[3 * k : 3 * k + 4]) for k in range(count)))


@st.composite
def smooth_chains(draw: st.DrawFn, largest: int = 4) -> Chain:
    """Draw a chain that runs from left to right and keeps one tangent at every join."""
    count = draw(st.integers(1, largest))
    heights = draw(st.lists(st.floats(-60, 60), min_size=count + 1, max_size=count + 1))
    slopes = draw(st.lists(st.floats(-1.5, 1.5), min_size=count + 1, max_size=count + 1))
    handles = draw(st.lists(st.floats(5, 50), min_size=2 * count, max_size=2 * count))
    cubics = []
    for k in range(count):
        start, end = complex(100 * k, heights[k]), complex(100 * (k + 1), heights[k + 1])
        leaving, arriving = complex(1, slopes[k]), complex(1, slopes[k + 1])
        near, far = handles[2 * k], handles[2 * k + 1]
        cubics.append(Cubic(start, start + leaving * near, end - arriving * far, end))
    return Chain(tuple(cubics))
