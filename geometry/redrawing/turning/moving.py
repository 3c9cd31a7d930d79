"""Move the stretches of a ring, join them again, and true the edge that was turned."""

from dataclasses import replace

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.closed_line import end_to_end, reshaped
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.redrawing.between_ends import is_straight
from trueup.geometry.redrawing.trued_dart import faired
from trueup.geometry.redrawing.turning.ring import Stretch


def moved_stretch(stretch: Stretch, motion: Motion, apex: Point | None) -> Stretch:
    """Return a stretch moved with the dart after it, which then aims at `apex` if that is given."""
    dart = stretch.dart
    if dart:
        dart = replace(dart, apex=motion(dart.apex) if apex is None else apex)
    return Stretch(stretch.edge, stretch.line.moved(motion), dart)


def joined_at(ring: tuple[Stretch, ...], at: int) -> tuple[Stretch, ...]:
    """Return a ring whose two stretches before and after a place are one again."""
    before, after = ring[at - 1], ring[at]
    one = Stretch(before.edge, end_to_end([before.line, after.line]), after.dart)
    return (*ring[: at - 1], one, *ring[at + 1 :])


def trued_at(old: Edge, new: Edge, along: float) -> Edge:
    """Return the edge to which the slash ran without a kink there, as long as it was."""
    straight = is_straight(old)

    def fair(line: Chain) -> Chain:
        if straight:
            return Chain.line(line.start, line.end)
        before, after = line.split_at(along)
        return faired(before, after, line.length)

    return reshaped(new, fair)
