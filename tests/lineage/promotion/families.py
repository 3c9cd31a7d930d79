"""A small family of patterns, and a correction moved up in it as a wardrobe does."""

from typing import Any

from tests.lineage.making import block, child, state, step
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import ParentRecord, Role, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.promotion.amounts import Wish
from trueup.lineage.promotion.promoting import Outcome, outcome, promote
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import PatternReplay, Replay, replay

ASKED_NOTHING = Wish()
AS_IS = Wish(as_is=True)
SCALED = Wish(scaled=True)


def correction(name: str, kind: str, **values: Any) -> StepRecord:
    return step(name, kind, Role.CORRECTION, **values)


def scoop(name: str = "scoop", by: str = "8mm") -> StepRecord:
    return correction(name, "scoop-armhole", piece="front", by=by)


def family(*own: StepRecord, easy: tuple[StepRecord, ...] = ()) -> State:
    """A village block, an easier one, a blouse of that with steps of its own, and two siblings."""
    return state(
        block("village"),
        child("easy", *easy),
        child("blouse", *own, of="easy"),
        child("smock", of="easy"),
        child("vest", of=[ParentRecord("village", ("front", "back"))]),
    )


def moved(
    start: State,
    step_id: str,
    to: str | None = None,
    wish: Wish = ASKED_NOTHING,
    node: str = "blouse",
) -> tuple[Outcome, Evaluator, Replay]:
    """Promote in memory as a wardrobe does."""
    before = Evaluator(start)
    edit = promote(before, "blouse", step_id, to, wish)
    after = before.beside(*edit.nodes)
    cause = Cause(edit.node, edit.steps, "0" * 40)
    found = replay(before, after, cause, judged_from=before.beside(*edit.judged_from))
    return outcome(before, "blouse", edit), after, found


def verdicts(found: Replay) -> dict[str, str]:
    return {each.name: each.verdict.value for each in found.patterns}


def of(found: Replay, name: str) -> PatternReplay:
    return next(each for each in found.patterns if each.name == name)
