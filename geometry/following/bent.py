"""Draw the sewn edge of a piece that bends towards its end, and a line beside it."""

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT

SEWN = "sewn-edge"

_STEEPEST = 0.6
"""Share of the bent part of a line that its end may rise: as a quarter circle does, nearly."""


def bent(length: float, straight: float, rise: float) -> Chain:
    """Return a line of a length that runs level at first and ends so much higher, as an arc.

    Raises DoesNotFit where the rest of it is too short to rise so far.
    """
    rest = length - straight
    if abs(rise) < SAME_POINT:
        return Chain.line(0j, complex(length, 0))
    if abs(rise) > _STEEPEST * rest:
        reason, possible = said("rises-too-much"), said("use-at-most", by=_STEEPEST * rest)
        raise DoesNotFit(reason, possible, edge=SEWN, largest=_STEEPEST * rest)
    start = complex(straight, 0)

    def arc(across: float) -> Chain:
        chord = complex(across, -rise)
        return smooth_join(start, 1 + 0j, start + chord, unit(chord) ** 2)

    across = root_between(lambda w: arc(w).length - rest, rest / 4, rest, SAME_LENGTH)
    if across is None:
        raise DoesNotFit(said("rises-too-much"), said("smaller-amount"), edge=SEWN)
    bent = arc(across)
    return Chain.joining([Chain.line(0j, start), bent]) if straight > SAME_POINT else bent


def beside(line: Chain, height: float) -> Chain:
    """Return the line so far above another: a parallel of each of its straight lines and arcs."""
    chains: list[Chain] = []
    for cubic in line.cubics:
        start = above(cubic.start, cubic.tangent(0.0), height)
        end = above(cubic.end, cubic.tangent(1.0), height)
        leaves, arrives = cubic.tangent(0.0), cubic.tangent(1.0)
        # A curve may be flat and still turn a little: its corners are square to where it points.
        if abs(leaves - arrives) < SAME_POINT:
            chains.append(Chain.line(start, end))
        else:
            chains.append(smooth_join(start, leaves, end, arrives))
    return Chain.joining(chains)


def above(point: Point, heading: complex, height: float) -> Point:
    """Return the point so far above another of a line, square to the way it runs there."""
    return point - 1j * heading * height
