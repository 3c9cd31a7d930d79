"""What an entry tells of a step is what the step said when it was made."""

import datetime
from pathlib import Path

import pytest

from tests.lineage.chronicle.conftest import Lived, git
from tests.lineage.making import change
from tests.lineage.recording import record_files
from tests.lineage.stepping import corrected
from trueup.cli.demo.playing import plan
from trueup.cli.demo.telling import sample_story
from trueup.lineage.chronicle import Chronicle, Entry, selection
from trueup.lineage.promotion.promoting import propose_promotion
from trueup.lineage.proposal import Proposal
from trueup.lineage.wardrobe import Wardrobe


def entry(chronicle: Chronicle, subject: str) -> Entry:
    return next(each for each in chronicle.entries() if each.commit.subject == subject)


def same_as_made(found: Entry, made: Proposal) -> None:
    """Hold an entry against the proposal it was recorded from."""
    replay = made.replay
    below = [conflict.id for pattern in replay.patterns for conflict in pattern.conflicts]
    effect = found.effect
    assert effect.unreadable == ""
    assert effect.measures == replay.measures
    assert [(p.name, p.verdict, p.measures, p.note) for p in effect.patterns] == [
        (p.name, p.verdict, p.measures, p.note) for p in replay.patterns
    ]
    assert [each.id for each in effect.opened] == [*(c.id for c in replay.conflicts), *below]
    assert [each.id for each in effect.settled] == [each.id for each in replay.settled]
    assert found.step_ids == tuple(step.id for step in made.edit.steps)
    assert found.why == made.edit.why


def test_effects_and_verdicts_are_those_the_step_had(chronicle: Chronicle, lived_in: Lived) -> None:
    for commit, proposal in lived_in.proposals.items():
        found = chronicle.find(commit)
        assert found is not None
        same_as_made(found, proposal)


def test_the_whole_sample_wardrobe_is_told_as_it_was_made(tmp_path: Path) -> None:
    made: dict[str, Proposal] = {}
    with Wardrobe.start(tmp_path / "store", "store", "mm") as wardrobe:
        told = sample_story().step
        for each in told:
            planned = plan(wardrobe, each, datetime.date.today())
            commit = wardrobe.record(planned)
            if isinstance(planned, Proposal):
                made[commit] = planned
        chronicle = Chronicle(wardrobe)
        assert len(chronicle.commits) == len(told) + 1
        for commit, proposal in made.items():
            found = chronicle.find(commit)
            assert found is not None
            same_as_made(found, proposal)


def test_decisions_that_followed_a_correction(chronicle: Chronicle) -> None:
    scoop = entry(chronicle, "Correct village: scoop-armhole")
    (decided,) = scoop.decided
    assert decided.decision.remedy == "refit-cap"
    assert decided.decision.why == "set in"
    assert decided.conflict.id in [each.id for each in scoop.effect.opened]
    assert entry(chronicle, "Amend village: scoop-armhole").decided == ()


def test_a_note_that_a_correction_mended(chronicle: Chronicle) -> None:
    ((garment, note),) = entry(chronicle, "Correct village: scoop-armhole").mended
    assert (garment, note.id) == ("tea-dress", "n1")


def test_a_step_taken_back_says_so_and_its_undoing_tells_the_reverse(chronicle: Chronicle) -> None:
    whim = entry(chronicle, "Style flat: lower-neck")
    undone = entry(chronicle, "Undo: Style flat: lower-neck")
    assert whim.taken_back_by == undone.commit.id
    assert undone.undone is whim
    assert (undone.node, undone.step_ids) == (whim.node, whim.step_ids)
    forth = {each.name: each.change_mm for each in whim.effect.measures}
    back = {each.name: each.change_mm for each in undone.effect.measures}
    assert back == pytest.approx({name: -mm for name, mm in forth.items()})


def test_what_took_a_step_back_is_the_same_whatever_is_asked_about(chronicle: Chronicle) -> None:
    told = git(chronicle.wardrobe.folder, "log", "--format=%H %(trailers:key=Undoes,valueonly)")
    lines = (line.split() for line in told.splitlines())
    undoing = {words[1]: words[0] for words in lines if len(words) == 2}
    assert undoing
    for name, node in chronicle.now.state.nodes.items():
        asked = Chronicle(chronicle.wardrobe)
        for each in asked.entries(selections=[selection.of_node(node)]):
            assert each.taken_back_by == undoing.get(each.commit.id), name
    whole = [each.taken_back_by for each in Chronicle(chronicle.wardrobe).entries()]
    assert len([each for each in whole if each]) == len(undoing)


def test_what_happened_to_a_garment_is_told_in_words(chronicle: Chronicle) -> None:
    (cut,) = entry(chronicle, "Cut tea-dress from short").garments
    assert cut.garment == "tea-dress"
    assert cut.says.startswith("cut from short at ")
    assert cut.says.endswith("on 2025-03-01 for Ana in linen")
    said = [str(each.says) for each in entry(chronicle, "Note on tea-dress").garments]
    assert said == ["now worn", "n1: armhole binds at front.armhole, seen on Bea"]


def test_the_first_entry_did_nothing_to_anything(chronicle: Chronicle) -> None:
    *_, first = chronicle.entries()
    assert first.commit.parents == ()
    assert first.effect.patterns == ()
    assert (first.node, first.steps, first.decided) == ("", (), ())


def test_an_edit_by_hand_is_told_by_what_it_changed(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    file = wardrobe.folder / "patterns/flat.toml"
    file.write_text(file.read_text().replace('"-3mm"', '"-4mm"'))
    with wardrobe.writing():
        wardrobe.take_up_hand_edits()
    found = next(iter(Chronicle(wardrobe).entries()))
    assert (found.verb, found.node) == ("edit", "flat")
    assert [step.values["by"] for step in found.steps] == ["-4mm"]
    heights = [m.change_mm for m in found.effect.measures if m.name == "sleeve.cap-height"]
    assert heights == pytest.approx([-1.0], abs=0.01)


def test_a_version_that_cannot_be_read_spoils_no_other_entry(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    record_files(wardrobe, {"patterns/flat.toml": b"name = 3"}, "edit", "Spoil it")
    good = (wardrobe.folder / "patterns/flat.toml").read_bytes()
    assert good == b"name = 3"
    told = list(Chronicle(wardrobe).entries())
    assert "flat.toml" in str(told[0].effect.unreadable)
    assert told[0].steps == ()
    assert told[1].effect.unreadable == ""


def test_a_correction_that_moved_up_is_told_as_it_was_when_it_moved(chronicle: Chronicle) -> None:
    wardrobe = chronicle.wardrobe
    corrected(wardrobe, "blouse", change("lower-neck", piece="front", by="6mm"))
    step = wardrobe.state.node("blouse").steps[-1].id
    made = propose_promotion(wardrobe, "blouse", step, "village", why="all of them gape").proposal
    commit = wardrobe.record(made)
    found = Chronicle(wardrobe).find(commit)
    assert found is not None
    assert found.node == "village"
    same_as_made(found, made)
