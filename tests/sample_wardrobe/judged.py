"""Hold the verdicts of corrections against what is sampled from the lines."""

from collections.abc import Iterable, Iterator

import numpy as np
import shapely

from tests.fair import Points, sampled
from tests.judging.judge import arrivals
from tests.judging.trying import wrong
from trueup.geometry.calling.own_names import by_own_names
from trueup.geometry.cuts.joined.joining import all_apart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.sample_wardrobe.examples import Corrected


def faults_of(found: Iterable[Corrected]) -> Iterator[str]:
    """Yield what is told falsely, or not at all, of a correction."""
    for each in found:
        name = each.pattern.name
        own, here = (
            (_as_on_the_block(each.before.draft(node)), _as_on_the_block(each.after.draft(node)))
            for node in (each.block, name)
        )
        come = tuple(arrivals(each.step.kind, each.step.values, own, here))
        told = f"{each.block} {each.step.kind} in {name}: {each.pattern.verdict.value}, {come}"
        yield from (
            f"{fault}: {told}" for fault in wrong(each.pattern, each.pattern.corrections[0], come)
        )
        left_out = {problem.step for problem in each.after.summary(name).problems}
        asked = {conflict.change for conflict in each.pattern.conflicts}
        yield from (f"step {step} was left out unasked: {told}" for step in left_out - asked)


def _as_on_the_block(draft: Draft) -> Draft:
    """Return a draft by the names its pieces had on the block, those that were joined in two.

    That what is joined is cloth of both is held elsewhere, by areas and outlines.
    """
    return all_apart(by_own_names(draft))


def farthest(one: Draft, other: Draft) -> float:
    """Return how far any piece of a draft lies from the same of another, mm."""
    assert one.piece_names == other.piece_names
    outlines = [(outline(piece), outline(other.piece(piece.name))) for piece in one.pieces]
    return max(
        0.0 if np.array_equal(a, b) else max(_beside(a, b), _beside(b, a)) for a, b in outlines
    )


def outline(piece: Piece) -> Points:
    """Return points along the outline of a piece, the first again at the end."""
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    return np.append(points, points[0])


def _beside(points: Points, line: Points) -> float:
    """Return how far any of some points lies from a line through points, mm."""
    at = np.column_stack([line.real, line.imag])
    runs = shapely.STRtree(shapely.linestrings(np.stack([at[:-1], at[1:]], axis=1)))
    found = shapely.points(points.real, points.imag)
    _, distances = runs.query_nearest(found, return_distance=True, all_matches=False)
    return float(distances.max())
