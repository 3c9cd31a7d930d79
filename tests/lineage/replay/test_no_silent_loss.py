"""No correction is ever silently lost: each verdict against a measurement made here."""

import math
import tempfile
from collections import Counter
from collections.abc import Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings

from tests.lineage.families import Case, cases
from tests.lineage.making import Bench, block, change, child, state
from tests.lineage.measuring import out_of_range, read_off
from trueup.geometry.changes import Change
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of, step_from
from trueup.lineage.files.records import Role, replace
from trueup.lineage.files.state import State
from trueup.lineage.replay.replay import PatternReplay, Replay
from trueup.lineage.replay.verdicts import Judged, Verdict
from trueup.lineage.wardrobe import Wardrobe

SAME = 0.5  # mm; what the trade calls the same change, or this share of it
SAME_SHARE = 0.02
STILL = 0.05  # mm; what moved by less did not move
READ = 0.01  # mm; how well a curve is read off its points here
READ_ACROSS = 0.1  # mm; and a width, where the program takes a polygon within 0.02 mm of the curve


GATHERED = Case(
    (
        block(),
        child(
            "puff",
            step_from(change("shorten-shoulder", by="1mm"), Role.STYLE, "puffs0"),
            step_from(change("raise-cap", by="10mm", gathers="40mm"), Role.STYLE, "puffs1"),
        ),
    ),
    (change("scoop-armhole", piece="front", by="6.1mm"),),
    (change("lower-neck", piece="front", by="1mm"),),
)
"""What is gathered into the front half of a cap is eaten by a hollowed armhole."""


@example(GATHERED)
@given(cases())
@settings(max_examples=60)
def test_every_verdict_is_right_or_the_pattern_is_flagged(case: Case):
    bench = Bench(state(*case.nodes))
    for fitting in (case.fitting, case.second):
        before = bench.evaluator
        if not can_be_made(bench, fitting):
            return
        found = bench.correct("village", *fitting)
        check(before, bench.evaluator, found)
    before = bench.evaluator
    found = bench.drop("village", bench.state.node("village").steps[0].id)
    check(before, bench.evaluator, found)


@given(cases())
@settings(max_examples=4)
def test_so_is_every_verdict_of_a_wardrobe_on_the_disk(case: Case):
    with (
        tempfile.TemporaryDirectory() as folder,
        Wardrobe.start(Path(folder) / "wardrobe", "Village store", "mm") as wardrobe,
    ):
        build(wardrobe, case)
        before = wardrobe.evaluator_at(wardrobe.head)
        try:
            proposal = wardrobe.propose_steps("village", case.fitting, Role.CORRECTION)
        except CannotStep:
            return
        wardrobe.record(proposal)
        check(before, wardrobe.evaluator, proposal.replay)


def build(wardrobe: Wardrobe, case: Case) -> None:
    """Play the nodes of a case into a wardrobe, without the steps that cannot be made."""
    root, *others = case.nodes
    assert root.draft is not None
    wardrobe.record(wardrobe.propose_block("village", root.draft))
    for node in others:
        wardrobe.record(wardrobe.propose_child(node.name, node.parents))
        for step in node.steps:
            try:
                change = change_of(step, wardrobe.state.unit)
                wardrobe.record(wardrobe.propose_steps(node.name, [change], step.role))
            except CannotStep:
                continue


def can_be_made(bench: Bench, fitting: tuple[Change, ...]) -> bool:
    draft = bench.evaluator.draft("village")
    try:
        for each in fitting:
            draft = each.apply(draft)
    except GeometryError:
        return False
    return True


def check(before: Evaluator, after: Evaluator, found: Replay) -> None:
    names = [name for name in after.state.nodes if name != "village"]
    listed = Counter(each.name for each in found.patterns)
    below = [name for name in names if hangs_on(after.state, name)]
    assert listed == Counter(below), "every descendant is listed exactly once"

    for each in found.patterns:
        for told, (was, now) in zip(
            each.corrections, one_by_one(before, after, found), strict=True
        ):
            for carried in told.measures:
                if is_read_by_length(carried.name):
                    wanted = moved(was.draft("village"), now.draft("village"), carried.name)
                    got = moved(was.draft(each.name), now.draft(each.name), carried.name)
                    agree(carried.name, carried.wanted_mm, wanted)
                    agree(carried.name, carried.got_mm, got)
            judge(told, was.draft(each.name), now.draft(each.name))
        judge_all(after.state, each)
    require_all_intended(before, after, found)
    for name in ("village", *below):
        flagged(before, after, name, found)


def one_by_one(
    before: Evaluator, after: Evaluator, found: Replay
) -> list[tuple[Evaluator, Evaluator]]:
    """Return the wardrobe before and after each correction of a step, as made one after another."""
    block = after.state.node("village")
    new = [step for step in found.cause.steps if not before.state.node("village").step(step.id)]
    if not new:
        return [(before, after)]
    old = len(block.steps) - len(new)
    chains = [block.steps[:count] for count in range(old, len(block.steps) + 1)]
    nodes = [replace(block, steps=chain) for chain in chains]
    between = [Evaluator(after.state.with_nodes([node])) for node in nodes]
    return list(pairwise(between))


