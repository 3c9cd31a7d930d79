"""How a pattern grows from size to size, and where it does so unevenly. Pure."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from trueup.geometry.tolerance import UNCHANGED, UNEVEN
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.sizes.errors import NoSizes
from trueup.lineage.sizes.run import SizeOf, base_of, drafted_from, sizes_of


@dataclass(frozen=True)
class Growth:
    """How one measure grows: its length in each size, and from each size to the next, mm.

    None where a size does not have it. `uneven` are the steps, by the place of the larger size, at
    which it grows by more or less than it does over the run for as much of the body: of whichever
    body measurement it follows best.
    """

    measure: str
    lengths: tuple[float | None, ...]
    steps: tuple[float | None, ...]
    uneven: tuple[int, ...]


@dataclass(frozen=True)
class RunGrowth:
    """The growth of all measures that change over a run.

    `by` is the body measurement that is told beside them, `body` its length in each size, mm.
    """

    sizes: tuple[SizeOf, ...]
    by: str
    body: tuple[float, ...]
    measures: tuple[Growth, ...]

    @property
    def uneven(self) -> tuple[Growth, ...]:
        """Return the measures that do not grow evenly."""
        return tuple(each for each in self.measures if each.uneven)


def grown(evaluator: Evaluator, name: str) -> RunGrowth:
    """Return how a node grows over its sizes; raises NoSuchNode, NoOneBody, NoSizes."""
    run = sizes_of(evaluator.state, name)
    if not run:
        raise NoSizes(name)
    bodies = _growing(evaluator, name, run)
    by, body = next(iter(bodies.items()))
    sizes = evaluator.announced([each.node.name for each in run])
    read = [evaluator.summary(each).measures for each in sizes]
    names = dict.fromkeys(measure for each in read for measure in each)
    found = (_growth(each, [one.get(each) for one in read], bodies.values()) for each in names)
    moving = tuple(each for each in found if any(abs(step or 0) > UNCHANGED for step in each.steps))
    return RunGrowth(run, by, body, moving)


def _growing(
    evaluator: Evaluator, name: str, run: Sequence[SizeOf]
) -> dict[str, tuple[float, ...]]:
    """Return the body measurements that are others in every size, in each; the first without one.

    Each measure is held against the one that it follows best: a waist against the waist.
    """
    unit, known = evaluator.state.unit, drafted_from(base_of(evaluator.state, name))
    lengths = {each: tuple(_taken(one, each, unit) for one in run) for each in known}
    rising = {each: found for each, found in lengths.items() if len(set(found)) == len(found)}
    return rising or {known[0]: lengths[known[0]]}


def _taken(size: SizeOf, name: str, unit: Unit) -> float:
    body = size.block.draft.body if size.block.draft else {}
    return parse_length(str(body.get(name, "0")), unit)


def _growth(
    measure: str, lengths: Sequence[float | None], bodies: Iterable[Sequence[float]]
) -> Growth:
    steps = tuple(None if a is None or b is None else b - a for a, b in pairwise(lengths))
    ways = [_off(steps, [b - a for a, b in pairwise(body)]) for body in bodies]
    off = min(ways, key=lambda way: max(way, default=0.0))
    uneven = tuple(place for place, by in enumerate(off, 1) if by > UNEVEN)
    return Growth(measure, tuple(lengths), steps, uneven)


def _off(steps: Sequence[float | None], body: Sequence[float]) -> list[float]:
    """Return by how much each step is another than the usual one for as much of a body, mm."""
    shares = [d / b for d, b in zip(steps, body, strict=True) if d is not None and b]
    usual = median(shares) if shares else 0.0
    return [
        math.inf if step is None else abs(step - usual * by)
        for step, by in zip(steps, body, strict=True)
    ]
