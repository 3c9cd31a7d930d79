"""What a maker left out when a block was traced: it is named, is no verdict, and is said later."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.commands.begin.drawn import drawn
from tests.cli.commands.begin.test_trace_proposed import draft_of

SEAMS = {
    "side-seam": ("front.side", "back.side"),
    "armhole-seam": ("sleeve.cap", "front.armhole back.armhole"),
    "sleeve-seam": ("sleeve.back-seam", "sleeve.front-seam"),
}


@pytest.fixture
def paper(trueup: Any, tmp_path: Path) -> Any:
    """Trace a block of which the shoulder and the sleeve seam are stated, and derive from it."""
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup("trace", str(file), "paper", "--write-names", str(names))
    seams = names.read_text("utf-8").split("[[seam]]")
    rest = seams[-1][seams[-1].index("[[join]]") :]
    kept = [each for each in seams[:-1] if "side-seam" not in each and "armhole-seam" not in each]
    last = seams[-1][: seams[-1].index("[[join]]")]
    names.write_text("[[seam]]".join([*kept, *([last] if "sleeve-seam" in last else [])]) + rest)
    answer = trueup.made("trace", str(file), "paper", "--names", str(names))
    told = "no seam of front.armhole, front.side, back.armhole, back.side, sleeve.cap"
    assert told in " ".join(answer.err.split())
    trueup.made("derive", "smock", "--from", "paper")
    return trueup


LINES = {"front.side", "front.armhole", "back.side", "back.armhole", "sleeve.cap"}


def test_each_line_that_nothing_is_said_of_is_named_and_how_to_say_it_once(paper: Any) -> None:
    for node in ("paper", "smock"):
        answer = paper("check", node)
        document = paper("check", node, "--json").document
        assert answer.code == 1
        assert ({*document["unchecked"]}, document["true"]) == (LINES, False)
        assert {(f["code"], f["arose_at"]) for f in document["findings"]} == {("unstated", "paper")}
        told = " ".join(answer.out.split())
        assert f"{node} cannot be called true: no seam is stated for" in told
        assert f"{node} is true" not in told
        assert told.count("sew-together") == told.count("leave-free") == 1
    assert paper("conflicts").code == 0


def test_a_pattern_that_draws_such_a_line_anew_asks_no_second_time(paper: Any) -> None:
    paper.made("style", "smock", "add-ease", "--by", "40mm")
    before, after = (
        paper("check", node, "--json").document["findings"] for node in ("paper", "smock")
    )
    ids = {each["id"] for each in before}
    assert {each["id"] for each in after if each["code"] == "unstated"} == ids


def test_a_verdict_that_rests_on_such_a_line_says_so(paper: Any) -> None:
    document = paper.made("correct", "paper", "shorten-shoulder", "--by", "5mm", "--json").document
    assert {*document["unchecked"]} == LINES
    assert [{*each["unchecked"]} for each in document["patterns"]] == [LINES]


def test_what_is_proposed_for_it_was_tried_out_and_settles_it(paper: Any) -> None:
    for line, remedy in (("front.side", "side-seam"), ("sleeve.cap", "armhole-seam")):
        found = paper("check", "paper", "--json").document["findings"]
        (asked,) = [each for each in found if f"{each['piece']}.{each['edge']}" == line]
        (conflict,) = paper("conflicts", asked["id"], "--json").document["conflicts"]
        offered = [each["name"] for each in conflict["remedies"]]
        assert offered == [f"sew-{remedy}", "leave-free", "accept"]
        paper.made("decide", asked["id"], f"sew-{remedy}", "--why", "as on the card")
    for node in ("paper", "smock"):
        assert f"{node} is true" in paper.made("check", node).out


def test_it_is_said_a_year_later_as_a_correction_and_reaches_what_derives(paper: Any) -> None:
    for name in ("side-seam", "armhole-seam"):
        line, to = SEAMS[name]
        ease = ("--low", "25mm", "--high", "45mm") if name == "armhole-seam" else ()
        words = ("sew-together", "--line", line, "--to", to, "--name", name, *ease)
        document = paper.made("correct", "paper", *words, "--json").document
        assert [each["verdict"] for each in document["patterns"]] == ["carried"]
    assert "smock is true" in paper.made("check", "smock").out


def test_a_line_that_is_said_to_be_free_is_asked_for_no_more(paper: Any, tmp_path: Path) -> None:
    for line in sorted(LINES):
        paper.made("correct", "paper", "leave-free", "--edge", line, "--why", "a tabard")
    for node in ("paper", "smock"):
        assert paper.made("check", node, "--json").document["unchecked"] == []
    assert "a tabard" in paper.made("history", "paper").out
    paper.made("export", "smock", str(tmp_path / "smock.svg"))
    paper.made("trace", str(tmp_path / "smock.svg"), "again")
    assert "again is true" in paper.made("check", "again").out


def test_in_the_text_file_a_line_is_said_to_be_free(trueup: Any, tmp_path: Path) -> None:
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup("trace", str(file), "paper", "--write-names", str(names))
    seams = names.read_text("utf-8").split("[[seam]]")
    text = "[[seam]]".join(each for each in seams if 'name = "side-seam"' not in each)
    for piece in ("front", "back"):
        name = f'name = "{piece}"\n'
        assert text.count(name) == 1
        text = text.replace(name, f'{name}free = ["side"]\n')
    names.write_text(text, "utf-8")
    answer = trueup.made("trace", str(file), "paper", "--names", str(names))
    assert "no seam of" not in answer.err
    assert "paper is true" in trueup.made("check", "paper").out
    names.write_text(text.replace('free = ["side"]', 'free = ["top"]', 1), "utf-8")
    answer = trueup("trace", str(file), "other", "--names", str(names))
    assert (answer.code, answer.out) == (2, "")
    assert '"top" is not an edge of front' in answer.err


def test_a_seam_stated_wrongly_is_taken_out_and_what_it_sewed_is_asked_for(trueup: Any) -> None:
    trueup.made("correct", "village", "unpick", "--seam", "sleeve-seam", "--why", "it was a guess")
    found = trueup("check", "village", "--json").document
    assert found["unchecked"] == ["sleeve.back-seam", "sleeve.front-seam"]
    (asked, _) = found["findings"]
    trueup.made("decide", asked["id"], "sew-sleeve-seam", "--why", "it was right")
    assert "village is true" in trueup.made("check", "village").out
