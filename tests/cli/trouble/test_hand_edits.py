"""What an editor that was open while a step was recorded writes over it: joined, or refused."""

import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.trouble.test_bad_input import refused
from trueup.lineage.wardrobe import Wardrobe

SHORTEN = ("correct", "village", "shorten-shoulder", "--by", "5mm")
NEXT = ("style", "vest", "lengthen", "--by", "10mm")


class Editor:
    """An editor with one file of the wardrobe open: it does not see what is recorded meanwhile."""

    def __init__(self, trueup: Any, path: str) -> None:
        self.file: Path = trueup.folder / path
        self.text = self.file.read_text()

    def save(self, change: Callable[[str], str] = str) -> None:
        self.text = change(self.text)
        self.file.write_text(self.text)


def below(words: str) -> Callable[[str], str]:
    return lambda text: f"{text}{words}\n"


def other(old: str, new: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        assert old in text
        return text.replace(old, new)

    return change


def shortened(trueup: Any) -> str:
    trueup.made(*SHORTEN)
    return str(trueup.step_of("village"))


def steps(trueup: Any, node: str, revision: str = "HEAD") -> list[str]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        state = wardrobe.evaluator_at(revision).state
        return [step.kind for step in state.node(node).steps]


def last_message(trueup: Any, count: int = 1) -> str:
    log = ["git", "-C", trueup.folder, "log", f"--max-count={count}", "--format=%B"]
    return subprocess.run(log, check=True, capture_output=True, text=True).stdout


EDITS = {
    "comment": below("# fits Ada, wide in the neck"),
    "measurement": other('bust = "88cm"', 'bust = "89cm"'),
    "step": below('\n[[steps]]\nid = "mine"\nrole = "style"\nkind = "lengthen"\nby = "2cm"'),
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS)
def test_an_edit_in_an_editor_opened_before_a_correction_keeps_the_correction(
    trueup: Any, edit: Callable[[str], str]
) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    step = shortened(trueup)
    editor.save(edit)
    answer = trueup.made(*NEXT)
    said = f"blocks/village.toml was opened before shorten-shoulder ({step}) was recorded"
    assert said in answer.err
    assert "shorten-shoulder" in steps(trueup, "village")
    assert f"Joined-With: shorten-shoulder ({step}) of village" in last_message(trueup, 2)
    written = editor.file.read_text()
    for line in set(editor.text.splitlines()):
        assert line in written.splitlines()


def test_so_it_does_where_many_steps_came_between(trueup: Any) -> None:
    trueup.made(*SHORTEN)
    editor = Editor(trueup, "blocks/village.toml")
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "4mm")
    trueup.made("correct", "easy", "widen-neck", "--by", "3mm")
    trueup.made("correct", "village", "lower-neck", "--piece", "back", "--by", "2mm")
    trueup.made("amend", "village", trueup.step_of("village", 0), "--by", "6mm")
    editor.save(below("# the end"))
    trueup.made(*NEXT)
    assert steps(trueup, "village") == ["shorten-shoulder", "lower-neck", "lower-neck"]
    assert 'by = "6mm"' in editor.file.read_text()
    assert editor.file.read_text().rstrip().endswith("# the end")


def test_a_pattern_below_keeps_the_conflicts_a_correction_brought_to_it(trueup: Any) -> None:
    editor = Editor(trueup, "patterns/vest.toml")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    with Wardrobe.open(trueup.folder) as wardrobe:
        conflicts = wardrobe.state.node("vest").open_conflicts
    assert conflicts
    editor.save(below("# a summer vest"))
    answer = trueup.made("style", "blouse", "lengthen", "--by", "10mm")
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.state.node("vest").open_conflicts == conflicts
    assert f"the conflict ({conflicts[0].id})" in answer.err
    assert "# a summer vest" in editor.file.read_text()


def test_and_what_was_decided_about_them(corrected: Any) -> None:
    editor = Editor(corrected, "patterns/vest.toml")
    with Wardrobe.open(corrected.folder) as wardrobe:
        conflict = wardrobe.state.node("vest").open_conflicts[0].id
    corrected.made("decide", conflict, "hold", "--why", "it is cut already")
    editor.save(below("# a summer vest"))
    corrected.made("style", "blouse", "lengthen", "--by", "10mm")
    with Wardrobe.open(corrected.folder) as wardrobe:
        assert wardrobe.state.conflict(conflict).decisions[0].why == "it is cut already"
    assert "# a summer vest" in editor.file.read_text()


def test_an_editor_that_saves_twice_still_does_not_know_of_the_correction(trueup: Any) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    trueup.made(*SHORTEN)
    editor.save(below("# one"))
    trueup.made(*NEXT)
    editor.save(below("# two"))
    trueup.made("style", "vest", "lengthen", "--by", "12mm")
    assert steps(trueup, "village") == ["shorten-shoulder"]
    editor.save()
    assert "shorten-shoulder" in refused(trueup, *NEXT)


