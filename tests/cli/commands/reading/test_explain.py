"""trueup explain: how a pattern came to be."""

from typing import Any

import pytest


def test_the_chain_is_told_from_the_block_to_the_pattern(corrected: Any) -> None:
    out = corrected.made("explain", "blouse").out
    heads = ["village (block)", "easy (block)", "blouse (pattern)"]
    places = [out.index(f"\n{head}\n") for head in heads]
    assert places == sorted(places)
    assert "Drafted by bust-proportion from bust 88cm" in out
    assert (
        "1. Hollow the armhole of the front by 2 cm at 55% of the way from the shoulder point. "
        "(correction" in out
    )
    assert "1. Lengthen the shoulder by 0.5 cm. Why: as agreed. (style" in out
    assert "Why: as agreed." in out
    assert "What the steps changed, from the block to blouse" in out


def test_conflicts_and_decisions_stand_where_they_arose(corrected: Any) -> None:
    conflict = corrected("conflicts", "village", "--json").document["conflicts"][0]["id"]
    (told,) = lines_with(conflict, corrected.made("explain", "village").out)
    assert told.startswith("Conflict with a correction of village, open")
    corrected.made("decide", conflict, "refit-cap", "--why", "hung well before")
    out = corrected.made("explain", "village").out
    hollow, met, refit = (
        out.index(words)
        for words in ("1. Hollow", "Conflict with a correction of village, settled", "2. Refit")
    )
    assert hollow < met < refit
    assert lines_with(conflict, out)[0].startswith("Conflict with a correction of village, settled")
    assert "(refit-cap): hung well before." in out


def lines_with(word: str, out: str) -> list[str]:
    return [line.strip() for line in out.splitlines() if word in line]


def test_as_of_an_earlier_version(corrected: Any) -> None:
    assert "Hollow" not in corrected.made("explain", "village", "--as-of", "HEAD~1").out


def test_json_gives_every_step_with_its_measures_and_its_commit(corrected: Any) -> None:
    document = corrected.made("explain", "own", "--json").document
    assert [each["node"] for each in document["chain"]] == ["village", "own"]
    (scoop,) = document["chain"][0]["steps"]
    assert scoop["id"] == corrected.step_of("village")
    history = corrected.made("history", "--last", "1", "--json").document["history"]
    assert (scoop["commit"], scoop["author"]) == (history[0]["commit"], history[0]["author"])
    names = [each["name"] for each in scoop["measures"]]
    assert names == ["front.chest-width", "front.armhole", "sleeve.cap-ease"]
    measured = corrected.made("measure", "own", "--json").document["measures"]
    assert document["measures"] == measured


def test_markdown_escapes_what_makers_wrote(trueup: Any) -> None:
    why = "<b>[click](http://x.example)</b> | # none"
    trueup.made("style", "own", "lower-neck", "--piece", "front", "--by", "5mm", "--why", why)
    out = trueup.made("explain", "own", "--markdown").out
    assert out.startswith("# How own came to be\n")
    assert r"\<b>\[click\](http\://x.example)\</b> \| \# none" in out


@pytest.mark.parametrize("width", ["50", "80"])
def test_numbered_steps_keep_their_words_in_line(
    corrected: Any, monkeypatch: pytest.MonkeyPatch, width: str
) -> None:
    whole = corrected.made("explain", "blouse").out
    monkeypatch.setenv("COLUMNS", width)
    out = corrected.made("explain", "blouse").out
    assert "".join(out.split()) == "".join(whole.split())
    assert all(len(line) <= int(width) for line in out.splitlines())
    after_heading = out[out.index("easy (block)") :].splitlines()[2:6]
    assert after_heading[0].startswith("  1. ")
    assert all(line.startswith("     ") for line in after_heading[1:])


def test_edits_by_hand_are_part_of_the_answer(trueup: Any) -> None:
    file = trueup.folder / "patterns/own.toml"
    file.write_text(file.read_text().replace('"4mm"', '"5mm"'))
    answer = trueup.made("explain", "own")
    assert "by 0.5 cm" in answer.out
    assert "Edited by hand" in answer.err


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("nobody",), 'There is no block or pattern "nobody"'),
        (("own", "--as-of", "nope"), 'There is no version "nope"'),
        (("own", "--json", "--markdown"), "ask for one of them"),
    ],
)
def test_what_cannot_be_told_is_refused_in_one_sentence(
    trueup: Any, words: tuple[str, ...], sentence: str
) -> None:
    answer = trueup("explain", *words)
    assert (answer.code, answer.out) == (2, "")
    assert sentence in answer.err
    assert len(answer.err.splitlines()) == 1
