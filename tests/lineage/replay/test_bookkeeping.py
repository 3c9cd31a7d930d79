"""The life of a conflict across several steps: opened, settled, accepted, open again."""

import pytest

from tests.lineage.making import Bench, block, change, child, pattern, state, step
from trueup.lineage.files.records import ConflictState, ParentRecord, Role, replace
from trueup.lineage.replay.verdicts import Verdict

EASE = "sleeve.cap-ease"


def scoop(by: str, piece: str = "front"):
    return change("scoop-armhole", piece=piece, by=by)


@pytest.fixture
def bench() -> Bench:
    """A block with a plain pattern, and one whose own lower cap makes any scoop its own matter."""
    flat = child("flat", step("f1", "raise-cap", by="-3mm"))
    return Bench(state(block(), child("plain"), flat))


def half(bench: Bench, node: str, name: str) -> float | None:
    """Return the ease of one half of a cap, mm."""
    return bench.evaluator.summary(node).seams["armhole-seam"].ease(name)


def test_a_conflict_opens_with_its_numbers(bench: Bench):
    whole, front = bench.measure("village", EASE), half(bench, "village", "front")
    bench.correct("village", scoop("20mm"))
    found = bench.conflict_at("village")
    assert found.section == "front"
    assert found.before_mm == pytest.approx(front, abs=0.01)
    assert found.whole_before_mm == pytest.approx(whole, abs=0.01)
    assert found.after_mm == pytest.approx(half(bench, "village", "front"), abs=0.01)
    assert found.allowed_mm == (10.0, 18.0)
    assert found.excess_mm == pytest.approx(10.0 - found.after_mm, abs=0.01)
    assert found.correction == bench.state.node("village").steps[0].id
    assert found.corrected == "village"
    assert found.change == found.correction
    own = bench.conflict_at("flat")
    assert own.change == "f1"
    assert own.corrected == "village"
    assert bench.open_at("plain") == ()


def test_a_style_that_makes_trouble_at_its_own_node_is_the_makers_intent(bench: Bench):
    found = bench.style("flat", scoop("20mm"))
    assert found.conflicts == ()
    assert bench.state.open_conflicts == ()
    assert bench.measure("flat", EASE) < 25
    # So is giving it another amount.
    bench.amend("flat", bench.state.node("flat").steps[-1].id, by="22mm")
    assert bench.state.open_conflicts == ()


def test_trouble_a_style_makes_in_what_hangs_below_is_a_conflict_there(bench: Bench):
    fitted = child("fitted", step("r1", "raise-cap", by="-3mm"), of="plain")
    bench.state = bench.state.with_nodes([fitted])
    bench.style("plain", scoop("20mm"))
    assert [c.arose_at for c in bench.state.open_conflicts] == ["fitted"]


def test_settling_the_block_settles_all_that_hangs_on_it(bench: Bench):
    bench.correct("village", scoop("20mm"))
    found = bench.decide(bench.conflict_at("village"), "refit-cap")
    assert {c.arose_at for c in found.settled} == {"village", "flat"}
    assert bench.state.open_conflicts == ()
    record = bench.state.node("village").conflicts[0]
    assert record.state is ConflictState.SETTLED
    assert record.remedies == ()
    assert record.decisions[0].remedy == "refit-cap"
    (made,) = bench.state.node("village").steps[1:]
    assert (made.role, made.settles) == (Role.DECISION, record.id)


def test_trouble_that_comes_again_opens_the_same_conflict_with_what_was_decided(bench: Bench):
    bench.correct("village", scoop("20mm"))
    first = bench.conflict_at("village")
    bench.decide(first, "refit-cap")
    bench.correct("village", scoop("14mm"))
    again = bench.conflict_at("village")
    assert again.id == first.id
    assert again.decisions == bench.state.node("village").conflicts[0].decisions
    assert len(again.decisions) == 1
    assert again.correction == bench.state.node("village").steps[-1].id
    assert again.whole_before_mm == pytest.approx(first.whole_before_mm, abs=0.02)