def test_fit_notes_stay_when_an_editor_did_not_know_of_them(trueup: Any) -> None:
    trueup.made("cut", "blouse", "--wearer", "Ada")
    editor = Editor(trueup, "garments/blouse-1.toml")
    trueup.made("note", "blouse-1", "armhole-gapes", "--place", "front.armhole")
    editor.save(below("# hemmed by hand"))
    answer = trueup.made("garment", "blouse-1", "--status", "worn")
    assert "armhole-gapes at front.armhole" in answer.err
    told = trueup.made("garment", "blouse-1", "--json").document["garment"]
    assert len(told["open_notes"]) == 1
    assert "# hemmed by hand" in editor.file.read_text()


def test_the_settings_are_joined_as_well(trueup: Any) -> None:
    editor = Editor(trueup, "wardrobe.toml")
    editor.save(other('name = "theatre"', 'name = "old theatre"'))
    trueup.made(*NEXT)
    editor.text = editor.text.replace("old theatre", "theatre")  # another editor, opened earlier
    editor.save(below("# moved in May"))
    trueup.made("style", "vest", "lengthen", "--by", "12mm")
    assert 'name = "old theatre"' in editor.file.read_text()
    assert "# moved in May" in editor.file.read_text()


# --- what may as well be a step taken out by hand -------------------------------------------------


def test_a_file_as_it_was_before_a_correction_is_refused_by_the_name_of_it(trueup: Any) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    step = shortened(trueup)
    before = trueup.contents()["HEAD"]
    editor.save()
    sentence = refused(trueup, *NEXT)
    assert f"would take out shorten-shoulder ({step})" in sentence
    assert "`trueup restore blocks/village.toml`" in sentence
    assert f"`trueup drop village {step}`" in sentence
    assert "`trueup keep blocks/village.toml --why TEXT`" in sentence
    assert trueup.contents()["HEAD"] == before
    assert editor.file.read_text() == editor.text


def test_so_is_the_last_step_taken_out_by_hand_until_it_is_asked_for(trueup: Any) -> None:
    step = shortened(trueup)
    editor = Editor(trueup, "blocks/village.toml")
    editor.save(lambda text: text[: text.index("[[steps]]")])
    assert f"shorten-shoulder ({step})" in refused(trueup, *NEXT)
    assert f"shorten-shoulder ({step})" in refused(trueup, "keep")
    assert "--why" in refused(trueup, "keep", "blocks/village.toml")
    answer = trueup.made("keep", "blocks/village.toml", "--why", "it was never sewn")
    assert f"They take out shorten-shoulder ({step}) of village." in answer.err
    assert steps(trueup, "village") == []
    assert "it was never sewn" in last_message(trueup)
    assert f"Takes-Out: shorten-shoulder ({step}) of village" in last_message(trueup)


def test_or_until_the_file_is_put_back_and_the_step_is_dropped(trueup: Any) -> None:
    trueup.made(*SHORTEN)
    editor = Editor(trueup, "blocks/village.toml")
    editor.save(lambda text: text[: text.index("[[steps]]")])
    refused(trueup, *NEXT)
    subprocess.run(["git", "-C", trueup.folder, "checkout", "-q", "."], check=True)
    trueup.made("drop", "village", trueup.step_of("village"))
    assert steps(trueup, "village") == []


def test_an_amount_as_it_was_before_is_refused_and_changed_by_its_verb(trueup: Any) -> None:
    trueup.made(*SHORTEN)
    step = trueup.step_of("village")
    editor = Editor(trueup, "blocks/village.toml")
    trueup.made("amend", "village", step, "--by", "6mm")
    editor.save()
    sentence = refused(trueup, *NEXT)
    assert f"put back shorten-shoulder ({step}) as before" in sentence
    assert f"`trueup amend village {step}`" in sentence


def test_an_older_step_taken_out_by_hand_is_taken_up_and_named(trueup: Any) -> None:
    first = shortened(trueup)
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "4mm")
    editor = Editor(trueup, "blocks/village.toml")
    start = editor.text.index("[[steps]]")
    end = editor.text.index("[[steps]]", start + 1)
    editor.save(lambda text: text[:start] + text[end:])
    answer = trueup.made(*NEXT)
    assert f"They take out shorten-shoulder ({first}) of village." in answer.err
    assert f"Takes-Out: shorten-shoulder ({first}) of village" in last_message(trueup, 2)
    assert steps(trueup, "village") == ["lower-neck"]


def test_so_is_a_pattern_whose_file_is_deleted(trueup: Any) -> None:
    step = trueup.step_of("blouse")
    (trueup.folder / "patterns/blouse.toml").unlink()
    answer = trueup.made(*NEXT)
    assert f"They take out lower-neck ({step}) of blouse." in answer.err


