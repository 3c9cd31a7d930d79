"""All that needs attention in a wardrobe as it is now, as facts, the most urgent first.

First what waits for a decision; then what does not sew together, for it should not be cut; then
what no correction reaches, what was seen on worn garments, what cloth no longer is as its pattern,
and blocks that do not follow their body.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.lineage.attention.held import StaysBehind, staying_behind
from trueup.lineage.bodies.following import Following, waiting
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.records import ConflictRecord, ConflictState
from trueup.lineage.files.state import State
from trueup.lineage.garments.since import Fate, Since, since
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.standing import Standing, standing


@dataclass(frozen=True)
class NeedsAttention:
    """What needs attention: each part in the order of the wardrobe, and the parts by urgency.

    `findings` are those of `check`, by node, that no open conflict speaks of, each at the node
    where it arose; `outgrown` garments whose pattern is not as it was when they were cut or
    altered.
    """

    conflicts: tuple[ConflictRecord, ...]
    findings: tuple[tuple[str, Standing], ...]
    held: tuple[StaysBehind, ...]
    notes: tuple[tuple[GarmentRecord, FitNote], ...]
    outgrown: tuple[tuple[GarmentRecord, Since], ...]
    behind: tuple[Following, ...]


def needs_attention(wardrobe: OpenWardrobe, now: Evaluator) -> NeedsAttention:
    """Return what needs attention in an open wardrobe, `now` evaluating it as it is.

    Every pattern that `now` has is evaluated; raises what one raises that cannot be.
    """
    state = now.state
    return NeedsAttention(
        state.open_conflicts,
        tuple(_findings(now)),
        tuple(staying_behind(wardrobe, now)),
        tuple((worn, note) for worn in state.garments.values() for note in worn.open_notes),
        tuple(_outgrown(wardrobe, state)),
        waiting(state),
    )


def _findings(evaluator: Evaluator) -> Iterator[tuple[str, Standing]]:
    for name in evaluator.state.in_order:
        for found in standing(evaluator, name):
            spoken_of = found.conflict is not None and found.conflict.state is ConflictState.OPEN
            if found.is_open and not spoken_of and found.arose_at == name:
                yield name, found


def _outgrown(wardrobe: OpenWardrobe, state: State) -> Iterator[tuple[GarmentRecord, Since]]:
    worn = [each for each in state.garments.values() if each.status is not Status.RETIRED]
    # Those of one version beside each other: only so many versions stay at hand.
    by_version = sorted(worn, key=lambda each: each.sewn_as)
    became = {each.name: since(wardrobe, each) for each in by_version}
    return ((each, became[each.name]) for each in worn if became[each.name].fate is not Fate.SAME)
