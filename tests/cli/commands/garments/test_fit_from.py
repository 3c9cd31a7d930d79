"""trueup fit-from: from pins to a fitting that `correct` takes."""

import shlex
from pathlib import Path
from typing import Any

import pytest

PINS = (
    *("--pinned", "front.shoulder=6mm", "--pinned", "front.side=8mm"),
    *("--pinned", "front.armhole=5mm@50%", "--pinned", "front.bust=10mm"),
)


def measured(trueup: Any, node: str) -> Any:
    return trueup.made("measure", node, "--json").document["measures"]


def test_pins_become_a_fitting_that_takes_up_what_was_pinned(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "fitting.toml"
    old = measured(trueup, "blouse")
    before = trueup.contents()
    words = (*PINS, "--pinned", "sleeve.crown=4mm", "--write", str(file))
    answer = trueup.made("fit-from", "blouse", *words)
    assert trueup.contents() == before
    assert f"correct blouse --from {file} --preview" in answer.out
    trueup.made("correct", "blouse", "--from", str(file))
    new = measured(trueup, "blouse")
    assert new["front.shoulder"] - old["front.shoulder"] == pytest.approx(-6)
    assert new["front.bust-width"] - old["front.bust-width"] == pytest.approx(-8, abs=0.02)
    assert new["sleeve.cap-height"] - old["sleeve.cap-height"] == pytest.approx(-4)
    # The side that is taken in after it draws the dart's mouth nearer to the bust point.
    assert 12 < new["front.bust.intake"] - old["front.bust.intake"] < 15
    document = trueup.made("fit-from", "blouse", *PINS, "--json").document
    taken_up = document["corrections"][1]["measures"][0]
    assert taken_up["name"] == "front.bust.intake"
    assert taken_up["after_mm"] - taken_up["before_mm"] == pytest.approx(15)


def test_the_page_explains_halves_and_doubles(trueup: Any) -> None:
    words = ("--pinned", "side-seam=16mm", "--let-out", "biceps=8mm")
    out = trueup.made("fit-from", "blouse", *words).out
    assert "half of the cloth taken up belongs to each" in out
    assert "correct blouse add-ease --by -32mm --preview" in out
    assert "the reverse of pinning it" in out
    assert "nothing is recorded" in out
    assert "--on village" in out
    assert '[[corrections]]\nkind = "add-ease"\nby = "-32mm"\n' in out


def test_a_fault_of_the_block_is_mended_there(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "fitting.toml"
    words = ("--pinned", "front.shoulder=6mm", "--on", "block", "--write", str(file))
    document = trueup.made("fit-from", "blouse", *words, "--json").document
    assert (document["pattern"], document["node"]) == ("blouse", "village")
    assert document["corrections"][0]["shaped_at"] == "easy"
    old = measured(trueup, "own")
    trueup.made("correct", "village", "--from", str(file))
    assert measured(trueup, "own")["front.shoulder"] - old["front.shoulder"] == pytest.approx(-6)


def test_each_correction_says_what_it_does_and_can_be_previewed(trueup: Any) -> None:
    document = trueup.made("fit-from", "blouse", *PINS, "--json").document
    kinds = [each["kind"] for each in document["corrections"]]
    assert kinds == ["shorten-shoulder", "deepen-dart", "add-ease"]
    for each in document["corrections"]:
        assert each["reason"]
        assert each["mark"] == "common practice"
        assert each["measures"]
        words = shlex.split(each["command"])
        assert trueup(*words[3:]).code == 0


def test_a_file_that_is_there_is_not_written_over(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "fitting.toml"
    file.write_text("mine", encoding="utf-8")
    words = ("fit-from", "blouse", "--pinned", "front.side=8mm", "--write", str(file))
    answer = trueup(*words)
    assert answer.code == 2
    assert "is there already" in answer.err
    assert file.read_text(encoding="utf-8") == "mine"
    trueup.made(*words, "--force")
    assert "add-ease" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "at least one place"),
        (("--pinned", "front.sid=8mm"), "front.side"),
        (("--pinned", "front.side"), "front.side=8mm"),
        (("--pinned", "front.side=8mm", "--on", "own"), "easy, village"),
        (("--pinned", "front.side=8mm", "--on", "nosuch"), "nosuch"),
        (("--pinned", "front.side=8mm", "--pinned", "back.side=4mm"), "add-ease"),
        (("--pinned", "back.armhole=8mm"), "rotate-dart"),
        (("--pinned", "front.shoulder=140mm"), "as far as"),
        (("--pinned", "front.side=8mm", "--write", "/nowhere/at/all.toml"), "no folder"),
    ],
)
def test_bad_input_is_one_sentence(trueup: Any, words: tuple[str, ...], says: str) -> None:
    before = trueup.contents()
    answer = trueup("fit-from", "blouse", *words)
    assert (answer.code, answer.out) == (2, "")
    assert says in answer.err
    assert answer.err.count("\n") == 1
    assert trueup.contents() == before


def test_the_help_warns_of_pins_and_blades(anywhere: Any) -> None:
    assert "before" in (out := anywhere("fit-from", "--help").out)
    assert "blade" in out
