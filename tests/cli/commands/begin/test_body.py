"""trueup body: what is measured of a wearer is written down, shown, and followed by blocks."""

import datetime
from pathlib import Path
from typing import Any

import pytest
import tomli

from tests.cli.book.opened import opened, text
from tests.cli.restoring.story import git
from tests.cli.trouble.test_bad_input import refused
from tests.judging.sampled import length
from tests.sharing.beginnings import Beginnings
from trueup.geometry.drafting import draft_block
from trueup.lineage.wardrobe import Wardrobe

FIRST = ("--bust", "88cm", "--waist", "68", "--back-length", "38cm", "--sleeve-length", "54cm")
SPRING = ("--date", "2025-03-31", "--taken-by", "Mina", "--words", "over a shift")
GROWN = ("body", "ada", "--bust", "93cm", "--waist", "71cm", "--date", "2025-09-01")


def lengths(of: Any) -> dict[str, float]:
    return {f"{p.name}.{e.name}": length(e) for p in of.pieces for e in p.edges}


@pytest.fixture
def measured(trueup: Any, beginnings: Beginnings) -> Any:
    """A wardrobe in which Ada was measured, and a block drafted for her with a pattern below."""

    def begin() -> None:
        trueup.made("body", "Ada", *FIRST, *SPRING)
        trueup.made("draft", "adas", "--for", "Ada")
        trueup.made("derive", "gown", "--from", "adas")

    beginnings.begin(trueup.folder, begin)
    return trueup


def waiting(trueup: Any) -> list[dict[str, Any]]:
    return list(trueup.made("--json").document["waiting"])


def test_a_set_is_written_into_a_plain_file_by_one_commit(trueup: Any) -> None:
    before = int(git(trueup.folder, "rev-list", "--count", "HEAD"))
    out = trueup.made("body", "Ada", *FIRST, *SPRING, "--also", "instep=24").out
    assert int(git(trueup.folder, "rev-list", "--count", "HEAD")) == before + 1
    assert git(trueup.folder, "diff", "--name-only", "HEAD~1") == "bodies/ada.toml"
    assert "Measure ada on 2025-03-31: bust 88cm, waist 68cm" in git(trueup.folder, "log", "-1")
    file = tomli.loads((trueup.folder / "bodies/ada.toml").read_text())
    assert file == {
        "format": 1,
        "name": "ada",
        "wearer": "Ada",
        "sets": [
            {
                "date": datetime.date(2025, 3, 31),
                "taken_by": "Mina",
                "words": "over a shift",
                **{"bust": "88cm", "waist": "68cm", "back-length": "38cm"},
                **{"sleeve-length": "54cm", "instep": "24cm"},
            }
        ],
    }
    assert "by Mina; over a shift" in out
    assert "trueup -C" in out.splitlines()[-1]
    assert "draft NAME --for ada" in out.splitlines()[-1]


def test_sets_are_shown_day_beside_day_with_what_changed(measured: Any) -> None:
    measured.made(*GROWN)
    lines = measured.made("body", "ADA").out.splitlines()
    assert lines[1].split() == ["measurement", "2025-03-31", "2025-09-01"]
    assert [" ".join(line.split()) for line in lines[2:6]] == [
        "bust 88 cm 93 cm (+5 cm)",
        "waist 68 cm 71 cm (+3 cm)",
        "back-length 38 cm -",
        "sleeve-length 54 cm -",
    ]
    document = measured.made("body", "ada", "--json").document
    assert [each["date"] for each in document["body"]["sets"]] == ["2025-03-31", "2025-09-01"]
    known = {each["name"]: (each["mm"], each["date"]) for each in document["body"]["known"]}
    assert known["bust"] == (930.0, "2025-09-01")
    assert known["back-length"] == (380.0, "2025-03-31")
    assert document["patterns"] == ["gown"]
    (listed,) = measured.made("body", "--json").document["bodies"]
    assert listed == document["body"]
    assert "adas (waits)" in measured.made("body").out


