"""Take every remedy that is offered after a random fitting, and hold it against what it said.

Seams are walked by their sampled curves alone.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from tests.judging.random_wardrobes import Case, case
from tests.judging.sampled import edge_of, length
from tests.lineage.making import Bench, state
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.tolerance import SEAM
from trueup.lineage.errors import CannotStep
from trueup.lineage.files.records import ConflictKind, ConflictRecord, Remedy

NOT_TRIED = ("accept", "hold", "follow")
NEAR = 0.1
"""What a walk by sampled curves may be off, mm."""


@dataclass
class Remedied:
    """What was counted of seam conflicts by their first remedy, and remedies that are not so."""

    first: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def remedied(seed: int, made: Callable[[int], Case] = case) -> Remedied:
    """Return what became of the remedies offered after the fitting of a case."""
    given, counted = made(seed), Remedied()
    bench = Bench(state(*given.nodes))
    try:
        bench.correct("village", *given.fitting)
    except (CannotStep, GeometryError):
        return counted
    for conflict in bench.state.open_conflicts:
        cures = [each for each in conflict.remedies if each.name not in NOT_TRIED]
        for index, remedy in enumerate(cures):
            found = _taken(bench, conflict, remedy)
            if not index and conflict.kind is ConflictKind.SEAM:
                counted.first[
                    found or ("clean" if not remedy.leaves else "leaves what it says")
                ] += 1
            if found:
                counted.faults.append(f"seed {seed}: {remedy.name} of {conflict.says}: {found}")
    return counted


def _taken(bench: Bench, conflict: ConflictRecord, remedy: Remedy) -> str:
    """Return what is wrong with a remedy that is taken; empty where all is as it said."""
    trial = Bench(bench.state, made=bench.made, earlier=dict(bench.earlier))
    name = conflict.arose_at
    before = uneven(bench.evaluator.draft(name))
    try:
        trial.decide(conflict, remedy.name)
    except (CannotStep, GeometryError) as refusal:
        return f"refused, {refusal}"
    after = uneven(trial.evaluator.draft(name))
    said = {f"{left.piece}.{left.edge}" for left in remedy.leaves}
    place = f"{conflict.piece}.{conflict.edge}"
    if conflict.kind is ConflictKind.SEAM and place in after:
        return f"{place} is still off by {after[place]:.2f} mm"
    for other, by in after.items():
        if by > before.get(other, 0.0) + NEAR and other not in said:
            return f"{other} comes to be off by {by:.2f} mm"
    return ""


def uneven(draft: Draft) -> dict[str, float]:
    """Return by how much each seam lies outside what it allows, mm, by the place it begins at."""
    found = {}
    for seam in draft.seams:
        side, mate = (
            sum(length(edge) for run in runs if (edge := edge_of(draft, str(run))) is not None)
            for runs in (seam.side, seam.mate)
        )
        low, high = seam.allowed.low, seam.allowed.high
        beyond = max(low - (side - mate), side - mate - high, 0.0)
        if beyond > max(seam.allowed.tolerance, SEAM) + NEAR:
            found[".".join(seam.place)] = beyond
    return found
