"""The pages of a sheet, read from its PDF by another library (pdfplumber)."""

import datetime
from collections import defaultdict
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import pytest
import shapely
from shapely.geometry import LineString

from cli.sheet.document import Sheet, composed, written
from cli.sheet.facts import Facts, Version
from cli.sheet.ink import Pen
from cli.sheet.layout import Layout, ToPrint
from cli.sheet.paper import MARGIN, PAPERS, Paper, paper_named
from cli.sheet.piece_lines import Layer
from geometry.allowances import allowed
from geometry.cutting_line import cutting_line
from geometry.draft import Draft
from geometry.measures import measures
from geometry.units import Unit
from lineage.records import ConflictKind, ConflictRecord
from tests.builders import block
from tests.cli.sheet.pdf import Read, ReadPage, metadata, read

A4, LETTER, A0 = PAPERS
ROLL = paper_named("91.4cm", Unit.CENTIMETRE)
BOTH = (Layer.SEAM, Layer.CUTTING)
PENCIL = 0.1
SAMPLE = 22.0
"""The cover shows a line of this length in each pen."""
CONFLICTS = tuple(
    ConflictRecord(f"seam-{n}", ConflictKind.SEAM, at, "sleeve", "cap", "seam", "the ease is short")
    for n, at in enumerate(("blouse", "village"))
)


@lru_cache(maxsize=1)
def draft() -> Draft:
    pieces = [
        allowed(piece, {name: 15.0 if name != "hem" else 40.0 for name in piece.edge_names})
        for piece in block().pieces
    ]
    return block().with_pieces(*pieces)


