"""The page of a conflict, beside what really deciding it comes to in a copy of the wardrobe."""

import re
import shutil
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from tests.cli.book.opened import Book, opened, tags
from tests.cli.conftest import Trueup
from tests.sharing.copied import copied
from trueup.cli.opening import reading
from trueup.lineage.trying import tried


def bound(trueup: Any, place: Path) -> Book:
    trueup.made("book", str(place / "book.html"), "--force")
    return opened(place / "book.html")


def listed(trueup: Any) -> list[Any]:
    return trueup("conflicts", "--all", "--json").document["conflicts"]


def words_of(html: str) -> str:
    """Return what a reader reads, in the order of the page."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def cards(page: str) -> dict[tuple[str, str], str]:
    """Return the HTML of each card by its conflict and its remedy."""
    found = re.findall(
        r'<article class=remedy data-conflict="([^"]+)" data-remedy="([^"]+)"(.*?)</article>',
        page,
        re.DOTALL,
    )
    return {(conflict, remedy): html for conflict, remedy, html in found}


def decided(trueup: Any, place: Path, conflict: str, remedy: str) -> Trueup:
    """Return a copy of the wardrobe in which a conflict was decided."""
    copied(trueup.folder, place)
    copy = Trueup(place)
    copy.made("decide", conflict, remedy, "--why", "to see what it comes to")
    return copy


def measures(trueup: Any, node: str) -> dict[str, float]:
    return dict(trueup.made("measure", node, "--json").document["measures"])


def numbers(words: str) -> list[float]:
    """Return the lengths in centimetres that stand in some words, mm."""
    found = re.findall(r"([\N{MINUS SIGN}]?[\d.]+) cm", words)
    return [10 * float(each.replace("\N{MINUS SIGN}", "-")) for each in found]


def told_of(html: str, name: str) -> list[float]:
    """Return the lengths that a card tells of a measure, mm."""
    rows = re.findall(r"<div><dt>([^<]*)</dt><dd>([^<]*)</dd></div>", html)
    said = [words for dt, words in rows if dt == name.replace(".", " ").replace("-", " ")]
    return numbers(said[0]) if said else []


def test_every_remedy_that_is_offered_has_a_card_with_its_command(
    corrected: Any, tmp_path: Path
) -> None:
    book = bound(corrected, tmp_path)
    seen = 0
    for conflict in listed(corrected):
        page = book.page(f"conflict/{conflict['id']}")
        names = [(conflict["id"], each["name"]) for each in conflict["remedies"]]
        assert list(cards(page)) == names
        for (_, remedy), html in cards(page).items():
            assert f"trueup decide {conflict['id']} {remedy}" in words_of(html)
            assert "cannot be tried out" not in html
            seen += 1
    assert seen > 8


def test_a_card_tells_the_ease_and_the_measures_that_deciding_it_comes_to(
    corrected: Any, tmp_path: Path
) -> None:
    book = bound(corrected, tmp_path)
    compared = 0
    for count, conflict in enumerate(listed(corrected)):
        node = conflict["arose_at"]
        before = measures(corrected, node)
        for remedy in [each["name"] for each in conflict["remedies"]]:
            place = tmp_path / f"copy-{count}-{remedy}"
            copy = decided(corrected, place, conflict["id"], remedy)
            after = measures(copy, node)
            html = cards(book.page(f"conflict/{conflict['id']}"))[conflict["id"], remedy]
            for name, mm in after.items():
                if abs(mm - before[name]) > 0.1 and not name.endswith("-ease"):
                    assert told_of(html, name)[:2] == pytest.approx([before[name], mm], abs=0.51)
                    compared += 1
            if conflict["kind"] == "seam":
                walked = copy.made("walk", node, "--json").document["seams"]
                (seam,) = [each for each in walked if each["name"] == "armhole-seam"]
                eases = [seam["ease_mm"], *(each["ease_mm"] for each in seam["sections"])]
                bands = re.findall(r"<span class=amounts>([^<]*)</span>", html)
                assert [numbers(each)[-1] for each in bands] == pytest.approx(eases, abs=0.51)
                compared += len(eases)
            shutil.rmtree(place)
    assert compared > 20


def test_trying_out_comes_to_what_deciding_makes_and_keeps_nothing(
    corrected: Any, tmp_path: Path
) -> None:
    contents = corrected.contents()
    for count, conflict in enumerate(listed(corrected)):
        node = conflict["arose_at"]
        for remedy in [each["name"] for each in conflict["remedies"]]:
            with reading(corrected.folder) as here:
                after = tried(here.evaluator, here.wardrobe.base, conflict["id"], remedy)
                shape = after.fingerprint(node)
            copy = decided(corrected, tmp_path / f"c{count}-{remedy}", conflict["id"], remedy)
            with reading(copy.folder) as there:
                assert there.evaluator.fingerprint(node) == shape, (conflict["id"], remedy)
    assert corrected.contents() == contents


def test_an_open_conflict_says_so_and_its_id_stands_small(corrected: Any, tmp_path: Path) -> None:
    book = bound(corrected, tmp_path)
    for conflict in listed(corrected):
        page = book.page(f"conflict/{conflict['id']}")
        (title,) = [t for t in tags(page) if t.name == "h1"]
        assert conflict["id"] not in "".join(title.text)
        assert "".join(title.text).startswith(f"{conflict['arose_at']}: ")
        assert next(t.text for t in tags(page) if t.name == "code") == [conflict["id"]]
        assert "! Open: it waits for a decision." in words_of(page)
        assert "Settled" not in words_of(page)
        assert book.pages[f"conflict/{conflict['id']}"]["title"] == "".join(title.text)


def cap(trueup: Any) -> Any:
    return next(each for each in listed(trueup) if each["arose_at"] == "village")


def test_a_settled_conflict_says_who_decided_it_when_and_why_and_never_looks_open(
    corrected: Any, tmp_path: Path
) -> None:
    conflict = cap(corrected)
    held = re.search(r"cap holds ([\d.]+ cm) too little", bound_title(corrected, tmp_path))
    assert held
    corrected.made("decide", conflict["id"], "refit-cap", "--why", "It hung well so.")
    (entry,) = [
        each
        for each in corrected.made("history", "--json").document["history"]
        if each["verb"] == "decide"
    ]
    page = bound(corrected, tmp_path).page(f"conflict/{conflict['id']}")
    said = words_of(page)
    for word in ("Open", "waits", "How it can be settled", "cap holds"):
        assert word not in said, word
    assert f"cap held {held[1]} too little" in said
    assert not cards(page)
    assert "+ Settled: it holds again." in said
    assert f"version {entry['commit'][:10]}" in said
    assert entry["when"][:10] in said
    assert entry["author"].partition(" <")[0] in said
    assert "It hung well so." in said
    assert "Redraw the cap by +" in said


def bound_title(trueup: Any, place: Path) -> str:
    return str(bound(trueup, place).pages[f"conflict/{cap(trueup)['id']}"]["title"])


def test_a_decision_that_was_taken_back_leaves_it_open_and_is_told(
    corrected: Any, tmp_path: Path
) -> None:
    conflict = cap(corrected)
    corrected.made("decide", conflict["id"], "refit-cap", "--why", "too soon")
    corrected.made("undo")
    page = bound(corrected, tmp_path).page(f"conflict/{conflict['id']}")
    said = words_of(page)
    assert "! Open: it waits for a decision." in said
    assert "What was decided before" in said
    assert "(taken back)" in said
    assert [remedy for _, remedy in cards(page)] == [r["name"] for r in conflict["remedies"]]


@pytest.mark.parametrize(
    ("remedy", "says", "tense", "offered"),
    [
        ("accept", "+ Accepted: it was decided to leave it.", "holds", []),
        ("hold", "+ Decided: it stays on its parent as that was.", "held", ["follow"]),
    ],
)
def test_what_was_accepted_and_what_is_held_are_told_apart(
    trueup: Any, tmp_path: Path, remedy: str, says: str, tense: str, offered: list[str]
) -> None:
    trueup.made("style", "blouse", "raise-cap", "--by", "1mm")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    conflict = next(
        each for each in listed(trueup) if each["arose_at"] == "blouse" and each["kind"] == "seam"
    )
    trueup.made("decide", conflict["id"], remedy, "--why", "as agreed")
    page = bound(trueup, tmp_path).page(f"conflict/{conflict['id']}")
    said = words_of(page)
    assert says in said
    assert f"cap {tense} " in said
    assert "Open" not in said
    assert [name for _, name in cards(page)] == offered


def test_no_drawing_of_a_page_bears_a_sentence(corrected: Any, tmp_path: Path) -> None:
    corrected.made("cut", "blouse", "--name", "tea")
    book = bound(corrected, tmp_path)
    seen = set()
    for address, page in book.pages.items():
        kind = address.partition("/")[0]
        if kind in ("conflict", "correction", "garment"):
            for drawn in re.findall(r"<text[^>]*>([^<]*)</text>", page["content"]):
                assert re.fullmatch(r"[a-z-]+|\d+|cut \d.*", drawn), (address, drawn)
                seen.add(kind)
    assert seen == {"conflict", "correction", "garment"}
