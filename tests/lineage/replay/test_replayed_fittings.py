"""Several corrections made as one step, and what becomes of each of them."""

from tests.lineage.making import Bench, block, change, child, pattern, state, step, verdicts
from trueup.lineage.replay.verdicts import Verdict

SCOOP = change("scoop-armhole", piece="front", by="5mm")
DEEP_SCOOP = change("scoop-armhole", piece="front", by="20mm")
OWN_LINE = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")


def test_a_fitting_is_one_step_and_raises_no_false_alarm():
    bench = Bench(state(block(), child("easy"), child("blouse", of="easy")))
    found = bench.correct("village", DEEP_SCOOP, change("refit-cap", to="35mm"))
    assert found.conflicts == ()
    assert verdicts(bench) == dict.fromkeys(["easy", "blouse"], Verdict.CARRIED)
    assert bench.state.open_conflicts == ()
    fittings = {step.fitting for step in bench.state.node("village").steps}
    assert len(fittings) == 1
    assert fittings != {None}


def test_refitting_the_block_leaves_only_children_that_changed_cap_or_armhole_themselves():
    raised = step("c1", "raise-cap", by="-6mm")
    scooped = step("a1", "scoop-armhole", piece="back", by="6mm")
    before = state(
        block(),
        child("plain", step("n1", "lower-neck", piece="front", by="20mm")),
        child("below", of="plain"),
        child("flat-cap", raised),
        child("hollow", scooped),
        child("under-hollow", of="hollow"),
    )
    bench = Bench(before)
    found = bench.correct("village", DEEP_SCOOP)
    (at_block,) = found.conflicts
    assert at_block.arose_at == "village"
    own = {each.name for each in found.patterns if each.conflicts}
    assert own == {"flat-cap", "hollow"}
    assert pattern(found, "plain").inherits == (at_block.id,)
    assert pattern(found, "below").inherits == (at_block.id,)
    assert pattern(found, "under-hollow").inherits == (pattern(found, "hollow").conflicts[0].id,)

    again = Bench(before)
    refitted = again.correct("village", DEEP_SCOOP, change("refit-cap", to="26mm"))
    assert refitted.conflicts == ()
    assert {each.name for each in refitted.patterns if each.conflicts} == {"flat-cap", "hollow"}


def test_a_child_that_refits_its_own_cap_inherits_no_trouble_from_the_block():
    fits = step("f1", "refit-cap", to="35mm")
    bench = Bench(state(block(), child("fitted", fits), child("below", of="fitted")))
    found = bench.correct("village", DEEP_SCOOP)
    assert len(found.conflicts) == 1
    assert [each.name for each in found.patterns] == ["fitted", "below"]
    for each in found.patterns:
        assert each.verdict is Verdict.CARRIED
        assert each.conflicts == ()
        assert each.inherits == ()


def test_each_correction_of_a_fitting_that_a_child_overwrote_is_asked_about():
    both = (
        change("scoop-armhole", piece="front", by="4mm"),
        change("lower-neck", piece="back", by="4mm"),
    )
    back_line = step("r2", "redraw-edge", edge="back.neck", through="50%:4mm")
    depth = step("r3", "lower-neck", piece="back", by="1mm")
    bench = Bench(state(block(), child("vest", OWN_LINE), child("low", back_line, depth)))
    found = bench.correct("village", *both)
    vest = pattern(found, "vest")
    assert vest.verdict is Verdict.LOST
    assert [each.verdict for each in vest.corrections] == [Verdict.LOST, Verdict.CARRIED]
    (conflict,) = vest.conflicts
    assert conflict.remedies[0].kind == "scoop-armhole"
    assert conflict.correction == bench.state.node("village").steps[0].id


def test_a_fitting_wholly_overwritten_offers_each_of_its_corrections_again():
    both = (
        change("scoop-armhole", piece="front", by="4mm"),
        change("scoop-armhole", piece="back", by="3mm"),
    )
    back_line = step("r2", "redraw-edge", edge="back.armhole", through="30%:15mm 70%:30mm")
    bench = Bench(state(block(), child("vest", OWN_LINE, back_line)))
    found = bench.correct("village", *both)
    vest = pattern(found, "vest")
    assert vest.verdict is Verdict.LOST
    repeats = [conflict.remedies[0].values for conflict in vest.conflicts]
    assert [(r["piece"], r["by"]) for r in repeats] == [("front", "4mm"), ("back", "3mm")]
    for conflict in vest.conflicts:
        bench.decide(conflict, "repeat-here")
    assert bench.open_at("vest") == ()
    assert [s.kind for s in bench.state.node("vest").steps[2:]] == ["scoop-armhole"] * 2
