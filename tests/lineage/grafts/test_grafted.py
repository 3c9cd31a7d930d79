"""Styles of random families grafted onto another body: as the same changes made there by hand.

Nothing of the program's grafting or replaying is used to judge it: the lineage is made again by
hand on the other block, and lines are compared by sampling.
"""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.judging.sampled import length, sampled
from tests.lineage.families import Case, cases, corrections, styles
from tests.lineage.making import BODY, TODAY, Bench, block, change, child, pattern, state, step
from trueup.geometry.changes import Change
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.assembling import assembled
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.errors import BadRecord, CannotStep
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictKind,
    NodeRecord,
    ParentRecord,
    Role,
    StepRecord,
    replace,
)
from trueup.lineage.replay import edits
from trueup.lineage.replay.around import around
from trueup.lineage.replay.edits import Edit
from trueup.lineage.replay.taken_over import grafts
from trueup.lineage.replay.verdicts import Verdict

SAME_PLACE = 0.01  # mm
SAME, SAME_SHARE, READ = 0.5, 0.02, 0.02  # mm; what the trade calls the same, and how well we read
ADA = {"bust": "98cm", "waist": "82cm", "back-length": "40cm", "sleeve-length": "57cm"}


@st.composite
def others(draw: st.DrawFn) -> dict[str, str]:
    """Draw the measurements of another body."""
    bust = draw(st.integers(800, 1040))
    return {
        "bust": f"{bust}mm",
        "waist": f"{bust - draw(st.integers(140, 230))}mm",
        "back-length": f"{draw(st.integers(365, 415))}mm",
        "sleeve-length": f"{draw(st.integers(500, 600))}mm",
    }


def block_of(body: dict[str, str], *steps: StepRecord, name: str = "ada") -> NodeRecord:
    return NodeRecord(name, True, draft=BlockDraft("bust-proportion", body), steps=steps)


def drafted(body: dict[str, str]) -> Draft:
    lengths = {name: parse_length(text, Unit.MILLIMETRE) for name, text in body.items()}
    return draft_block("bust-proportion", lengths)


def grafted(bench: Bench, pattern_: str, name: str = "graft", onto: str = "ada") -> None:
    bench.take(grafts.graft(bench.evaluator, name, pattern_, ParentRecord(onto), ""))


def by_hand(bench: Bench, name: str, start: Draft, *, also: bool = False) -> Draft:
    """Return the styles of a lineage made step by step on another draft; `also` corrections."""
    node = bench.state.node(name)
    draft = start
    if node.parents:
        parts = [(by_hand(bench, p.name, start), p.pieces) for p in node.parents]
        draft = assembled([(made, pieces or made.piece_names) for made, pieces in parts])
    for each in node.steps:
        if each.role is Role.STYLE or also:
            draft = made(draft, change_of(each, Unit.MILLIMETRE))
    return draft


def made(draft: Draft, *changes: Change) -> Draft:
    for each in changes:
        try:
            draft = each.apply(draft)
        except GeometryError:
            continue
    return draft


def assert_same(one: Draft, other: Draft) -> None:
    assert one.piece_names == other.piece_names
    for piece in one.pieces:
        theirs = other.piece(piece.name)
        assert piece.edge_names == theirs.edge_names
        for edge in piece.edges:
            mine, there = sampled(edge), sampled(theirs.edge(edge.name))
            assert [len(part) for part in mine] == [len(part) for part in there]
            for here, far in zip(mine, there, strict=True):
                assert float(np.abs(here - far).max()) < SAME_PLACE, f"{piece.name}.{edge.name}"


def lengths(of: Draft) -> dict[str, float]:
    return {f"{p.name}.{e.name}": length(e) for p in of.pieces for e in p.edges}


@given(cases(), others())
@settings(max_examples=25)
def test_a_graft_is_the_same_changes_made_by_hand_on_the_other_block(
    case: Case, body: dict[str, str]
) -> None:
    bench = Bench(state(*case.nodes, block_of(body)))
    name = case.nodes[-1].name
    grafted(bench, name)
    assert_same(bench.evaluator.draft("graft"), by_hand(bench, name, drafted(body)))


@given(cases(), others(), styles, corrections, st.booleans())
@settings(max_examples=25)
def test_a_later_style_and_a_later_correction_arrive_in_any_order(
    case: Case, body: dict[str, str], style: Change, correction: Change, style_first: bool
) -> None:
    bench = Bench(state(*case.nodes, block_of(body)))
    name = case.nodes[-1].name
    grafted(bench, name)
    try:
        for is_style in (style_first, not style_first):
            before = lengths(bench.evaluator.draft("graft"))
            found = bench.style(name, style) if is_style else bench.correct("ada", correction)
            judge(before, lengths(bench.evaluator.draft("graft")), pattern(found, "graft"))
    except CannotStep:
        assume(False)
    start = made(drafted(body), correction)
    assert_same(bench.evaluator.draft("graft"), by_hand(bench, name, start))


