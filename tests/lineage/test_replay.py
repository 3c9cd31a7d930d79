"""What becomes of a correction in every descendant, from literals. Common practice, no source."""

import pytest

from geometry.tolerance import UNCHANGED
from lineage import edits
from lineage.records import ConflictKind, ParentRecord, Role, Settings, StepRecord
from lineage.replay import stale
from lineage.state import State
from lineage.verdicts import Verdict
from tests.lineage.making import Bench, block, change, child, pattern, state, step

SCOOP = change("scoop-armhole", piece="front", by="5mm")
DEEP_SCOOP = change("scoop-armhole", piece="front", by="20mm")
OWN_LINE = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")
BODICE = ("front", "back")


def verdicts(bench: Bench) -> dict[str, Verdict]:
    assert bench.last is not None
    return {each.name: each.verdict for each in bench.last.patterns}


# --- planning ---------------------------------------------------------------------------------


def test_only_what_changed_and_what_hangs_on_it_is_stale():
    nodes = (
        block(),
        child("easy"),
        child("blouse", of="easy"),
        block("other"),
        child("hat", of="other"),
    )
    before = state(*nodes)
    after = before.with_nodes([child("easy", step("e1", "add-ease", by="4cm"))])
    assert stale(before, after) == ("easy", "blouse")
    assert stale(before, before) == ()
    assert stale(before, before.with_nodes([block("new")])) == ("new",)


def test_a_change_of_unit_makes_everything_stale():
    before = state(block(), child("easy"))
    after = State(Settings("Village store", unit="in"), before.nodes)
    assert stale(before, after) == ("village", "easy")


# --- the verdicts -----------------------------------------------------------------------------


def test_a_correction_is_carried_down_to_the_last_descendant():
    bench = Bench(
        state(block(), child("easy"), child("blouse", of="easy"), child("tunic", of="blouse"))
    )
    found = bench.correct("village", SCOOP)
    assert verdicts(bench) == dict.fromkeys(["easy", "blouse", "tunic"], Verdict.CARRIED)
    (chest,) = [m for m in found.measures if m.name == "front.chest-width"]
    for each in found.patterns:
        (carried,) = each.measures
        assert carried.name == "front.chest-width"
        assert carried.got_mm == pytest.approx(chest.change_mm)
    assert {m.name for m in found.measures} >= {"front.armhole", "sleeve.cap-ease"}


def test_a_line_drawn_anew_loses_the_correction_and_says_so_once_for_all_below():
    bench = Bench(state(block(), child("vest", OWN_LINE), child("short", of="vest")))
    found = bench.correct("village", SCOOP)
    vest, short = pattern(found, "vest"), pattern(found, "short")
    assert (vest.verdict, short.verdict) == (Verdict.LOST, Verdict.LOST)
    (conflict,) = vest.conflicts
    assert conflict.kind is ConflictKind.BOTH_SHAPED
    assert (conflict.piece, conflict.edge, conflict.change) == ("front", "armhole", "r1")
    assert [r.name for r in conflict.remedies] == ["repeat-here", "accept", "hold"]
    assert short.conflicts == ()
    assert short.inherits == (conflict.id,)
    assert "vest" in short.note


def test_a_pattern_without_the_piece_cannot_take_the_correction_and_has_no_conflict():
    vest = child("vest", of=[ParentRecord("village", BODICE)])
    found = Bench(state(block(), vest)).correct("village", change("raise-cap", by="3mm"))
    (there,) = found.patterns
    assert there.verdict is Verdict.LOST
    assert there.conflicts == ()
    assert there.note == "takes no sleeve from village"


def test_a_correction_half_of_which_arrives_is_partly_carried():
    turned = step("t1", "rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm")
    found = Bench(state(block(), child("blouse", turned))).correct(
        "village", change("deepen-dart", dart="front.bust", by="8mm")
    )
    (there,) = found.patterns
    assert there.verdict is Verdict.PARTLY
    (intake,) = there.measures
    assert abs(intake.got_mm - intake.wanted_mm) > UNCHANGED


