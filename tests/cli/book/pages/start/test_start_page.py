"""The start page as HTML: all that needs attention, by urgency, and the graph as it is by now."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.cli.book.opened import Tag, tags, text
from tests.cli.conftest import Trueup, build, run
from tests.sharing.copied import copied
from trueup.cli.book.addresses import MenuEntry, menu
from trueup.cli.book.pages.start import start_page
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import all_addresses, view
from trueup.cli.opening import reading

URGENCY = ("files", "conflicts", "findings", "held", "notes", "outgrown", "behind")
SIZES = ("--bust", "88cm", "--waist", "68cm", "--back-length", "38cm", "--sleeve-length", "54cm")
WORN = "her shawl covers it"


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wardrobe in which something of every matter needs attention."""
    folder = tmp_path_factory.mktemp("busy") / "theatre"
    build(folder)
    trueup = Trueup(folder)
    trueup.made("cut", "blouse", "--name", "tea-blouse", "--wearer", "Ida")
    trueup.made("cut", "vest", "--name", "waistcoat")
    trueup.made(
        *("note", "tea-blouse", "armhole-binds", "--place", "front.armhole", "--amount", "8mm"),
        *("--words", "It binds when she reaches"),
    )
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    waiting = trueup("conflicts", "vest", "--json").document["conflicts"]
    trueup.made("decide", waiting[0]["id"], "hold", "--why", WORN)
    waiting = trueup("conflicts", "easy", "--json").document["conflicts"]
    settled = next(each for each in waiting if each["arose_at"] == "easy")
    trueup.made("decide", settled["id"], "refit-cap", "--why", "as before")
    trueup.made("body", "Ida", *SIZES, "--date", "2026-01-05")
    trueup.made("draft", "ida-block", "--for", "Ida")
    trueup.made("body", "Ida", "--bust", "91cm", "--date", "2026-03-05")
    trueup.made("derive", "long", "--from", "ida-block")
    trueup.made("style", "long", "lengthen", "--by", "4cm", "--piece", "front")
    return folder


@contextmanager
def source_of(folder: Path, versions: int = 2) -> Iterator[BookSource]:
    with reading(folder, evaluated=True) as opened:
        yield BookSource(opened, versions)


@pytest.fixture(scope="module")
def start(busy: Path) -> str:
    with source_of(busy) as source:
        return str(view(source, "start").content)


def groups(html: str) -> dict[str, str]:
    """Return the part of the page of each matter, in order."""
    parts = re.split(r'aria-labelledby="needs-(\w+)"', html)
    return {
        name: part.partition("</section>")[0]
        for name, part in zip(parts[1::2], parts[2::2], strict=True)
    }


def links(html: str) -> list[Tag]:
    return [each for each in tags(html) if each.name == "a"]


def test_what_needs_attention_stands_by_urgency_each_matter_once(start):
    found = list(groups(start))
    assert found == [each for each in URGENCY if each != "files"]


def test_every_row_says_the_matter_with_its_figure_and_leads_to_a_page(busy, start):
    with source_of(busy) as source:
        known = set(all_addresses(source))
    said = {name: text(part) for name, part in groups(start).items()}
    cap = r"village: the front part of the sleeve cap holds [\d.]+ cm too little"
    assert re.search(cap, said["conflicts"])
    assert "Met by village: hollow the armhole of the front by 2 cm" in said["conflicts"]
    assert "3 ways to settle it." in said["conflicts"]
    assert re.search(r"long: .*side seam is [\d.]+ cm longer than", said["findings"])
    stays = "vest: stays on an earlier village, and a correction since did not reach it"
    assert stays in said["held"]
    assert WORN in said["held"]
    assert "tea-blouse: front armhole binds, 0.8 cm" in said["notes"]
    assert "Cut from blouse, worn by Ida" in said["notes"]
    assert "It binds when she reaches." in said["notes"]
    assert "Cut before village was corrected: hollow the armhole" in said["outgrown"]
    assert re.search(r"ida-block: drafted for ida, does not follow .*bust", said["behind"])
    for name, part in groups(start).items():
        found = [each.attributes["href"].removeprefix("#/") for each in links(part)]
        assert found, name
        assert {each.removesuffix("/attention") for each in found} <= known, name


def test_no_sentence_of_it_stands_twice(start):
    needed = start.partition("id=graph")[0]
    told = [text(part) for part in re.findall(r"<p class=(?:matter|caption).*?</p>", needed, re.S)]
    assert len(told) > 6
    assert len(told) == len(set(told))


def test_the_settled_is_not_told_of_as_a_conflict_anywhere_on_the_page(start):
    assert "easy: " not in text(groups(start)["conflicts"])
    drawn = start.partition("<svg")[2].partition("</svg>")[0]
    easy = drawn.partition(">easy<")[2].partition("</a>")[0]
    assert "+ settled" in easy
    assert "!" not in easy
    listed = start.partition("class=tree")[2]
    assert "+ settled" in listed.partition(">easy<")[2].partition("</li>")[0]


def test_the_graph_stands_under_the_correction_it_shows(start):
    said = text(start.partition("id=graph")[2].partition("<svg")[0])
    assert "village: hollow the armhole of the front by 2 cm" in said
    assert "1 settled" in said
    assert "1 held" in said
    assert "1 waits for a decision" in said


