"""Blocks of random families measured anew: as drafted so from the first, and each verdict so.

Nothing of the program's replaying is used to judge it: chains are made by hand on blocks drafted
from the new measurements, and lines are measured by sampling.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.judging.sampled import length
from tests.lineage.families import Case, cases
from tests.lineage.making import BODY, Bench, state
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.assembling import assembled
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of, step_from
from trueup.lineage.files.records import NodeRecord, Role, replace
from trueup.lineage.replay.drafted_anew.edit import remeasure
from trueup.lineage.replay.replay import Replay
from trueup.lineage.replay.verdicts import Verdict

SAME_PLACE = 0.01  # mm
STILL, SAME, SAME_SHARE = 0.05, 0.5, 0.02  # what did not move; what the trade calls the same
READ = 0.02  # mm; how well a line is read off its points here


@st.composite
def taken_anew(draw: st.DrawFn) -> dict[str, str]:
    """Draw some measurements of the same wearer, later: the waist keeps to the bust."""
    bust = draw(st.integers(800, 1010))
    body = {
        "bust": f"{bust}mm",
        "waist": f"{bust - draw(st.integers(140, 240))}mm",
        "back-length": f"{draw(st.integers(365, 415))}mm",
        "sleeve-length": f"{draw(st.integers(500, 600))}mm",
    }
    taken = draw(st.sets(st.sampled_from(["back-length", "sleeve-length", "girths"]), min_size=1))
    girths = ("bust", "waist") if "girths" in taken else ()
    return {name: text for name, text in body.items() if name in taken or name in girths}


def with_own_steps(case: Case) -> tuple[NodeRecord, ...]:
    """Return the nodes of a case, its corrections as steps of the block."""
    block, *others = case.nodes
    steps = [
        step_from(each, Role.CORRECTION, f"own{index}") for index, each in enumerate(case.fitting)
    ]
    return (replace(block, steps=tuple(steps)), *others)


@given(cases(), taken_anew())
@settings(max_examples=25)
def test_a_block_measured_anew_is_the_block_drafted_so_with_the_same_steps(
    case: Case, body: dict[str, str]
) -> None:
    nodes = with_own_steps(case)
    bench = Bench(state(*nodes))
    before = bench.evaluator
    if all(BODY.get(name) == text for name, text in body.items()):
        return
    found = bench.take(remeasure(bench.state, "village", body, "grown"))
    after = bench.evaluator
    by_hand: dict[str, Draft] = {}
    for node in nodes:
        by_hand[node.name] = made_by_hand(node, {**BODY, **body}, by_hand)
        assert_same(after.draft(node.name), by_hand[node.name])
    judge(before, after, found)
    # And back: everything is as it was.
    back = {name: BODY[name] for name in body}
    bench.take(remeasure(bench.state, "village", back, "mistaken"))
    for node in nodes:
        then, now = before.summary(node.name), bench.evaluator.summary(node.name)
        assert now.fingerprint == then.fingerprint


def made_by_hand(node: NodeRecord, body: dict[str, str], made: dict[str, Draft]) -> Draft:
    """Return a node's chain made step by step on what it starts from."""
    if node.draft:
        lengths = {name: parse_length(text, Unit.MILLIMETRE) for name, text in body.items()}
        draft = draft_block(node.draft.system, lengths)
    else:
        parts = [
            (made[parent.name], parent.pieces or made[parent.name].piece_names)
            for parent in node.parents
        ]
        draft = assembled(parts)
    for step in node.steps:
        try:
            draft = change_of(step, Unit.MILLIMETRE).apply(draft)
        except GeometryError:
            continue
    return draft


def assert_same(one: Draft, other: Draft) -> None:
    assert one.piece_names == other.piece_names
    for piece in one.pieces:
        theirs = other.piece(piece.name)
        assert piece.edge_names == theirs.edge_names
        for edge in piece.edges:
            parts = theirs.edge(edge.name).parts
            assert len(edge.parts) == len(parts)
            for here, there in zip(edge.parts, parts, strict=True):
                mine = [point for cubic in here.cubics for point in cubic]
                others = [point for cubic in there.cubics for point in cubic]
                assert len(mine) == len(others)
                assert all(abs(a - b) < SAME_PLACE for a, b in zip(mine, others, strict=True)), (
                    f"{piece.name}.{edge.name}"
                )


def judge(before: Evaluator, after: Evaluator, found: Replay) -> None:
    """Hold each verdict against lines sampled in the block and in the pattern."""
    block = lengths(before.draft("village")), lengths(after.draft("village"))
    for pattern in found.patterns:
        here = lengths(before.draft(pattern.name)), lengths(after.draft(pattern.name))
        told = {each.name: each for each in pattern.measures}
        for name, each in told.items():
            if name not in block[0] or name not in block[1]:
                continue
            wanted = block[1][name] - block[0][name]
            assert each.wanted_mm == pytest.approx(wanted, abs=READ)
            if name in here[0] and name in here[1]:
                assert each.got_mm == pytest.approx(here[1][name] - here[0][name], abs=READ)
        if pattern.verdict is Verdict.CARRIED and not pattern.note:
            for name in told.keys() & block[0].keys() & block[1].keys():
                wanted = block[1][name] - block[0][name]
                assert name in here[1], name
                got = here[1][name] - here[0][name]
                slack = max(SAME, SAME_SHARE * abs(wanted)) + READ
                assert abs(got - wanted) <= slack, (pattern.name, name)
        if pattern.verdict is Verdict.LOST:
            assert all(each.vanished for each in pattern.measures)
        if pattern.verdict in (Verdict.LOST, Verdict.PARTLY):
            assert pattern.note


def lengths(draft: Draft) -> dict[str, float]:
    """Return the length of each line of a draft, mm, by sampling."""
    return {
        f"{piece.name}.{edge.name}": length(edge) for piece in draft.pieces for edge in piece.edges
    }