def test_an_own_copy_of_the_correction_is_doubled():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    bench = Bench(state(block(), child("blouse", own), child("short", of="blouse")))
    found = bench.correct("village", SCOOP)
    blouse, short = pattern(found, "blouse"), pattern(found, "short")
    assert blouse.verdict is Verdict.DOUBLED
    (conflict,) = blouse.conflicts
    assert conflict.kind is ConflictKind.DOUBLED
    assert conflict.change == "o1"
    assert conflict.remedies[0].amount_mm == 4.0
    assert short.verdict is Verdict.CARRIED
    assert short.inherits == (conflict.id,)


@pytest.mark.parametrize(
    "own",
    [
        step("o1", "scoop-armhole", Role.STYLE, piece="front", by="4mm"),
        step("o1", "scoop-armhole", Role.CORRECTION, piece="back", by="4mm"),
        step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="-4mm"),
    ],
    ids=["for-looks", "elsewhere", "the-reverse"],
)
def test_what_is_not_the_same_correction_is_not_doubled(own: StepRecord):
    bench = Bench(state(block(), child("blouse", own)))
    bench.correct("village", SCOOP)
    assert verdicts(bench)["blouse"] is not Verdict.DOUBLED


def test_a_style_made_above_doubles_no_correction():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    bench = Bench(state(block(), child("blouse", own)))
    bench.style("village", SCOOP)
    assert verdicts(bench) == {"blouse": Verdict.CARRIED}


def test_the_same_correction_made_twice_is_carried_twice():
    bench = Bench(state(block(), child("blouse")))
    before = bench.measure("blouse", "front.chest-width")
    bench.correct("village", change("scoop-armhole", piece="front", by="2mm"))
    bench.correct("village", change("scoop-armhole", piece="front", by="2mm"))
    assert verdicts(bench) == {"blouse": Verdict.CARRIED}
    assert len({step.id for step in bench.state.node("village").steps}) == 2
    assert bench.measure("blouse", "front.chest-width") < before - 3


def test_a_move_that_changes_no_measure_is_lost_where_nothing_of_it_shows():
    own = step("o1", "release-dart", dart="front.waist")
    sleeve_only = child("sleeve-only", of=[ParentRecord("village", ("sleeve",))])
    bench = Bench(state(block(), child("blouse"), child("loose", own), sleeve_only))
    found = bench.correct("village", change("scoop-armhole", piece="front", by="0.04mm"))
    assert found.patterns[0].measures == ()
    assert verdicts(bench)["blouse"] is Verdict.CARRIED
    assert verdicts(bench)["sleeve-only"] is Verdict.LOST


# --- held -------------------------------------------------------------------------------------


def test_what_stays_on_an_earlier_version_is_held_with_all_below_it():
    bench = Bench(state(block(), child("blouse"), child("short", of="blouse"), child("tunic")))
    bench.correct("village", SCOOP)
    then = bench.measure("blouse", "front.chest-width")
    held = child("blouse", of=[ParentRecord("village", hold=bench.head)])
    bench.earlier[bench.head] = bench.state
    bench.state = bench.state.with_nodes([held])
    found = bench.correct("village", SCOOP)
    assert verdicts(bench) == {
        "blouse": Verdict.HELD,
        "short": Verdict.HELD,
        "tunic": Verdict.CARRIED,
    }
    assert pattern(found, "blouse").measures[0].got_mm == 0
    assert bench.measure("blouse", "front.chest-width") == then
    assert bench.measure("short", "front.chest-width") == then


def test_a_pattern_of_two_parents_is_held_for_what_the_held_one_gives():
    bench = Bench(state(block(), child("hull"), child("puff")))
    bench.correct("village", change("widen-neck", by="1mm"))
    bench.earlier[bench.head] = bench.state
    both = [ParentRecord("hull", BODICE, hold=bench.head), ParentRecord("puff", ("sleeve",))]
    bench.state = bench.state.with_nodes([child("blouse", of=both)])
    bench.correct("village", SCOOP)
    assert verdicts(bench)["blouse"] is Verdict.HELD
    bench.correct("village", change("raise-cap", by="1mm"))
    assert verdicts(bench)["blouse"] is Verdict.CARRIED


