"""The corners of a line, and the smooth runs between them."""

from collections.abc import Iterator
from itertools import pairwise

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.tolerance import CORNER_DEGREES


def between_corners(chain: Chain) -> Iterator[Chain]:
    """Yield the runs of a line that turn at no point by so much that it is a corner."""
    first = 0
    for k, (before, after) in enumerate(pairwise(chain.cubics), 1):
        if degrees_between(before.tangent(1.0), after.tangent(0.0)) > CORNER_DEGREES:
            yield Chain(chain.cubics[first:k])
            first = k
    yield Chain(chain.cubics[first:])