def test_every_sign_of_the_graph_is_explained_beside_it_and_none_in_it(start):
    drawn, _, beside = start.partition("<svg")[2].partition("</svg>")
    key = re.findall(r"</span>([^<]+)</li>", beside.partition("</ul>")[0])
    words = {"".join(each.text).strip() for each in tags(f"<svg{drawn}") if each.name == "text"}
    told = {each[2:] for each in words if each[:2] in ("+ ", "~ ", "- ", "= ", "2 ")}
    assert {"settled", "held"} <= told
    for word in told:
        assert any(each.startswith(f"{word}: ") for each in key), word
    assert "open conflict: waits for a decision" in key
    assert key[:3] == ["block", "pattern", "a conflict waits for a decision"]
    assert "Bold frame" not in drawn


def test_of_a_matter_with_much_in_it_the_rest_is_folded_and_nothing_left_out(built, tmp_path):
    trueup = Trueup(copied(built, tmp_path / "w"))
    trueup.made("cut", "blouse", "--name", "tea-blouse")
    for number in range(9):
        place = ("--place", "front.armhole", "--amount", f"{number + 1}mm")
        trueup.made("note", "tea-blouse", "armhole-binds", *place)
    with source_of(trueup.folder) as source:
        part = groups(str(view(source, "start").content))["notes"]
    assert len(re.findall(r'href="#/garment/tea-blouse"', part)) == 9
    assert "<summary>3 more</summary>" in part


def test_of_conflicts_by_the_dozen_the_rest_is_left_to_the_page_of_all(
    built, tmp_path, monkeypatch
):
    for most in ("_MOST_ROWS", "_MOST_FOLDED"):
        monkeypatch.setattr(start_page, most, 0)
    trueup = Trueup(copied(built, tmp_path / "w"))
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    with source_of(trueup.folder) as source:
        part = groups(str(view(source, "start").content))["conflicts"]
        listed = str(view(source, "conflicts").content)
        waiting = [each.id for each in source.state.open_conflicts]
    assert f'<a href="#/conflicts">{len(waiting)} more, on a page of their own</a>' in part
    assert "<details" not in part
    assert "conflict/" not in part
    assert waiting
    assert all(f'href="#/conflict/{each}"' in listed for each in waiting)
    assert "Met by village: hollow the armhole of the front by 2 cm" in text(listed)


def test_where_nothing_needs_attention_it_says_so_and_what_comes_next(built, tmp_path):
    trueup = Trueup(copied(built, tmp_path / "w"))
    with source_of(trueup.folder) as source:
        said = text(str(view(source, "start").content))
    assert "Nothing needs attention" in said
    assert "Next, look at what there is:" in said
    assert "trueup tree" in said


def test_an_empty_wardrobe_says_how_to_begin(tmp_path):
    folder = tmp_path / "new"
    assert run("start", str(folder)).code == 0
    with source_of(folder) as source:
        said = text(str(view(source, "start").content))
    assert "Nothing is here yet. Next, draft a block from body measurements:" in said
    assert "Blocks and patterns" not in said


def test_a_wardrobe_of_blocks_alone_is_told_to_derive_a_pattern(tmp_path):
    folder = tmp_path / "new"
    assert run("start", str(folder)).code == 0
    trueup = Trueup(folder)
    trueup.made("draft", "village", *SIZES)
    with source_of(folder, versions=0) as source:
        said = text(str(view(source, "start").content))
    assert "derive" in said


def test_without_versions_the_last_correction_is_named_and_leads_nowhere(busy):
    with source_of(busy, versions=0) as source:
        html = str(view(source, "start").content)
        known = set(all_addresses(source))
    assert "What has become by now of the last correction, village: hollow" in text(html)
    found = {each.attributes["href"].removeprefix("#/") for each in links(html)}
    assert {each.removesuffix("/attention") for each in found} <= known


def test_an_edit_by_hand_and_a_file_that_cannot_be_read_come_first(built, tmp_path):
    trueup = Trueup(copied(built, tmp_path / "w"))
    (trueup.folder / "patterns" / "own.toml").write_text("nonsense")
    file = trueup.folder / "patterns" / "blouse.toml"
    file.write_text(file.read_text().replace('by = "20mm"', 'by = "31mm"'))
    with source_of(trueup.folder) as source:
        found = groups(str(view(source, "start").content))
    assert next(iter(found)) == "files"
    said = text(found["files"])
    assert "patterns/own.toml" in said
    assert "patterns/blouse.toml was changed by hand since the last step" in said


def test_the_menu_counts_what_waits_and_is_silent_where_nothing_does(busy, built):
    with source_of(busy) as source:
        counted = {each.address: each.to_see for each in menu(source.state)}
    waits = len(Trueup(busy)("conflicts", "--json").document["conflicts"])
    assert counted["conflicts"] == f"{waits} open"
    assert counted["garments"] == "1 note"
    with source_of(built) as source:
        assert {each.to_see for each in menu(source.state)} == {""}
    assert MenuEntry("conflicts", "Conflicts", "") in menu(None)
