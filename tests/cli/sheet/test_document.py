"""The pages of a sheet, read from its PDF by another library (pdfplumber)."""

import re
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from tests.cli.sheet.pdf import MM, Read, metadata, read
from tests.cli.sheet.printed import (
    A0,
    A3,
    A4,
    BOTH,
    LETTER,
    PENCIL,
    ROLL,
    draft,
    pages,
    printed,
    sheet,
)
from trueup.cli.sheet.document import composed, written
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.layout import ToPrint
from trueup.cli.sheet.laying.paper import MARGIN, Paper
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.label import Label

REACH = 25.4 / 4
"""Home printers leave a rim of at most a quarter of an inch white; common practice, no source."""
SAMPLE = 22.0
"""The cover shows a line of this length in each pen."""


def lengths(draft_: Draft, *, of_hems: bool) -> list[float]:
    """Return the length of every part of the hems, or of every other edge not on the fold."""
    return sorted(
        part.length
        for piece in draft_.pieces
        for edge in piece.edges
        if edge.name != piece.fold and (edge.name == "hem") is of_hems
        for part in edge.parts
    )


@pytest.mark.parametrize("paper", [A0, ROLL], ids=str)
def test_each_edge_is_on_one_page_at_its_true_length(paper: Paper) -> None:
    (page,) = pages(paper)
    for pen, of_hems in ((InkPen.SEAM, False), (InkPen.TURNED, True)):
        found = sorted(line.length for line in page.in_pen(pen))
        expected = sorted([*lengths(draft(), of_hems=of_hems), SAMPLE])
        assert len(found) == len(expected)
        for got, wanted in zip(found, expected, strict=True):
            assert abs(got - wanted) < PENCIL


def test_the_cutting_line_and_the_fold_are_as_long_as_they_are() -> None:
    (page,) = pages(ROLL)
    outlines = sum(cutting_line(piece).exterior.length for piece in draft().pieces)
    drawn = [
        *page.in_pen(InkPen.CUT),
        *(each for each in page.in_pen(InkPen.FOLD) if each.length > SAMPLE + 1),
    ]
    assert sum(line.length for line in drawn) - SAMPLE == pytest.approx(outlines, abs=PENCIL)


def test_nothing_is_drawn_as_a_cut_along_the_fold() -> None:
    (page,) = pages(ROLL)
    (fold,) = (line for line in page.in_pen(InkPen.FOLD) if line.length > SAMPLE + 1)
    front = draft().piece("front")
    assert fold.length == pytest.approx(front.edge("centre").length + 15 + 40, abs=0.5)
    beside = fold.line.buffer(0.2)
    assert sum(line.line.intersection(beside).length for line in page.in_pen(InkPen.CUT)) < 1.0


def test_a_dart_has_legs_of_their_true_length() -> None:
    (page,) = pages(ROLL)
    found = sorted(line.length for line in page.in_pen(InkPen.DART) if len(line.points) == 3)
    mouths = [m for p in draft().pieces for e in p.edges for m in e.mouths]
    expected = sorted(sum(mouth.legs) for mouth in mouths)
    assert found == pytest.approx(expected, abs=PENCIL)


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
def test_the_test_squares_on_the_first_page_are_exact(paper: Paper) -> None:
    squares = [line for line in pages(paper)[0].in_pen(InkPen.TEST) if len(line.points) == 5]
    sides = sorted(abs(b - a) for square in squares for a, b in pairwise(square.points))
    assert sides == pytest.approx([50.0] * 4 + [50.8] * 4, abs=0.001)
    for square in squares:
        first, second, third, *_ = square.points
        assert abs(((second - first) / (third - second)).real) < 1e-6


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
@pytest.mark.parametrize("open_conflicts", [False, True])
def test_nothing_stands_outside_what_a_printer_reaches(paper: Paper, open_conflicts: bool) -> None:
    for page in pages(paper, BOTH, open_conflicts):
        for point in page.reach():
            assert REACH <= point.real <= page.width - REACH
            assert REACH <= point.imag <= page.height - REACH


