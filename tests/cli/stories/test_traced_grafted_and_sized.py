"""Every verb, asked of a traced pattern, of a graft and of a size, and its answer measured.

What is right is read here from the lines themselves, by sampling, never from what is judged.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from shapely.geometry import LineString

from tests.cli.book.opened import opened, text
from tests.cli.commands.begin.drawn import drawn
from tests.cli.conftest import Trueup, run
from tests.cli.sheet.pdf import read
from tests.judging.sampled import length, sampled
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.wardrobe import Wardrobe

BODY = ["--bust", "88cm", "--waist", "68cm", "--back-length", "38cm", "--sleeve-length", "54cm"]
ADA = ["--bust", "100cm", "--waist", "84cm", "--back-length", "40cm", "--sleeve-length", "57cm"]
TABLE = "size,bust,waist,back-length,sleeve-length\ns,84,64,37,53\nm,88,68,38,54\nl,92,72,39,55\n"


@dataclass(frozen=True)
class Kept:
    """A pattern, the block of its fit, where its style stands, and by how much that lengthens."""

    name: str
    block: str
    style: str
    longer: float


PATTERNS = {
    "traced": Kept("shirt", "card", "shirt", 60.0),
    "grafted": Kept("adas", "ada", "blouse", 0.12 * 840),
    "sized": Kept("blouse-s", "village-s", "blouse", 0.12 * 640),
}


def build(folder: Path) -> Trueup:
    assert run("start", str(folder / "house"), "--unit", "cm").code == 0
    trueup = Trueup(folder / "house")
    trueup.made("draft", "village", *BODY)
    trueup.made("draft", "ada", *ADA)
    paper = folder / "paper.svg"
    paper.write_bytes(drawn(draft_of(trueup, "village"), turned={"back": 180, "sleeve": 90}))
    trueup.made("trace", str(paper), "card", "--as-proposed")
    trueup.made("derive", "blouse", "--from", "village")
    trueup.made("style", "blouse", "lengthen", "--by", "12% of waist")
    trueup.made("derive", "shirt", "--from", "card")
    trueup.made("style", "shirt", "lengthen", "--by", "60mm")
    trueup.made("graft", "blouse", "--onto", "ada", "--as", "adas")
    (folder / "sizes.csv").write_text(TABLE)
    trueup.made("sizes", "blouse", "--table", str(folder / "sizes.csv"))
    return trueup


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Trueup:
    """Give the wardrobe to those who only read."""
    return build(tmp_path_factory.mktemp("standing"))


@pytest.fixture
def house(tmp_path: Path) -> Trueup:
    return build(tmp_path)


@pytest.fixture(params=PATTERNS)
def kept(request: Any) -> Kept:
    return PATTERNS[request.param]


def draft_of(trueup: Trueup, node: str) -> Draft:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.draft(node)


def edge_of(trueup: Trueup, node: str, edge: str) -> Edge:
    piece, _, name = edge.partition(".")
    return draft_of(trueup, node).piece(piece).edge(name)


def long(trueup: Trueup, node: str, edge: str) -> float:
    return length(edge_of(trueup, node, edge))


def lines(piece: Piece) -> LineString:
    """Return the outline of a piece, sampled."""
    share = np.linspace(0.0, 1.0, 60)
    points: list[complex] = []
    for edge in piece.edges:
        for c in edge.outline.cubics:
            a, b, d, e = c.start, c.start_control, c.end_control, c.end
            u = 1 - share
            points += list(u**3 * a + 3 * u**2 * share * b + 3 * u * share**2 * d + share**3 * e)
    return LineString([(p.real, p.imag) for p in points])


def same(one: Draft, other: Draft) -> float:
    """Return how far the outlines of two drafts lie apart at most, mm."""
    return max(
        lines(piece).hausdorff_distance(lines(other.piece(piece.name))) for piece in one.pieces
    )


def moved(before: Edge, after: Edge) -> float:
    """Return how far a line lies from where it lay at most, in the frame of its own ends, mm."""
    return _in_frame(before).hausdorff_distance(_in_frame(after))


def _in_frame(edge: Edge) -> LineString:
    share = np.linspace(0.0, 1.0, 400)
    points: list[complex] = []
    for part in edge.parts:
        for c in part.cubics:
            a, b, d, e = c.start, c.start_control, c.end_control, c.end
            u = 1 - share
            points += list(u**3 * a + 3 * u**2 * share * b + 3 * u * share**2 * d + share**3 * e)
    first, way = points[0], points[-1] - points[0]
    found = [(p - first) / (way / abs(way)) for p in points]
    return LineString([(p.real, p.imag) for p in found])


def measured(document: Any, name: str) -> Any:
    return next(each for each in document if each["name"] == name)


# --- reading --------------------------------------------------------------------------------------


def test_measure_compare_and_explain_tell_the_lengths_of_its_lines(
    standing: Trueup, kept: Kept
) -> None:
    told = standing.made("measure", kept.name, "--json").document["measures"]
    explained = standing.made("explain", kept.name, "--json").document
    compared = standing.made("compare", kept.block, kept.name, "--json").document
    for edge in ("front.side", "front.centre", "back.side", "front.armhole", "sleeve.cap"):
        now, then = long(standing, kept.name, edge), long(standing, kept.block, edge)
        assert told[edge] == pytest.approx(now, abs=0.05)
        assert explained["measures"][edge] == pytest.approx(now, abs=0.05)
        grew = [each for each in explained["moved"] if each["name"] == edge]
        if edge in ("front.armhole", "sleeve.cap"):
            assert not grew
            assert edge not in {each["edge"] for each in compared["edges"]}
            continue
        assert grew[0]["before_mm"] == pytest.approx(then, abs=0.05)
        assert grew[0]["after_mm"] - grew[0]["before_mm"] == pytest.approx(kept.longer, abs=0.1)
        (found,) = [each for each in compared["edges"] if each["edge"] == edge]
        assert (found["before_mm"], found["after_mm"]) == pytest.approx((then, now), abs=0.05)


def test_origin_says_which_node_and_step_drew_each_line(standing: Trueup, kept: Kept) -> None:
    step = standing.step_of(kept.style, 0)
    told = {e["edge"]: e for e in standing.made("origin", kept.name, "--json").document["edges"]}
    for edge in ("front.side", "back.side", "front.hem"):
        assert told[edge]["node"] == kept.style
        assert told[edge]["step"]["id"] == step
    for edge in ("front.armhole", "front.shoulder", "sleeve.cap"):
        assert (told[edge]["node"], told[edge]["step"]) == (kept.block, None)


def test_history_and_report_tell_what_was_done(standing: Trueup, kept: Kept) -> None:
    history = standing.made("history", kept.name, "--json").document["history"]
    verbs = {"shirt": ["style", "derive"], "adas": ["graft"], "blouse-s": ["sizes"]}
    assert [each["verb"] for each in history] == verbs[kept.name]
    report = standing.made("report", kept.name).out
    assert history[-1]["says"] in report
    grew = f"{kept.longer / 10:.1f}".rstrip("0").rstrip(".")
    assert f"{grew} cm" in standing.made("explain", kept.name).out


def test_what_is_exported_is_the_same_draft_again(
    standing: Trueup, kept: Kept, tmp_path: Path
) -> None:
    other = tmp_path / "other"
    assert run("start", str(other)).code == 0
    again = Trueup(other)
    for ending in ("svg", "dxf"):
        file = tmp_path / f"out.{ending}"
        standing.made("export", kept.name, str(file))
        again.made("trace", str(file), f"from-{ending}")
        assert draft_of(again, f"from-{ending}") == draft_of(standing, kept.name)


def test_its_sheet_is_as_long_as_its_lines(standing: Trueup, kept: Kept, tmp_path: Path) -> None:
    file = tmp_path / "sheet.pdf"
    standing.made("sheet", kept.name, str(file), "--paper", "150cm", "--lines", "seam")
    pages = read(file.read_bytes())
    words = {word["text"] for page in pages for word in page.words}
    assert kept.name in words
    found = sorted(line.length for page in pages for line in page.in_pen(InkPen.SEAM))
    parts = sorted(
        float(np.abs(np.diff(part)).sum())
        for piece in draft_of(standing, kept.name).pieces
        for edge in piece.edges
        if edge.name != piece.fold
        for part in sampled(edge)
    )
    for part in parts:
        near = min(found, key=lambda each: abs(each - part))
        assert near == pytest.approx(part, abs=0.3)
        found.remove(near)
    assert len(found) == 1  # the sample beside its name on the cover


def test_the_book_has_its_page_with_the_same_numbers(
    standing: Trueup, kept: Kept, tmp_path: Path
) -> None:
    file = tmp_path / "book.html"
    standing.made("book", str(file))
    page = text(opened(file).page(f"pattern/{kept.name}"))
    for name, told in standing.made("measure", kept.name, "--json").document["measures"].items():
        if name in ("front.side", "front.centre", "back.side"):
            assert length(edge_of(standing, kept.name, name)) == pytest.approx(told, abs=0.05)
            cm = f"{told / 10:.1f}".removesuffix(".0")
            assert f"\N{RIGHTWARDS ARROW} {cm} cm" in page, name


# --- steps ----------------------------------------------------------------------------------------


def test_a_correction_arrives_is_answered_for_cloth_and_moves_up(house: Trueup, kept: Kept) -> None:
    house.made("cut", kept.name, "--wearer", "Eve", "--name", "first")
    house.made("note", "first", "armhole-binds", "--place", "front.armhole")
    shared = house.made("shared", "first", "--json").document["faults"][0]
    assert (shared["node"], shared["best"]) == (kept.block, kept.block)
    assert [each["name"] for each in shared["garments"]] == ["first"]
    diagnosed = house.made("diagnose", "first", "--json").document["diagnoses"][0]
    reads = {each["measure"]: each for check in diagnosed["checks"] for each in check["readings"]}
    before = edge_of(house, kept.name, "front.armhole")
    assert reads["front.armhole"]["now_mm"] == pytest.approx(length(before), abs=0.05)
    assert reads["front.armhole"]["cut_mm"] == pytest.approx(length(before), abs=0.05)
    assert diagnosed["checks"][0]["proposed"]["node"] == kept.block

    answer = house("correct", kept.name, "scoop-armhole", "--piece", "front", "--by", "4mm")
    assert answer.code == 0, answer.err
    after = edge_of(house, kept.name, "front.armhole")
    altered = house.made("alter", "first", "--json").document
    (piece,) = [each for each in altered["pieces"] if each["piece"] == "front"]
    (edge,) = [each for each in piece["edges"] if each["edge"] == "front.armhole"]
    assert not edge["stays"]
    assert edge["lacking_mm"] == pytest.approx(0.0, abs=0.01)
    # As far as the two lines lie apart: hollowing takes cloth away, the most of it 4 mm closed.
    assert edge["taken_in_mm"] == pytest.approx(moved(before, after), abs=0.5)
    behind = long(house, kept.name, "back.armhole")
    assert altered["cap"]["armhole_before_mm"] == pytest.approx(length(before) + behind, abs=0.05)
    assert altered["cap"]["armhole_after_mm"] == pytest.approx(length(after) + behind, abs=0.05)
    still = [e for p in altered["pieces"] for e in p["edges"] if e["edge"] != "front.armhole"]
    assert all(each["stays"] for each in still)

    step, was = house.step_of(kept.name), draft_of(house, kept.name)
    block = edge_of(house, kept.block, "front.armhole")
    up = house("promote", kept.name, step, "--json")
    assert up.code in (0, 1), up.err
    assert same(was, draft_of(house, kept.name)) < 0.001
    now = edge_of(house, kept.block, "front.armhole")
    assert length(now) - length(block) == pytest.approx(length(after) - length(before), abs=0.05)
    told = {e["edge"]: e for e in house.made("origin", kept.name, "--json").document["edges"]}
    assert told["front.armhole"]["node"] == kept.block
    assert told["front.armhole"]["step"]["id"] == step
    history = house.made("history", kept.name, "--json").document["history"]
    assert [each["verb"] for each in history[:2]] == ["promote", "correct"]


def test_pins_on_it_become_a_correction_that_does_as_was_pinned(house: Trueup, kept: Kept) -> None:
    found = house.made(
        *("fit-from", kept.name, "--pinned", "front.side=8mm", "--on", kept.block, "--json")
    ).document
    (pinned,) = found["corrections"]
    values = pinned["values"]
    house("correct", kept.block, pinned["kind"], f"--by={values['by']}")
    told = measured(pinned["measures"], "front.bust-width")
    assert told["after_mm"] - told["before_mm"] == pytest.approx(-8.0, abs=0.01)
    now = house.made("measure", kept.name, "--json").document["measures"]
    assert now["front.bust-width"] == pytest.approx(told["after_mm"], abs=0.05)


def test_steps_are_amended_dropped_taken_back_and_left_behind(house: Trueup, kept: Kept) -> None:
    start = long(house, kept.block, "front.side")
    step = house.step_of(kept.style, 0)
    house.made("amend", kept.name, step, "--by", "31mm")
    assert long(house, kept.name, "front.side") - start == pytest.approx(31, abs=0.1)
    house.made("undo")
    assert long(house, kept.name, "front.side") - start == pytest.approx(kept.longer, abs=0.1)
    house.made("drop", kept.name, step)
    assert long(house, kept.name, "front.side") == pytest.approx(start, abs=0.01)
    house.made("undo")
    assert long(house, kept.name, "front.side") - start == pytest.approx(kept.longer, abs=0.1)
    house.made("derive", "stays", "--from", kept.name, "--stay-on", "HEAD")
    before = draft_of(house, "stays")
    house("correct", kept.block, "shorten-shoulder", "--by", "4mm")
    assert same(before, draft_of(house, "stays")) < 1e-9
    shoulder = long(house, kept.name, "front.shoulder")
    assert length(before.piece("front").edge("shoulder")) - shoulder == pytest.approx(4, abs=0.02)
    told = house.made("history", "stays").out
    assert "staying on version" in told


def test_a_conflict_is_found_and_its_remedy_mends_it(house: Trueup, kept: Kept) -> None:
    answer = house("correct", kept.block, "scoop-armhole", "--piece", "front", "--by", "14mm")
    assert answer.code in (0, 1)
    waiting = house("conflicts", kept.block, "--json").document["conflicts"]
    (seam,) = [each for each in waiting if each["kind"] == "seam"]
    house.made("decide", seam["id"], "refit-cap", "--why", "as offered")
    for node in (kept.block, kept.name):
        draft = draft_of(house, node)
        cap = length(draft.piece("sleeve").edge("cap"))
        armhole = sum(length(draft.piece(p).edge("armhole")) for p in ("front", "back"))
        band = next(s.allowed for s in draft.seams if s.name == "armhole-seam")
        assert band.low - band.tolerance <= cap - armhole <= band.high + band.tolerance
        assert house("check", node).code == 0
