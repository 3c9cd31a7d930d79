"""The DXF, read back by ezdxf: clean, a block a piece, every line in its place and its length."""

import io
import math
from dataclasses import replace
from itertools import pairwise

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts, side_dart_blocks
from trueup.cli.exporting.dxf import draft_dxf
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

WITHIN = 0.05


def read(draft: Draft, title: str = "blouse"):
    document = ezdxf.read(io.StringIO(draft_dxf(draft, title).decode("cp1252"), newline=None))
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    return document


def on(block_, layer: str):
    return [entity for entity in block_ if entity.dxf.layer == layer]


def points_of(entity) -> list[Point]:
    """Return the points of a line or polyline, mm, y down again; closed ones closed."""
    if entity.dxftype() == "LINE":
        places = [entity.dxf.start, entity.dxf.end]
    else:
        places = [vertex.dxf.location for vertex in entity.vertices]
        places += places[:1] if entity.is_closed else []
    return [complex(place.x, -place.y) for place in places]


def length(points: list[Point]) -> float:
    return sum(abs(b - a) for a, b in pairwise(points))


def with_allowances(draft: Draft) -> Draft:
    front = draft.piece("front")
    around = {name: 10.0 for name in front.edge_names if name != "hem"}
    return draft.with_pieces(allowed(front, {**around, "hem": 30.0}))


def index_near(ring: list[Point], place: Point) -> int:
    index = min(range(len(ring)), key=lambda k: abs(ring[k] - place))
    assert abs(ring[index] - place) < 1e-6
    return index


def run(ring: list[Point], start: Point, end: Point) -> list[Point]:
    """Return the part of a closed ring from one of its points to another."""
    open_ring = ring[:-1]
    first, last = index_near(open_ring, start), index_near(open_ring, end)
    if last >= first:
        return open_ring[first : last + 1]
    return [*open_ring[first:], *open_ring[: last + 1]]


def edge_lengths(document, piece: Piece) -> dict[str, float]:
    """Return the length of each edge as its piece's boundary has it, mouths skipped."""
    (boundary,) = on(document.blocks.get(piece.name), "1")
    ring = points_of(boundary)
    return {
        edge.name: sum(length(run(ring, part.start, part.end)) for part in edge.parts)
        for edge in piece.edges
    }


@settings(max_examples=25)
@given(st.one_of(drafts(), side_dart_blocks()))
def test_every_edge_is_as_long_in_the_file_as_we_say(draft):
    document = read(draft)
    for piece in draft.pieces:
        for name, measured in edge_lengths(document, piece).items():
            assert measured == pytest.approx(piece.edge(name).length, abs=WITHIN)


@settings(max_examples=15)
@given(drafts())
def test_a_piece_with_allowances_has_its_cutting_line_and_its_seam_lines(draft):
    piece = with_allowances(draft).piece("front")
    found = read(with_allowances(draft)).blocks.get("front")
    (boundary,) = on(found, "1")
    assert length(points_of(boundary)) == pytest.approx(cutting_line(piece).length, abs=WITHIN)
    lines = [points_of(line) for line in on(found, "14")]
    for edge in piece.edges:
        if edge.name != piece.fold:
            parts = [
                line
                for part in edge.parts
                for line in lines
                if abs(line[0] - part.start) < 1e-6 and abs(line[-1] - part.end) < 1e-6
            ]
            assert len(parts) == len(edge.parts)
            assert sum(map(length, parts)) == pytest.approx(edge.length, abs=WITHIN)


def test_there_is_a_block_a_piece_and_each_is_laid_out_once():
    document = read(block())
    pieces = ["front", "back", "sleeve"]
    assert [each.name for each in document.blocks if not each.name.startswith("*")] == pieces
    laid = document.modelspace().query("INSERT")
    assert [each.dxf.name for each in laid] == pieces
    assert {each.dxf.layer for each in laid} == {"1"}
    assert document.units == ezdxf.units.MM


def test_the_pieces_are_laid_out_as_large_as_they_are_and_upright():
    document = read(with_allowances(block()))
    assert len(document.modelspace().query("INSERT")) == 3
    for insert in document.modelspace().query("INSERT"):
        drawn = list(insert.virtual_entities())
        (laid,), (own,) = on(drawn, "1"), on(document.blocks.get(insert.dxf.name), "1")
        shift = points_of(laid)[0] - points_of(own)[0]
        assert points_of(laid) == pytest.approx([p + shift for p in points_of(own)])


def test_every_layer_that_is_drawn_on_is_in_the_table_of_layers():
    document = read(with_allowances(block()))
    spaces = [document.modelspace(), *document.blocks]
    assert all(entity.dxf.layer in document.layers for space in spaces for entity in space)


def test_texts_say_which_piece_of_which_pattern_it_is_and_stand_on_the_text_layer():
    document = read(block())
    for piece in block().piece_names:
        texts = on(document.blocks.get(piece), "15")
        assert [each.dxf.text for each in texts] == [f"Piece Name: {piece}", "Annotation: blouse"]
    style = document.modelspace().query("TEXT")
    assert [each.dxf.text for each in style] == ["Style Name: blouse", "Units: METRIC"]
    assert {each.dxf.layer for each in style} == {"15"}