@pytest.mark.parametrize("paper", [A4, LETTER, A3], ids=str)
def test_every_page_is_a_sheet_of_the_paper(paper: Paper) -> None:
    for page in pages(paper):
        assert (page.width, page.height) == pytest.approx((paper.width, paper.height), abs=0.01)


@pytest.mark.parametrize("paper", [A4, ROLL], ids=str)
def test_every_page_says_what_it_belongs_to(paper: Paper) -> None:
    found = pages(paper)
    for n, page in enumerate(found, start=1):
        for words in ("blouse", "block village", "version 2025-03-31 12345678"):
            assert words in page.text
        assert f"page {n} of {len(found)}" in page.text


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
def test_every_page_says_so_while_conflicts_are_open(paper: Paper) -> None:
    for page in pages(paper, BOTH, True):
        assert "OPEN CONFLICTS: 1 of its own, 1 inherited" in page.text
    cover = pages(paper, BOTH, True)[0].text
    assert "the ease is short" in cover
    assert "inherited from village" in cover
    assert not any("CONFLICTS" in page.text for page in pages(paper))


def test_the_cover_lists_pieces_cautions_and_how_to_print() -> None:
    whole = "\n".join(page.text for page in pages(A4)[:4])
    for words in (
        *("front cut 1 on the fold", "back cut 2, a pair", "fabric linen", "Print at 100 %"),
        *("irons cut and burn", "flammability", "cords", "small parts", "licensed practitioner"),
        *("sleeve.cap-ease", "front.armhole"),
    ):
        assert words in whole


@pytest.mark.parametrize("paper", [A4, LETTER, A3], ids=str)
def test_the_cover_names_the_pages_that_show_a_piece(paper: Paper) -> None:
    found = pages(paper)
    whole = "\n".join(page.text for page in found[:4])
    for piece in draft().pieces:
        (said,) = re.findall(rf"^\d of 3 {piece.name} .* pages ([-\d, ]+)$", whole, re.MULTILINE)
        numbers = [
            n
            for first, _, last in (run.partition("-") for run in said.split(", "))
            for n in range(int(first), int(last or first) + 1)
        ]
        showing = [
            n
            for n, page in enumerate(found, start=1)
            if re.search(rf"\| row \d+, column \d+: .*\b{piece.name}\b", page.text)
        ]
        assert numbers == showing


@pytest.mark.parametrize("paper", [A4, LETTER, A3], ids=str)
def test_the_map_on_the_cover_numbers_every_page_of_the_pattern(paper: Paper) -> None:
    found = pages(paper)
    first = min(n for n, page in enumerate(found, start=1) if "row 1, column" in page.text)
    numbers: list[int] = []
    (cover,) = (page for page in found if "How the pages lie" in page.text)
    for frame in cover.in_pen(InkPen.FRAME):
        if len(frame.points) != 5 or frame.length > 2 * paper.drawn_width:
            continue
        across, down = [p.real for p in frame.points], [p.imag for p in frame.points]
        middle = complex(sum(across[:4]), sum(down[:4])) / 4
        (inside,) = (
            word["text"]
            for word in cover.words
            if abs(complex(word["x0"] + word["x1"], word["top"] + word["bottom"]) * MM / 2 - middle)
            < 0.3 * (max(across) - min(across))
        )
        numbers.append(int(inside))
    assert numbers == list(range(first, len(found) + 1))


@pytest.mark.parametrize("paper", [A4, LETTER, A3, A0, ROLL], ids=str)
def test_every_page_has_a_rule_of_five_centimetres(paper: Paper) -> None:
    for page in pages(paper):
        lines = page.in_pen(InkPen.RULE)
        assert max(line.length for line in lines) == pytest.approx(50, abs=0.001)
        bars = sorted(line.points[0].real for line in lines if line.length < 10)
        steps = [right - left for left, right in pairwise(bars)]
        assert steps == pytest.approx([10.0] * 5, abs=0.001)
        assert "5 cm" in page.text


