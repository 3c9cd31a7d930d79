"""A wardrobe as it would be once a conflict were decided: looked at, and nothing of it kept."""

import datetime

from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.replay import edits
from trueup.lineage.replay.around import around
from trueup.lineage.replay.findings import spoken_of


def tried(evaluator: Evaluator, base: str, conflict_id: str, remedy: str) -> Evaluator:
    """Return an evaluator of the wardrobe as one of the remedies of a conflict would leave it.

    `base` is the version the wardrobe was read at. Raises NoSuchConflict, NothingToDecide,
    NoSuchRemedy, and what the decision itself would raise; a step that cannot be carried out is
    left out, as in any chain.
    """
    edit = edits.decide(
        spoken_of(evaluator, conflict_id),
        base,
        conflict_id,
        remedy,
        "",
        datetime.date.min,
        lambda node: around(evaluator, node),
    )
    return evaluator.beside(*edit.nodes)