def test_only_layers_of_the_standard_are_drawn_on():
    for drawn in read(with_allowances(block())).blocks:
        known = {"1", "2", "3", "4", "6", "7", "8", "14", "15"}
        assert {entity.dxf.layer for entity in drawn} <= known


def test_a_piece_without_allowances_has_no_sew_line():
    assert on(read(block()).blocks.get("front"), "14") == []


def test_turn_points_and_curve_points_together_are_the_boundary():
    found = read(block()).blocks.get("front")
    (boundary,) = on(found, "1")
    turns, curves = (
        [complex(p.dxf.location.x, -p.dxf.location.y) for p in on(found, layer)]
        for layer in ("2", "3")
    )
    assert len(turns) + len(curves) == len(points_of(boundary)) - 1
    piece = block().piece("front")
    for edge in piece.edges:
        assert min(abs(edge.start - turn) for turn in turns) < 1e-6
        for mouth in edge.mouths:
            assert min(abs(mouth.first - p) for p in (*turns, *curves)) < 1e-6


@pytest.mark.parametrize("draft", [block(), with_allowances(block())], ids=["seam", "cut"])
def test_notches_lie_on_the_boundary(draft):
    document = read(draft)
    for piece in draft.pieces:
        found = document.blocks.get(piece.name)
        (boundary,) = on(found, "1")
        ring = points_of(boundary)
        notches = on(found, "4")
        assert len(notches) == len(piece.notches)
        for notch in notches:
            place = complex(notch.dxf.location.x, -notch.dxf.location.y)
            assert min(_off(place, a, b) for a, b in pairwise(ring)) < WITHIN


def test_a_notch_lies_as_far_along_its_edge_as_it_is_set():
    for piece in block().pieces:
        found = [
            complex(p.dxf.location.x, -p.dxf.location.y)
            for p in on(read(block()).blocks.get(piece.name), "4")
        ]
        for notch, place in zip(piece.notches, found, strict=True):
            edge = piece.edge(notch.edge)
            assert abs(place - edge.point_at(notch.at.along(edge))) < 1e-6


def test_a_notch_of_a_piece_with_allowances_lies_square_out_from_the_seam():
    piece = with_allowances(block()).piece("front")
    (notch,) = on(read(with_allowances(block())).blocks.get("front"), "4")
    edge = piece.edge(piece.notches[0].edge)
    seam, travel = edge.place_at(piece.notches[0].at.along(edge))
    out = complex(notch.dxf.location.x, -notch.dxf.location.y) - seam
    assert abs(out) == pytest.approx(10.0, abs=WITHIN)
    assert abs((out * travel.conjugate()).real) < 0.5


def _off(place: Point, start: Point, end: Point) -> float:
    along = ((place - start) / (end - start)).real
    return abs(start + (end - start) * min(max(along, 0.0), 1.0) - place)


def test_the_fold_is_the_mirror_line_and_the_grain_is_the_grainline():
    draft = block()
    front = draft.piece("front")
    found = read(draft).blocks.get("front")
    (mirror,), (grain,) = on(found, "6"), on(found, "7")
    fold = front.edge("centre")
    assert points_of(mirror) == pytest.approx([fold.start, fold.end])
    assert points_of(grain) == pytest.approx([front.grainline.start, front.grainline.end])
    assert on(read(draft).blocks.get("back"), "6") == []


def backed_off(piece: Piece) -> Piece:
    """Return a piece whose darts are sewn to tips 15 mm short of their apexes."""
    return piece.with_edges(
        *(
            replace(edge, darts=tuple(replace(dart, setback=15.0) for dart in edge.darts))
            for edge in piece.edges
        )
    )


def test_each_dart_is_an_internal_line_with_its_legs():
    back = block().piece("back")
    middle = complex(60, back.level("bust").y)
    fish = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    draft = block().with_pieces(backed_off(replace(back, inner_darts=(fish,))))
    back = draft.piece("back")
    lines = [points_of(line) for line in on(read(draft).blocks.get("back"), "8")]
    mouths = [mouth for edge in back.edges for mouth in edge.mouths]
    assert len(lines) == len(mouths) + 1
    for line, mouth in zip(lines, mouths, strict=False):
        assert line == pytest.approx([mouth.first, mouth.tip, mouth.second])
    assert length(lines[-1]) == pytest.approx(4 * math.hypot(50, 8), abs=WITHIN)


def test_up_is_up_and_the_pieces_lie_side_by_side():
    document = read(block())
    front = document.blocks.get("front")
    shoulder = block().piece("front").corner("shoulder-point")
    highest = max(v.dxf.location.y for v in on(front, "1")[0].vertices)
    assert highest >= -shoulder.imag > min(v.dxf.location.y for v in on(front, "1")[0].vertices)
    placed = []
    for insert in document.modelspace().query("INSERT"):
        (ring,) = (e for e in insert.virtual_entities() if e.dxf.layer == "1")
        across = [v.dxf.location.x for v in ring.vertices]
        placed.append((min(across), max(across)))
    assert len(placed) == 3
    for (_, far), (left, _) in pairwise(placed):
        assert far < left


def test_a_title_cannot_end_its_line_and_write_entities_of_its_own():
    texts = read(block(), "a\n0\nLINE\n8\n1\n\x00é").modelspace().query("TEXT")
    assert texts[0].dxf.text == "Style Name: a?0?LINE?8?1??é"
