"""What of a block drafted anew arrives in a pattern, and what its own steps keep from it."""

import pytest

from tests.lineage.making import Bench, block, child, pattern, state, step
from trueup.lineage.files.records import NodeRecord, ParentRecord
from trueup.lineage.replay.drafted_anew.edit import remeasure
from trueup.lineage.replay.replay import PatternReplay, Replay
from trueup.lineage.replay.verdicts import Verdict

OWN_ARMHOLE = step("r", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")


def measured_anew(*nodes: NodeRecord, **body: str) -> Replay:
    bench = Bench(state(block(), *nodes))
    named = {name.replace("_", "-"): text for name, text in body.items()}
    return bench.take(remeasure(bench.state, "village", named, ""))


def short(found: PatternReplay) -> set[str]:
    return {each.name for each in found.measures if not each.arrived}


@pytest.mark.parametrize("body", [{"bust": "93cm"}, {"waist": "72cm"}, {"sleeve_length": "57cm"}])
def test_all_of_it_arrives_in_a_plain_pattern(body):
    found = measured_anew(child("plain"), **body)
    plain = pattern(found, "plain")
    assert plain.verdict is Verdict.CARRIED
    wanted = {each.name: each.wanted_mm for each in plain.measures}
    assert {each.name: each.got_mm for each in plain.measures} == pytest.approx(wanted)
    lengths = {m.name: m.change_mm for m in found.measures}
    assert {name: mm for name, mm in wanted.items() if name in lengths} == pytest.approx(lengths)


def test_a_line_that_a_pattern_draws_itself_is_lost_there_and_says_so():
    vest = child("vest", OWN_ARMHOLE, of=[ParentRecord("village", ("front", "back"))])
    found = measured_anew(vest, child("short", of="vest"), bust="93cm")
    told, below = pattern(found, "vest"), pattern(found, "short")
    assert told.verdict is Verdict.PARTLY
    assert short(told) == {"front.armhole", "front.armhole.line", "front.chest-width"}
    (line,) = [each for each in told.measures if each.name == "front.armhole.line"]
    assert abs(line.wanted_mm) > 3
    assert abs(line.got_mm or 0.0) < 0.1
    assert "its own redraw-edge" in told.note
    assert "front.armhole" in told.note
    assert (below.verdict, below.note) == (Verdict.PARTLY, "in part above, at vest")


def test_a_pattern_without_the_pieces_that_changed_has_lost_it():
    vest = child("vest", of=[ParentRecord("village", ("front", "back"))])
    told = pattern(measured_anew(vest, sleeve_length="57cm"), "vest")
    assert (told.verdict, told.note) == (Verdict.LOST, "takes no sleeve from village")


def test_each_own_step_is_told_with_what_it_changes():
    longer = step("l", "lengthen", by="200mm")
    found = measured_anew(child("tunic", OWN_ARMHOLE, longer), bust="93cm")
    note = pattern(found, "tunic").note
    assert "its own redraw-edge changes what arrives of front.armhole" in note
    assert "its own lengthen changes what arrives of front.hem, back.hem" in note


def test_only_pieces_that_come_from_the_block_are_asked_about():
    front = [ParentRecord("village", ("front", "back"))]
    mixed = [*front, ParentRecord("other", ("sleeve",))]
    bench = Bench(state(block(), block("other"), child("vest", of=front), child("gown", of=mixed)))
    found = bench.take(remeasure(bench.state, "village", {"bust": "93cm"}, ""))
    for name in ("vest", "gown"):
        told = pattern(found, name)
        assert {each.name.partition(".")[0] for each in told.measures} == {"front", "back"}
        assert all(each.arrived for each in told.measures)
    # Its sleeve stayed as it was, and is too small for the new armhole.
    assert pattern(found, "gown").verdict is Verdict.CONFLICT
    assert [c.piece for c in pattern(found, "gown").conflicts] == ["sleeve"]


def test_a_cap_that_a_pattern_refits_itself_is_seen_to():
    refitted = child("refitted", step("c", "refit-cap", to="30mm"))
    found = measured_anew(refitted, child("below", of="refitted"), bust="100cm", waist="80cm")
    short_of = short(pattern(found, "refitted"))
    assert "sleeve.cap" in short_of or "sleeve.cap-height" in short_of
    assert all(name.startswith("sleeve.") for name in short_of)
    assert "its own refit-cap sees to sleeve." in pattern(found, "refitted").note
    assert pattern(found, "below").note == "refitted sees to it"
    for name in ("refitted", "below"):
        assert pattern(found, name).verdict is Verdict.CARRIED


def test_a_step_that_cannot_be_made_any_more_is_a_conflict_with_its_remedies():
    deep = step("d", "deepen-dart", dart="front.waist-side", by="-15mm")
    found = measured_anew(child("loose", deep), waist="76cm", bust="88cm")
    loose = pattern(found, "loose")
    assert loose.verdict is Verdict.CONFLICT
    (conflict,) = loose.conflicts
    assert conflict.change == "d"
    assert conflict.remedies
    assert "its own deepen-dart cannot be made with it" in loose.note


def test_a_pattern_that_stays_on_an_earlier_version_is_held():
    bench = Bench(state(block(), child("plain")))
    bench.earlier[bench.head] = bench.state
    held = child("held", of=[ParentRecord("village", None, hold=bench.head)])
    bench.state = bench.state.with_nodes([held])
    found = bench.take(remeasure(bench.state, "village", {"bust": "93cm"}, ""))
    assert pattern(found, "held").verdict is Verdict.HELD
    assert pattern(found, "plain").verdict is Verdict.CARRIED