def sheet(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> Sheet:
    facts = Facts(
        "blouse",
        "pattern",
        "village",
        Version("1234567890abcdef", datetime.date(2025, 3, 31)),
        Unit.CENTIMETRE,
        measures(draft()),
        CONFLICTS if open_conflicts else (),
        "linen",
    )
    return Sheet(facts, tuple(ToPrint(piece) for piece in draft().pieces), paper, layers)


@lru_cache(maxsize=16)
def printed(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> tuple[bytes, Layout]:
    wanted = sheet(paper, layers, open_conflicts)
    found = composed(wanted)
    return written(wanted.facts, found.pages), found.layout


@lru_cache(maxsize=16)
def pages(
    paper: Paper = A4, layers: tuple[Layer, ...] = BOTH, open_conflicts: bool = False
) -> list[ReadPage]:
    return read(printed(paper, layers, open_conflicts)[0])


def sewn_lengths(draft_: Draft) -> list[float]:
    """Return the length of every part of every edge that is not on the fold."""
    return sorted(
        part.length
        for piece in draft_.pieces
        for edge in piece.edges
        if edge.name != piece.fold
        for part in edge.parts
    )


@pytest.mark.parametrize("paper", [A0, ROLL], ids=str)
def test_each_edge_is_on_one_page_at_its_true_length(paper: Paper) -> None:
    (page,) = pages(paper)
    found = sorted(line.length for line in page.in_pen(Pen.SEAM))
    expected = sorted([*sewn_lengths(draft()), SAMPLE])
    assert len(found) == len(expected)
    for got, wanted in zip(found, expected, strict=True):
        assert abs(got - wanted) < PENCIL


def test_the_cutting_line_and_the_fold_are_as_long_as_they_are() -> None:
    (page,) = pages(ROLL)
    outlines = sum(cutting_line(piece).exterior.length for piece in draft().pieces)
    drawn = [
        *page.in_pen(Pen.CUT),
        *(each for each in page.in_pen(Pen.FOLD) if each.length > SAMPLE + 1),
    ]
    assert sum(line.length for line in drawn) - SAMPLE == pytest.approx(outlines, abs=PENCIL)


def test_nothing_is_drawn_as_a_cut_along_the_fold() -> None:
    (page,) = pages(ROLL)
    (fold,) = (line for line in page.in_pen(Pen.FOLD) if line.length > SAMPLE + 1)
    front = draft().piece("front")
    assert fold.length == pytest.approx(front.edge("centre").length + 15 + 40, abs=0.5)
    beside = fold.line.buffer(0.2)
    assert sum(line.line.intersection(beside).length for line in page.in_pen(Pen.CUT)) < 1.0


def test_a_dart_has_legs_of_their_true_length() -> None:
    (page,) = pages(ROLL)
    found = sorted(line.length for line in page.in_pen(Pen.DART) if len(line.points) == 3)
    mouths = [m for p in draft().pieces for e in p.edges for m in e.mouths]
    expected = sorted(sum(mouth.legs) for mouth in mouths)
    assert found == pytest.approx(expected, abs=PENCIL)


def crosses(page: ReadPage) -> dict[int, list[complex]]:
    """Return the places of the crosses on a page by the number beside them."""
    arms = [line for line in page.in_pen(Pen.MATCH) if line.length == pytest.approx(6.0, abs=0.01)]
    level = [sum(a.points) / 2 for a in arms if abs((a.points[1] - a.points[0]).imag) < 1e-3]
    found: dict[int, list[complex]] = defaultdict(list)
    for word in page.words:
        if word["size"] < 2.5 * 72 / 25.4 and word["text"].isdigit():
            at = complex(word["x0"], word["bottom"]) * 25.4 / 72
            near = min(level, key=lambda cross: abs(cross - at), default=None)
            if near is not None and abs(near - at) < 3:
                found[int(word["text"])].append(near)
    return found


def glued(paper: Paper) -> tuple[dict[int, complex], list[tuple[int, int]]]:
    """Return by how much each page is shifted when crosses are laid on crosses, as a maker does.

    Also which pages were laid on each other.
    """
    marked = {n: crosses(page) for n, page in enumerate(pages(paper)) if page.in_pen(Pen.BORDER)}
    showing: dict[int, list[int]] = defaultdict(list)
    for n, found in marked.items():
        for number, places in found.items():
            assert len(places) == 2, f"page {n + 1} shows cross {number} {len(places)} times"
            showing[number].append(n)
    assert all(len(both) == 2 for both in showing.values())
    first = min(marked)
    shifts, waiting = {first: 0j}, [first]
    while waiting:
        here = waiting.pop()
        for number, both in showing.items():
            if here not in both:
                continue
            (there,) = (n for n in both if n != here)
            steps = [
                a - b
                for a, b in zip(
                    sorted(marked[here][number], key=lambda p: (p.real, p.imag)),
                    sorted(marked[there][number], key=lambda p: (p.real, p.imag)),
                    strict=True,
                )
            ]
            assert abs(steps[0] - steps[1]) < 0.01
            if there not in shifts:
                shifts[there] = shifts[here] + steps[0]
                waiting.append(there)
            assert abs(shifts[there] - shifts[here] - steps[0]) < 0.01
    return shifts, [(a, b) for a, b in showing.values()]


@pytest.mark.parametrize("paper", [A4, LETTER], ids=str)
def test_pages_laid_cross_on_cross_give_each_edge_at_its_true_length(paper: Paper) -> None:
    shifts, _ = glued(paper)
    layout = printed(paper)[1]
    assert len(shifts) == len(layout.tiles)
    first = layout.tiles[0].window
    parts: list[LineString] = []
    shown = shapely.Polygon()
    for n, shift in sorted(shifts.items()):
        page = pages(paper)[n]
        for line in page.in_pen(Pen.SEAM):
            points = [p + shift - complex(MARGIN, MARGIN) for p in line.points]
            points = [p + complex(first.left, first.top) for p in points]
            parts.append(LineString([(p.real, p.imag) for p in points]).difference(shown))
        window = shapely.box(0, 0, page.width - 2 * MARGIN, page.height - 2 * MARGIN - 9)
        shown = shown.union(
            shapely.affinity.translate(window, shift.real + first.left, shift.imag + first.top)
        )
    expected = [
        (f"{laid.piece.name}.{edge.name}", part.moved(laid.motion))
        for laid in layout.pieces
        for edge in laid.piece.edges
        if edge.name != laid.piece.fold
        for part in edge.parts
    ]
    lines = [LineString([(p.real, p.imag) for p in part.flattened()]) for _, part in expected]
    lengths = [0.0] * len(lines)
    for drawn in parts:
        for piece in shapely.get_parts(drawn):
            if piece.length > 0:
                middle = piece.interpolate(0.5, normalized=True)
                away = [line.distance(middle) for line in lines]
                best = min(range(len(lines)), key=lambda n: away[n])
                assert away[best] < PENCIL
                lengths[best] += piece.length
    for (name, part), length in zip(expected, lengths, strict=True):
        assert abs(length - part.length) < PENCIL, name


@pytest.mark.parametrize("paper", [A4, LETTER], ids=str)
def test_neighbouring_pages_show_the_same_lines_where_they_overlap(paper: Paper) -> None:
    shifts, together = glued(paper)
    assert together
    for one, other in together:
        step = shifts[other] - shifts[one]
        size = complex(paper.drawn_width, paper.drawn_height)
        low = complex(max(0.0, step.real), max(0.0, step.imag))
        high = complex(min(size.real, size.real + step.real), min(size.imag, size.imag + step.imag))
        assert min(high.real - low.real, high.imag - low.imag) == pytest.approx(10, abs=0.01)
        corner = complex(MARGIN, MARGIN)
        strip = shapely.box(*_xy(low + corner), *_xy(high + corner)).buffer(-0.01)
        mine = _lines_in(pages(paper)[one], 0j, strip)
        theirs = _lines_in(pages(paper)[other], step, strip)
        assert mine.difference(theirs.buffer(0.02)).length < 0.1
        assert theirs.difference(mine.buffer(0.02)).length < 0.1


def _lines_in(page: ReadPage, step: complex, strip: shapely.Polygon) -> shapely.Geometry:
    pens = (Pen.SEAM, Pen.CUT, Pen.DART, Pen.FOLD)
    lines = [line for pen in pens for line in page.in_pen(pen)]
    moved = [LineString([_xy(p + step) for p in line.points]) for line in lines]
    return shapely.union_all(moved).intersection(strip)


def _xy(point: complex) -> tuple[float, float]:
    return point.real, point.imag


@pytest.mark.parametrize("paper", [A4, LETTER, A0, ROLL], ids=str)
def test_the_test_squares_on_the_first_page_are_exact(paper: Paper) -> None:
    squares = [line for line in pages(paper)[0].in_pen(Pen.TEST) if len(line.points) == 5]
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
            assert MARGIN - 0.01 <= point.real <= page.width - MARGIN + 0.01
            assert MARGIN - 0.01 <= point.imag <= page.height - MARGIN + 0.01


@pytest.mark.parametrize("paper", [A4, LETTER], ids=str)
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
    whole = "\n".join(page.text for page in pages(A4)[:2])
    for words in (
        *("front cut 1 on the fold", "back cut 2, a pair", "fabric linen", "Print at 100 %"),
        *("irons cut and burn", "flammability", "cords", "small parts", "licensed practitioner"),
        *("sleeve.cap-ease", "front.armhole"),
    ):
        assert words in whole


def test_every_piece_has_one_label_on_one_page_whole() -> None:
    found = [page.text for page in pages(A4)]
    for n, piece in enumerate(draft().pieces, start=1):
        (page,) = (text for text in found if f"blouse: {piece.name}" in text)
        assert f"piece {n} of 3" in page
        assert "allowances included" in page


def test_a_label_stands_clear_of_the_lines() -> None:
    (page,) = pages(ROLL)
    lines = shapely.union_all(
        [line.line for pen in (Pen.SEAM, Pen.DART, Pen.CUT) for line in page.in_pen(pen)]
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
    assert seams.in_pen(Pen.SEAM)
    assert not seams.in_pen(Pen.CUT)
    assert cuts.in_pen(Pen.CUT)
    assert not cuts.in_pen(Pen.SEAM)


def test_what_moved_is_hatched_and_nothing_else() -> None:
    wanted = sheet(ROLL)
    front, *others = wanted.pieces
    place = shapely.Point(front.piece.cloth.centroid).buffer(20)
    layers = (*BOTH, Layer.CHANGES)
    shaded = replace(wanted, pieces=(ToPrint(front.piece, place), *others), layers=layers)
    found = composed(shaded)
    (page,) = read(written(shaded.facts, found.pages))
    hatch = page.in_pen(Pen.CHANGED)
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
    assert line.is_in(Pen.SEAM)
    assert not line.is_in(Pen.CUT)
