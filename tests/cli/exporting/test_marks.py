"""Marks inside a piece are on every picture, sheet and export, where they lie."""

import io
import json
from dataclasses import replace

import ezdxf
import pytest
import shapely

from tests.builders import block
from tests.cli.exporting.test_everything_json import document_of
from tests.cli.sheet.printed import sheet
from tests.lineage.making import change
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.piece.pieces import piece_items
from trueup.cli.drawing.scene.scene import Line
from trueup.cli.drawing.svg import draft_svg
from trueup.cli.exporting.dxf import draft_dxf
from trueup.cli.sheet.cover import cover_blocks
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.piece_lines import Layer, piece_strokes
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Motion
from trueup.geometry.marking.places import runs_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtLevel, InnerMark, Purpose
from trueup.lineage.drawings.tracing.drawing import describing
from trueup.lineage.drawings.tracing.trace import traced

SQUARE = InnerMark(
    "square",
    Purpose.PLACEMENT,
    AtLevel("centre", "bust"),
    ((-60 + 20j, -110 + 20j, -110 + 70j, -60 + 70j, -60 + 20j),),
)


def marked() -> Draft:
    draft = change("seam-allowance", piece="front", by="12mm").apply(block())
    draft = change("mark-hole", dart="front.bust").apply(draft)
    draft = change("notch-dart", dart="front.bust").apply(draft)
    return draft.with_pieces(draft.piece("front").with_marks(SQUARE))


def test_a_picture_names_each_mark_and_draws_it_where_it_lies() -> None:
    front = marked().piece("front")
    lines = {i.id: i for i in piece_items(front) if isinstance(i, Line)}
    assert {f"front.mark.{m.name}" for m in front.marks} <= lines.keys()
    assert lines["front.mark.square"].runs == runs_of(front, SQUARE)
    (hole,) = runs_of(front, front.marks[0])[0]
    ring, *_ = lines["front.mark.bust-hole"].runs
    assert all(abs(abs(point - hole) - 2) < 1e-9 for point in ring)
    assert "front.mark.square" in draft_svg(marked(), "b")
    assert draft_picture(marked(), "b").items


def test_a_drawing_with_marks_is_traced_back_to_the_same_pieces() -> None:
    draft = marked()
    content = describing(draft_svg(draft, "b"), draft).encode()
    assert traced(content, {}, "b.svg").draft.pieces == draft.pieces


def test_a_dxf_has_holes_on_layer_13_lines_on_8_and_notches_on_the_cut() -> None:
    document = ezdxf.read(io.StringIO(draft_dxf(marked(), "b").decode("cp1252"), newline=None))
    front = marked().piece("front")
    drawn = document.blocks["front"]
    (hole,) = [e.dxf.location for e in drawn if e.dxf.layer == "13"]
    assert abs(complex(hole.x, -hole.y) - runs_of(front, front.marks[0])[0][0]) < 1e-6
    squares = [e for e in drawn if e.dxf.layer == "8" and e.dxftype() == "POLYLINE"
               and len(e.vertices) == 5]  # fmt: skip
    assert len(squares) == 1
    notches = [e.dxf.location for e in drawn if e.dxf.layer == "4"]
    assert len(notches) == len(front.notches) + 2
    rim = cutting_line(front).exterior
    for notch in notches:
        xy = rim.interpolate(rim.project(shapely.Point(notch.x, -notch.y)))
        assert abs(complex(xy.x - notch.x, xy.y + notch.y)) < 1e-6
    assert not [e for e in document.blocks["back"] if e.dxf.layer == "13"]


def test_the_json_says_where_each_mark_lies() -> None:
    document = document_of(marked())
    (front,) = [piece for piece in document["pieces"] if piece["name"] == "front"]
    told = {mark["name"]: mark for mark in front["marks"]}
    assert told["bust-hole"]["purpose"] == "hole"
    lies = [[complex(*point) for point in run] for run in told["square"]["lies"]]
    assert lies == [[*run] for run in runs_of(marked().piece("front"), SQUARE)]
    assert all("marks" not in piece for piece in document["pieces"] if piece["name"] != "front")
    json.dumps(document)


@pytest.mark.parametrize("layers", [(Layer.SEAM,), (Layer.SEAM, Layer.CUTTING)])
def test_a_sheet_draws_them_and_its_cover_says_what_they_are(layers: tuple[Layer, ...]) -> None:
    front = marked().piece("front")
    laid = Laid(front, Motion(shift=30 + 40j), shapely.Polygon())
    strokes = list(piece_strokes(laid, layers))
    (placed,) = [stroke for stroke in strokes if stroke.pen is InkPen.PLACED]
    assert placed.points == tuple(p + 30 + 40j for p in runs_of(front, SQUARE)[0])
    told = [w.text for b in cover_blocks(sheet().facts, [front], layers) for w in b.drawing.words]
    assert any("another piece is laid here" in words for words in told)
    bare = replace(front, marks=())
    told = [w.text for b in cover_blocks(sheet().facts, [bare], layers) for w in b.drawing.words]
    assert not any("another piece is laid here" in words for words in told)
