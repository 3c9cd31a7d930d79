"""Edits by hand on the disk: interrupted, raced by their editor, opened long ago, of one commit."""

from pathlib import Path
from typing import Any

import pytest

from tests.lineage.making import change
from tests.lineage.stepping import SCOOP, corrected, done
from trueup.lineage.errors import HandEdited
from trueup.lineage.files.records import Role
from trueup.lineage.hand_edits import reviewing
from trueup.lineage.hand_edits.errors import OpenedEarlier
from trueup.lineage.store import Store
from trueup.lineage.wardrobe import Wardrobe

PATH = "patterns/flat.toml"


def lowered(wardrobe: Wardrobe, by: str) -> str:
    """Lower the neck of flat, and return the id of the step."""
    step = change("lower-neck", piece="front", by=by)
    return done(wardrobe.propose_steps("flat", [step], Role.STYLE), wardrobe).edit.steps[0].id


def stale(wardrobe: Wardrobe, words: str = "# hers\n") -> tuple[Path, str]:
    """Save flat from an editor that was opened before its neck was lowered."""
    file = wardrobe.folder / PATH
    text = file.read_text()
    step = lowered(wardrobe, "4mm")
    file.write_text(text + words)
    return file, step


def test_an_edit_joined_and_not_yet_recorded_keeps_the_step_after_a_kill(
    folder: Path, wardrobe: Wardrobe, monkeypatch: pytest.MonkeyPatch
):
    file, step = stale(wardrobe)

    def killed(*arguments: Any, **others: Any) -> str:
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr(Store, "commit", killed)
        with pytest.raises(KeyboardInterrupt):
            wardrobe.take_up_hand_edits()
    assert step in file.read_text()
    with Wardrobe.open(folder) as again:
        taken = again.take_up_hand_edits()
        assert taken is not None
        assert taken.step.taken_out == ()
        assert again.state.step("flat", step)
    assert "# hers" in file.read_text()


def test_what_the_editor_saves_while_its_edit_is_taken_up_stays(
    wardrobe: Wardrobe, monkeypatch: pytest.MonkeyPatch
):
    file, _ = stale(wardrobe)
    head = wardrobe.head
    rewrite = Store.rewrite

    def saved_meanwhile(store: Store, *arguments: Any) -> None:
        file.write_text(file.read_text() + "# and more\n")
        rewrite(store, *arguments)

    with monkeypatch.context() as during:
        during.setattr(Store, "rewrite", saved_meanwhile)
        with pytest.raises(HandEdited):
            wardrobe.take_up_hand_edits()
    assert wardrobe.head == head
    assert file.read_text().endswith("# hers\n# and more\n")


def test_an_edit_of_a_version_too_far_back_is_refused_by_all_it_would_take_out(
    wardrobe: Wardrobe, monkeypatch: pytest.MonkeyPatch
):
    file = wardrobe.folder / PATH
    text = file.read_text()
    steps = [lowered(wardrobe, f"{number}mm") for number in range(1, 5)]
    file.write_text(f"{text}# hers\n")
    with monkeypatch.context() as few:
        few.setattr(reviewing, "MOST_STEPS_BACK", 3)
        with pytest.raises(OpenedEarlier) as refusal:
            wardrobe.take_up_hand_edits()
    assert refusal.value.why == "old"
    assert all(step in str(refusal.value) for step in steps)
    assert wardrobe.take_up_hand_edits() is not None
    assert [step.id for step in wardrobe.state.node("flat").steps][1:] == steps


def test_the_conflicts_an_edit_brings_are_noted_in_the_same_step(wardrobe: Wardrobe):
    before = wardrobe.head
    file = wardrobe.folder / "blocks/village.toml"
    scoop = 'id = "mine"\nrole = "correction"\nkind = "scoop-armhole"\npiece = "front"\nby = 20\n'
    file.write_text(f"{file.read_text()}\n[[steps]]\n{scoop}")
    assert wardrobe.take_up_hand_edits() is not None
    assert wardrobe.state.node("village").open_conflicts
    assert next(iter(wardrobe.history())).parents == (before,)
    assert wardrobe.hand_edits() == ()


def test_several_files_opened_before_one_correction_are_joined_each(wardrobe: Wardrobe):
    paths = ("blocks/village.toml", PATH)
    opened = {path: (wardrobe.folder / path).read_text() for path in paths}
    made = corrected(wardrobe, "village", SCOOP).edit.steps[0].id
    conflicts = wardrobe.state.node("flat").conflicts
    assert conflicts
    for path, text in opened.items():
        (wardrobe.folder / path).write_text(f"{text}# hers\n")
    taken = wardrobe.take_up_hand_edits()
    assert taken is not None
    assert taken.step.paths == paths
    assert wardrobe.state.step("village", made)
    assert wardrobe.state.node("flat").conflicts == conflicts
