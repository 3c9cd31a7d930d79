"""DXF as others write it: by the layers of ASTM D6673 or plain, new, old or damaged."""

import io
import math
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
from ezdxf.enums import InsertUnits
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.lineage.drawings.sampled import apart, outlines, sampled
from tests.refusals import refusing
from trueup.cli.exporting.dxf import draft_dxf
from trueup.geometry.measuring.measures import measures
from trueup.lineage.drawings.proposing.bringing_in import draft_as_stated, look_at
from trueup.lineage.drawings.shapes.dxf.reading import read_dxf
from trueup.lineage.drawings.tracing.errors import CannotTrace
from trueup.lineage.errors import BadRecord


def new(version="R2000", units=InsertUnits.Millimeters):
    return ezdxf.new(version, units=units)


def written(document):
    out = io.StringIO()
    document.write(out)
    return document.encode(out.getvalue())


def up(point):
    return point.real, -point.imag


def curves(shape):
    return [tuple(cubic) for cubic in shape.chain.cubics]


def test_plain_lines_arcs_bulges_and_splines_lie_where_they_were_drawn():
    document = new()
    page = document.modelspace()
    page.add_line((0, 0), (100, 50))
    page.add_arc((200, 0), radius=150, start_angle=20, end_angle=250)
    page.add_circle((0, 300), radius=180)
    page.add_ellipse((0, 0), major_axis=(90, 40), ratio=0.4, start_param=0.3, end_param=4)
    page.add_lwpolyline([(0, 0, 0.6), (120, 0, -0.3), (120, 90, 0)], format="xyb", close=True)
    control = [(0, 0), (40, 90), (120, -30), (200, 60), (260, 0)]
    page.add_spline_control_frame(control)
    page.add_open_spline([(x, y, 0) for x, y in control], degree=2)
    shapes = read_dxf(written(document), "x.dxf").shapes
    assert [shape.is_closed for shape in shapes] == [False, False, True, False, True, False, False]
    angles = np.radians(np.linspace(20, 250, 300))
    round_ = [200 + 150 * complex(math.cos(a), -math.sin(a)) for a in angles]
    assert apart(curves(shapes[1]), list(pairwise(round_))) < 0.05
    for point in sampled(curves(shapes[2])):
        assert abs(point - (-300j)) == pytest.approx(180, abs=0.001)
    for index, entity in ((3, page[3]), (5, page[5]), (6, page[6])):
        drawn = [complex(p.x, -p.y) for p in entity.flattening(0.001)]
        assert apart(curves(shapes[index]), list(pairwise(drawn))) < 0.05
    # A bulge is the tangent of a quarter of the angle of its arc.
    arc = 4 * math.atan(0.6)
    radius = 60 / math.sin(arc / 2)
    first = [c for c in shapes[4].chain.cubics if abs(c.start) < 130 and abs(c.end) < 121]
    assert shapes[4].chain.length > radius * arc > 120
    assert first


def centre(points):
    """Return the centre of the circle that fits points best, by least squares."""
    terms = np.column_stack([2 * points.real, 2 * points.imag, np.ones(len(points))])
    (x, y, _), *_ = np.linalg.lstsq(terms, np.abs(points) ** 2, rcond=None)
    return complex(x, y)


@settings(max_examples=8, deadline=None)
@given(st.floats(60, 400), st.floats(0.3, 1.2), st.integers(9, 40))
def test_curve_points_become_curves_within_a_tenth_of_a_mm(radius, angle, count):
    """A piece with one round edge given by its curve points, as the standard has it."""
    document = new()
    piece = document.blocks.new("panel")
    angles = np.linspace(0, 2 * angle, count)
    bow = [complex(radius * math.sin(a), radius * math.cos(a)) for a in angles]
    wide = abs(bow[-1].real)
    ring = [*bow, complex(wide, -200), complex(0, -200)]
    piece.add_polyline2d([(p.real, p.imag) for p in ring], close=True, dxfattribs={"layer": "1"})
    for point in (bow[0], bow[-1], *ring[-2:]):
        piece.add_point((point.real, point.imag), dxfattribs={"layer": "2"})
    for point in bow[1:-1]:
        piece.add_point((point.real, point.imag), dxfattribs={"layer": "3"})
    document.modelspace().add_blockref("panel", (0, 0))
    looked = look_at(written(document), "x.dxf", {}, {})
    (found,) = looked.found.pieces
    assert len(found.sides) == 4
    longest = max(found.sides, key=lambda side: len(side.chain.cubics))
    if longest.chain.length == pytest.approx(2 * angle * radius, rel=0.01):
        points = sampled([tuple(c) for c in longest.chain.cubics])
        middle = centre(points)  # wherever the piece was laid, and however it was turned
        assert np.abs(np.abs(points - middle) - radius).max() < 0.1


