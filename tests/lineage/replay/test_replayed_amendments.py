"""A correction given another amount, or taken out, and what becomes of that below."""

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step, verdicts
from trueup.lineage.files.records import Role
from trueup.lineage.replay.verdicts import Verdict

SLIGHT_SCOOP = change("scoop-armhole", piece="front", by="2mm")
DEEP_SCOOP = change("scoop-armhole", piece="front", by="20mm")
OWN_LINE = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")


def test_an_amended_correction_is_judged_by_what_was_added():
    bench = Bench(state(block(), child("blouse"), child("vest", OWN_LINE)))
    bench.correct("village", change("scoop-armhole", piece="front", by="4mm"))
    made = bench.state.node("village").steps[0].id
    found = bench.amend("village", made, by="6mm")
    blouse = pattern(found, "blouse")
    assert blouse.verdict is Verdict.CARRIED
    (line,) = blouse.measures
    assert abs(line.wanted_mm) == pytest.approx(2.0, abs=0.05)
    assert line.got_mm == pytest.approx(line.wanted_mm, abs=0.01)
    assert pattern(found, "vest").verdict is Verdict.LOST
    # What waits for a decision is still the whole correction, at its new amount.
    assert bench.conflict_at("vest").remedies[0].values["by"] == "6mm"


def test_an_amendment_after_the_decision_asks_only_for_what_was_added():
    bench = Bench(state(block(), child("vest", OWN_LINE)))
    bench.correct("village", change("scoop-armhole", piece="front", by="4mm"))
    bench.decide(bench.conflict_at("vest"), "repeat-here")
    made = bench.state.node("village").steps[0].id
    bench.amend("village", made, by="6mm")
    assert bench.conflict_at("vest").remedies[0].values["by"] == "2mm"


def test_amending_what_is_doubled_does_not_double_it_again():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="2mm")
    bench = Bench(state(block(), child("blouse", own)))
    bench.correct("village", SLIGHT_SCOOP)
    bench.decide(bench.conflict_at("blouse"), "accept")
    bench.amend("village", bench.state.node("village").steps[0].id, by="2.5mm")
    assert verdicts(bench) == {"blouse": Verdict.CARRIED}
    assert bench.open_at("blouse") == ()


def test_dropping_a_correction_takes_it_back_everywhere_and_settles_what_it_brought():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    nodes = (block(), child("blouse"), child("doubled", own), child("vest", OWN_LINE))
    bench = Bench(state(*nodes))
    before = {node.name: bench.evaluator.summary(node.name).fingerprint for node in nodes}
    bench.correct("village", DEEP_SCOOP)
    assert {c.arose_at for c in bench.state.open_conflicts} == {"village", "doubled", "vest"}
    found = bench.drop("village", bench.state.node("village").steps[0].id)
    assert verdicts(bench) == {
        "blouse": Verdict.CARRIED,
        "doubled": Verdict.CARRIED,
        "vest": Verdict.LOST,
    }
    assert bench.state.open_conflicts == ()
    assert {c.arose_at for c in found.settled} == {"village", "doubled", "vest"}
    after = {node.name: bench.evaluator.summary(node.name).fingerprint for node in nodes}
    assert after == before


def test_dropping_an_own_copy_doubles_nothing_below():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    theirs = step("o2", "scoop-armhole", Role.CORRECTION, piece="front", by="1mm")
    bench = Bench(state(block(), child("blouse", own), child("short", theirs, of="blouse")))
    bench.drop("blouse", "o1")
    assert verdicts(bench) == {"short": Verdict.CARRIED}
    assert bench.state.open_conflicts == ()
