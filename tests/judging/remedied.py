"""Is a seam that no longer fits settled by the first remedy offered, and is nothing new left open?

The seam is walked by sampling alone; what a side may hold is read from the draft, as stated.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.judging.random_wardrobes import Case
from tests.judging.sampled import length
from tests.judging.trying import made_of
from tests.lineage.making import Bench
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.lineage.errors import CannotStep
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState

OFF = 0.15  # mm; sampled lines are a little shorter than the curves
NO_CURE = ("accept", "hold")


@dataclass
class Cured:
    """How many seam conflicts were met, and what their first remedy did."""

    met: int = 0
    settled: int = 0
    clean: int = 0
    by_remedy: Counter[str] = field(default_factory=Counter)
    left: list[str] = field(default_factory=list)

    def add(self, other: "Cured") -> None:
        self.met += other.met
        self.settled += other.settled
        self.clean += other.clean
        self.by_remedy += other.by_remedy
        self.left += other.left


def cured(seed: int, given: Case) -> Cured:
    """Return what the first remedies of the seam conflicts of a case do, each decided alone."""
    found = Cured()
    bench = made_of(given)
    if bench is None:
        return found
    for conflict in bench.state.open_conflicts:
        if conflict.kind is ConflictKind.SEAM:
            found.add(_decided(seed, bench, conflict))
    return found


def _decided(seed: int, bench: Bench, conflict: ConflictRecord) -> Cured:
    node, first = conflict.arose_at, next((each.name for each in conflict.remedies), "none")
    found = Cured(1, by_remedy=Counter({first: 1}))
    where = f"seed {seed}, {node}: {conflict.piece}.{conflict.edge}, {first}"
    before = set(_troubles(bench, node))
    tried = Bench(bench.state, bench.made, earlier=dict(bench.earlier))
    try:
        tried.decide(conflict, first)
    except (CannotStep, GeometryError) as error:
        found.left.append(f"{where}: {error}")
        return found
    after = tried.state.conflict(conflict.id)
    off = [each for each in _uneven(tried.evaluator.draft(node)) if conflict.edge in each]
    if first in NO_CURE or after.state is not ConflictState.SETTLED or off:
        found.left.append(f"{where}: {after.state.value}, {', '.join(off) or 'walks'}")
        return found
    found.settled = 1
    new = set(_troubles(tried, node)) - before
    found.clean = not new
    found.left += [f"{where}: leaves {', '.join(sorted(new))}"] if new else []
    return found


def _troubles(bench: Bench, node: str) -> Iterator[str]:
    evaluator = bench.evaluator
    for each in evaluator.summary(node).findings:
        yield f"{each.code} {each.piece}.{each.edge}"
    yield from _uneven(evaluator.draft(node))


def _uneven(draft: Draft) -> Iterator[str]:
    """Yield the seams that walk outside what they may hold, by sampled lengths."""
    for seam in draft.seams:
        ease = _run(draft, seam.side) - _run(draft, seam.mate)
        low, high = _allowed(seam)
        if not low - OFF <= ease <= high + OFF:
            run = seam.side[0]
            yield f"{run.piece}.{run.edge} by {ease:.1f} of {low:.1f} to {high:.1f}"


def _allowed(seam: Seam) -> tuple[float, float]:
    return seam.ease_low - seam.tolerance, seam.ease_high + seam.tolerance


def _run(draft: Draft, runs: tuple[Run, ...]) -> float:
    return sum(length(draft.edge(run.piece, run.edge)) for run in runs)
