"""What a maker writes into the files: taken up as a step of their own, or refused and kept."""

import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.lineage.making import change
from tests.lineage.recording import undo
from tests.lineage.stepping import LITTLE, corrected, done, only_open, prints
from tests.refusals import refusing
from trueup.lineage.errors import BadRecord, HandEdited
from trueup.lineage.files.records import ParentRecord, Role
from trueup.lineage.wardrobe import Wardrobe

TWIN = 'format = 1\nname = "village"\n[[parents]]\nname = "flat"\n'


def test_edits_by_hand_are_seen_and_never_recorded_with_another_step(
    folder: Path, wardrobe: Wardrobe
):
    path = folder / "patterns/short.toml"
    path.write_text(path.read_text().replace("blouse", "village"))
    with Wardrobe.open(folder) as again:
        assert again.state.node("short").parents == (ParentRecord("village"),)
        with pytest.raises(HandEdited, match="short"):
            corrected(again, "flat", LITTLE)
        with again.writing():
            again.take_up_hand_edits()
            corrected(again, "flat", LITTLE)
        assert again.state.node("short").parents == (ParentRecord("village"),)
        assert again.hand_edits() == ()


@pytest.mark.parametrize(
    ("path", "edit", "said"),
    [
        ("patterns/short.toml", lambda text: text.replace("blouse", "blous"), "blous"),
        ("patterns/blouse.toml", lambda text: text.replace("village", "short"), "short"),
        ("patterns/blouse.toml", lambda text: None, "parent"),
        ("patterns/blouse.toml", lambda text: text[: len(text) // 2], "blouse.toml"),
        ("blocks/village.toml", lambda text: text.replace("88cm", "8cm"), "bust"),
        ("blocks/village.toml", lambda text: text.replace("88cm", "88ft"), "88ft"),
        ("wardrobe.toml", lambda text: text.replace('"mm"', '"ell"'), "ell"),
        ("wardrobe.toml", lambda text: None, "missing"),
        ("patterns/village.toml", lambda text: TWIN, "also in"),
        ("patterns/short.toml", lambda text: f"{text}pieces = ['cape']", "cape"),
    ],
    ids=[
        "no-parent",
        "ring",
        "deleted",
        "cut",
        "tiny",
        "no-unit",
        "ell",
        "no-settings",
        "twice",
        "no-piece",
    ],
)
def test_edits_by_hand_that_make_no_sense_are_refused_and_kept(
    folder: Path, wardrobe: Wardrobe, path: str, edit: Any, said: str
):
    head, place = wardrobe.head, folder / path
    changed = edit(place.read_text() if place.exists() else "")
    if changed is None:
        place.unlink()
    else:
        place.write_text(changed)
    with refusing(BadRecord, match=said):
        wardrobe.take_up_hand_edits()
    assert wardrobe.head == head
    assert (place.read_text() if place.exists() else None) == changed


def test_a_damaged_file_is_mended_by_hand(folder: Path):
    path = folder / "patterns/short.toml"
    whole = path.read_text()
    path.write_text(whole[: len(whole) // 2])
    subprocess.run(["git", "-C", folder, "add", "-A"], check=True)
    author = ["-c", "user.name=x", "-c", "user.email=x@example.org"]
    subprocess.run(["git", "-C", folder, *author, "commit", "-qm", "Oh no"], check=True)
    with Wardrobe.open(folder) as wardrobe:
        with refusing(BadRecord, match="short"):
            wardrobe.state.node("short")
        path.write_text(whole)
        wardrobe.take_up_hand_edits()
        assert wardrobe.state.node("short").parents == (ParentRecord("blouse"),)


def test_deleting_a_leaf_by_hand_is_taken_up(folder: Path, wardrobe: Wardrobe):
    (folder / "patterns/short.toml").unlink()
    wardrobe.take_up_hand_edits()
    assert "short" not in wardrobe.state.nodes
    undo(wardrobe)
    assert "short" in wardrobe.state.nodes


def test_a_new_unit_moves_what_bare_numbers_mean_and_brings_its_conflicts(
    folder: Path, wardrobe: Wardrobe
):
    path = folder / "patterns/flat.toml"
    path.write_text(path.read_text().replace('"-3mm"', "-3"))
    wardrobe.take_up_hand_edits()
    assert wardrobe.state.open_conflicts == ()
    settings = folder / "wardrobe.toml"
    settings.write_text(settings.read_text().replace('"mm"', '"cm"'))
    wardrobe.take_up_hand_edits()
    assert only_open(wardrobe, "flat")


def test_a_conflict_an_edit_by_hand_brought_can_be_held_away(folder: Path, wardrobe: Wardrobe):
    then = prints(wardrobe)["flat"]
    path = folder / "blocks/village.toml"
    path.write_text(
        path.read_text()
        + '\n[[steps]]\nid = "mine"\nrole = "correction"\nkind = "scoop-armhole"\n'
        + 'piece = "front"\nby = 20\n'
    )
    assert wardrobe.take_up_hand_edits() is not None
    assert {c.arose_at for c in wardrobe.state.open_conflicts} == {"village", "flat"}
    done(wardrobe.propose_decision(only_open(wardrobe, "flat"), "hold"), wardrobe)
    assert prints(wardrobe)["flat"] == then


def test_an_edit_and_the_conflicts_it_brings_below_are_one_step(folder: Path, wardrobe: Wardrobe):
    low_cap = change("raise-cap", by="-3mm")
    done(wardrobe.propose_steps("short", [low_cap], Role.STYLE), wardrobe)
    before = wardrobe.head
    path = folder / "patterns/blouse.toml"
    scoop = 'id = "mine"\nrole = "style"\nkind = "scoop-armhole"\npiece = "front"\nby = 8\n'
    path.write_text(f"{path.read_text()}\n[[steps]]\n{scoop}")
    wardrobe.take_up_hand_edits()
    assert only_open(wardrobe, "short")
    assert next(iter(wardrobe.history())).parents == (before,)
    undo(wardrobe)
    assert wardrobe.state.open_conflicts == ()