def test_a_settled_conflict_of_a_child_stays_settled_when_it_only_inherits_trouble(bench: Bench):
    bench.correct("plain", scoop("20mm"))
    bench.drop("plain", bench.state.node("plain").steps[0].id)
    assert bench.state.node("plain").conflicts[0].state is ConflictState.SETTLED
    found = bench.correct("village", scoop("20mm"))
    assert bench.open_at("plain") == ()
    assert pattern(found, "plain").verdict is Verdict.CARRIED
    assert pattern(found, "plain").inherits == (bench.conflict_at("village").id,)


def test_a_worse_open_conflict_keeps_where_it_came_from_and_takes_new_numbers(bench: Bench):
    bench.correct("village", scoop("14mm"))
    first = bench.conflict_at("village")
    found = bench.correct("village", scoop("6mm"))
    worse = bench.conflict_at("village")
    assert (worse.id, worse.correction, worse.before_mm) == (
        first.id,
        first.correction,
        first.before_mm,
    )
    assert worse.excess_mm > first.excess_mm
    assert worse.after_mm == pytest.approx(half(bench, "village", "front"), abs=0.01)
    assert found.conflicts == (worse,)
    # The cure still aims at the ease from before the first of them.
    bench.decide(worse, "refit-cap")
    assert bench.measure("village", EASE) == pytest.approx(first.whole_before_mm, abs=0.1)


def test_a_lesser_open_conflict_takes_new_numbers_and_is_no_new_conflict(bench: Bench):
    bench.correct("village", scoop("20mm"))
    first = bench.conflict_at("flat")
    found = bench.correct("village", scoop("-3mm"))
    there = pattern(found, "flat")
    assert there.conflicts == ()
    assert there.verdict is Verdict.CARRIED
    assert bench.conflict_at("flat").excess_mm < first.excess_mm
    assert bench.conflict_at("flat").id == first.id


# --- accepted ---------------------------------------------------------------------------------


def test_an_acceptance_stays_when_a_later_correction_makes_it_no_worse(bench: Bench):
    bench.correct("village", scoop("20mm"))
    for node in ("village", "flat"):
        bench.decide(bench.conflict_at(node), "accept")
    assert bench.state.open_conflicts == ()
    found = bench.correct("village", change("lower-neck", piece="front", by="5mm"))
    assert bench.state.open_conflicts == ()
    assert {each.verdict for each in found.patterns} == {Verdict.CARRIED}
    bench.correct("village", scoop("-2mm"))
    assert bench.state.open_conflicts == ()
    assert bench.state.node("flat").conflicts[0].state is ConflictState.ACCEPTED


def test_an_acceptance_opens_again_when_a_later_correction_makes_it_worse(bench: Bench):
    bench.correct("village", scoop("20mm"))
    accepted = {node: bench.conflict_at(node) for node in ("village", "flat")}
    for conflict in accepted.values():
        bench.decide(conflict, "accept")
    found = bench.correct("village", scoop("2mm"))
    for node, before in accepted.items():
        again = bench.conflict_at(node)
        assert again.id == before.id
        assert again.excess_mm > before.excess_mm
        assert [d.remedy for d in again.decisions] == ["accept"]
        assert "accept" in [r.name for r in again.remedies]
    assert pattern(found, "flat").verdict is Verdict.CONFLICT


def test_many_small_worsenings_do_not_creep_past_an_acceptance(bench: Bench):
    bench.correct("village", scoop("20mm"))
    bench.decide(bench.conflict_at("village"), "accept")
    for _ in range(8):
        bench.correct("village", scoop("0.04mm"))
    assert bench.open_at("village") != ()