def test_a_block_is_drafted_from_a_set_and_keeps_from_which(measured: Any) -> None:
    with Wardrobe.open(measured.folder) as wardrobe:
        drafted = lengths(wardrobe.evaluator.draft("adas"))
        node = wardrobe.state.node("adas")
    body = {"bust": 880, "waist": 680, "back-length": 380, "sleeve-length": 540}
    assert drafted == pytest.approx(lengths(draft_block("bust-proportion", body)), abs=1e-9)
    assert node.drafted_for is not None
    assert (node.drafted_for.body, str(node.drafted_for.measured)) == ("ada", "2025-03-31")
    file = tomli.loads((measured.folder / "blocks/adas.toml").read_text())
    assert file["drafted_for"] == {"body": "ada", "measured": datetime.date(2025, 3, 31)}
    words = "for ada as measured on 2025-03-31"
    assert words in measured.made("history", "adas").out
    assert words in measured.made("explain", "gown").out
    told = measured.made("explain", "gown", "--json").document["chain"][0]["drafted_for"]
    assert told == {"body": "ada", "measured": "2025-03-31"}


def test_a_newer_set_waits_until_the_block_follows_it(measured: Any) -> None:
    assert waiting(measured) == []
    measured.made(*GROWN)
    (behind,) = waiting(measured)
    assert behind["block"] == "adas"
    assert behind["waiting"] == [
        {"name": "bust", "before": "88cm", "after": "93cm"},
        {"name": "waist", "before": "68cm", "after": "71cm"},
    ]
    says = "adas (drafted for ada) does not follow yet what is known as of 2025-09-01: bust 88cm"
    for words in ((), ("check", "adas"), ("check", "gown"), ("check", "--all")):
        answer = measured(*words)
        assert answer.code == 0
        assert says in answer.out
        assert "remeasure adas --preview" in answer.out
    assert measured("check", "gown", "--json").document["waiting"] == [behind]
    assert says not in measured("check", "village").out
    before = measured.contents()
    foretold = measured.made("remeasure", "adas", "--preview", "--json").document
    assert measured.contents() == before
    shown = measured.made("remeasure", "adas", "--preview").out
    assert "back-length (2025-03-31), sleeve-length (2025-03-31)" in shown
    done = measured.made("remeasure", "adas", "--why", "a year later", "--json")
    assert done.document["patterns"] == foretold["patterns"]
    assert [each["verdict"] for each in done.document["patterns"]] == ["carried"]
    assert done.document["correction"]["remeasured"] == behind["waiting"]
    assert done.document["correction"]["drafted_for"] == {"body": "ada", "measured": "2025-09-01"}
    assert waiting(measured) == []
    subject = "Re-measure adas as ada of 2025-09-01: bust 88cm -> 93cm, waist 68cm -> 71cm"
    assert git(measured.folder, "log", "-1", "--format=%s") == subject
    told = " ".join(measured.made("explain", "gown").out.split())
    assert "as ada of 2025-09-01 by" in told
    assert "a year later" in told
    measured.made("undo")
    assert waiting(measured) == [behind]


def test_a_set_of_measurements_no_block_asks_for_lets_nothing_wait(measured: Any) -> None:
    measured.made("body", "ada", "--wrist", "16cm", "--bust", "880mm", "--date", "2025-09-01")
    assert waiting(measured) == []
    said = refused(measured, "remeasure", "adas")
    assert "drafted from these measurements already" in said


def test_a_set_changed_by_hand_is_waited_for_as_well(measured: Any) -> None:
    file = measured.folder / "bodies/ada.toml"
    file.write_text(file.read_text().replace('"88cm"', '"89cm"'))
    (behind,) = waiting(measured)
    assert behind["waiting"] == [{"name": "bust", "before": "88cm", "after": "89cm"}]
    measured.made("remeasure", "adas")
    assert "Edited by hand: bodies/ada.toml" in measured.made("history").out
    assert waiting(measured) == []


def test_an_older_block_can_be_drafted_for_somebody(trueup: Any) -> None:
    trueup.made("body", "Ada", *FIRST, *SPRING)
    answer = trueup.made("remeasure", "village", "--for", "ada", "--json").document
    assert answer["correction"]["says"] == "Draft village for ada of 2025-03-31"
    assert answer["measures"] == []
    trueup.made("body", "Ada", "--bust", "90cm", "--date", "2025-09-01")
    assert [each["block"] for each in waiting(trueup)] == ["village"]
    earlier = trueup.made("remeasure", "village", "--for", "ada", "--json").document
    assert earlier["correction"]["remeasured"][0]["after"] == "90cm"
    trueup.made("remeasure", "village", "--for", "ada", "--date", "2025-03-31")
    assert [each["block"] for each in waiting(trueup)] == ["village"]


