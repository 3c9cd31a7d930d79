"""Where two lines lie farthest apart; against other answers in `tests/reference`."""

from hypothesis import given
from hypothesis import strategies as st

from trueup.geometry.comparing.distance import farthest, lie_apart
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge

places = st.builds(complex, st.integers(0, 300), st.integers(0, 300))
hairs = st.builds(complex, st.floats(-0.06, 0.06), st.floats(-0.06, 0.06))


def curved(points: list[Point]) -> Edge:
    """Return an edge of as many curves as there are three points after the first."""
    curves = (points[k : k + 4] for k in range(0, len(points) - 1, 3))
    return Edge("edge", "start", "end", (Chain(tuple(Cubic(*four) for four in curves)),))


@given(st.integers(1, 2), st.data())
def test_lines_that_all_but_coincide_lie_apart_by_less_than_where_they_lie_farthest(curves, data):
    points = data.draw(
        st.lists(places, min_size=3 * curves + 1, max_size=3 * curves + 1, unique=True)
    )
    moved = [point + data.draw(hairs) for point in points]
    one, other = curved(points), curved(moved)
    for by in (0.01, 0.05, 0.08):
        assert lie_apart(one, other, by) is (farthest(one, other).distance > by)