def test_an_accepted_conflict_that_vanishes_is_settled_and_opens_in_full_when_it_returns(
    bench: Bench,
):
    bench.correct("village", scoop("20mm"))
    bench.decide(bench.conflict_at("village"), "accept")
    bench.correct("village", change("refit-cap", to="35mm"))
    assert bench.state.node("village").conflicts[0].state is ConflictState.SETTLED
    bench.correct("village", scoop("14mm"))
    assert bench.open_at("village") != ()


def test_a_sleeve_accepted_as_too_large_is_asked_about_when_it_is_too_small(bench: Bench):
    bench.correct("village", change("raise-cap", by="15mm"))
    assert bench.measure("village", EASE) > 45
    bench.decide(bench.conflict_at("village"), "accept")
    bench.correct("village", change("raise-cap", by="-24mm"))
    assert bench.measure("village", EASE) < 25
    assert bench.open_at("village") != ()


# --- held -------------------------------------------------------------------------------------


def test_holding_puts_the_pattern_back_as_it_was_and_following_asks_again(bench: Bench):
    before = bench.evaluator.summary("flat").fingerprint
    bench.correct("village", scoop("20mm"))
    conflict = bench.conflict_at("flat")
    found = bench.decide(conflict, "hold")
    assert bench.evaluator.summary("flat").fingerprint == before
    assert bench.state.node("flat").parents == (ParentRecord("village", hold=conflict.since),)
    assert bench.open_at("flat") == ()
    (record,) = bench.state.node("flat").conflicts
    assert [r.name for r in record.remedies] == ["follow"]
    assert found.settled == ()

    held = bench.correct("village", scoop("1mm"))
    assert pattern(held, "flat").verdict is Verdict.HELD
    assert bench.evaluator.summary("flat").fingerprint == before

    bench.decide(conflict, "follow")
    again = bench.conflict_at("flat")
    assert again.id == conflict.id
    assert [d.remedy for d in again.decisions] == ["hold", "follow"]
    assert again.excess_mm > conflict.excess_mm
    assert {"refit-cap", "hold", "accept"} <= {r.name for r in again.remedies}
    bench.decide(again, "hold")
    assert bench.evaluator.summary("flat").fingerprint == before


def test_a_parent_that_is_held_already_stays_on_its_earlier_version():
    """Its front stays as it was before the scoop, though its sleeve is held only after that."""
    old = "c" * 40
    parents = (ParentRecord("village", ("front", "back"), old), ParentRecord("easy", ("sleeve",)))
    nodes = (block(), child("easy"))
    bench = Bench(state(*nodes, child("tunic", of=parents)), earlier={old: state(*nodes)})
    before = bench.evaluator.summary("tunic").fingerprint
    bench.correct("village", scoop("20mm"))
    bench.decide(bench.conflict_at("village"), "refit-cap")
    conflict = bench.conflict_at("tunic")
    bench.decide(conflict, "hold")
    front, sleeve = bench.state.node("tunic").parents
    assert (front.hold, sleeve.hold) == (old, conflict.since)
    assert bench.evaluator.summary("tunic").fingerprint == before
    bench.decide(conflict, "follow")
    assert bench.state.node("tunic").parents == parents


def test_following_once_the_block_is_mended_asks_nothing(bench: Bench):
    bench.correct("village", scoop("20mm"))
    conflict = bench.conflict_at("flat")
    bench.decide(conflict, "hold")
    bench.decide(bench.conflict_at("village"), "refit-cap")
    bench.decide(conflict, "follow")
    assert bench.state.open_conflicts == ()
    assert bench.state.node("flat").conflicts[0].state is ConflictState.SETTLED
    assert bench.state.node("flat").parents[0].hold is None


def test_following_what_is_still_doubled_asks_again():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="2mm")
    bench = Bench(state(block(), child("blouse", own)))
    bench.correct("village", scoop("2mm"))
    conflict = bench.conflict_at("blouse")
    bench.decide(conflict, "hold")
    assert bench.open_at("blouse") == ()
    bench.decide(conflict, "follow")
    again = bench.conflict_at("blouse")
    assert again.id == conflict.id
    assert [r.name for r in again.remedies] == ["drop-own-copy", "accept", "hold"]
    bench.decide(again, "drop-own-copy")
    assert bench.state.open_conflicts == ()
    assert bench.state.node("blouse").steps == ()