def test_what_no_set_holds_is_given_by_hand(trueup: Any) -> None:
    trueup.made("body", "Ada", "--waist", "68cm", "--hip", "94cm", *SPRING)
    skirt = ("draft", "skirt", "--system", "straight-skirt", "--for", "Ada")
    assert "hip-depth" in refused(trueup, *skirt, "--skirt-length", "60cm")
    trueup.made(*skirt, "--hip-depth", "20cm", "--skirt-length", "60cm")
    trueup.made("remeasure", "skirt", "--skirt-length", "65cm")
    with Wardrobe.open(trueup.folder) as wardrobe:
        node = wardrobe.state.node("skirt")
    assert node.draft is not None
    assert node.draft.body["skirt-length"] == "65cm"
    assert node.drafted_for is not None
    said = refused(trueup, "remeasure", "skirt", "--hip", "95cm")
    assert "hip was measured as 94cm on 2025-03-31" in said
    assert "`trueup body ada --help`" in said


def test_the_history_of_a_body_tells_what_followed_from_it(measured: Any) -> None:
    measured.made("cut", "gown", "--wearer", "Ada", "--date", "2025-04-01")
    measured.made("cut", "vest", "--wearer", "Bert", "--date", "2025-04-01")
    measured.made(*GROWN)
    measured.made("remeasure", "adas")
    measured.made("correct", "adas", "shorten-shoulder", "--by", "4mm", "--why", "slips")
    out = measured.made("history", "--body", "Ada").out
    subjects = [
        "Correct adas: shorten the shoulder",
        "Re-measure adas as ada of 2025-09-01",
        "Measure ada on 2025-09-01: bust 88cm -> 93cm, waist 68cm -> 71cm",
        "Cut gown-1 from gown",
        "Draft the block adas for ada of 2025-03-31",
        "Measure ada on 2025-03-31",
    ]
    places = [out.index(each) for each in subjects]
    assert places == sorted(places)
    assert "vest" not in out
    assert "88 cm" in out
    assert "Cut from it or worn: gown-1." in out
    document = measured.made("history", "--body", "ada", "--effects", "--json").document
    assert document["garments"] == ["gown-1"]
    verbs = [each["verb"] for each in document["history"]]
    assert verbs == ["correct", "remeasure", "body", "cut", "draft", "body"]
    assert document["history"][2]["bodies"][0]["measurements"] == [
        {"name": "bust", "before": None, "after": "93cm"},
        {"name": "waist", "before": None, "after": "71cm"},
    ]
    by_wearer = measured.made("history", "--wearer", "ada").out
    assert all(each in by_wearer for each in subjects)
    assert measured("history", "--wearer", "Bert").code == 0
    assert "ada" in refused(measured, "history", "--body", "adda")
    assert "not of both" in refused(measured, "history", "adas", "--body", "ada")


def test_the_book_and_the_report_tell_of_bodies(measured: Any, tmp_path: Path) -> None:
    measured.made(*GROWN)
    measured.made("remeasure", "adas", "--why", "a year later")
    file = tmp_path / "book.html"
    measured.made("book", str(file))
    book = opened(file)
    page = text(book.page("garments"))
    assert "Who was measured" in page
    assert "93 cm (+5 cm)" in page
    told = text(book.page("block/adas"))
    assert "as ada of 2025-09-01" in told
    assert "a year later" in told
    report = measured.made("report").out.replace("\\", "")
    assert "body ada: measured on 2025-09-01: bust 93cm, waist 71cm" in report
    assert "adas drafted anew as ada of 2025-09-01" in report


def test_who_was_only_measured_has_a_history(trueup: Any) -> None:
    trueup.made("body", "Cora", *FIRST, *SPRING)
    assert "Measure cora" in trueup.made("history", "--wearer", "Cora").out


@pytest.mark.parametrize(
    ("more", "is_told"),
    [
        (("--age", "7"), True),
        (("--age", "30"), False),
        (("--age", "30", "--height", "140cm"), False),
        (("--height", "125cm"), True),
        (("--height", "168cm"), False),
        ((), False),
    ],
)
def test_children_bring_the_usual_caution(
    trueup: Any, more: tuple[str, ...], is_told: bool
) -> None:
    out = trueup.made("body", "Kit", *FIRST, *SPRING, *more).out
    assert ("no cords or drawstrings" in out) is is_told
    assert ("no cords or drawstrings" in trueup.made("body", "Kit").out) is is_told
    drafted = trueup.made("draft", "kits", "--for", "Kit")
    assert ("no cords or drawstrings" in drafted.out) is is_told
    document = trueup.made("body", "kit", "--json").document
    assert document["body"]["may_be_a_child"] is is_told


