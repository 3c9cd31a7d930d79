"""What arrives only in part, or otherwise than wanted, is asked about, or its reason is told."""

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step
from trueup.geometry.said import Said
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    replace,
)
from trueup.lineage.replay.replay import PatternReplay
from trueup.lineage.replay.verdicts import Verdict

# As their second versions drew it: an armhole that waves so much is refused since.
SLOPED = replace(step("t1", "slope-shoulder", by="-25mm"), version=2)
SHORT = replace(step("t2", "shorten-shoulder", by="-60mm"), version=2)
LOW = replace(step("t3", "lower-armhole", by="40mm"), version=2)


def scooped(*below: NodeRecord) -> tuple[Bench, PatternReplay]:
    bench = Bench(state(block(), *below))
    found = bench.correct("village", change("scoop-armhole", piece="front", by="10mm"))
    return bench, pattern(found, below[-1].name)


def both_shaped(replayed: PatternReplay) -> tuple[ConflictRecord, ...]:
    return tuple(c for c in replayed.conflicts if c.kind is ConflictKind.BOTH_SHAPED)


def test_what_cannot_be_brought_by_repeating_is_asked_about_all_the_same():
    # So wide a shoulder over so low an underarm lets no scoop of any amount bring the rest.
    bench, tabard = scooped(child("tabard", SLOPED, SHORT, LOW))
    (judged,) = tabard.corrections
    (measure,) = judged.measures
    assert judged.verdict is Verdict.PARTLY
    assert tabard.verdict is Verdict.CONFLICT
    (conflict,) = both_shaped(tabard)
    assert [remedy.name for remedy in conflict.remedies] == ["accept", "hold"]
    assert abs(abs(measure.got_mm or 0.0) + conflict.excess_mm - 10.0) < 0.01
    bench.decide(conflict, "accept")
    assert conflict.id not in {c.id for c in bench.open_at("tabard")}


def test_a_pattern_below_says_where_the_rest_stayed():
    _, bib = scooped(child("tabard", SLOPED, SHORT, LOW), child("bib", of="tabard"))
    (judged,) = bib.corrections
    assert judged.verdict is Verdict.PARTLY
    assert both_shaped(bib) == ()
    assert judged.note == "in part above, at tabard"


def test_of_two_measures_the_one_that_arrives_least_is_told():
    own = step("s1", "release-dart", dart="back.shoulder")
    bench = Bench(state(block(), child("smock", own)))
    smock = pattern(bench.correct("village", change("slope-shoulder", by="8mm")), "smock")
    front, back = smock.corrections[0].measures
    assert (front.name, back.name) == ("front.shoulder-drop", "back.shoulder-drop")
    assert front.arrived
    assert not back.arrived
    (conflict,) = both_shaped(smock)
    assert isinstance(conflict.says, Said)
    assert conflict.says.facts["measure"] == back.name
    assert conflict.says.facts["got"] == pytest.approx(back.got_mm, abs=0.01)
    assert conflict.excess_mm == pytest.approx(8.0 - (back.got_mm or 0.0), abs=0.01)


def test_a_line_without_an_amount_that_arrives_otherwise_is_asked_about():
    bench = Bench(state(block(), child("smock", step("s1", "release-dart", dart="front.bust"))))
    line = change("redraw-edge", edge="front.armhole", through="30%:22mm 70%:34mm")
    smock = pattern(bench.correct("village", line), "smock")
    assert smock.corrections[0].verdict is Verdict.PARTLY
    (conflict,) = both_shaped(smock)
    assert isinstance(conflict.says, Said)
    assert conflict.says.what == "arrives-otherwise"
    assert conflict.says.facts["got"] > conflict.says.facts["wanted"]


def test_where_the_patterns_own_step_falls_out_that_is_the_reason():
    own = step("o1", "scoop-armhole", piece="back", by="4.9mm")
    bench = Bench(state(block(), child("vest", own)))
    scoop = change("scoop-armhole", piece="back", by="3.3mm")
    vest = pattern(bench.correct("village", scoop), "vest")
    assert [c.kind for c in vest.conflicts] == [ConflictKind.IMPOSSIBLE]
    (judged,) = vest.corrections
    assert judged.verdict is Verdict.PARTLY
    assert judged.note == "its own scoop-armhole cannot be made with it"


def test_of_a_fitting_on_several_pieces_what_is_not_taken_over_is_named():
    village = ParentRecord("village", ("front",))
    other = ParentRecord("other", ("back", "sleeve"))
    bench = Bench(state(block(), child("other"), child("mixed", of=(village, other))))
    bench.earlier[bench.head] = bench.state
    held = child("other", of=[ParentRecord("village", hold=bench.head)])
    bench.state = bench.state.with_nodes([held])
    found = bench.correct("village", change("shorten-shoulder", by="6mm"))
    (judged,) = pattern(found, "mixed").corrections
    assert judged.verdict is Verdict.PARTLY
    assert judged.note == "takes no back from village as it is now"
