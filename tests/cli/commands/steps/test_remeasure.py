"""trueup remeasure: a block measured anew, and all that derives from it follows."""

import re
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import BODY, without_commands
from tests.cli.restoring.story import git
from tests.cli.trouble.test_bad_input import refused
from tests.geometry.drafting.bodies import DIRECT, TROUSERS
from tests.judging.sampled import length
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.files.records import BlockDraft
from trueup.lineage.wardrobe import Wardrobe

SKIRT = {"waist": 680.0, "hip": 940.0, "hip-depth": 200.0, "skirt-length": 600.0}
BROADER = ("remeasure", "village", "--bust", "93cm", "--waist", "71", "--why", "a year later")


def prints(trueup: Any) -> dict[str, str]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        state = wardrobe.state
        return {name: wardrobe.evaluator.summary(name).fingerprint for name in state.nodes}


def draft(trueup: Any, name: str) -> Draft:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.draft(name)


def lengths(of: Draft) -> dict[str, float]:
    """Return the length of each line, mm, by sampling."""
    return {f"{p.name}.{e.name}": length(e) for p in of.pieces for e in p.edges}


def test_the_block_is_drafted_from_what_was_measured_and_from_what_stays(trueup: Any) -> None:
    trueup.made(*BROADER)
    drafted = draft_block(
        "bust-proportion",
        {"bust": 930, "waist": 710, "back-length": 380, "sleeve-length": 540},
    )
    assert lengths(draft(trueup, "village")) == pytest.approx(lengths(drafted), abs=0.01)
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.state.node("village").draft == BlockDraft(
            "bust-proportion", {**BODY, "bust": "93cm", "waist": "71cm"}
        )


def test_it_is_one_commit_that_says_from_what_to_what_and_why(trueup: Any) -> None:
    before = git(trueup.folder, "rev-list", "--count", "HEAD")
    trueup.made(*BROADER)
    assert int(git(trueup.folder, "rev-list", "--count", "HEAD")) == int(before) + 1
    message = git(trueup.folder, "log", "-1", "--format=%B")
    subject, _, why, _, *measures = message.split("\n")
    assert subject == "Re-measure village: bust 88cm -> 93cm, waist 68cm -> 71cm"
    assert why == "a year later"
    assert 5 < len([line for line in measures if line.endswith(" mm")]) <= 12
    assert "Verb: remeasure" in message
    assert "Node: village" in message
    assert git(trueup.folder, "diff", "--name-only", "HEAD~1").split() == ["blocks/village.toml"]


def test_each_verdict_is_so_by_sampled_lengths(trueup: Any) -> None:
    names = ("village", "easy", "blouse", "vest", "own")
    before = {name: lengths(draft(trueup, name)) for name in names}
    document = trueup.made(*BROADER, "--json").document
    after = {name: lengths(draft(trueup, name)) for name in names}
    verdicts = {each["name"]: each["verdict"] for each in document["patterns"]}
    assert verdicts["vest"] == "partly"
    assert verdicts["easy"] == verdicts["blouse"] == "carried"
    own = {line: mm - before["village"][line] for line, mm in after["village"].items()}
    for pattern in document["patterns"]:
        name, short = pattern["name"], set()
        for measure in pattern["measures"]:
            line = measure["name"]
            if line not in before[name]:
                continue
            got = after[name][line] - before[name][line]
            assert measure["wanted_mm"] == pytest.approx(own[line], abs=0.02)
            assert measure["got_mm"] == pytest.approx(got, abs=0.02)
            if abs(got - own[line]) > max(0.5, 0.02 * abs(own[line])):
                short.add(line)
        assert bool(short) is (pattern["verdict"] == "partly"), name
    (vest,) = [each for each in document["patterns"] if each["name"] == "vest"]
    assert "its own redraw-edge" in vest["note"]


def test_the_page_says_what_came_short_and_how_much_arrived(trueup: Any) -> None:
    out = trueup.made(*BROADER).out
    assert out.startswith("Re-measure village: bust 88cm -> 93cm, waist 68cm -> 71cm\nRecorded as ")
    row = next(line for line in out.splitlines() if line.startswith("front.bust-width"))
    assert " cm -> " in row
    assert re.search(r"^\+ \d carried: .*blouse", out, re.MULTILINE)
    assert "measures arrived" in out
    assert 'its own step "redraw the edge" changes what arrives of front.armhole' in out