def judge(before: dict[str, float], after: dict[str, float], told: object) -> None:
    """Hold a verdict against the lines of the graft, sampled."""
    verdict, measures = told.verdict, told.measures  # type: ignore[attr-defined]
    for each in measures:
        if each.name in before and each.name in after:
            got = after[each.name] - before[each.name]
            assert each.got_mm == pytest.approx(got, abs=READ)
            if verdict is Verdict.CARRIED and not told.note:  # type: ignore[attr-defined]
                slack = max(SAME, SAME_SHARE * abs(each.wanted_mm)) + READ
                assert abs(got - each.wanted_mm) <= slack
            if verdict is Verdict.LOST:
                assert abs(got) < max(SAME, abs(each.wanted_mm))


def blouse(*steps: StepRecord) -> Bench:
    return Bench(state(block(), block_of(ADA), child("blouse", *steps)))


def test_corrections_and_decisions_stay_behind() -> None:
    bench = blouse(
        step("s1", "lower-neck", piece="front", by="20mm"),
        step("c1", "shorten-shoulder", Role.CORRECTION, by="6mm"),
        step("d1", "lengthen", Role.DECISION, by="30mm"),
    )
    grafted(bench, "blouse")
    taken = bench.evaluator.worked("graft")
    assert [each.id for each in taken.steps] == ["s1"]


def test_a_correction_of_the_pattern_does_not_reach_the_graft_nor_is_it_told_of() -> None:
    bench = blouse(step("s1", "lower-neck", piece="front", by="20mm"))
    grafted(bench, "blouse")
    then = bench.evaluator.summary("graft").fingerprint
    found = bench.correct("blouse", change("shorten-shoulder", by="6mm"))
    assert found.patterns == ()
    found = bench.correct("village", change("shorten-shoulder", by="6mm"))
    assert [each.name for each in found.patterns] == ["blouse"]
    assert bench.evaluator.summary("graft").fingerprint == then


def test_what_a_style_means_on_another_body_is_what_it_is_judged_by() -> None:
    bench = blouse()
    grafted(bench, "blouse")
    turn = change("rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm")
    there = pattern(bench.style("blouse", turn), "graft")
    assert there.verdict is Verdict.CARRIED
    assert there.measures


def test_what_the_other_body_lacks_is_a_conflict_of_the_graft_with_remedies() -> None:
    bench = Bench(
        state(
            block(),
            block_of(ADA, step("r1", "release-dart", dart="back.shoulder")),
            child("blouse", step("s1", "deepen-dart", dart="back.shoulder", by="3mm")),
        )
    )
    grafted(bench, "blouse")
    conflict = bench.conflict_at("graft")
    assert conflict.kind is ConflictKind.MISSING
    assert conflict.change == "s1"
    assert "drop-step" in [each.name for each in conflict.remedies]
    edit = decided(bench, conflict.id, "drop-step")
    assert edit.state.node("graft").style.without == ("s1",)  # type: ignore[union-attr]
    assert not edit.open_at("graft")


def decided(bench: Bench, conflict: str, remedy: str) -> Bench:
    evaluator = bench.evaluator
    told = (bench.state, bench.head, conflict, remedy, "", TODAY)
    bench.take(edits.decide(*told, lambda node: around(evaluator, node)))
    return bench


def test_a_graft_of_a_graft_takes_both_its_styles_and_no_fit() -> None:
    bench = blouse(step("s1", "lower-neck", piece="front", by="20mm"))
    eve = {**BODY, "bust": "92cm"}
    bench.state = bench.state.with_nodes([block_of(eve, name="eve")])
    grafted(bench, "blouse")
    bench.style("graft", change("lengthen", by="40mm"))
    bench.correct("graft", change("shorten-shoulder", by="4mm"))
    grafted(bench, "graft", "again", "eve")
    assert [each.kind for each in bench.evaluator.worked("again").steps] == [
        "lower-neck",
        "lengthen",
    ]
    found = bench.style("blouse", change("widen-neck", by="5mm"))
    assert {each.name: each.verdict for each in found.patterns} == {
        "graft": Verdict.CARRIED,
        "again": Verdict.CARRIED,
    }
    by_itself = made(
        drafted(eve),
        change("lower-neck", piece="front", by="20mm"),
        change("widen-neck", by="5mm"),
        change("lengthen", by="40mm"),
    )
    assert_same(bench.evaluator.draft("again"), by_itself)


def test_an_own_amount_stands_in_for_a_step_and_gives_way_again() -> None:
    bench = blouse(step("s1", "lengthen", by="100mm"), step("s2", "widen-neck", by="5mm"))
    grafted(bench, "blouse")
    known = around(bench.evaluator, "graft")
    bench.take(edits.amend_step(bench.state, "graft", "s1", {"by": "80mm"}, "", known))
    amended = made(drafted(ADA), change("lengthen", by="80mm"), change("widen-neck", by="5mm"))
    assert_same(bench.evaluator.draft("graft"), amended)
    found = bench.amend("blouse", "s1", by="120mm")
    there = pattern(found, "graft")
    assert there.verdict is Verdict.LOST
    assert there.note == "its own lengthen is made instead"
    known = around(bench.evaluator, "graft")
    bench.take(edits.drop_step(bench.state, "graft", "s1", "", known))
    as_there = made(drafted(ADA), change("lengthen", by="120mm"), change("widen-neck", by="5mm"))
    assert_same(bench.evaluator.draft("graft"), as_there)


