"""Beginning: a wardrobe, a block, patterns, and what the command says without a verb."""

import re
from pathlib import Path
from typing import Any

import pytest

from trueup.lineage.wardrobe import Wardrobe

BODY = ["--bust", "88", "--waist", "68cm", "--back-length", "38cm", "--sleeve-length", "54cm"]


def test_a_wardrobe_a_block_and_a_pattern_are_made_in_three_commands(
    tmp_path: Path, anywhere: Any
) -> None:
    folder = tmp_path / "store"
    place = ("-C", str(folder))
    assert anywhere("start", str(folder), "--name", "theatre", "--unit", "cm").code == 0
    drafted = anywhere(*place, "draft", "village", "--system", "bust-proportion", *BODY)
    assert drafted.code == 0, drafted.err
    assert anywhere(*place, "derive", "blouse", "--from", "village").code == 0
    with Wardrobe.open(folder) as wardrobe:
        assert wardrobe.state.in_order == ("village", "blouse")
        assert wardrobe.state.settings.name == "theatre"
        assert [each.subject for each in wardrobe.history()] == [
            "Derive the pattern blouse from village",
            "Draft the block village",
            "Start the wardrobe theatre",
        ]


def test_a_bare_number_takes_the_wardrobes_unit(tmp_path: Path, anywhere: Any) -> None:
    anywhere("start", str(tmp_path / "a"), "--unit", "in")
    answer = anywhere(
        "-C", str(tmp_path / "a"), "draft", "block",
        *["--bust", "35", "--waist", "27", "--back-length", "15", "--sleeve-length", "21"],
    )  # fmt: skip
    assert answer.code == 0, answer.err


@pytest.mark.parametrize(
    ("unit", "bust", "waist", "back", "sleeve"),
    [
        ("mm", "880", "680", "380", "540"),
        ("cm", "88", "68,0", "38.0", "54"),
        ("in", "34 1/2", "26½", "15", "21.25"),
    ],
)
def test_bare_measurements_of_a_body_take_the_wardrobes_unit(
    tmp_path: Path, anywhere: Any, unit: str, bust: str, waist: str, back: str, sleeve: str
) -> None:
    folder = tmp_path / "new"
    anywhere("start", str(folder), "--unit", unit)
    taken = ("--bust", bust, "--waist", waist, "--back-length", back, "--sleeve-length", sleeve)
    answer = anywhere("-C", str(folder), "draft", "village", *taken)
    assert answer.code == 0, answer.err
    kept = (folder / "blocks/village.toml").read_text()
    for text in (bust, waist, back, sleeve):
        assert f'"{text}{unit}"' in kept


def test_a_new_block_comes_out_true(tmp_path: Path, anywhere: Any) -> None:
    anywhere("start", str(tmp_path / "a"))
    anywhere("-C", str(tmp_path / "a"), "draft", "block", *BODY)
    answer = anywhere("-C", str(tmp_path / "a"), "check", "block")
    assert answer.code == 0, answer.out


def test_a_wardrobe_is_called_after_its_folder_unless_named(tmp_path: Path, anywhere: Any) -> None:
    anywhere("start", str(tmp_path / "my-store"))
    assert "my-store: 0 blocks" in anywhere("-C", str(tmp_path / "my-store")).out


def test_a_pattern_takes_pieces_from_two_parents(trueup: Any) -> None:
    trueup.made("derive", "mix", "--from", "blouse:front,back", "--from", "own:sleeve")
    document = trueup.made("tree", "--json").document
    mix = next(node for node in document["nodes"] if node["name"] == "mix")
    assert mix["parents"] == ["blouse", "own"]
    assert mix["takes"] == {"blouse": ["front", "back"], "own": ["sleeve"]}


def test_a_pattern_can_stay_on_an_earlier_version(trueup: Any) -> None:
    before = trueup.made("measure", "village", "front.shoulder", "--json").document["measures"]
    trueup.made("correct", "village", "shorten-shoulder", "--by", "1/2in")
    trueup.made("derive", "old", "--from", "village", "--stay-on", "HEAD~1")
    after = trueup.made("measure", "old", "front.shoulder", "--json").document["measures"]
    assert after == before


def test_without_a_verb_outside_a_wardrobe_it_says_how_to_begin(
    tmp_path: Path, anywhere: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = anywhere()
    assert answer.code == 0
    assert "trueup start" in answer.out
    assert "trueup demo" in answer.out


def test_without_a_verb_the_folder_you_stand_in_is_the_wardrobe(
    trueup: Any, anywhere: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(trueup.folder)
    answer = anywhere()
    assert "theatre: 2 blocks, 3 patterns" in answer.out
    assert "No conflict is open." in answer.out
    assert "  trueup tree\n" in answer.out


def test_without_a_verb_open_conflicts_are_told_with_the_next_command(corrected: Any) -> None:
    lines = corrected().out.splitlines()
    titles = [line.strip() for line in lines if re.match(r"  [a-z]+: ", line)]
    told = [*dict.fromkeys(title.partition(":")[0] for title in titles)]
    assert told[:4] == ["village", "easy", "own", "vest"]
    assert titles[0].startswith("village: the front part of the sleeve cap holds ")
    assert lines[-1].endswith("conflicts village")


def test_without_a_verb_edits_made_by_hand_are_named(trueup: Any) -> None:
    _edit(trueup.folder / "patterns/blouse.toml")
    assert "patterns/blouse.toml (changed)" in trueup().out


def test_the_folder_may_be_named_after_the_verb(trueup: Any, anywhere: Any) -> None:
    assert anywhere("tree", "-C", str(trueup.folder)).code == 0
    assert anywhere("check", "village", "-C", str(trueup.folder)).code == 0


def _edit(file: Path) -> None:
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "25mm"'))