def test_a_preview_writes_nothing_and_foretells_what_is_recorded(trueup: Any) -> None:
    before = trueup.contents()
    foretold = trueup.made(*BROADER, "--preview", "--json").document
    assert trueup.contents() == before
    recorded = trueup.made(*BROADER, "--json").document
    assert foretold["correction"].pop("commit") is None
    assert recorded["correction"].pop("commit")
    assert without_commands(foretold) == without_commands(recorded)
    assert recorded["correction"]["remeasured"] == [
        {"name": "bust", "before": "88cm", "after": "93cm"},
        {"name": "waist", "before": "68cm", "after": "71cm"},
    ]


def test_undo_brings_every_pattern_back(trueup: Any) -> None:
    before = prints(trueup)
    trueup.made(*BROADER)
    assert all(now != before[name] for name, now in prints(trueup).items())
    trueup.made("undo")
    assert prints(trueup) == before
    out = trueup.made("history", "village", "--effects").out
    assert "took back: village drafted anew: bust 93cm -> 88cm, waist 71cm -> 68cm" in out
    assert "Re-measured" not in trueup.made("explain", "blouse").out


def test_what_no_longer_holds_is_a_conflict_with_remedies_that_settle_it(trueup: Any) -> None:
    trueup.made("derive", "plain", "--from", "village")
    # The front half of the cap has just room for this, and no more on a broader bust.
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "5mm")
    assert trueup("conflicts", "village").code == 0
    document = trueup.made("remeasure", "village", "--bust", "97cm", "--json").document
    (conflict,) = document["conflicts"]
    assert (conflict["kind"], conflict["arose_at"]) == ("seam", "village")
    assert conflict["id"] in next(
        each["inherits"] for each in document["patterns"] if each["name"] == "plain"
    )
    words = conflict["remedies"][0]["command"].split()
    assert words[:4] == ["trueup", "-C", str(trueup.folder), "decide"]
    settled = trueup.made(*words[3:], "--why", "tried on", "--json").document
    assert conflict["id"] in settled["settled"]
    # The history of the re-measuring tells what was decided about it.
    entries = trueup.made("history", "village", "--effects", "--json").document["history"]
    (entry,) = [each for each in entries if each["verb"] == "remeasure"]
    assert conflict["id"] in entry["conflicts"]
    assert [each["conflict"] for each in entry["decisions"]] == [conflict["id"]]


def test_a_year_later_it_is_told_from_what_to_what_and_why(trueup: Any) -> None:
    foretold = trueup.made(*BROADER, "--json").document
    trueup.made("style", "blouse", "widen-neck", "--by", "10mm")
    (entry,) = [
        each
        for each in trueup.made("history", "--effects", "--json").document["history"]
        if each["verb"] == "remeasure"
    ]
    assert entry["why"] == "a year later"
    assert entry["remeasured"] == foretold["correction"]["remeasured"]
    assert entry["measures"] == foretold["measures"]
    assert without_commands(entry["patterns"]) == without_commands(foretold["patterns"])
    words = "bust 88cm -> 93cm, waist 68cm -> 71cm"
    for page in (
        trueup.made("history").out,
        trueup.made("history", "village", "--effects").out,
        trueup.made("report").out,
        trueup.made("explain", "blouse").out,
        trueup.made("explain", "blouse", "--markdown").out,
    ):
        told = " ".join(page.replace("\\", "").replace("&gt;", ">").split())
        assert words in told
        assert "a year later" in told
    told = trueup.made("explain", "blouse", "--json").document["chain"][0]["remeasured"]
    assert [each["why"] for each in told] == ["a year later"]
    assert told[0]["measurements"] == foretold["correction"]["remeasured"]
    by = trueup.made("measure", "village", "front.hem", "--over-time").out
    assert "Re-measure village: bust 88cm -> 93cm" in " ".join(by.split())


