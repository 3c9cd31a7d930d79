"""A whole session as a maker would have it: from the worn garment back to the block, and on."""

import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Trueup, run, without_commands

Numbers = dict[str, dict[str, float]]
"""Measures in mm, by node and name."""

WHY = "cuts in at the notch when she reaches for the reins"
ALL_SEAMS = ("front", "back", "sleeve")


def drawn(folder: Path) -> Trueup:
    """Return a village's wardrobe: a block, an easier one below it, and three patterns."""
    assert run("start", str(folder), "--unit", "cm").code == 0
    trueup = Trueup(folder)
    body = ("--bust", "88", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")
    trueup.made("draft", "village", *body)
    for piece in ALL_SEAMS:
        trueup.made("style", "village", "seam-allowance", "--piece", piece, "--by", "1.5")
    trueup.made("derive", "sunday", "--from", "village")
    trueup.made("style", "sunday", "lower-neck", "--piece", "front", "--by", "2")
    trueup.made("derive", "fair", "--from", "village")
    trueup.made("style", "fair", "widen-neck", "--by", "1")
    trueup.made("derive", "dancer", "--from", "village")
    line = ("--edge", "front.armhole", "--through", "30%:20mm 70%:40mm")
    trueup.made("style", "dancer", "redraw-edge", *line)
    return trueup


def measures(trueup: Trueup, node: str) -> dict[str, float]:
    found: dict[str, float] = trueup.made("measure", node, "--json").document["measures"]
    return found


def waiting(trueup: Trueup) -> Any:
    """Return the conflicts that wait for a decision; the exit code says whether any does."""
    answer = trueup("conflicts", "--json")
    found = answer.document["conflicts"]
    assert answer.code == (1 if found else 0)
    return found


def named(found: list[Any], name: str, field: str = "name") -> Any:
    """Return the one entry whose field says this."""
    (entry,) = [each for each in found if each[field] == name]
    return entry


def wear_and_note(trueup: Trueup) -> list[str]:
    """Cut three garments and wear them; two bind at the same place. Returns the notes' ids."""
    worn = ("--wearer", "Anna", "--fabric", "blue linen", "--date", "2025-03-01")
    cut = trueup.made("cut", "sunday", "--name", "sunday-blue", *worn, "--json").document
    assert cut["garment"]["allowances"][0] == {"edge": "front.neck", "amount_mm": 15.0}
    for pattern, name, wearer in (("fair", "fair-red", "Berta"), ("dancer", "dancer-grey", "Cora")):
        trueup.made("cut", pattern, "--name", name, "--wearer", wearer, "--date", "2025-03-02")
    trueup.made("garment", "sunday-blue", "--status", "worn")
    seen = ("armhole-binds", "--place", "front.armhole", "--json")
    first = trueup.made(
        *("note", "sunday-blue", *seen, "--amount", "12mm", "--date", "2025-04-06"),
        *("--words", WHY),
    ).document["note"]
    days = {date.today().isoformat()}
    second = trueup.made("note", "fair-red", *seen, "--amount", "10mm").document["note"]
    assert (first["amount_mm"], first["wearer"], first["words"]) == (12.0, "Anna", WHY)
    assert second["date"] in days | {date.today().isoformat()}
    return [first["id"], second["id"]]


def diagnose(trueup: Trueup, notes: list[str], at_first: Numbers) -> None:
    """Look where to look, read against the pattern: the chest first, and the block to correct."""
    (found,) = trueup.made("diagnose", "sunday-blue", "--json").document["diagnoses"]
    assert found["note"] == notes[0]
    check = found["checks"][0]
    assert (check["kind"], check["typical_mm"], check["largest_mm"]) == (
        *("scoop-armhole", [3.0, 6.0], 13.0),
    )
    chest = named(check["readings"], "front.chest-width", "measure")
    assert chest["now_mm"] == chest["block_mm"] == chest["cut_mm"]
    assert chest["now_mm"] == pytest.approx(at_first["sunday"]["front.chest-width"])
    proposed = check["proposed"]
    assert (proposed["node"], proposed["kind"]) == ("village", "scoop-armhole")
    assert "correct village scoop-armhole --piece front --by 12mm" in proposed["command"]
    assert check["on_this_pattern_alone"]["node"] == "sunday"


def find_who_shares_it(trueup: Trueup, notes: list[str]) -> None:
    """Both that were noted share it, and not the one whose own step drew its armhole."""
    (cause,) = trueup.made("shared", "--all", "--json").document["causes"]
    assert (cause["node"], cause["place"], cause["step"]) == ("village", "front.armhole", None)
    assert sorted(cause["notes"]) == sorted(notes)
    assert cause["patterns"] == ["fair", "sunday"]
    assert cause["garments"] == ["fair-red", "sunday-blue"]
    assert cause["best"]["node"] == "village"
    (fault,) = trueup.made("shared", "sunday-blue", notes[0], "--json").document["faults"]
    assert {each["name"]: each["reason"] for each in fault["unmended"]} == {"dancer": "own-step"}


def correct_the_block(trueup: Trueup, notes: list[str]) -> Any:
    """Look at the correction first, which writes nothing; then make it, and return what it did."""
    change = ("scoop-armhole", "--piece", "front", "--by", "12mm", "--why", WHY)
    mends = ("--mends", notes[0], "--mends", notes[1])
    scoop = ("correct", "village", *change, *mends, "--json")
    before = trueup.contents()
    preview = trueup.made(*scoop, "--preview").document
    assert trueup.contents() == before
    made = trueup.made(*scoop).document
    assert preview["correction"]["commit"] is None
    foretold = without_commands({**preview, "correction": None})
    assert without_commands({**made, "correction": None}) == foretold
    assert trueup.made("shared", "--all", "--json").document["causes"] == []
    return made


def hold_the_verdicts_against_the_patterns(trueup: Trueup, made: Any, at_first: Numbers) -> None:
    changed = named(made["measures"], "front.chest-width")
    assert changed["after_mm"] - changed["before_mm"] == pytest.approx(-12, abs=0.3)
    assert {each["name"]: each["verdict"] for each in made["patterns"]} == {
        **{"sunday": "carried", "fair": "carried", "dancer": "lost"},
    }
    for each in made["patterns"]:
        line = named(each["measures"], "front.armhole.line")
        now = measures(trueup, each["name"])["front.chest-width"]
        was = at_first[each["name"]]["front.chest-width"]
        assert line["wanted_mm"] == pytest.approx(-12, abs=0.2)
        assert line["got_mm"] == pytest.approx(now - was, abs=0.3)


def decide(trueup: Trueup, at_first: Numbers) -> Any:
    """The sleeve holds too little: settle it at the block, and so wherever it was taken over."""
    cap = named(waiting(trueup), "village", "arose_at")
    grown = measures(trueup, "village")["front.armhole"] - at_first["village"]["front.armhole"]
    assert cap["before_mm"] - cap["after_mm"] == pytest.approx(grown, abs=0.02)
    assert cap["after_mm"] < cap["allowed_mm"][0] <= cap["before_mm"]
    done = trueup.made("decide", cap["id"], "refit-cap", "--why", "as before", "--json").document
    assert cap["id"] in done["settled"]
    for name in ("village", "sunday", "fair"):
        ease = measures(trueup, name)["sleeve.cap-ease"]
        assert ease == pytest.approx(cap["whole_before_mm"], abs=0.1)
    for own in waiting(trueup):
        assert own["arose_at"] == "dancer"
        trueup.made("decide", own["id"], "accept", "--why", "her armhole is cut away enough")
    assert waiting(trueup) == []
    return cap


def alter_what_is_cut(trueup: Trueup, cap: Any) -> None:
    """Hollowing only takes away, and the sleeve has 15 mm of allowance to give."""
    found = trueup.made("alter", "sunday-blue", "--json").document
    edges = {each["edge"]: each for piece in found["pieces"] for each in piece["edges"]}
    assert (found["possible"], found["as_wanted"]) == ("can", False)
    assert {name for name, each in edges.items() if not each["stays"]} == {
        *("front.armhole", "sleeve.cap", "sleeve.back-seam", "sleeve.front-seam"),
    }
    assert edges["front.armhole"]["let_out_mm"] == 0
    assert edges["front.armhole"]["taken_in_mm"] == pytest.approx(12, abs=1)
    assert 0 < edges["sleeve.back-seam"]["let_out_mm"] < 15
    assert found["cap"]["fits"] is False
    grown = cap["before_mm"] - cap["after_mm"]
    assert found["cap"]["ease_after_mm"] == pytest.approx(cap["whole_before_mm"] - grown, abs=0.02)
    works = [step["work"] for step in found["steps"]]
    assert works.index("mark and re-cut") < works.index("set the sleeve")
    trueup.made("garment", "sunday-blue", "--status", "altered", "--why", "set again")
    shown = trueup.made("garment", "sunday-blue", "--json").document
    assert shown["since"]["says"] == "sunday is as it was when the garment was altered."
    assert shown["garment"]["altered_to"]
    garment = shown["garment"]
    assert (garment["status"], garment["open_notes"]) == ("altered", [])


def ask_a_year_later(trueup: Trueup, made: Any) -> None:
    """What was done, when and why, is told with the same ids and numbers."""
    (scooped,) = [each["id"] for each in made["correction"]["steps"]]
    told = trueup.made("history", "sunday-blue", "--json").document
    assert told["garment"]["notes"][0]["resolved_by"] == [scooped]
    assert [each["verb"] for each in told["history"]] == [
        *("garment", "decide", "correct", "note", "garment", "cut"),
    ]
    entry = told["history"][2]
    assert (entry["commit"], entry["steps"]) == (made["correction"]["commit"], [scooped])
    assert WHY in entry["body"]
    explained = trueup.made("explain", "sunday", "--json").document
    assert [node["node"] for node in explained["chain"]] == ["village", "sunday"]
    step = named(explained["chain"][0]["steps"], scooped, "id")
    assert (step["commit"], step["why"], step["role"]) == (entry["commit"], WHY, "correction")
    chest = named(step["measures"], "front.chest-width")
    assert chest == named(made["measures"], "front.chest-width")
    assert explained["measures"] == pytest.approx(measures(trueup, "sunday"))


def ask_git(trueup: Trueup, made: Any) -> None:
    """Every step is one commit, nothing is left lying about, and the history is whole."""

    def git(*words: str) -> str:
        place = ("git", "-C", str(trueup.folder))
        return subprocess.run([*place, *words], capture_output=True, text=True, check=True).stdout

    assert git("status", "--porcelain") == ""
    git("fsck", "--strict")
    logged = git("log", "--format=%H", "--", "garments/sunday-blue.toml").split()
    assert len(logged) == 5  # cut, worn, noted, mended with the correction, altered
    assert logged[1] == made["correction"]["commit"]


def test_from_the_worn_garment_back_to_the_block_and_what_is_told_of_it_later(
    tmp_path: Path,
) -> None:
    trueup = drawn(tmp_path / "village-wardrobe")
    at_first = {name: measures(trueup, name) for name in ("village", "sunday", "fair", "dancer")}
    notes = wear_and_note(trueup)
    diagnose(trueup, notes, at_first)
    find_who_shares_it(trueup, notes)
    made = correct_the_block(trueup, notes)
    hold_the_verdicts_against_the_patterns(trueup, made, at_first)
    cap = decide(trueup, at_first)
    alter_what_is_cut(trueup, cap)
    ask_a_year_later(trueup, made)
    ask_git(trueup, made)