def test_an_edit_that_contradicts_what_was_recorded_since_is_refused(trueup: Any) -> None:
    trueup.made(*SHORTEN)
    step = trueup.step_of("village")
    editor = Editor(trueup, "blocks/village.toml")
    trueup.made("amend", "village", step, "--by", "6mm", "--why", "a little more")
    editor.save(other('by = "5mm"', 'by = "3mm"'))
    sentence = refused(trueup, *NEXT)
    assert f"shorten-shoulder ({step})" in sentence
    assert "contradicts what was recorded since it was opened" in sentence
    assert "restore" in sentence


def test_an_edit_of_what_stands_is_taken_up_as_ever(trueup: Any) -> None:
    trueup.made(*SHORTEN)
    editor = Editor(trueup, "blocks/village.toml")
    editor.save(other('by = "5mm"', 'by = "7mm"'))
    answer = trueup.made(*NEXT)
    assert "opened before" not in answer.err
    assert "take out" not in answer.err
    assert 'by = "7mm"' in editor.file.read_text()


def test_own_edits_can_be_made_a_step_without_another(trueup: Any) -> None:
    assert "Nothing was edited" in trueup.made("keep").out
    Editor(trueup, "blocks/village.toml").save(below("# wide in the neck"))
    answer = trueup.made("keep", "--why", "for Ada")
    assert "taken up as a step of their own: blocks/village.toml" in answer.err
    assert last_message(trueup).startswith("Edited by hand: blocks/village.toml\n\nfor Ada\n")
    assert "Nothing was edited" in trueup.made("keep").out


def test_a_file_to_be_kept_must_have_been_edited(trueup: Any) -> None:
    Editor(trueup, "blocks/village.toml").save(below("# wide in the neck"))
    sentence = refused(trueup, "keep", "blocks/easy.toml", "--why", "so")
    assert "blocks/easy.toml is as the last step left it" in sentence
    assert "blocks/village.toml" in sentence


def test_a_file_to_be_kept_may_be_named_from_where_the_maker_stands(
    trueup: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(trueup.folder.parent)
    (trueup.folder / "patterns/blouse.toml").unlink()
    trueup.made("keep", "theatre/patterns/blouse.toml", "--why", "never worn")
    assert not (trueup.folder / "patterns/blouse.toml").exists()


# --- reading --------------------------------------------------------------------------------------


def shoulder(answer: Any) -> float:
    return float(answer.document["measures"]["front.shoulder"])


MEASURE = ("measure", "village", "front.shoulder", "--json")


def test_an_answer_is_of_the_edit_joined_with_the_correction(trueup: Any) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    step = shortened(trueup)
    short = shoulder(trueup.made(*MEASURE))
    editor.save(below("# wide in the neck"))
    answer = trueup.made(*MEASURE)
    assert shoulder(answer) == short
    assert f"was opened before shorten-shoulder ({step}) was recorded" in answer.err
    assert editor.file.read_text() == editor.text


def test_an_answer_is_of_the_last_version_where_the_edit_is_refused(trueup: Any) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    step = shortened(trueup)
    short = shoulder(trueup.made(*MEASURE))
    editor.save()
    answer = trueup.made(*MEASURE)
    assert shoulder(answer) == short
    assert "Answered from blocks/village.toml as it was recorded last" in answer.err
    assert f"would take out shorten-shoulder ({step})" in answer.err


def test_an_edit_of_another_file_beside_a_refused_one_is_part_of_the_answer(trueup: Any) -> None:
    editor, blouse = Editor(trueup, "blocks/village.toml"), Editor(trueup, "patterns/blouse.toml")
    trueup.made(*SHORTEN)
    depth = ("measure", "blouse", "front.neck-depth", "--json")
    before = trueup.made(*depth).document["measures"]["front.neck-depth"]
    editor.save()
    blouse.save(other('by = "20mm"', 'by = "25mm"'))
    after = trueup.made(*depth).document["measures"]["front.neck-depth"]
    assert after - before == pytest.approx(5, abs=1e-3)


# --- comments -------------------------------------------------------------------------------------


def test_comments_at_the_end_of_a_file_stay_at_its_end(trueup: Any) -> None:
    editor = Editor(trueup, "blocks/village.toml")
    editor.save(lambda text: f"{text}\n# Ada, in May:\n# wide in the neck")
    trueup.made(*SHORTEN)
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    trueup.made("drop", "village", trueup.step_of("village"))
    trueup.made("drop", "village", trueup.step_of("village"))
    assert editor.file.read_text().endswith("\n\n# Ada, in May:\n# wide in the neck\n")


def test_a_last_line_without_an_end_takes_no_step_in(trueup: Any) -> None:
    editor = Editor(trueup, "patterns/blouse.toml")
    for end in ("", "# lower still?"):
        editor.save(lambda text, end=end: text.rstrip() + (f"\n{end}" if end else ""))
        trueup.made("style", "blouse", "lengthen", "--by", "10mm")
        editor.text = editor.file.read_text()
    assert steps(trueup, "blouse") == ["lower-neck", "lengthen", "lengthen"]