def test_a_worse_own_trouble_opens_although_the_pattern_is_held(bench: Bench):
    bench.correct("flat", scoop("8mm"))
    bench.decide(bench.conflict_at("flat"), "accept")
    bench.earlier[bench.head] = bench.state
    held = (ParentRecord("village", hold=bench.head),)

    bench.state = bench.state.with_nodes([replace(bench.state.node("flat"), parents=held)])
    bench.correct("flat", scoop("3mm"))
    assert bench.open_at("flat") != ()


def test_two_questions_of_one_correction_are_held_and_followed_together():
    own = step("o1", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")
    flat = step("f1", "raise-cap", by="-3mm")
    bench = Bench(state(block(), child("blouse", flat, own)))
    bench.correct("village", scoop("10mm"))
    seam, doubled = sorted(bench.open_at("blouse"), key=lambda c: c.code != "seam")
    bench.decide(doubled, "hold")
    bench.decide(bench.state.conflict(doubled.id), "follow")
    assert {c.id for c in bench.open_at("blouse")} == {seam.id, doubled.id}


# --- steps that cannot be made ----------------------------------------------------------------


def test_a_step_a_correction_makes_impossible_offers_what_is_still_possible():
    short = step("s1", "shorten-shoulder", by="90mm")
    bench = Bench(state(block(), child("blouse", short)))
    before = bench.measure("blouse", "front.shoulder")
    bench.correct("village", change("shorten-shoulder", by="45mm"))
    conflict = bench.conflict_at("blouse")
    assert conflict.kind == "impossible"
    smaller = next(r for r in conflict.remedies if r.name == "smaller-step")
    bench.decide(conflict, "smaller-step")
    assert bench.state.conflict(conflict.id).state is ConflictState.SETTLED
    assert bench.evaluator.summary("blouse").problems == ()
    assert bench.state.node("blouse").steps[0].id == "s1"
    assert bench.state.node("blouse").steps[0].values["by"] == f"{smaller.amount_mm:g}mm"
    assert bench.measure("blouse", "front.shoulder") < before + 0.1


def test_what_is_possible_is_said_anew_when_it_becomes_less():
    short = step("s1", "shorten-shoulder", by="90mm")
    bench = Bench(state(block(), child("blouse", short)))
    bench.correct("village", change("shorten-shoulder", by="45mm"))
    first = bench.conflict_at("blouse").remedies[0].amount_mm
    bench.correct("village", change("shorten-shoulder", by="10mm"))
    second = bench.conflict_at("blouse").remedies[0].amount_mm
    assert second == pytest.approx(first - 10, abs=0.3)
    bench.decide(bench.conflict_at("blouse"), "smaller-step")
    assert bench.evaluator.summary("blouse").problems == ()


def test_a_step_whose_dart_is_gone_is_missing_until_it_is_dropped_or_the_dart_is_back():
    deeper = step("d1", "deepen-dart", dart="front.bust", by="4mm")
    bench = Bench(state(block(), child("blouse", deeper)))
    gone = bench.correct("village", change("release-dart", dart="front.bust"))
    there = pattern(gone, "blouse")
    assert there.verdict is Verdict.CONFLICT
    (conflict,) = [c for c in bench.open_at("blouse") if c.kind == "missing"]
    assert (conflict.piece, conflict.edge, conflict.change) == ("front", "bust", "d1")
    assert [r.name for r in conflict.remedies] == ["drop-step", "hold", "accept"]
    back = bench.drop("village", bench.state.node("village").steps[0].id)
    assert conflict.id in {c.id for c in back.settled}
    assert bench.state.open_conflicts == ()