# --- fittings ---------------------------------------------------------------------------------


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
    assert vest.verdict is Verdict.PARTLY
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


# --- amended and dropped ----------------------------------------------------------------------


def test_an_amended_correction_is_judged_by_what_was_added():
    bench = Bench(state(block(), child("blouse"), child("vest", OWN_LINE)))
    bench.correct("village", change("scoop-armhole", piece="front", by="4mm"))
    made = bench.state.node("village").steps[0].id
    before = bench.measure("blouse", "front.chest-width")
    found = bench.amend("village", made, by="6mm")
    blouse = pattern(found, "blouse")
    assert blouse.verdict is Verdict.CARRIED
    assert bench.measure("blouse", "front.chest-width") - before == pytest.approx(
        blouse.measures[0].wanted_mm, abs=0.01
    )
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
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    bench = Bench(state(block(), child("blouse", own)))
    bench.correct("village", SCOOP)
    bench.decide(bench.conflict_at("blouse"), "accept")
    bench.amend("village", bench.state.node("village").steps[0].id, by="6mm")
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


# --- the graph --------------------------------------------------------------------------------


def test_every_descendant_is_listed_once_whatever_way_leads_to_it():
    both = [ParentRecord("easy", BODICE), ParentRecord("puff", ("sleeve",))]
    nodes = (block(), child("easy"), child("puff"), child("blouse", of=both), block("other"))
    bench = Bench(state(*nodes, child("below", of="blouse")))
    found = bench.correct("village", SCOOP)
    assert [each.name for each in found.patterns] == ["easy", "puff", "blouse", "below"]


def test_a_sleeve_from_one_parent_over_an_armhole_of_another_has_its_own_conflict():
    puffed = child("puff", step("p1", "raise-cap", by="-5mm"))
    both = [ParentRecord("hull", BODICE), ParentRecord("puff", ("sleeve",))]
    hull = child("hull", step("h1", "scoop-armhole", piece="back", by="4mm"))
    bench = Bench(state(block(), puffed, hull, child("blouse", of=both)))
    found = bench.correct("village", DEEP_SCOOP)
    blouse = pattern(found, "blouse")
    (conflict,) = blouse.conflicts
    assert conflict.code == "seam"
    assert conflict.arose_at == "blouse"
    assert conflict.after_mm == pytest.approx(bench.measure("blouse", "sleeve.cap-ease"), abs=0.01)


def test_trouble_taken_over_as_it_is_from_either_of_two_parents_is_inherited():
    both = [ParentRecord("hull", BODICE), ParentRecord("puff", ("sleeve",))]
    bench = Bench(state(block(), child("hull"), child("puff"), child("blouse", of=both)))
    found = bench.correct("village", DEEP_SCOOP)
    (at_block,) = found.conflicts
    assert all(each.conflicts == () for each in found.patterns)
    assert all(each.inherits == (at_block.id,) for each in found.patterns)


def test_deriving_a_pattern_that_joins_what_does_not_fit_says_so_at_that_pattern():
    hull = child("hull", step("h1", "scoop-armhole", piece="front", by="20mm"), of="village")
    bench = Bench(state(block(), hull))
    both = [ParentRecord("hull", BODICE), ParentRecord("village", ("sleeve",))]
    found = bench.take(edits.new_child(bench.state, "blouse", both, is_block=False))
    assert [c.arose_at for c in found.conflicts] == []  # the style of hull made the same trouble
    both = [ParentRecord("village", BODICE), ParentRecord("flat", ("sleeve",))]
    bench.state = bench.state.with_nodes(
        [child("flat", step("f1", "raise-cap", by="-9mm"), of="hull")]
    )
    found = bench.take(edits.new_child(bench.state, "tunic", both, is_block=False))
    assert [(c.arose_at, "hold" in {r.name for r in c.remedies}) for c in found.conflicts] == [
        ("tunic", False)
    ]