def test_an_amount_bound_to_the_body_scales_with_it_and_arrives_so() -> None:
    bench = blouse()
    grafted(bench, "blouse")
    bound = replace(step("s1", "lower-neck", piece="front", by="40mm"), values={})
    bound = replace(bound, values={"piece": "front", "by": "bust/22"})
    node = bench.state.node("blouse")
    found = bench.take(Edit((replace(node, steps=(bound,)),), "blouse", (bound,), ""))
    assert pattern(found, "graft").verdict is Verdict.CARRIED
    lower = made(drafted(ADA), change("lower-neck", piece="front", by=f"{980 / 22}mm"))
    assert_same(bench.evaluator.draft("graft"), lower)
    again = made(drafted(BODY), change("lower-neck", piece="front", by="40mm"))
    assert_same(bench.evaluator.draft("blouse"), again)


def test_what_the_block_it_stands_on_has_already_is_not_made_twice() -> None:
    bench = Bench(
        state(
            block("village", step("v1", "lengthen", by="30mm")),
            child("easy", step("e1", "widen-neck", by="5mm")),
            child("blouse", step("s1", "lower-neck", piece="front", by="20mm")),
        )
    )
    grafted(bench, "blouse", onto="easy")
    assert [each.id for each in bench.evaluator.worked("graft").steps] == ["s1"]
    found = bench.style("village", change("lengthen", by="40mm"))
    assert pattern(found, "graft").verdict is Verdict.CARRIED
    hem = change("lengthen", by="30mm"), change("lengthen", by="40mm")
    own = change("widen-neck", by="5mm"), change("lower-neck", piece="front", by="20mm")
    assert_same(bench.evaluator.draft("graft"), made(drafted(BODY), *hem, *own))


def test_a_graft_may_stay_on_the_style_as_it_was() -> None:
    bench = blouse(step("s1", "lower-neck", piece="front", by="20mm"))
    release = step("r1", "release-dart", dart="back.shoulder")
    bench.state = bench.state.with_nodes([block_of(ADA, release)])
    grafted(bench, "blouse")
    then = bench.evaluator.summary("graft").fingerprint
    found = bench.style("blouse", change("deepen-dart", dart="back.shoulder", by="3mm"))
    there = pattern(found, "graft")
    assert there.verdict is Verdict.CONFLICT
    (conflict,) = there.conflicts
    decided(bench, conflict.id, "hold")
    style = bench.state.node("graft").style
    assert style is not None
    assert style.hold == conflict.since
    assert bench.evaluator.summary("graft").fingerprint == then
    later = pattern(bench.style("blouse", change("widen-neck", by="5mm")), "graft")
    assert later.verdict is Verdict.HELD


def test_an_own_step_that_overwrites_a_later_style_is_named() -> None:
    bench = blouse(step("s1", "lengthen", by="50mm"))
    grafted(bench, "blouse")
    redraw = change("redraw-edge", edge="front.armhole", through="30%:20mm 70%:35mm")
    bench.style("graft", redraw)
    scoop = change("scoop-armhole", piece="front", by="10mm")
    there = pattern(bench.style("blouse", scoop), "graft")
    assert there.verdict is not Verdict.CARRIED
    assert "its own redraw-edge" in there.note


def test_a_style_joined_of_two_again_and_again_has_an_end() -> None:
    nodes = [block(), block_of(ADA), child("a0"), child("b0")]
    for n in range(1, 40):
        both = (ParentRecord(f"a{n - 1}", ("front",)), ParentRecord(f"b{n - 1}", ("back",)))
        nodes += [child(f"a{n}", of=both), child(f"b{n}", of=both)]
    bench = Bench(state(*nodes))
    with pytest.raises(BadRecord, match="more than 250 patterns"):
        grafted(bench, "a39")


def test_the_deepest_lineage_is_grafted() -> None:
    names = [f"p{n}" for n in range(98)]
    steps = [step(f"s{n}", "lengthen", by="1mm") for n in range(98)]
    nodes = [
        child(name, one, of=of)
        for name, one, of in zip(names, steps, ["village", *names], strict=False)
    ]
    bench = Bench(state(block(), block_of(ADA), *nodes))
    grafted(bench, "p97")
    assert len(bench.evaluator.worked("graft").steps) == 98
    grown = length(bench.evaluator.draft("graft").piece("front").edge("side"))
    as_drafted = length(drafted(ADA).piece("front").edge("side"))
    assert grown - as_drafted == pytest.approx(98, abs=0.05)
