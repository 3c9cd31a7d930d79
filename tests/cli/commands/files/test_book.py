"""The book, written by the real command and read back."""

import base64
import hashlib
import json
import re
import subprocess
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image

from tests.cli.book.opened import Book, opened, tags, text
from tests.cli.conftest import Trueup
from tests.sharing.copied import copied

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '<img src=x onerror="alert(1)"></script><script>alert(2)</script>&amp;'


def bound(trueup: Any, tmp_path: Path, *options: str) -> Book:
    file = tmp_path / "book.html"
    trueup.made("book", str(file), "--force", *options)
    return opened(file)


@pytest.fixture(scope="module")
def book(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Book:
    folder = tmp_path_factory.mktemp("bound")
    copied(built, folder / "theatre")
    trueup = Trueup(folder / "theatre")
    for piece in ("front", "back"):
        trueup.made("style", "village", "seam-allowance", "--piece", piece, "--by", "15mm")
    photo = folder / "worn.jpg"
    Image.new("RGB", (40, 30), "grey").save(photo)
    trueup.made("cut", "blouse", "--name", "tea", "--wearer", "Ana", "--fabric", "linen")
    trueup.made(
        *("note", "tea", "armhole-binds", "--place", "front.armhole", "--amount", "8mm"),
        *("--words", "it binds", "--photo", str(photo)),
    )
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    return bound(trueup, folder, "--versions", "9")


def test_there_is_a_page_for_everything_that_has_a_name(book: Book) -> None:
    nodes = {"block/village", "block/easy", "pattern/blouse", "pattern/vest", "pattern/own"}
    single = {"start", "conflicts", "garments", "faults", "history"}
    conflicts = {each for each in book.pages if each.startswith("conflict/")}
    corrections = {each for each in book.pages if each.startswith("correction/")}
    assert set(book.pages) == nodes | single | {"garment/tea"} | conflicts | corrections
    assert len(conflicts) >= 3
    assert len(corrections) == 2
    assert {address for _, address in book.names} == set(book.pages) - single - corrections


def test_every_link_of_the_book_leads_to_a_page_of_it(book: Book) -> None:
    for address, page in book.pages.items():
        links = [t.attributes["href"] for t in tags(page["content"]) if t.name == "a"]
        for link in links:
            *to, place = [*link.removeprefix("#/").split("/"), "", ""][:3]
            there = "/".join(filter(None, to))
            assert there in book.pages, (address, link)
            places = {t.attributes.get("id", "") for t in tags(book.page(there))}
            assert not place or place in places, (address, link)
    drawing, _, listed = book.page("start").partition("</svg>")
    for part in (drawing.partition("<svg")[2], listed):
        assert part.count('href="#/block/village"') == 1


def test_every_picture_is_sound_and_no_id_stands_twice_on_a_page(book: Book) -> None:
    for address, page in book.pages.items():
        drawn = page["content"].split("<svg")[1:]
        for each in drawn:
            ElementTree.fromstring(f"<svg{each.partition('</svg>')[0]}</svg>")
        ids = [t.attributes["id"] for t in tags(page["content"]) if "id" in t.attributes]
        assert len(ids) == len(set(ids)), address


def test_the_page_of_a_pattern_tells_all_there_is_to_tell(book: Book) -> None:
    page = book.page("pattern/blouse")
    said = text(page)
    assert "Lower the neck of the front by 2 cm" in said
    assert "sleeve.cap-ease" in said
    edges = {t.attributes["data-edge"] for t in tags(page) if "data-edge" in t.attributes}
    drawn = {t.attributes.get("id", "") for t in tags(page)}
    assert {"front.armhole", "front.neck", "sleeve.cap"} <= edges
    for edge in edges:
        assert any(name.endswith(f".{edge}") or f".{edge}." in name for name in drawn), edge
    assert "shaped at" in said
    assert "lower the neck of the front by 2 cm" in said
    assert re.search(r"Lower the neck of the front by 2 cm.{1,80} style [0-9a-f]{8}", said)


def test_the_page_of_a_pattern_tells_first_what_is_open_and_last_where_it_stands(
    book: Book,
) -> None:
    headings = [
        text for t in tags(book.page("pattern/blouse")) if t.name == "h2" for text in t.text
    ]
    assert headings == [
        *("Picture", "What needs attention", "Last change", "The story of a line"),
        *("Seams, walked", "Measures", "Versions", "How it came to be", "Its family"),
    ]


def test_what_is_named_in_the_history_and_in_a_conflict_is_led_to(
    trueup: Any, tmp_path: Path
) -> None:
    trueup.made("derive", "low-blouse", "--from", "village")
    trueup.made("cut", "low-blouse", "--name", "tea-blouse")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    book = bound(trueup, tmp_path)

    def leads(address: str) -> set[str]:
        return {t.attributes["href"] for t in tags(book.page(address)) if t.name == "a"}

    assert {"#/garment/tea-blouse", "#/pattern/low-blouse"} <= leads("history")
    chain = book.page("pattern/own").partition("How it came to be")[2]
    (waiting,) = [n for n, _ in book.names if n.startswith("doubled")]
    assert f'href="#/conflict/{waiting}"' in chain


def test_versions_come_newest_first_and_only_one_shows(book: Book) -> None:
    found = [t for t in tags(book.page("pattern/blouse")) if t.attributes.get("class") == "version"]
    assert len(found) == 6  # derived, shoulder of easy, lowered, two allowances, hollowed armhole
    assert [("hidden" in t.attributes) for t in found] == [False, *[True] * 5]
    newest = book.page("pattern/blouse").partition("class=version>")[2].partition("</svg>")[0]
    assert ".front.armhole" in newest
    assert '.before"' in newest
    said = text(book.page("pattern/blouse").partition("id=versions")[2])
    newest, older = "village: hollow the armhole of", "blouse: lower the neck of"
    assert said.index(newest) < said.index(older)
    assert "blouse was made." in said


def test_so_many_versions_are_drawn_as_were_asked_for(corrected: Any, tmp_path: Path) -> None:
    book = bound(corrected, tmp_path, "--versions", "1")
    assert book.page("pattern/blouse").count("class=version>") == 1
    book = bound(corrected, tmp_path, "--versions", "0")
    assert "class=version" not in book.page("pattern/blouse")


def test_it_says_where_it_draws_no_older_versions(corrected: Any, tmp_path: Path) -> None:
    says = "No more than 2 versions of each block and pattern are drawn"
    assert says in text(bound(corrected, tmp_path, "--versions", "2").page("pattern/blouse"))
    book = bound(corrected, tmp_path, "--versions", "9")
    assert "No more than" not in text(book.page("pattern/blouse"))


def test_words_written_on_several_lines_are_told_on_one(trueup: Any, tmp_path: Path) -> None:
    trueup.made(
        *("style", "blouse", "lower-neck", "--piece", "front", "--by", "3mm"),
        *("--why", "one line\n\nanother"),
    )
    assert "Why: one line another" in text(bound(trueup, tmp_path).page("pattern/blouse"))


def test_a_book_of_edits_by_hand_says_so_on_every_page(trueup: Any, tmp_path: Path) -> None:
    def stands() -> str:
        frame = bound(trueup, tmp_path).frame
        (found,) = [t for t in frame if t.attributes.get("class") == "stands"]
        return "".join(found.text)

    assert "edits by hand" not in stands()
    with (trueup.folder / "patterns" / "blouse.toml").open("a") as file:
        file.write("# hers\n")
    assert stands().endswith(", and edits by hand since")


def test_a_garment_named_as_a_pattern_is_has_its_own_page(trueup: Any, tmp_path: Path) -> None:
    trueup.made("cut", "blouse", "--name", "tea")
    garments = trueup.folder / "garments"
    (garments / "tea.svg").rename(garments / "vest.svg")
    text_of = (garments / "tea.toml").read_text().replace('name = "tea"', 'name = "vest"')
    (garments / "tea.toml").unlink()
    (garments / "vest.toml").write_text(text_of)
    book = bound(trueup, tmp_path)
    assert "Garment, cut from" in text(book.page("garment/vest"))
    cut_from_it = book.page("pattern/blouse").partition("cut from it: ")[2]
    assert cut_from_it.startswith('<a href="#/garment/vest">')


def test_the_page_of_a_conflict_has_its_picture_and_every_remedy(
    corrected: Any, tmp_path: Path
) -> None:
    book = bound(corrected, tmp_path)
    conflicts = corrected("conflicts", "--json").document["conflicts"]
    assert conflicts
    for conflict in conflicts:
        page = book.page(f"conflict/{conflict['id']}")
        assert "<svg" in page
        for remedy in conflict["remedies"]:
            assert f"trueup decide {conflict['id']} {remedy['name']}" in text(page)


def test_a_conflict_is_told_in_the_unit_of_the_wardrobe(corrected: Any, tmp_path: Path) -> None:
    settings = corrected.folder / "wardrobe.toml"
    settings.write_text(settings.read_text().replace('"cm"', '"in"'))
    book = bound(corrected, tmp_path)
    conflicts = [address for address in book.pages if address.startswith("conflict/")]
    start = text(book.page("start"))
    assert re.search(r"the sleeve cap holds \d+/\d+ in too little", start)
    assert " mm" not in start
    for address in ("conflicts", "block/village", "pattern/own", *conflicts):
        said = text(book.page(address))
        assert "in are allowed" in said or "does not reach it" in said or "of its own" in said
        assert " mm" not in said, address


def test_a_pattern_with_an_open_conflict_is_not_said_to_have_nothing_open(
    corrected: Any, tmp_path: Path
) -> None:
    for name in ("village", "own"):
        found = corrected("conflicts", name, "--json").document["conflicts"]
        for conflict in found:
            if conflict["kind"] == "seam":
                corrected.made("decide", conflict["id"], "refit-cap")
    said = text(bound(corrected, tmp_path).page("pattern/own"))
    assert "own is true as it is drawn; a decision about it is open." in said
    assert "nothing is open" not in said
    assert "own is true as it is drawn" in corrected("check", "own").out


def test_the_page_of_a_garment_shows_notes_photos_and_what_the_cloth_allows(book: Book) -> None:
    page = book.page("garment/tea")
    (photo,) = [t for t in tags(page) if t.name == "img"]
    content = base64.b64decode(photo.attributes["src"].partition(",")[2])
    assert photo.attributes["src"].startswith("data:image/")
    assert content[:2] == b"\xff\xd8" or content[:4] in (b"RIFF", b"\x89PNG")
    assert "it binds" in photo.attributes["alt"]
    assert "Front armhole binds" in text(page)
    cloth = page.partition("What the cloth still allows")[2].partition("</section>")[0]
    assert "front.armhole" in text(cloth)
    assert cloth.index("<svg") < cloth.index("In sewing order")
    drawn = {t.attributes.get("id", "") for t in tags(cloth)}
    assert {"figure-1.front.cloth", "figure-1.front.cut-off", "figure-1.mark.1"} <= drawn
    assert "Front armhole binds" in text(book.page("faults"))


def test_the_page_of_a_garment_has_the_measures_it_was_cut_by(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("cut", "blouse", "--name", "tea")
    then = corrected.made("measure", "blouse", "--json").document["measures"]
    corrected.made("correct", "village", "add-ease", "--by", "40mm")
    now = corrected.made("measure", "blouse", "--json").document["measures"]
    page = bound(corrected, tmp_path).page("garment/tea")
    section = page.partition("Measures as it was cut")[2].partition("</section>")[0]
    pairs = re.findall(r"<dt>(.+?)</dt><dd>(.+?)</dd>", section)
    measured = {name: float(words.removesuffix(" cm")) * 10 for name, words in pairs}
    # A book in cm tells to the millimetre.
    assert measured == pytest.approx(then, abs=0.51)
    assert measured != pytest.approx(now, abs=0.51)


def test_the_page_of_a_garment_whose_pattern_is_gone_still_shows_its_cloth(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("cut", "vest", "--name", "tea")
    (corrected.folder / "patterns/vest.toml").unlink()
    page = bound(corrected, tmp_path).page("garment/tea")
    cloth = page.partition("What the cloth still allows")[2].partition("</section>")[0]
    assert "vest was deleted since" in text(cloth)
    drawn = {t.attributes.get("id", "") for t in tags(cloth)}
    assert "figure-1.front.cloth" in drawn
    assert not any(".front.armhole" in name for name in drawn)
    assert "<dl class=measures>" in page.partition("Measures as it was cut")[2]


def test_the_page_of_a_garment_says_where_its_version_is_not_to_be_had(
    corrected: Any, tmp_path: Path
) -> None:
    corrected.made("cut", "vest", "--name", "tea")
    record = corrected.folder / "garments/tea.toml"
    record.write_text(re.sub(r'cut_from = "\w+"', f'cut_from = "{"0" * 40}"', record.read_text()))
    corrected.made("keep", "garments/tea.toml", "--why", "cut in another place")
    page = bound(corrected, tmp_path).page("garment/tea")
    measures = page.partition("Measures as it was cut")[2]
    assert 'There is no version "0000' in text(measures)
    assert "<dl" not in measures
    assert "figure-1.front.cloth" in {t.attributes.get("id", "") for t in tags(page)}


def test_the_page_of_a_garment_without_its_drawing_says_so(corrected: Any, tmp_path: Path) -> None:
    corrected.made("cut", "vest", "--name", "tea")
    (corrected.folder / "garments/tea.svg").write_text("<svg/>")
    stranger = ("-c", "user.name=x", "-c", "user.email=x@example.org")
    git = ("git", "-C", str(corrected.folder), *stranger)
    subprocess.run([*git, "commit", "-qam", "By git alone"], check=True)
    page = bound(corrected, tmp_path).page("garment/tea")
    cloth = page.partition("What the cloth still allows")[2].partition("</section>")[0]
    assert "garments/tea.svg cannot be read" in text(cloth)
    assert "<svg" not in cloth


def test_the_file_lets_no_script_run_but_its_own_and_asks_for_nothing(
    corrected: Any, tmp_path: Path
) -> None:
    book = bound(corrected, tmp_path)
    (policy,) = [t.attributes["content"] for t in book.frame if "http-equiv" in t.attributes]
    assert policy.startswith("default-src 'none'")
    (script,) = [t for t in book.frame if t.name == "script" and not t.attributes.get("type")]
    digest = hashlib.sha256("".join(script.text).encode()).digest()
    assert f"script-src 'sha256-{base64.b64encode(digest).decode()}'" in policy
    outside = ("src", "href", "action", "srcset")
    everything = [*book.frame, *(t for p in book.pages.values() for t in tags(p["content"]))]
    for tag in everything:
        for name, value in tag.attributes.items():
            assert not name.startswith("on"), name
            assert name != "style"
            assert name not in outside or value.startswith(("#", "data:image/")), value


def test_whatever_a_wardrobe_says_stays_text(trueup: Any, tmp_path: Path) -> None:
    settings = trueup.folder / "wardrobe.toml"
    settings.write_text(f'format = 1\nname = {json.dumps(HOSTILE)}\nunit = "cm"\n')
    trueup.made(
        *("style", "blouse", "lower-neck", "--piece", "front", "--by", "3mm", "--why", HOSTILE)
    )
    trueup.made("cut", "blouse", "--name", "tea", "--wearer", HOSTILE, "--fabric", HOSTILE)
    trueup.made(*("note", "tea", "other", "--place", "front.armhole", "--words", HOSTILE))
    file = tmp_path / "book.html"
    trueup.made("book", str(file))
    book = opened(file)
    assert sum(t.name == "script" and not t.attributes.get("type") for t in book.frame) == 1
    for address, page in book.pages.items():
        names = {t.name for t in tags(page["content"])}
        assert not names & {"img", "script", "iframe", "object"}, address
    assert HOSTILE in text(book.page("pattern/blouse"))
    assert HOSTILE in text(book.page("garment/tea"))
    assert HOSTILE in text(book.page("start"))


def test_a_book_of_one_wardrobe_is_the_same_every_time(corrected: Any, tmp_path: Path) -> None:
    files = [tmp_path / "one.html", tmp_path / "two.html"]
    for file in files:
        corrected.made("book", str(file))
    assert files[0].read_bytes() == files[1].read_bytes()


def test_an_empty_wardrobe_has_a_book_as_well(tmp_path: Path, anywhere: Any) -> None:
    assert anywhere("start", str(tmp_path / "w")).code == 0
    file = tmp_path / "w.html"
    answer = anywhere("-C", str(tmp_path / "w"), "book", str(file))
    assert answer.code == 0, answer.err
    book = opened(file)
    assert "0 blocks, 0 patterns" in text(book.page("start"))
    assert "Who derives from whom" not in book.page("start")
    assert "No garment was cut yet." in text(book.page("garments"))


def test_it_is_named_after_the_wardrobe_unless_named(
    corrected: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = corrected("book", "--json")
    assert answer.code == 0
    assert answer.document["file"] == "theatre.html"
    assert answer.document["pages"] == len(opened(tmp_path / "theatre.html").pages)
    assert answer.document["bytes"] == (tmp_path / "theatre.html").stat().st_size


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("book.pdf", "is not named as a book; call it book.html"),
        ("there.html", "is there already"),
        ("none/book.html", "There is no folder"),
    ],
)
def test_a_file_that_cannot_be_written_is_told_before_any_page_is_made(
    corrected: Any, tmp_path: Path, name: str, says: str
) -> None:
    (tmp_path / "there.html").write_text("mine")
    answer = corrected("book", str(tmp_path / name))
    assert answer.code == 2
    assert says in answer.err
    assert (tmp_path / "there.html").read_text() == "mine"


@pytest.mark.parametrize("folder", ["patterns", "photos", "garments/deep"])
def test_a_book_does_not_lie_where_the_next_step_would_take_it_up(
    trueup: Any, tmp_path: Path, folder: str
) -> None:
    (trueup.folder / folder).mkdir(parents=True, exist_ok=True)
    link = tmp_path / "link"
    link.symlink_to(trueup.folder)
    for place in (trueup.folder, link):
        answer = trueup("book", str(place / folder / "book.html"))
        assert answer.code == 2
        assert "write it beside their folders" in answer.err
    assert not (trueup.folder / folder / "book.html").exists()


def test_a_book_may_lie_in_the_folder_of_its_wardrobe(trueup: Any) -> None:
    trueup.made("book", str(trueup.folder / "book.html"))
    trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "3mm")
    assert "book.html" not in trueup.made("history").out
    assert "by hand" not in trueup.made("book", str(trueup.folder / "book.html"), "--force").err


def test_a_damaged_wardrobe_has_no_book_nor_half_of_one(trueup: Any, tmp_path: Path) -> None:
    (trueup.folder / ".git" / "HEAD").write_text("")
    folder = tmp_path / "for-it"
    folder.mkdir()
    answer = trueup("book", str(folder / "book.html"))
    assert answer.code == 3
    assert answer.err.count("\n") == 1
    assert "trueup restore" in answer.err
    assert list(folder.iterdir()) == []


def test_the_oldest_version_of_a_cut_off_history_is_not_said_to_have_made_a_node(
    corrected: Any, tmp_path: Path
) -> None:
    shallow = tmp_path / "shallow"
    address = corrected.folder.as_uri()
    subprocess.run(["git", "clone", "-q", "--depth", "1", address, shallow], check=True)
    said = text(bound(Trueup(shallow), tmp_path).page("pattern/blouse"))
    assert "The history here goes no further back; blouse was made then or before." in said


def test_a_photo_that_is_gone_is_told(trueup: Any, tmp_path: Path) -> None:
    photo = tmp_path / "worn.png"
    Image.new("RGB", (40, 30), "grey").save(photo)
    trueup.made("cut", "blouse", "--name", "tea")
    trueup.made(
        *("note", "tea", "armhole-binds", "--place", "front.armhole", "--photo", str(photo))
    )
    (kept,) = (trueup.folder / "photos").iterdir()
    subprocess.run(["git", "rm", "-q", f"photos/{kept.name}"], cwd=trueup.folder, check=True)
    subprocess.run(["git", "commit", "-qm", "Tidy"], cwd=trueup.folder, check=True)
    page = bound(trueup, tmp_path).page("garment/tea")
    assert "<img" not in page
    assert f"photos/{kept.name}" in text(page.partition("Photos")[2])


def test_photos_beyond_what_a_page_holds_are_told(
    trueup: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Image.new("RGB", (40, 30), "grey").save(tmp_path / "worn.jpg")
    trueup.made("cut", "blouse", "--name", "tea")
    for _ in range(2):
        trueup.made(*("note", "tea", "armhole-binds", "--place", "front.armhole"),
                    *("--photo", str(tmp_path / "worn.jpg")))  # fmt: skip
    whole = bound(trueup, tmp_path).page("garment/tea")
    assert whole.count("data:image/jpeg") == 2
    monkeypatch.setattr("trueup.cli.book.pages.worn.garment_page.LARGEST_PAGE", 1_000)
    half = bound(trueup, tmp_path).page("garment/tea")
    assert half.count("data:image/jpeg") == 1
    assert "too large for this page" in text(half)


def test_a_book_that_no_browser_opens_is_not_written(
    trueup: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("trueup.cli.book.binding.LARGEST_BOOK", 20_000)
    (tmp_path / "for-it").mkdir()
    answer = trueup("book", str(tmp_path / "for-it" / "book.html"))
    assert answer.code == 2
    assert "would be larger than" in answer.err
    assert list((tmp_path / "for-it").iterdir()) == []