@pytest.mark.parametrize("paper", [A4, LETTER, A3], ids=str)
def test_a_page_is_called_by_its_column_and_its_row(paper: Paper) -> None:
    called = re.compile(r"page (\d+) of \d+, ([A-Z]+)(\d+) *\| *row (\d+), column (\d+):")
    for n, page in enumerate(pages(paper), start=1):
        (told,) = called.findall(page.text)
        number, letter, figure, row, column = told
        assert (int(number), figure) == (n, row)
        assert "ABCDEFGH".index(letter) + 1 == int(column)


def test_every_piece_has_one_label_on_one_page_whole() -> None:
    found = [page.text for page in pages(A4)]
    for n, piece in enumerate(draft().pieces, start=1):
        (page,) = (text for text in found if f"blouse: {piece.name}" in text)
        assert f"piece {n} of 3" in page
        assert "allowances included" in page


def test_a_label_stands_clear_of_the_lines() -> None:
    (page,) = pages(ROLL)
    lines = shapely.union_all(
        [line.line for pen in (InkPen.SEAM, InkPen.DART, InkPen.CUT) for line in page.in_pen(pen)]
    )
    shapely.prepare(lines)
    labels = [word for word in page.words if word["text"] in {"blouse:", "front", "allowances"}]
    assert labels
    for word in labels:
        room = shapely.box(*(word[key] * 25.4 / 72 for key in ("x0", "top", "x1", "bottom")))
        assert not lines.intersects(room)


def test_only_the_lines_asked_for_are_there() -> None:
    (seams,) = pages(ROLL, (Layer.SEAM,))
    (cuts,) = pages(ROLL, (Layer.CUTTING,))
    assert seams.in_pen(InkPen.SEAM)
    assert not seams.in_pen(InkPen.CUT)
    assert cuts.in_pen(InkPen.CUT)
    assert not cuts.in_pen(InkPen.SEAM)


def test_what_moved_is_hatched_and_nothing_else() -> None:
    wanted = sheet(ROLL)
    front, *others = wanted.pieces
    place = shapely.Point(front.piece.cloth.centroid).buffer(20)
    layers = (*BOTH, Layer.CHANGES)
    shaded = replace(wanted, pieces=(ToPrint(front.piece, place), *others), layers=layers)
    found = composed(shaded)
    (page,) = read(written(shaded.facts, found.pages))
    hatch = page.in_pen(InkPen.CHANGED)
    assert len(hatch) > 5
    (laid, *_) = found.layout.pieces
    there = shapely.affinity.translate(laid.changed, MARGIN, MARGIN).buffer(0.01)
    assert all(there.contains(line.line) for line in hatch)


def test_the_same_sheet_gives_the_same_bytes() -> None:
    again = sheet(A4)
    assert written(again.facts, composed(again).pages) == printed(A4)[0]


def test_title_and_version_are_in_the_file_and_no_clock() -> None:
    found = metadata(printed(A4)[0])
    assert found["Title"] == "blouse, pattern"
    assert found["Subject"] == "version 2025-03-31 12345678"
    assert found["CreationDate"] == "D:20250331000000Z"
    assert found["ModDate"] == found["CreationDate"]


def test_the_reader_sees_a_line_drawn_too_short() -> None:
    line = Read((0j, 100 + 0j), 0.3, (5.0, 1.5))
    assert line.length == 100
    assert line.is_in(InkPen.SEAM)
    assert not line.is_in(InkPen.CUT)


def test_long_words_of_the_cover_are_wrapped_and_stay_on_the_paper() -> None:
    wanted = sheet(A4)
    note = "cut with the stand and with what is left of the sleeve, after the first fitting " * 3
    label = Label((("shell", 2), ("interfacing", 4), ("lining", 12)), note.strip())
    pieces = tuple(
        ToPrint(
            replace(each.piece, name=f"{each.piece.name}-with-a-name-of-many-words", label=label)
        )
        for each in wanted.pieces
    )
    found = composed(replace(wanted, pieces=pieces))
    for page in read(written(wanted.facts, found.pages)):
        for point in page.reach():
            assert REACH <= point.real <= page.width - REACH
    whole = " ".join(page.text for page in read(written(wanted.facts, found.pages))[:3])
    assert whole.count("after the first") >= 9