def test_a_garment_cut_before_says_that_its_block_was_measured_anew(trueup: Any) -> None:
    trueup.made("cut", "blouse", "--wearer", "Ada")
    trueup.made(*BROADER)
    out = trueup.made("garment", "blouse-1").out
    assert "blouse was corrected since" in out
    assert "village was drafted anew: bust 88cm -> 93cm, waist 68cm -> 71cm" in out
    since = trueup.made("garment", "blouse-1", "--json").document["since"]
    assert (since["pattern"], since["corrected"], since["steps"]) == ("changed", True, [])
    assert [each["node"] for each in since["remeasured"]] == ["village"]
    assert trueup("alter", "blouse-1").code == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("village",), "Say what village measures now, as in --bust 93cm"),
        (("village", "--bust", "930cm"), "between"),
        (("village", "--waist", "125cm"), "waist"),
        (("village", "--hip", "98cm"), "hip"),
        (("village", "--bust", "broad"), "broad"),
        (("village", "--bust", "88 cm", "--waist", "680mm"), "so nothing was recorded"),
        (("blouse", "--bust", "93cm"), "trueup remeasure village --help"),
        (("nosuch", "--bust", "93cm"), "nosuch"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence_and_nothing_is_written(
    trueup: Any, words: tuple[str, ...], told: str
) -> None:
    before = trueup.contents()
    for more in ((), ("--preview",)):
        assert told in refused(trueup, "remeasure", *words, *more)
    assert trueup.contents() == before


def test_a_traced_block_is_refused(trueup: Any, tmp_path: Path) -> None:
    drawing = str(tmp_path / "village.svg")
    trueup.made("export", "village", drawing)
    trueup.made("trace", drawing, "drawn")
    trueup.made("derive", "smock", "--from", "drawn")
    for name in ("drawn", "smock"):
        assert "it came as a drawing" in refused(trueup, "remeasure", name, "--bust", "93cm")


@pytest.mark.parametrize(
    ("system", "body", "name", "by"),
    [
        ("straight-skirt", SKIRT, "hip", 30),
        ("trousers", TROUSERS, "hip", 20),
        ("direct-measure", DIRECT, "bust", 10),
    ],
)
def test_a_block_of_any_system_is_measured_anew_by_its_own_measurements(
    trueup: Any, system: str, body: dict[str, float], name: str, by: float
) -> None:
    words = [word for taken, mm in body.items() for word in (f"--{taken}", f"{mm:g}mm")]
    trueup.made("draft", "other", "--system", system, *words)
    trueup.made("derive", "made", "--from", "other")
    text = f"{body[name] + by:g}mm"
    document = trueup.made("remeasure", "other", f"--{name}", text, "--json").document
    assert [each["verdict"] for each in document["patterns"]] == ["carried"]
    drafted = draft_block(system, {**body, name: body[name] + by})
    assert lengths(draft(trueup, "other")) == pytest.approx(lengths(drafted), abs=0.01)


def test_a_measurement_changed_by_hand_is_told_alike(trueup: Any) -> None:
    file = trueup.folder / "blocks/village.toml"
    file.write_text(file.read_text().replace('"88cm"', '"93cm"'))
    trueup.made("keep", "--why", "by hand")
    (entry, *_) = trueup.made("history", "village", "--effects", "--json").document["history"]
    assert entry["remeasured"] == [{"name": "bust", "before": "88cm", "after": "93cm"}]
    verdicts = {each["name"]: each["verdict"] for each in entry["patterns"]}
    assert (verdicts["blouse"], verdicts["vest"]) == ("carried", "partly")


def test_edits_by_hand_are_taken_up_before_it(trueup: Any) -> None:
    file = trueup.folder / "blocks/village.toml"
    file.write_text("# for the summer\n" + file.read_text())
    trueup.made(*BROADER)
    text = file.read_text()
    assert text.startswith("# for the summer\n")
    assert '"93cm"' in text
    status = subprocess.run(
        ["git", "-C", str(trueup.folder), "status", "--porcelain"], capture_output=True, check=True
    )
    assert status.stdout == b""
