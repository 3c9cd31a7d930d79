"""What becomes of a correction in every descendant, from literals. Common practice, no source."""

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step, verdicts
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.files.records import ConflictKind, ParentRecord, Role, Settings, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.replay import edits
from trueup.lineage.replay.replay import stale
from trueup.lineage.replay.verdicts import Verdict

SCOOP = change("scoop-armhole", piece="front", by="5mm")
SLIGHT_SCOOP = change("scoop-armhole", piece="front", by="2mm")
DEEP_SCOOP = change("scoop-armhole", piece="front", by="20mm")
OWN_LINE = step("r1", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")
BODICE = ("front", "back")


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
    for each in found.patterns:
        (carried,) = each.measures
        assert carried.name == "front.armhole.line"
        assert carried.wanted_mm == pytest.approx(-5.0, abs=0.05)
        assert carried.got_mm == pytest.approx(carried.wanted_mm)
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


def test_a_dart_deepened_where_it_was_turned_elsewhere_is_carried_by_its_angle():
    turned = step("t1", "rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm")
    bench = Bench(state(block(), child("blouse", turned)))
    before = bench.measure("blouse", "front.bust.intake")
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="8mm"))
    (there,) = found.patterns
    assert bench.measure("blouse", "front.bust.intake") - before > 10
    assert there.verdict is Verdict.CARRIED
    (intake,) = there.measures
    assert intake.got_mm == pytest.approx(8.0, abs=UNCHANGED)


@pytest.mark.parametrize(
    "made",
    [
        change("move-apex", dart="front.waist", by="10mm"),
        change("release-dart", dart="back.waist"),
        change("deepen-dart", dart="back.waist", by="4mm"),
    ],
)
def test_a_waist_dart_that_a_longer_pattern_closes_below_takes_what_is_done_to_it(made):
    bench = Bench(state(block(), child("tunic", step("t1", "lengthen", by="200mm"))))
    (there,) = bench.correct("village", made).patterns
    assert there.verdict is Verdict.CARRIED
    assert not there.conflicts


def test_a_line_that_moved_where_no_measure_shows_it_is_not_lost_silently():
    own = step(
        "r1",
        "redraw-edge",
        edge="front.armhole",
        through="15%:19.9mm 35%:40.1mm 55%:56.8mm 75%:54.1mm 90%:39.0mm",
    )
    refit = step("c1", "refit-cap", Role.CORRECTION, to="30mm")
    bench = Bench(state(block(), child("blouse", refit, own)))
    low = change("scoop-armhole", piece="front", by="6mm", at="88% from shoulder-point")
    (there,) = bench.correct("village", low).patterns
    assert there.verdict is Verdict.LOST
    (carried,) = there.measures
    assert carried.name == "front.armhole.line"
    assert abs(carried.wanted_mm) == pytest.approx(6.0, abs=1.0)
    assert [c.change for c in there.conflicts] == ["r1"]


def test_a_fitting_is_lost_where_one_of_its_corrections_is():
    own = step("r1", "redraw-edge", edge="back.hem", through="50%:-8mm")
    bench = Bench(state(block(), child("blouse", own), child("short", of="blouse")))
    found = bench.correct(
        "village",
        change("redraw-edge", edge="back.hem", through="50%:6mm"),
        change("widen-neck", by="4mm"),
    )
    for name in ("blouse", "short"):
        there = pattern(found, name)
        assert there.verdict is Verdict.LOST
        assert [each.verdict for each in there.corrections] == [Verdict.LOST, Verdict.CARRIED]
        assert [each.kinds for each in there.corrections] == ["redraw-edge", "widen-neck"]
    (conflict,) = pattern(found, "blouse").conflicts
    # The own line lies in the frame of its own ends: drawn once more it comes out as the block's.
    assert "accept" in [remedy.name for remedy in conflict.remedies]


def test_nothing_is_doubled_in_a_piece_that_does_not_come_down_from_the_correction():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="5mm")
    parts = [ParentRecord("village", ("front", "back")), ParentRecord("puff", ("sleeve",))]
    bench = Bench(state(block(), child("puff"), child("dress", own, of=parts)))
    found = bench.correct("puff", change("scoop-armhole", piece="front", by="5mm"))
    dress = pattern(found, "dress")
    assert dress.verdict is not Verdict.DOUBLED
    assert not dress.conflicts
    found = bench.correct("village", change("scoop-armhole", piece="front", by="3mm"))
    assert pattern(found, "dress").verdict is Verdict.DOUBLED


def test_nothing_is_doubled_where_the_correction_got_lost_on_its_way():
    line = step("s1", "redraw-edge", edge="front.armhole", through="30%:18.5mm 70%:34mm")
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="3.9mm")
    bench = Bench(state(block(), child("smock", line), child("worn", own, of="smock")))
    found = bench.correct("village", change("scoop-armhole", piece="front", by="4.9mm"))
    assert pattern(found, "worn").verdict is Verdict.LOST
    assert pattern(found, "worn").note == "lost above, at smock"
    assert bench.open_at("worn") == ()
    # Made once more above it does come down, and is there twice.
    found = bench.decide(bench.conflict_at("smock"), "repeat-here")
    assert pattern(found, "worn").verdict is Verdict.DOUBLED


def test_an_own_copy_of_the_correction_is_doubled():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="2mm")
    bench = Bench(state(block(), child("blouse", own), child("short", of="blouse")))
    found = bench.correct("village", SLIGHT_SCOOP)
    blouse, short = pattern(found, "blouse"), pattern(found, "short")
    assert blouse.verdict is Verdict.DOUBLED
    (conflict,) = blouse.conflicts
    assert conflict.kind is ConflictKind.DOUBLED
    assert conflict.change == "o1"
    assert conflict.remedies[0].amount_mm == 2.0
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
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="2mm")
    bench = Bench(state(block(), child("blouse", own)))
    bench.style("village", SLIGHT_SCOOP)
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
    assert {each.name: each.conflicts for each in found.patterns} == dict.fromkeys(
        ["hull", "puff", "blouse"], ()
    )
    assert [each.inherits for each in found.patterns] == [(at_block.id,)] * 3


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


def test_what_a_block_states_of_a_half_arrives_whole_where_that_is_gathered():
    puff = child("puff", step("p1", "widen-sleeve", by="60mm", gathers="50mm"))
    bench = Bench(state(block(), child("plain"), puff))
    low = "armhole-seam.front.least"
    before = {name: bench.evaluator.summary(name).forms[low] for name in ("plain", "puff")}
    stated = change("state-ease", seam="armhole-seam", section="front", low="12mm", high="17mm")
    bench.correct("village", stated)
    assert verdicts(bench) == {"plain": Verdict.CARRIED, "puff": Verdict.CARRIED}
    for name, (old,) in before.items():
        (new,) = bench.evaluator.summary(name).forms[low]
        assert new - old == pytest.approx(2.0)
    assert bench.state.open_conflicts == ()