def test_layers_of_the_standard_say_what_lines_are():
    content = draft_dxf(block(), "own")
    looked = look_at(content, "own.dxf", {}, {})
    assert [piece.name for piece in looked.stated.pieces] == ["front", "back", "sleeve"]
    front = looked.stated.pieces[0]
    assert front.fold == "centre"
    assert front.grain is not None
    assert len(front.notches) == 1
    assert looked.found.is_sized


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_every_version_is_read(version):
    document = new(version, units=InsertUnits.Centimeters)
    for line in outlines():
        points = [c[0] / 10 for c in line]
        if any(len(c) == 4 for c in line):
            points = sampled([c if len(c) == 4 else [c[0], c[1]] for c in line]) / 10
        flat = [up(p) for p in points]
        document.modelspace().add_polyline2d(flat, close=True)
    content = written(document)
    page = read_dxf(content, "x.dxf")
    # The oldest states no unit: what its numbers stand for is asked.
    assert page.is_sized == (version != "R12")
    lengths = {"side seam": measures(block())["front.side"]} if version == "R12" else {}
    found = draft_as_stated(look_at(content, "x.dxf", {}, lengths), "x.dxf").draft
    ours, theirs = measures(block()), measures(found)
    for edge in block().edge_names:
        assert theirs[edge] == pytest.approx(ours[edge], abs=0.05)


def test_a_damaged_file_is_mended_and_told():
    content = draft_dxf(block(), "own")
    cut = content[: content.rindex(b"OBJECTS") - 30]
    page = read_dxf(cut, "own.dxf")
    assert len(page.shapes) == 13


def test_an_outline_of_single_lines_is_put_together():
    document = new()
    points = [0j, 300 + 0j, 300 + 400j, 0 + 400j]
    for here, there in zip(points, [*points[1:], points[0]], strict=True):
        document.modelspace().add_line(up(there), up(here))
    (piece,) = look_at(written(document), "x.dxf", {}, {}).found.pieces
    assert sorted(side.chain.length for side in piece.sides) == [300, 300, 400, 400]


def bomb():
    document = new()
    document.blocks.new("b0").add_line((0, 0), (9, 9))
    for n in range(1, 30):
        inner = document.blocks.new(f"b{n}")
        for _ in range(4):
            inner.add_blockref(f"b{n - 1}", (0, 0))
    document.modelspace().add_blockref("b29", (0, 0))
    return written(document)


def rows():
    document = new()
    document.blocks.new("b").add_line((0, 0), (9, 9))
    many = {"row_count": 30_000, "column_count": 30_000}
    document.modelspace().add_blockref("b", (0, 0), dxfattribs=many)
    return written(document)


def with_value(value):
    document = new()
    document.modelspace().add_line((0, 0), (123.25, 9))
    return written(document).replace(b"123.25", value)


HOSTILE = {
    "nothing": b"",
    "no DXF": b"\x00\xff\x00",
    "a text": b"hello",
    "an SVG": b"<svg/>",
    "cut short": b"0\nSECTION\n2\nENT",
    "blocks in blocks": bomb(),
    "rows of rows": rows(),
    "nan": with_value(b"nan"),
    "endless": with_value(b"1e300"),
    "too large": b"0\nSECTION\n" + b" " * 13_000_000,
    "no lines": written(new()),
    "many lines": b"0\n" * 5_000_000,
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_drawing_gets_one_sentence(content):
    with refusing(CannotTrace, BadRecord, match="stranger.dxf"):
        look_at(content, "stranger.dxf", {}, {})