def test_a_slip_of_the_decimal_point_is_told_and_nothing_refused(trueup: Any) -> None:
    answer = trueup.made("body", "Ada", "--bust", "9.2cm", *SPRING)
    assert "bust 9.2 cm lies outside of 74 cm to 118 cm" in answer.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("body", "ada", "--bust", "wide"), "wide"),
        (("body", "ada", "--bust", "-92cm"), "no body measures"),
        (("body", "ada", "--bust", "0"), "no body measures"),
        (("body", "ada", "--bust", "30m"), "m"),
        (("body", "ada", "--bust", "400cm"), "no body measures"),
        (("body", "ada", "--also", "instep"), "instep=24cm"),
        (("body", "ada", "--also", "In Step=24cm"), "small letters"),
        (("body", "ada", "--also", "date=24cm"), "small letters"),
        (("body", "ada", "--hip", "98cm", "--date", "2025-02-30"), "no such day"),
        (("body", "ada", "--hip", "98cm", "--date", "2999-01-01"), "future"),
        (("body", "ada", "--hip", "98cm", "--age", "300"), "between 0 and 130"),
        (("body", "ada", "--bust", "89cm", "--date", "2025-03-31"), "says bust 88cm already"),
        (("body", "ada", "--bust", "880mm", "--date", "2025-03-31"), "already"),
        (("body", "ada", "--age", "30"), "Say what was measured"),
        (("body", "--bust", "89cm"), "of whom"),
        (("body", "bert"), "try ada"),
        (("body", "李", "--bust", "89cm"), "cannot be a name"),
        (("draft", "new", "--for", "bert"), "try ada"),
        (("draft", "new", "--date", "2025-03-31"), "--for"),
        (("draft", "new", "--for", "ada", "--date", "2025-03-01"), "there are sets of 2025-03-31"),
        (("draft", "new", "--for", "ada", "--bust", "90cm"), "bust was measured as 88cm"),
        (("draft", "new", "--for", "ada", "--system", "trousers"), "hip"),
        (("draft", "new", "--for", "ada", "--system", "nosuch"), "nosuch"),
        (("remeasure", "adas", "--bust", "90cm"), "bust was measured as 88cm"),
        (("remeasure", "adas", "--for", "bert"), "try ada"),
        (("remeasure", "gown"), "remeasure adas"),
        (("remeasure", "gown", "--for", "ada"), "remeasure adas"),
        (("remeasure", "village"), "in --for ada"),
        (("remeasure", "nosuch"), "nosuch"),
        (("history", "--body", "bert"), "try ada"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence_and_nothing_is_written(
    measured: Any, words: tuple[str, ...], told: str
) -> None:
    before = measured.contents()
    assert told in refused(measured, *words)
    assert measured.contents() == before


def test_undo_takes_a_set_back(measured: Any) -> None:
    before = measured.contents()
    measured.made(*GROWN)
    measured.made("undo")
    after = measured.contents()
    assert {**after, "HEAD": b""} == {**before, "HEAD": b""}
    took_back = measured.made("history", "--effects", "--json").document["history"][0]
    assert took_back["bodies"][0]["says"] == "the set of 2025-09-01 was taken out"


def test_in_a_wardrobe_without_a_block_the_next_is_to_draft_one(
    tmp_path: Path, anywhere: Any
) -> None:
    folder = str(tmp_path / "w")
    assert anywhere("start", folder).code == 0
    assert anywhere("-C", folder, "body", "Ada", "--bust", "88cm").code == 0
    assert "draft NAME --for ada" in anywhere("-C", folder).out
    assert anywhere("-C", folder, "body").code == 0


def test_more_of_the_same_day_is_added_to_its_set(measured: Any) -> None:
    measured.made("body", "ada", "--hip", "98cm", "--bust", "88 cm", "--date", "2025-03-31")
    with Wardrobe.open(measured.folder) as wardrobe:
        (spring,) = wardrobe.state.body("ada").sets
    assert spring.taken == {
        **{"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"},
        "hip": "98cm",
    }
    assert spring.taken_by == "Mina"


def test_a_name_may_be_that_of_a_block_as_well(trueup: Any) -> None:
    trueup.made("body", "village", *FIRST, *SPRING)
    trueup.made("draft", "ada", "--for", "village")
    assert trueup.made("tree", "--json").document["nodes"]
    (trueup.folder / "bodies/easy.toml").write_text("half of")
    assert trueup("history", "easy").code == 0
    assert "Nothing was measured" not in trueup("body", "easy").err
    assert trueup("body", "easy").code == 3
