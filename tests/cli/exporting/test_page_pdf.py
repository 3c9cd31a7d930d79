"""The one page of a PDF, read by another library (pdfplumber): true to scale and whole."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point

from tests.builders import block
from tests.cli.exporting.told import facts_about
from tests.cli.sheet.pdf import Read, ReadPage, read
from tests.cli.sheet.test_cut_list import rectangle
from tests.refusals import refusing
from tests.strategies import drafts, side_dart_blocks
from trueup.cli.exporting.page_pdf import page_pdf
from trueup.cli.failures import Misused
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.paper import MARGIN
from trueup.cli.wording.words import worded
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord

PENCIL = 0.1
ALLOWED = {name: 15.0 for piece in block().pieces for name in piece.edge_names} | {"hem": 40.0}


def cut_wider(draft: Draft) -> Draft:
    return draft.with_pieces(
        *(
            allowed(piece, {name: ALLOWED.get(name, 10.0) for name in piece.edge_names})
            for piece in draft.pieces
        )
    )


def with_dart_inside(draft: Draft) -> Draft:
    back = draft.piece("back")
    middle = complex(60, back.level("bust").y)
    fish = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    return draft.with_pieces(replace(back, inner_darts=(fish,)))


def page_of(draft: Draft) -> ReadPage:
    (page,) = read(page_pdf(draft, facts_about(draft)))
    return page


def alike(found: list[Read], expected: list[float]) -> None:
    lengths = sorted(line.length for line in found)
    assert len(lengths) == len(expected)
    for got, wanted in zip(lengths, sorted(expected), strict=True):
        assert abs(got - wanted) < PENCIL


@settings(max_examples=10)
@given(st.one_of(drafts(), side_dart_blocks()), st.booleans())
def test_every_edge_dart_and_grainline_has_its_true_length(draft: Draft, wider: bool) -> None:
    draft = cut_wider(draft) if wider else draft
    page = page_of(draft)
    hems, seams = [], []
    for piece in draft.pieces:
        for edge in (each for each in piece.edges if each.name != piece.fold):
            is_turned = edge.name == "hem" and piece.allowance("hem") > 0
            (hems if is_turned else seams).extend(part.length for part in edge.parts)
    alike(page.in_pen(InkPen.SEAM), seams)
    alike(page.in_pen(InkPen.TURNED), hems)
    mouths = [m for piece in draft.pieces for edge in piece.edges for m in edge.mouths]
    alike(page.in_pen(InkPen.DART), [sum(mouth.legs) for mouth in mouths])
    lines = [piece.grainline for piece in draft.pieces if piece.grainline]
    long = [line for line in page.in_pen(InkPen.GRAIN) if line.length > 16]
    alike(long, [abs(line.end - line.start) for line in lines])
    for line in long:
        assert abs((line.points[-1] - line.points[0]).real) < PENCIL


def test_the_cutting_lines_and_the_fold_are_drawn_in_full() -> None:
    draft = cut_wider(block())
    page = page_of(draft)
    drawn = [*page.in_pen(InkPen.CUT), *page.in_pen(InkPen.FOLD)]
    around = sum(cutting_line(piece).exterior.length for piece in draft.pieces)
    assert sum(line.length for line in drawn) == pytest.approx(around, abs=PENCIL)


def test_a_dart_inside_a_piece_is_drawn_all_round() -> None:
    draft = with_dart_inside(block())
    rings = [line for line in page_of(draft).in_pen(InkPen.DART) if len(line.points) == 5]
    (fish,) = draft.piece("back").inner_darts
    corners = (fish.upper, fish.right, fish.lower, fish.left, fish.upper)
    assert [ring.length for ring in rings] == [
        pytest.approx(sum(abs(b - a) for a, b in pairwise(corners)), abs=PENCIL)
    ]


def test_every_notch_runs_in_from_its_place_on_the_seam() -> None:
    piece = block().piece("back")
    page = page_of(block().only(["back"]))
    drawn = [line.points for line in page.in_pen(InkPen.NOTCH) if line.length > 4]
    assert len(drawn) == len(piece.notches) == 2
    (seam,) = (
        line
        for line in page.in_pen(InkPen.SEAM)
        if line.length == pytest.approx(piece.edge("armhole").length, abs=PENCIL)
    )
    shift = seam.points[0] - piece.edge("armhole").start
    for notch, (start, end) in zip(piece.notches, drawn, strict=True):
        at = piece.edge("armhole").point_at(notch.at.along(piece.edge("armhole")))
        assert abs(start - shift - at) < PENCIL
        assert abs(end - start) == pytest.approx(5, abs=PENCIL)
        assert piece.cloth.contains(Point((end - shift).real, (end - shift).imag))


def test_there_is_one_test_square_and_it_is_exact() -> None:
    (square,) = page_of(block()).in_pen(InkPen.TEST)
    first, second, third, fourth, last = square.points
    assert last == first
    across, down = second - first, third - second
    assert abs(abs(across) - 50) < 0.001
    assert abs(abs(down) - 50) < 0.001
    assert abs(fourth - first - down) < 0.001
    assert abs((across * down.conjugate()).real) < 0.001


@settings(max_examples=10)
@given(drafts(), st.booleans())
def test_the_page_is_as_large_as_what_is_on_it_and_its_margin(draft: Draft, wider: bool) -> None:
    page = page_of(cut_wider(draft) if wider else draft)
    places = list(page.reach())
    for place in places:
        assert MARGIN - 0.01 <= place.real <= page.width - MARGIN + 0.01
        assert MARGIN - 0.01 <= place.imag <= page.height - MARGIN + 0.01
    assert max(place.real for place in places) == pytest.approx(page.width - MARGIN, abs=PENCIL)
    assert max(place.imag for place in places) > page.height - MARGIN - 10


def test_it_says_what_it_is_and_names_its_pieces() -> None:
    draft = block()
    page = page_of(draft)
    for words in ("blouse, pattern", "block village", "version 2025-03-31 12345678", "50 mm"):
        assert words in page.text
    for piece in draft.pieces:
        assert f"blouse: {piece.name}" in page.text
    assert "CONFLICTS" not in page.text


def test_an_open_conflict_stands_on_it_in_words() -> None:
    conflict = ConflictRecord(
        "seam-1", ConflictKind.SEAM, "village", "sleeve", "cap", "seam", "the ease is short"
    )
    (page,) = read(page_pdf(block(), facts_about(block(), conflict)))
    assert "OPEN CONFLICTS: 1 inherited" in page.text
    assert "the ease is short" in page.text


def test_pieces_that_are_too_many_for_one_row_lie_in_several() -> None:
    draft = Draft(tuple(rectangle(f"gore-{n}", 900, 700) for n in range(8)))
    page = page_of(draft)
    assert page.width < 5080
    assert page.height > 1400
    assert len(page.in_pen(InkPen.SEAM)) == 8 * 4


@pytest.mark.parametrize(
    ("draft", "says"),
    [
        (Draft((rectangle("train", 400, 5060),)), "train on one page of a PDF: it is 400 mm wide"),
        (Draft((rectangle("sail", 5100, 300),)), "sail on one page of a PDF: it is 5100 mm wide"),
        (Draft(tuple(rectangle(f"sail-{n}", 4000, 2000) for n in range(3))), "this pattern on one"),
    ],
)
def test_what_no_page_can_hold_is_refused_in_one_sentence(draft: Draft, says: str) -> None:
    with refusing(Misused, match=says) as refused:
        page_pdf(draft, facts_about(draft))
    assert "at most 5080 mm" in worded(refused.value.says, Unit.MILLIMETRE)
    assert "`sheet`" in worded(refused.value.says, Unit.MILLIMETRE)


def test_the_same_version_gives_the_same_bytes() -> None:
    facts = facts_about(block())
    assert page_pdf(block(), facts) == page_pdf(block(), facts)