def is_read_by_length(name: str) -> bool:
    """Return whether a thing wanted is read as a length: lines and darts are judged elsewhere.

    `tests/judging` reads how far a line moved, and a dart by its angle.
    """
    return not name.endswith((".line", ".tip", ".intake"))


def hangs_on(state: State, name: str) -> bool:
    parents = state.node(name).parents
    return any(p.name == "village" or hangs_on(state, p.name) for p in parents)


def moved(old: Draft, new: Draft, measure: str) -> float | None:
    was, now = read_off(old, measure), read_off(new, measure)
    if was is None and now is None:
        return None
    return (now or 0.0) - (was or 0.0)


def agree(measure: str, said: float | None, read: float | None) -> None:
    assert (said is None) == (read is None)
    if said is not None and read is not None and not math.isnan(read):
        assert abs(said - read) <= (READ_ACROSS if measure.endswith("-width") else READ)


def require_all_intended(before: Evaluator, after: Evaluator, found: Replay) -> None:
    """What a correction is for is spoken of in every verdict, unless it did not move at all."""
    old, new = before.draft("village"), after.draft("village")
    for step in found.cause.steps:
        for measure in intended(step.kind, step.values):
            change = moved(old, new, measure)
            if change is not None and abs(change) > 2 * STILL:
                spoken_of = [{c.name for c in each.measures} for each in found.patterns]
                assert all(measure in names for names in spoken_of), measure


def intended(kind: str, values: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what a maker makes a change for, written down here a second time."""
    piece, dart = values.get("piece"), values.get("dart")
    return {
        "deepen-dart": (f"{dart}.intake",),
        "shorten-shoulder": ("front.shoulder", "back.shoulder"),
        "lower-armhole": ("front.side", "back.side"),
        "lower-neck": (f"{piece}.neck-depth",),
        "widen-neck": ("front.shoulder", "back.shoulder"),
        "true-hem": (f"{piece}.side",),
        "raise-cap": ("sleeve.cap-height",),
        "lengthen": ("sleeve.back-seam",) if piece == "sleeve" else ("front.centre",),
    }.get(kind, ())


def judge(told: Judged, old: Draft, new: Draft) -> None:
    changes = [(c.wanted_mm, c.got_mm) for c in told.measures]
    still = [got is None or abs(got) <= STILL for _, got in changes]
    whole = [
        got is not None and abs(got - wanted) <= max(SAME, SAME_SHARE * abs(wanted))
        for wanted, got in changes
    ]
    match told.verdict:
        case Verdict.CARRIED:
            assert all(whole) or told.note.endswith("sees to it")
        case Verdict.LOST:
            assert all(still)
            assert told.note
            if not changes:
                assert shape(old) == shape(new)
        case Verdict.PARTLY:
            assert not all(whole)
            assert not all(still)
        case Verdict.HELD:
            pytest.fail("nothing is held here")


def judge_all(state: State, each: PatternReplay) -> None:
    verdicts = {told.verdict for told in each.corrections}
    match each.verdict:
        case Verdict.CARRIED:
            assert verdicts <= {Verdict.CARRIED}
            assert not each.conflicts
        case Verdict.DOUBLED:
            own = {s.id: s for s in state.node(each.name).steps}
            made = {s.kind for s in state.node("village").steps}
            doubled = [own[c.change] for c in each.conflicts if c.kind == "doubled"]
            assert doubled
            assert all(s.role is Role.CORRECTION and s.kind in made for s in doubled)
        case Verdict.CONFLICT:
            assert each.conflicts
        case gravest:
            assert gravest in verdicts


def shape(draft: Draft) -> list[complex]:
    return [
        complex(round(p.real, 3), round(p.imag, 3))
        for piece in draft.pieces
        for p in piece.outline_points
    ]


def flagged(before: Evaluator, after: Evaluator, name: str, found: Replay) -> None:
    """A seam that walks out of range and did not before has an open conflict, here or above."""
    # A seam that is off by just its tolerance is in or out of it by how well it is read.
    surely, perhaps = READ, -READ
    was, now = out_of_range(before.draft(name), perhaps), out_of_range(after.draft(name), surely)
    seams = {seam.name: str(seam.side[0]) for seam in after.draft(name).seams}
    for seam in now.keys() - was.keys():
        assert seams[seam] in places(after.state, name, found), (name, seam, was, now)
    here = {
        f"{c.piece}.{c.edge}" for c in after.state.node(name).open_conflicts if c.code == "seam"
    }
    walked = {seams[seam] for seam in out_of_range(after.draft(name), perhaps)}
    assert here <= walked, "an open seam conflict is a seam that does walk out of range"


def places(state: State, name: str, found: Replay) -> set[str]:
    inherited = next((each.inherits for each in found.patterns if each.name == name), ())
    records = [*state.node(name).open_conflicts, *(state.conflict(each) for each in inherited)]
    return {f"{c.piece}.{c.edge}" for c in records if c.code == "seam" and c.state == "open"}
