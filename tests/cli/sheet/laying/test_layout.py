"""Pieces laid out on paper: apart, inside, whole, grain along the paper."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.cli.sheet.test_cut_list import rectangle
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.failures import Misused
from trueup.cli.sheet.laying.extents import extent
from trueup.cli.sheet.laying.layout import GAP, Layout, ToPrint, lay_out
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN, PAPERS, Paper, paper_named
from trueup.geometry.comparing.laying import moved
from trueup.geometry.drafting import draft_block
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Grainline
from trueup.geometry.units import Unit

A4, LETTER, A3, A0 = PAPERS
ROLL = Paper("a roll", 914.0)


def printed(draft: Draft, allowance: float = 0.0) -> list[ToPrint]:
    return [
        ToPrint(allowed(piece, dict.fromkeys(piece.edge_names, allowance)))
        for piece in draft.pieces
    ]


def on_one_sheet(layout: Layout) -> bool:
    return len(layout.tiles) == 1


@settings(max_examples=20)
@given(drafts(), st.sampled_from([A4, LETTER, ROLL]), st.sampled_from([0.0, 15.0]))
def test_pieces_lie_apart_and_inside(draft: Draft, paper: Paper, allowance: float) -> None:
    layout = lay_out(printed(draft, allowance), paper)
    for one, other in combinations(layout.pieces, 2):
        assert shapely.distance(one.cut, other.cut) >= GAP - 1e-6
    shown = shapely.union_all([tile.window.polygon for tile in layout.tiles]).buffer(1e-6)
    for laid in layout.pieces:
        assert shown.contains(laid.cut)
        for point in extent(laid.piece):
            at = laid.motion(point)
            assert -1e-6 <= at.real <= layout.width + 1e-6
            assert -1e-6 <= at.imag <= layout.height + 1e-6


@settings(max_examples=10)
@given(drafts(), st.floats(-3, 3))
def test_the_grain_lies_along_the_paper_however_the_piece_was_turned(
    draft: Draft, radians: float
) -> None:
    turned = [
        ToPrint(moved(piece, Motion.turn(100 + 50j, radians)))
        for piece in draft.pieces
        if piece.grainline
    ]
    for laid in lay_out(turned, A4).pieces:
        grain = laid.piece.grainline
        assert grain is not None
        assert abs((laid.motion(grain.end) - laid.motion(grain.start)).real) < 1e-6


def test_a_grainline_longer_than_its_piece_has_room() -> None:
    short = replace(rectangle("collar", 80, 60), grainline=Grainline(40 - 30j, 40 + 150j))
    (laid,) = lay_out([ToPrint(short)], ROLL).pieces
    grain = short.grainline
    assert grain is not None
    layout = lay_out([ToPrint(short)], ROLL)
    for end in (grain.start, grain.end):
        assert -1e-6 <= laid.motion(end).imag <= layout.height + 1e-6


def test_no_sheet_is_empty() -> None:
    layout = lay_out(printed(block()), A4)
    assert all(layout.shown_on(tile) for tile in layout.tiles)


@pytest.mark.parametrize(("bust", "sleeve"), [(940, 500), (880, 528), (880, 540)])
def test_a_hem_along_the_end_of_a_roll_is_printed(bust: float, sleeve: float) -> None:
    body = {"bust": bust, "waist": bust - 200, "back-length": 380, "sleeve-length": sleeve}
    piece = draft_block("bust-proportion", body).piece("sleeve")
    layout = lay_out([ToPrint(piece)], Paper("a roll", 450.0), [Rectangle(0, 0, 180, 480)])
    (laid,), (tile,) = layout.pieces, layout.tiles
    for edge in piece.edges:
        seam = [laid.motion(point) for part in edge.parts for point in part.flattened()]
        (shown,) = tile.window.cut_off(seam)
        assert abs(np.subtract(shown, seam)).max() < 1e-5


def test_a_cover_has_its_own_room_on_a_roll() -> None:
    cover = [Rectangle(0, 0, 190, 300)]
    layout = lay_out(printed(block()), ROLL, cover)
    (at,) = layout.columns
    room = shapely.box(at.real, at.imag, at.real + 190, at.imag + 300)
    assert all(shapely.distance(room, laid.cut) >= GAP - 1e-6 for laid in layout.pieces)


def test_a_roll_is_as_long_as_the_pieces_need() -> None:
    layout = lay_out(printed(block()), ROLL)
    assert on_one_sheet(layout)
    assert layout.paper.height == layout.height + 2 * MARGIN + FOOTER


def test_what_moved_has_room_as_well() -> None:
    (piece, *_) = block().pieces
    plain = lay_out([ToPrint(piece)], ROLL)
    around = shapely.Polygon([(p.real, p.imag) for p in extent(piece)]).buffer(30)
    wider = lay_out([ToPrint(piece, around)], ROLL)
    assert wider.width > plain.width + 50
    (laid,) = wider.pieces
    left, top, right, bottom = laid.changed.bounds
    assert left > -1e-6
    assert top > -1e-6
    assert right < wider.width + 1e-6
    assert bottom < wider.height + 1e-6


def test_a_pattern_too_large_for_one_sheet_has_each_piece_whole_on_one_of_several() -> None:
    many = printed(block(bust=1150, waist=900), 15)
    layout = lay_out(many, A0, [Rectangle(0, 0, 190, 400), Rectangle(0, 0, 190, 400)])
    assert len(layout.tiles) == 2
    for laid in layout.pieces:
        holding = [tile for tile in layout.tiles if tile.window.polygon.contains(laid.cut)]
        assert len(holding) == 1
        assert layout.shown_on(holding[0]).count(laid.piece.name) == 1
    assert layout.columns[0] == 0


def test_a_piece_longer_than_the_sheet_is_refused() -> None:
    long = ToPrint(rectangle("train", 400, 1400))
    with refusing(Misused, match=r"train: it is 1400 mm long, and the paper \(a0\)"):
        lay_out([long], A0)


def test_a_roll_narrower_than_a_piece_is_refused() -> None:
    with refusing(Misused, match="There is no room for"):
        lay_out(printed(block()), Paper("a narrow roll", 200.0))


@pytest.mark.parametrize(
    ("text", "width"), [("A4", 210.0), ("letter", 215.9), ("91.4cm", 914.0), ("36in", 914.4)]
)
def test_papers_are_named_or_measured(text: str, width: float) -> None:
    assert paper_named(text, Unit.CENTIMETRE).width == pytest.approx(width)


@pytest.mark.parametrize("text", ["a5", "", "-3cm", "0", "900cm", "1,200mm"])
def test_what_is_no_paper_is_refused(text: str) -> None:
    with pytest.raises(Misused):
        paper_named(text, Unit.CENTIMETRE)
