"""One node worked out: its changes, in order, applied to what it starts from. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from trueup.geometry.amounts import NO_BODY, Body
from trueup.geometry.calling.own_names import own_name
from trueup.geometry.changes import Change
from trueup.geometry.cloth.corners_told import check_corners
from trueup.geometry.comparing.new_shapes import reshaped_edges
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.marking.laid_on import laid_on
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.forms import forms
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.unstated import unsewn_lines
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.evaluation.summary import Problem, SeamWalk, SectionEase, Summary
from trueup.lineage.files.records import NodeRecord, StepRecord

_MADE_AT_HAND = 256
"""So many steps made last are not made again: a replay tries a chain with one step otherwise."""

_STARTS_AT_HAND = 32


@dataclass(frozen=True)
class Stage:
    """A draft as it is after one step of the chain; no `step` for what the chain starts from."""

    step: StepRecord | None
    draft: Draft
    problem: Problem | None = None


def stages_of(
    node: NodeRecord, start: Draft, unit: Unit, body: Body = NO_BODY
) -> tuple[Stage, ...]:
    """Return the draft a chain starts from and the draft after each step of a node.

    `body` is what amounts bound to it are worked out on. A step that cannot be carried out is left
    out, and told of as a problem.
    """
    return stages_on(start, node.steps, unit, body)


@dataclass(frozen=True)
class MadeSteps:
    """What some steps come to, what could not be carried out, and which step shaped an edge."""

    draft: Draft
    problems: tuple[Problem, ...]
    shaped: dict[str, str]


def made_on(start: Draft, steps: Sequence[StepRecord], unit: Unit, body: Body) -> MadeSteps:
    """Return what steps come to on a draft."""
    stages = stages_on(start, steps, unit, body)
    problems = tuple(stage.problem for stage in stages if stage.problem)
    return MadeSteps(stages[-1].draft, problems, _shaped(stages))


def stages_on(
    start: Draft, steps: Sequence[StepRecord], unit: Unit, body: Body
) -> tuple[Stage, ...]:
    """Return a draft and what it is after each of some steps (`stages_of`)."""
    stages = [Stage(None, _alike(start))]
    for step in steps:
        draft = stages[-1].draft
        try:
            stages.append(Stage(step, _made(change_of(step, unit, body), _Only(draft))))
        except GeometryError as error:
            stages.append(Stage(step, draft, _problem(step, error)))
    return tuple(stages)


class _Only:
    """A draft that is equal to none but itself.

    What a step did not touch is in the draft after it the same object as before, by which it is
    told: a step made on another draft, be it equal, does not come after this one.
    """

    def __init__(self, draft: Draft) -> None:
        self.draft = draft

    def __hash__(self) -> int:
        return id(self.draft)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Only) and self.draft is other.draft


@lru_cache(_MADE_AT_HAND)
def _made(change: Change, before: _Only) -> Draft:
    return change.apply(before.draft)


@lru_cache(_STARTS_AT_HAND)
def _alike(start: Draft) -> Draft:
    """Return the first of equal drafts that chains started from last."""
    return start


def worked_out(
    node: NodeRecord, start: Draft, unit: Unit, body: Body = NO_BODY
) -> tuple[Summary, Draft]:
    """Return what a node evaluates to, its chain starting from a draft."""
    stages = stages_of(node, start, unit, body)
    draft = stages[-1].draft
    summary = Summary(
        fingerprint(draft),
        measures(draft),
        (*check(draft), *check_corners(draft)),
        tuple(stage.problem for stage in stages if stage.problem),
        _shaped(stages),
        {seam.name: _seam_walk(draft, seam.name) for seam in draft.seams},
        draft.piece_names,
        forms(draft),
        _cut_from(draft),
        laid_on(draft),
        _called(draft),
        {made.name: made.part_names for made in draft.joined},
        unsewn_lines(draft),
    )
    return summary, draft


def _cut_from(draft: Draft) -> dict[str, str]:
    """Return what pieces were part of before, by name: of a piece cut apart, or of its own name."""
    parts = {own_name(draft, part): cut.whole.name for cut in draft.cuts for part in cut.parts}
    return {**parts, **{called: own for own, called in _called(draft).items()}}


def _called(draft: Draft) -> dict[str, str]:
    """Return what the pieces that are there are called, by own names."""
    there = {piece.name for piece in draft.told_of} if draft.called else set()
    return {own: called for own, called in draft.called_names.items() if own in there}


def _seam_walk(draft: Draft, name: str) -> SeamWalk:
    walked = walk(draft, draft.seam(name))
    seam = walked.seam
    return SeamWalk(
        walked.side,
        walked.mate,
        seam.allowed.low,
        seam.allowed.high,
        tuple(str(run) for run in seam.runs),
        seam.place,
        tuple(
            SectionEase(
                each.section.name,
                each.side,
                each.mate,
                each.section.allowed.low,
                each.section.allowed.high,
            )
            for each in walked.sections
        ),
    )


def _problem(step: StepRecord, error: GeometryError) -> Problem:
    says = (step.kind, error.says)
    if isinstance(error, CannotChange):
        return Problem(step.id, "impossible", *says, error.piece, error.edge, error.largest)
    code = "missing" if isinstance(error, NoSuchName) else "impossible"
    piece, edge = _place_of(step.values)
    return Problem(step.id, code, *says, piece, edge)


def _place_of(values: Mapping[str, object]) -> tuple[str, str]:
    """Return piece and edge (or dart) that a step's values name, as far as they do."""
    full = str(values.get("dart") or values.get("edge") or "")
    piece, _, place = full.partition(".")
    return piece or str(values.get("piece", "")), place


def _shaped(stages: Sequence[Stage]) -> dict[str, str]:
    shaped: dict[str, str] = {}
    for before, after in pairwise(stages):
        if after.step is None or after.draft is before.draft:
            continue
        for name in reshaped_edges(before.draft, after.draft):
            shaped[name] = after.step.id
    return shaped
