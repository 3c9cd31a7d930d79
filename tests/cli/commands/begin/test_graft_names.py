"""trueup graft --with: a style on a block whose pieces, edges and darts have other names."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.commands.begin.drawn import drawn
from tests.judging.sampled import length
from trueup.geometry.calling.other_names import OtherNames
from trueup.geometry.changes.elsewhere import told_elsewhere
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.wardrobe import Wardrobe

ADA = ("--bust", "100cm", "--waist", "84cm", "--back-length", "40cm", "--sleeve-length", "57cm")
CALLED = {"front.side": "panel.flank", "front.armhole": "panel.scye", "front.bust": "panel.chest"}
WITH = tuple(word for pair in CALLED.items() for word in ("--with", "=".join(pair)))
STYLES = (
    ("lower-neck", "--piece", "front", "--by", "15mm"),
    ("rotate-dart", "--dart", "front.bust", "--edge", "front.side", "--at", "60mm from underarm"),
    ("redraw-edge", "--edge", "front.armhole", "--through", "30%:20mm 70%:30mm"),
    ("mark-notch", "--edge", "front.side", "--at", "50% from hem-side", "--name", "balance"),
)


def draft_of(trueup: Any, node: str) -> Draft:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.draft(node)


@pytest.fixture
def card(trueup: Any, tmp_path: Path) -> Any:
    """Give a wardrobe the block of Ada twice: drafted, and traced with names of another maker."""
    trueup.made("draft", "ada", *ADA)
    file, names = tmp_path / "card.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "ada")))
    trueup.made("trace", str(file), "card", "--write-names", str(names))
    head, _, rest = names.read_text("utf-8").partition('name = "front"')
    front, piece, rest = rest.partition("[[piece]]")
    for old, new in (
        ("\narmhole =", "\nscye ="),
        ("\nside =", "\nflank ="),
        ("[piece.darts]\nbust", "[piece.darts]\nchest"),
        ("[piece.darts]", '[piece.setbacks]\nwaist-side = "60mm"\nwaist = "25mm"\n[piece.darts]'),
    ):
        assert old in front
        front = front.replace(old, new, 1)
    for old, new in (
        ("front.armhole at shoulder-point", "panel.scye at shoulder-scye"),
        ("front.armhole at underarm", "panel.scye at scye-flank"),
        ("front.neck at neck-point", "panel.neck at neck-shoulder"),
        ("front.hem at hem-side", "panel.hem at flank-hem"),
        ("front.side", "panel.flank"),
        ("front.armhole", "panel.scye"),
        ("front.shoulder", "panel.shoulder"),
    ):
        rest = rest.replace(old, new)
    names.write_text(f'{head}name = "panel"{front}{piece}{rest}', "utf-8")
    trueup.made("trace", str(file), "card", "--names", str(names))
    for style in STYLES:
        answer = trueup("style", "own", *style)
        assert answer.code in (0, 1), answer.err
    return trueup


def lengths(draft: Draft) -> dict[str, float]:
    """Return every edge by its name in the style, sampled."""
    back = {"panel": "front", "flank": "side", "scye": "armhole"}
    return {
        f"{back.get(piece.name, piece.name)}.{back.get(edge.name, edge.name)}": length(edge)
        for piece in draft.pieces
        for edge in piece.edges
    }


def test_it_is_what_the_style_is_on_the_block_with_the_same_names(card: Any) -> None:
    card("graft", "own", "--onto", "ada", "--as", "drafted")
    card("graft", "own", "--onto", "card", "--as", "carded", *WITH)
    wanted, found = (lengths(draft_of(card, node)) for node in ("drafted", "carded"))
    assert found.keys() == wanted.keys()
    for name, mm in wanted.items():
        assert found[name] == pytest.approx(mm, abs=0.02), name
    told = {
        each["edge"]: each for each in card.made("origin", "carded", "--json").document["edges"]
    }
    assert told["panel.flank"]["step"]["kind"] == "rotate-dart"
    assert told["panel.scye"]["step"]["kind"] == "redraw-edge"
    (notch,) = [n for n in draft_of(card, "carded").piece("panel").notches if n.name == "balance"]
    assert (notch.edge, notch.at.corner) == ("flank", "flank-hem")
    words = card.made("history", "carded").out
    assert "panel.flank for its front.side" in words
    assert "6 cm from the scye flank" in card.made("explain", "carded").out
    text = (card.folder / "patterns/carded.toml").read_text("utf-8")
    assert text.startswith("format = 3\n")
    assert '"front.side" = "panel.flank"' in text


def test_without_the_names_each_step_says_what_it_misses_and_what_there_is(card: Any) -> None:
    answer = card("graft", "own", "--onto", "card", "--as", "carded")
    assert answer.code == 0
    assert "try panel" in answer.out
    assert "panel.chest" in answer.out


def test_later_styles_and_corrections_arrive_with_the_same_verdicts(card: Any) -> None:
    card("graft", "own", "--onto", "ada", "--as", "drafted")
    card("graft", "own", "--onto", "card", "--as", "carded", *WITH)
    document = card.made(
        *("style", "own", "redraw-edge", "--edge", "front.side", "--through", "50%:6mm", "--json")
    ).document
    told = {each["name"]: each for each in document["patterns"]}
    assert told["carded"]["verdict"] == told["drafted"]["verdict"]
    one, other = (told[name]["measures"][0] for name in ("drafted", "carded"))
    assert (one["name"], other["name"]) == ("front.side.line", "panel.flank.line")
    assert other["wanted_mm"] == pytest.approx(one["wanted_mm"], abs=0.02)
    assert other["got_mm"] == pytest.approx(one["got_mm"], abs=0.02)
    for block, node, dart in (("ada", "drafted", "front.waist"), ("card", "carded", "panel.waist")):
        fit = card.made("correct", block, "deepen-dart", "--dart", dart, "--by", "5mm", "--json")
        assert {e["name"]: e["verdict"] for e in fit.document["patterns"]} == {node: "carried"}
    step = card.step_of("own", 1)
    before = length(draft_of(card, "carded").piece("panel").edge("centre"))
    card.made("amend", "carded", step, "--by", "25mm")
    after = length(draft_of(card, "carded").piece("panel").edge("centre"))
    assert before - after == pytest.approx(10.0, abs=0.05)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ("front.sid=panel.flank", "front.sid|try front.side"),
        ("front.side=panel.flanke", "panel.flanke|try panel.flank"),
        ("fronty=panel", "fronty|try front"),
        ("front=panle", "panle|try panel"),
        ("front.dart.waste=panel.chest", "front.waste|try front.waist"),
        ("front.side", "THEIR=OURS"),
    ],
)
def test_what_neither_has_is_refused_with_the_candidates(card: Any, given: str, says: str) -> None:
    before = card.contents()
    answer = card("graft", "own", "--onto", "card", "--as", "carded", "--with", given)
    assert answer.code == 2
    assert len(answer.err.strip().splitlines()) == 1
    assert all(word in answer.err for word in says.split("|")), answer.err
    assert card.contents() == before


def test_two_names_of_the_style_cannot_be_one_of_the_block(card: Any) -> None:
    both = ("--with", "front.side=panel.flank", "--with", "front.armhole=panel.flank")
    answer = card("graft", "own", "--onto", "card", "--as", "carded", *both)
    assert answer.code == 2
    assert "cannot be both front.side and front.armhole" in answer.err


@pytest.mark.parametrize(
    ("kind", "values", "there"),
    [
        (
            "cut-apart",
            {"piece": "front", "begins": "armhole", "at": "50% from underarm", "ends": "hem"},
            {"piece": "panel", "begins": "scye", "at": "50% from scye-flank", "ends": "hem"},
        ),
        (
            "sew-together",
            {"line": "front.side", "to": "back.side", "name": "side-seam"},
            {"line": "panel.flank", "to": "back.side", "name": "side-seam"},
        ),
        ("deepen-dart", {"dart": "front.bust"}, {"dart": "panel.chest"}),
        ("lengthen", {"piece": "bodice", "by": "12% of waist"}, None),
        ("state-ease", {"seam": "side-seam", "low": "1mm"}, None),
        ("a-kind-to-come", {"edge": "front.side"}, None),
    ],
)
def test_what_a_change_names_is_called_as_it_is_there(
    kind: str, values: dict[str, str], there: dict[str, str] | None
) -> None:
    names = {
        "front": "panel",
        "front.side": "panel.flank",
        "front.armhole": "panel.scye",
        "front.dart.bust": "panel.dart.chest",
        "front.corner.underarm": "panel.corner.scye-flank",
    }
    found = told_elsewhere(kind, 1, values, OtherNames(names))
    assert found == (values if there is None else there)
