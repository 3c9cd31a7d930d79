"""trueup report: an audit to keep or to send."""

import datetime
import json
from pathlib import Path
from typing import Any

import pytest

from tests.lineage.recording import record_files
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.wardrobe import Wardrobe


@pytest.fixture
def worn(corrected: Any) -> Any:
    day = datetime.date(2025, 3, 1)
    note = FitNote("n1", "armhole binds", "front.armhole", day, words="<i>when she reaches</i>")
    with Wardrobe.open(corrected.folder) as wardrobe:
        cut = GarmentRecord(
            "tea-dress", "blouse", wardrobe.head, day, "li_nen", "Ana", notes=(note,)
        )
        record_files(wardrobe, {cut.path: garment_text(cut)}, "cut", "Cut tea-dress from blouse")
    return corrected


def test_the_audit_tells_steps_effects_verdicts_conflicts_and_garments(worn: Any) -> None:
    out = worn.made("report").out
    assert out.startswith("# Report of the wardrobe theatre\n")
    assert "### Correct village: hollow the armhole\n" in out
    assert "| front.armhole | " in out
    assert "4 descendants: " in out
    assert "| doubled | own |" in out
    for conflict in worn("conflicts", "--json").document["conflicts"]:
        assert f"- {conflict['id']} at {conflict['arose_at']}: " in out
    assert r"| tea-dress | blouse | " in out
    assert r"li\_nen" in out
    assert r"\<i>when she reaches\</i>" in out


def test_decisions_are_told(worn: Any) -> None:
    conflict = worn("conflicts", "village", "--json").document["conflicts"][0]["id"]
    worn.made("decide", conflict, "refit-cap", "--why", "hung well")
    out = worn.made("report", "village").out
    decisions = out[out.index("## Decisions") :]
    assert f"- decided {conflict} at village on " in decisions
    assert "hung well" in decisions


def test_one_node_has_its_own_entries_and_what_was_cut_below_it(worn: Any) -> None:
    out = worn.made("report", "easy").out
    assert out.startswith("# Report of the block easy in the wardrobe theatre\n")
    assert "tea-dress" in out
    assert "Style vest" not in out
    assert "None was cut." in worn.made("report", "vest").out


def test_since_tells_only_what_came_later(worn: Any) -> None:
    out = worn.made("report", "--since", "HEAD~2").out
    assert "It tells what was done since HEAD\\~2." in out
    assert "### Correct village: hollow the armhole" in out
    assert "### Style vest" not in out
    between = worn.made("report", "--between", "HEAD~3", "HEAD~2", "--json").document
    assert len(between["history"]) == 1


def test_ids_and_numbers_are_those_of_the_history(worn: Any) -> None:
    report = worn.made("report", "--json").document
    history = worn.made("history", "--effects", "--json").document
    assert report["history"] == history["history"]
    assert report["version"] == history["history"][0]["commit"]
    (garment,) = report["garments"]
    assert garment["notes"][0]["id"] == "n1"


def test_a_file_is_written_in_full_and_never_over_another(worn: Any, tmp_path: Path) -> None:
    for name in ("audit.md", "audit.json"):
        file = tmp_path / name
        worn.made("report", str(file))
        text = file.read_text(encoding="utf-8")
        file.write_text("mine")
        answer = worn("report", "village", str(file))
        assert answer.code == 2
        assert "--force" in answer.err
        assert file.read_text() == "mine"
        worn.made("report", str(file), "--force")
        assert file.read_text(encoding="utf-8") == text
    assert json.loads((tmp_path / "audit.json").read_text())["wardrobe"] == "theatre"
    assert (tmp_path / "audit.md").read_text() == worn.made("report").out
    assert [each.name for each in tmp_path.glob(".trueup-*")] == []


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("nobody",), 'There is no block or pattern "nobody"'),
        (("audit.txt",), "call it audit.md or audit.json"),
        (("audit.md", "--json"), "call it audit.json"),
        (("--force",), "name the file"),
        (("nowhere/audit.md",), "There is no folder nowhere"),
        (("--since", "9999-01-01"), "that day lies in the future"),
    ],
)
def test_what_cannot_be_told_is_refused_in_one_sentence(
    worn: Any, words: tuple[str, ...], sentence: str
) -> None:
    before = worn.contents()
    answer = worn("report", *words)
    assert (answer.code, answer.out) == (2, "")
    assert sentence in answer.err
    assert len(answer.err.splitlines()) == 1
    assert worn.contents() == before


def test_what_would_be_measured_for_hours_is_refused(
    corrected: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("trueup.lineage.evaluation.few_enough.MOST_MEASURED", 2)
    refused = [("report",), ("history", "--effects"), ("measure", "own", "--over-time")]
    for words in refused:
        answer = corrected(*words)
        assert answer.code == 2, words
        assert answer.err.startswith("More than 2 versions would be measured anew"), words
    corrected.made("history", "--effects", "--last", "2")
    corrected.made("report", "--since", "HEAD~2")
