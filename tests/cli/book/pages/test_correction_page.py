"""The page of a correction, beside what `history --effects` tells of the same step."""

import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from tests.cli.book.opened import Book, opened, tags

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")


@pytest.fixture
def made(trueup: Any) -> str:
    """The short id of a correction that conflicts, after a garment was cut."""
    trueup.made("cut", "blouse", "--name", "tea", "--wearer", "Ana")
    return str(
        trueup.made(*SCOOP, "--why", "it <b>binds</b>", "--json").document["correction"]["commit"][
            :10
        ]
    )


def bound(trueup: Any, place: Path) -> Book:
    trueup.made("book", str(place / "book.html"), "--force")
    return opened(place / "book.html")


def told(trueup: Any, commit: str) -> Any:
    history = trueup.made("history", "--effects", "--json").document["history"]
    return next(each for each in history if each["commit"].startswith(commit))


def words_of(html: str) -> str:
    """Return what a reader reads, in the order of the page."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def rows(page: str) -> list[str]:
    """Return what there is to say of each descendant that not all arrived in, as text."""
    _, _, inside = page.partition("<ol class=became>")
    return [words_of(each) for each in inside.partition("</ol>")[0].split("<li>\n<div>")[1:]]


def carried(page: str) -> list[str]:
    """Return the names of those in which all arrived."""
    return re.findall(r'<li><a href="[^"]+">([^<]+)</a>\s*<ul', page)


def test_every_descendant_has_one_row_with_its_verdict(
    trueup: Any, made: str, tmp_path: Path
) -> None:
    page = bound(trueup, tmp_path).page(f"correction/{made}")
    patterns = told(trueup, made)["patterns"]
    quiet = [
        each["name"]
        for each in patterns
        if each["verdict"] == "carried" and not each["conflicts"] and not each["inherits"]
    ]
    loud = rows(page)
    assert len(loud) + len(quiet) == len(patterns)
    for each in patterns:
        if each["name"] not in quiet:
            (row,) = [row for row in loud if row.startswith(f"{each['name']} ")]
            assert each["verdict"] in row.split(" ")[:3]
    assert carried(page) == quiet


def test_what_asks_for_a_decision_comes_first(trueup: Any, made: str, tmp_path: Path) -> None:
    found = rows(bound(trueup, tmp_path).page(f"correction/{made}"))
    verdicts = [row.split(" ")[2] for row in found]
    order = ["conflict", "lost", "partly", "doubled", "held", "carried"]
    assert verdicts == sorted(verdicts, key=order.index)


def test_reason_amounts_and_garments_cut_before_are_told(
    trueup: Any, made: str, tmp_path: Path
) -> None:
    trueup.made("cut", "blouse", "--name", "late", "--wearer", "Ana")
    book = bound(trueup, tmp_path)
    page = book.page(f"correction/{made}")
    words = words_of(page)
    assert "hollow the armhole of the front by 2 cm" in words
    assert "it <b>binds</b>" in words
    assert "it <b>" not in page
    assert "Cut before it: tea ." in words
    assert "late" not in words
    for each in told(trueup, made)["patterns"]:
        for measure in each["measures"]:
            assert measure["name"] in words


def test_what_it_mends_is_told_as_it_was_seen(trueup: Any, tmp_path: Path) -> None:
    trueup.made("cut", "blouse", "--name", "tea")
    seen = ("armhole-binds", "--place", "front.armhole", "--amount", "8mm", "--side", "right")
    note = trueup.made("note", "tea", *seen, "--json").document["note"]["id"]
    made = trueup.made(*SCOOP, "--mends", note, "--json").document["correction"]["commit"]
    words = words_of(bound(trueup, tmp_path).page(f"correction/{made[:10]}"))
    assert "It mends what was seen on tea : front armhole binds, 0.8 cm, right side." in words


def test_conflicts_and_decisions_are_told_by_what_they_are_about(
    trueup: Any, made: str, tmp_path: Path
) -> None:
    waiting = trueup("conflicts", "easy", "--json").document["conflicts"]
    settled = next(each for each in waiting if each["arose_at"] == "easy")
    trueup.made("decide", settled["id"], "refit-cap", "--why", "as <i>before</i>")
    page = bound(trueup, tmp_path).page(f"correction/{made}")
    decided = words_of(page.partition("id=decided>")[2])
    found = re.search(r"easy: the [a-z ]*sleeve cap held [\d.]+ cm too little", decided)
    assert found
    about = found[0]
    assert decided.startswith(f"What was decided about it {about}")
    assert f"{about} (settled) Refit the sleeve cap. as <i>before</i> 20" in decided
    assert "<i>before" not in page
    became = words_of(page.partition("id=decided>")[0])
    assert f"It took over a conflict and settles with it: {about} (settled)" in became
    assert settled["id"] not in words_of(page)


def test_it_is_found_from_start_history_and_versions(
    trueup: Any, made: str, tmp_path: Path
) -> None:
    book = bound(trueup, tmp_path)
    for address in ("start", "history", "block/village"):
        links = {t.attributes.get("href") for t in tags(book.page(address)) if t.name == "a"}
        assert f"#/correction/{made}" in links, address


def test_one_that_was_taken_back_says_so_and_is_not_told_of_at_the_start(
    trueup: Any, made: str, tmp_path: Path
) -> None:
    trueup.made("undo")
    book = bound(trueup, tmp_path)
    assert "taken back later" in words_of(book.page(f"correction/{made}"))
    assert made not in book.page("start")


def test_a_block_measured_anew_has_a_page(trueup: Any, tmp_path: Path) -> None:
    answer = trueup.made(
        "remeasure", "village", "--bust", "90cm", "--why", "a year later", "--json"
    )
    commit = answer.document["correction"]["commit"][:10]
    words = words_of(bound(trueup, tmp_path).page(f"correction/{commit}"))
    assert "village measured anew" in words
    assert "a year later" in words


def test_a_bound_amount_is_told_as_it_comes_to_and_as_it_is_written(
    trueup: Any, tmp_path: Path
) -> None:
    bound_amount = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "bust/88")
    commit = trueup.made(*bound_amount, "--json").document["correction"]["commit"][:10]
    words = words_of(bound(trueup, tmp_path).page(f"correction/{commit}"))
    assert "hollow the armhole of the front by 1 cm" in words
    assert "(by: bust/88)" in words
