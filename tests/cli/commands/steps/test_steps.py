"""Verbs that write: what they record, and what they say became of it."""

import re
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import without_commands
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")


def subjects(folder: Path) -> list[str]:
    with Wardrobe.open(folder) as wardrobe:
        return [each.subject for each in wardrobe.history()]


def conflict_of(trueup: Any, node: str, kind: str) -> str:
    with Wardrobe.open(trueup.folder) as wardrobe:
        found = wardrobe.state.node(node).open_conflicts
    return next(each.id for each in found if each.kind == kind)


def test_shortening_the_shoulder_by_half_an_inch_takes_12_7_mm_off_both(trueup: Any) -> None:
    words = ("correct", "village", "shorten-shoulder", "--by", "1/2in", "--why", "stands off")
    document = trueup.made(*words, "--json").document
    changes = {m["name"]: m["after_mm"] - m["before_mm"] for m in document["measures"]}
    assert changes["front.shoulder"] == pytest.approx(-12.7, abs=1e-4)
    assert changes["back.shoulder"] == pytest.approx(-12.7, abs=1e-4)
    assert document["correction"]["why"] == "stands off"


def test_a_correction_is_one_commit_that_says_why(trueup: Any) -> None:
    before = len(subjects(trueup.folder))
    trueup.made(*SCOOP, "--why", "the armhole binds")
    assert len(subjects(trueup.folder)) == before + 1
    message = subprocess.run(
        ["git", "-C", str(trueup.folder), "log", "-1", "--format=%B"],
        capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    assert message.startswith("Correct village: scoop-armhole\n\nthe armhole binds\n")


def test_every_descendant_has_a_row_with_a_sign_and_a_word(trueup: Any) -> None:
    out = trueup.made(*SCOOP).out
    for row in (
        "easy     ! conflict",
        "blouse   + carried",
        "own      2 doubled",
        "vest     - lost",
    ):
        assert row in out
    assert "4 descendants: 1 carried, 1 lost, 1 doubled, 1 conflict." in out


def test_measures_are_shown_in_the_wardrobes_unit_with_both_signs(trueup: Any) -> None:
    out = trueup.made(*SCOOP).out
    row = next(line for line in out.splitlines() if line.startswith("front.armhole"))
    assert " cm -> " in row
    assert "(+" in row
    row = next(line for line in out.splitlines() if line.startswith("sleeve.cap-ease"))
    assert "(-" in row


def test_every_conflict_is_told_with_the_commands_that_settle_it(trueup: Any) -> None:
    out = trueup.made(*SCOOP).out
    conflict = conflict_of(trueup, "village", "seam")
    assert f"    trueup -C {trueup.folder} decide {conflict} refit-cap\n" in out
    assert out.rstrip().endswith(f"decide {conflict} refit-cap")


def test_a_preview_writes_nothing_and_foretells_what_is_recorded(trueup: Any) -> None:
    before = trueup.contents()
    foretold = trueup.made(*SCOOP, "--preview", "--json").document
    assert trueup.contents() == before
    recorded = trueup.made(*SCOOP, "--json").document
    assert foretold["correction"].pop("commit") is None
    assert recorded["correction"].pop("commit")
    assert without_commands(foretold) == without_commands(recorded)


def commands_of(out: str) -> list[str]:
    """Return every command that a page tells the maker to run."""
    return [line.strip() for line in out.splitlines() if line.strip().startswith("trueup ")]


def test_a_preview_tells_the_remedies_and_no_command_that_would_fail(corrected: Any) -> None:
    shaped = conflict_of(corrected, "vest", "both-shaped")
    promoted = corrected.step_of("own")
    asked = 0
    for words in (
        ("correct", "easy", "scoop-armhole", "--piece", "front", "--by", "9mm"),
        ("correct", "village", "scoop-armhole", "--piece", "back", "--by", "5mm"),
        ("decide", shaped, "hold"),
        ("promote", "own", promoted, "--to", "village"),
    ):
        out = corrected.made(*words, "--preview").out
        remedies = re.findall(r"^  - (.+)$", out, re.MULTILINE)
        asked += len(remedies)
        assert ("too little" in out) is any("redraw the cap" in each for each in remedies)
        assert commands_of(out) == []
    assert asked


def test_options_may_stand_before_the_kind_too(trueup: Any) -> None:
    before = trueup.contents()
    answer = trueup("correct", "village", "--preview", "--json", *SCOOP[2:])
    assert answer.document["correction"]["node"] == "village"
    assert trueup.contents() == before


@pytest.mark.parametrize("verb", ["style", "correct"])
def test_a_negative_amount_is_an_amount_and_not_an_option(trueup: Any, verb: str) -> None:
    document = trueup.made(verb, "village", "shorten-shoulder", "--by", "-5mm", "--json").document
    shoulder = document["measures"][0]
    assert shoulder["after_mm"] - shoulder["before_mm"] == pytest.approx(5, abs=1e-4)
    assert document["correction"]["steps"][0]["role"] == {
        "style": "style",
        "correct": "correction",
    }.get(verb)


def test_a_fitting_is_one_step_of_several_corrections(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "fitting.toml"
    file.write_text(
        'why = "binds"\n[[corrections]]\nkind = "scoop-armhole"\npiece = "front"\nby = 2\n'
        '[[corrections]]\nkind = "refit-cap"\nto = "3.5cm"\nhow = "width"\n'
    )
    before = len(subjects(trueup.folder))
    preview = trueup.made("correct", "village", "--from", str(file), "--preview", "--json").document
    assert len(subjects(trueup.folder)) == before
    document = trueup.made("correct", "village", "--from", str(file), "--json").document
    assert len(subjects(trueup.folder)) == before + 1
    assert without_commands(preview["patterns"]) == without_commands(document["patterns"])
    assert [step["kind"] for step in document["correction"]["steps"]] == [
        "scoop-armhole",
        "refit-cap",
    ]
    assert document["correction"]["why"] == "binds"
    assert document["conflicts"] == []
    assert trueup("check", "village").code == 0


def test_refitting_the_cap_brings_the_ease_back_and_check_is_clean(corrected: Any) -> None:
    conflict = conflict_of(corrected, "village", "seam")
    assert corrected("check", "village").code == 1
    corrected.made("decide", conflict, "refit-cap", "--why", "as it was")
    ease = corrected.made("measure", "village", "sleeve.cap-ease", "--json").document["measures"]
    with Wardrobe.open(corrected.folder) as wardrobe:
        before = wardrobe.evaluator_at("HEAD~2").summary("village").measures["sleeve.cap-ease"]
    assert ease["sleeve.cap-ease"] == pytest.approx(before, abs=0.1)
    assert corrected("check", "village").code == 0


def test_what_was_accepted_is_shown_by_check_and_does_not_count(corrected: Any) -> None:
    corrected.made(
        "decide", conflict_of(corrected, "easy", "seam"), "accept", "--why", "soft cloth"
    )
    answer = corrected("check", "easy")
    assert answer.code == 0
    assert "accepted" in answer.out
    inherited = corrected("check", "blouse")
    assert inherited.code == 0, inherited.out
    assert "inherited" in inherited.out
    findings = corrected("check", "easy", "--json").document["findings"]
    assert [(each["severity"], each["accepted"]) for each in findings] == [("note", True)]


def test_amending_changes_the_amount_and_keeps_the_step(trueup: Any) -> None:
    step = trueup.step_of("blouse")
    trueup.made("amend", "blouse", step, "--by", "30mm", "--why", "lower still")
    assert trueup.step_of("blouse") == step
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.state.step("blouse", step).values == {"piece": "front", "by": "30mm"}


def test_amending_can_leave_an_option_out(trueup: Any) -> None:
    trueup.made("correct", "village", "deepen-dart", "--dart", "front.waist", "--to", "25mm")
    step = trueup.step_of("village")
    trueup.made("amend", "village", step, "--by", "5mm", "--without", "to")
    with Wardrobe.open(trueup.folder) as wardrobe:
        values = wardrobe.state.step("village", step).values
    assert values == {"dart": "front.waist", "by": "5mm"}


def test_dropping_takes_a_step_out(trueup: Any) -> None:
    trueup.made("drop", "blouse", trueup.step_of("blouse"))
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.state.node("blouse").steps == ()


def test_undo_takes_the_last_step_back_and_then_the_one_before(trueup: Any) -> None:
    before = trueup.contents()
    trueup.made(*SCOOP)
    trueup.made("correct", "village", "shorten-shoulder", "--by", "5mm")
    answer = trueup.made("undo")
    assert "Taken back: Correct village: shorten the shoulder" in answer.out
    trueup.made("undo")
    after = trueup.contents()
    assert {**after, "HEAD": b""} == {**before, "HEAD": b""}


def test_own_edits_are_taken_up_as_a_step_before_the_next(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    answer = trueup.made(*SCOOP)
    assert "taken up as a step of their own: patterns/blouse.toml" in answer.err
    assert subjects(trueup.folder)[:2] == [
        "Correct village: scoop-armhole",
        "Edited by hand: patterns/blouse.toml",
    ]
    assert 'by = "25mm"' in file.read_text()


def test_own_edits_are_part_of_an_answer_and_it_says_so(trueup: Any) -> None:
    file = trueup.folder / "patterns/blouse.toml"
    before = trueup.made("measure", "blouse", "front.neck-depth", "--json").document["measures"]
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
    answer = trueup.made("measure", "blouse", "front.neck-depth", "--json")
    after = answer.document["measures"]
    assert after["front.neck-depth"] - before["front.neck-depth"] == pytest.approx(5, abs=1e-3)
    assert "patterns/blouse.toml" in answer.err


def test_a_pattern_that_is_held_can_follow_again(corrected: Any) -> None:
    conflict = conflict_of(corrected, "vest", "both-shaped")
    held = corrected.made("decide", conflict, "hold", "--why", "already cut")
    assert f"decide {conflict} follow" in held.out
    assert "stays on" in corrected.made("tree").out
    corrected.made("decide", conflict, "follow")
    assert "stays on" not in corrected.made("tree").out


def test_a_decision_can_be_previewed(corrected: Any) -> None:
    before = corrected.contents()
    conflict = conflict_of(corrected, "village", "seam")
    document = corrected.made("decide", conflict, "refit-cap", "--preview", "--json").document
    assert conflict in document["settled"]
    assert corrected.contents() == before


def test_check_points_to_a_conflict_that_is_no_finding(corrected: Any) -> None:
    answer = corrected("check", "vest")
    assert answer.code == 0
    assert answer.out.rstrip().endswith("conflicts vest")


def test_a_flag_is_set_by_its_word_and_taken_back_by_amending(trueup: Any) -> None:
    trueup.made("style", "blouse", "release-dart", "--dart", "back.shoulder", "--eased")
    step = trueup.step_of("blouse")
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.state.step("blouse", step).values["eased"] is True
    trueup.made("amend", "blouse", step, "--no-eased")
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert "eased" not in wardrobe.state.step("blouse", step).values


def test_a_measurement_is_kept_with_the_unit_it_was_taken_in(trueup: Any) -> None:
    words = ("--bust", "90", "--waist", '27 1/2"', "--back-length", "38cm")
    trueup.made("draft", "other", *words, "--sleeve-length", "540mm")
    with Wardrobe.open(trueup.folder) as wardrobe:
        draft = wardrobe.state.node("other").draft
    assert draft is not None
    assert draft.body == {
        "bust": "90cm",
        "waist": '27 1/2"',
        "back-length": "38cm",
        "sleeve-length": "540mm",
    }
