"""Drill holes, lines to place by and darts drawn as two legs come in, named; and follow later."""

import cmath
import io
import math
from itertools import pairwise

import ezdxf
import ezdxf.units
import pytest
from ezdxf.math import Vec3

from tests.builders import block
from tests.cli.commands.begin.drawn import drawn
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.lines.points import unit
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtTip, Purpose
from trueup.geometry.units import Unit
from trueup.lineage.drawings.proposing.bringing_in import draft_as_stated, look_at, stated_in
from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.stating.names_file import names_text
from trueup.lineage.drawings.tracing.drafting import DraftDrawn
from trueup.lineage.drawings.tracing.errors import CannotTrace

MM = Unit.MILLIMETRE


def on_front(*shapes: str) -> bytes:
    """Return the block as a maker draws it, with more drawn on its front, in that piece's mm."""
    text = drawn(block()).decode()
    at = text.index("</g>", text.index('inkscape:label="Front"'))
    return (text[:at] + "".join(shapes) + text[at:]).encode()


def looked(content: bytes, **names: str) -> LookedAt:
    return look_at(content, "maker.svg", names, {})


def brought(content: bytes) -> DraftDrawn:
    return draft_as_stated(looked(content), "maker.svg")


def place(draft: Draft, name: str) -> list[complex]:
    piece = draft.piece("front")
    (mark,) = (each for each in piece.marks if each.name == name)
    return [point for run in runs_of(piece, mark) for point in run]


def circle(at: complex, radius: float = 1.5, label: str = "") -> str:
    said = f'inkscape:label="{label}" ' if label else ""
    return f'<circle {said}cx="{at.real:.6f}" cy="{at.imag:.6f}" r="{radius}"/>'


def path(*points: complex, label: str = "") -> str:
    said = f'inkscape:label="{label}" ' if label else ""
    return f'<path {said}d="M {" L ".join(f"{p.real:.6f},{p.imag:.6f}" for p in points)}"/>'


BUST = block().piece("front").mouth("bust")
IN_DART = BUST.tip + unit((BUST.first + BUST.second) / 2 - BUST.tip) * 12
INSIDE = 385 + 110j


def shift(found: Draft) -> complex:
    """Return how far the front lies from where it was drafted."""
    return found.piece("front").corner("neck-point") - block().piece("front").corner("neck-point")


def test_a_small_circle_is_a_drill_hole_and_one_in_a_dart_stays_with_its_tip() -> None:
    found = brought(on_front(circle(IN_DART), circle(INSIDE)))
    marks = {mark.name: mark for mark in found.draft.piece("front").marks}
    assert {*marks} == {"bust-hole", "hole"}
    assert all(mark.purpose is Purpose.HOLE for mark in marks.values())
    assert isinstance(marks["bust-hole"].place, AtTip)
    for name, at in (("bust-hole", IN_DART), ("hole", INSIDE)):
        assert abs(place(found.draft, name)[0] - at - shift(found.draft)) < 0.02
    assert check(found.draft) == check(brought(on_front()).draft)
    turned = read_change(
        kind_named("rotate-dart"),
        {"dart": "front.bust", "edge": "front.side", "at": "50mm from underarm"},
        MM,
    ).apply(found.draft)
    tip = turned.piece("front").mouth("bust").tip
    assert abs(place(turned, "bust-hole")[0] - tip) == pytest.approx(12, abs=0.02)


def test_what_is_written_on_a_hole_or_a_line_is_its_name() -> None:
    corners = (INSIDE, INSIDE + 70, INSIDE + 70 + 60j, INSIDE + 60j)
    found = brought(
        on_front(circle(INSIDE + 20 + 20j, 4.0, "Drill apex"), path(*corners, label="Patch pocket"))
    )
    marks = {mark.name: mark.purpose for mark in found.draft.piece("front").marks}
    assert marks == {"drill-apex": Purpose.HOLE, "patch-pocket": Purpose.PLACEMENT}
    run = place(found.draft, "patch-pocket")
    assert [abs(a - b - shift(found.draft)) < 0.02 for a, b in zip(run, corners, strict=True)]
    assert found.missing == brought(on_front()).missing


def test_a_curved_line_stays_within_a_few_hundredths() -> None:
    start, end = INSIDE, INSIDE + 80 + 10j
    pull = (start + 20 - 30j, end - 20 - 30j)
    at = [f"{p.real:.6f},{p.imag:.6f}" for p in (start, *pull, end)]
    found = brought(on_front(f'<path d="M {at[0]} C {at[1]} {at[2]} {at[3]}"/>'))
    run = [p - shift(found.draft) for p in place(found.draft, "line")]
    for t in (k / 50 for k in range(51)):
        s = 1 - t
        there = s**3 * start + 3 * s * s * t * pull[0] + 3 * s * t * t * pull[1] + t**3 * end
        assert min(_beside(there, a, b) for a, b in pairwise(run)) < 0.05


def _beside(point: complex, a: complex, b: complex) -> float:
    share = ((point - a) / (b - a)).real
    return abs(point - (a + (b - a) * min(max(share, 0.0), 1.0)))


def test_a_dart_drawn_as_two_legs_and_a_middle_line_is_one() -> None:
    waist = block().piece("front").mouth("waist")
    text = drawn(block()).decode()
    notched = f"L {_at(waist.tip)} L {_at(waist.second)}"
    backwards = f"L {_at(waist.tip)} L {_at(waist.first)}"
    flat = text.replace(notched, f"L {_at(waist.second)}").replace(
        backwards, f"L {_at(waist.first)}"
    )
    assert flat != text
    at = flat.index("</g>", flat.index('inkscape:label="Front"'))
    legs = path(waist.first, waist.tip) + path(waist.second, waist.tip)
    centre = path((waist.first + waist.second) / 2, waist.tip)
    found = brought((flat[:at] + legs + centre + flat[at:]).encode())
    theirs = found.draft.piece("front")
    assert set(theirs.dart_names) == set(block().piece("front").dart_names)
    assert theirs.mouth("waist").intake == pytest.approx(waist.intake, abs=0.05)
    assert theirs.marks == ()


def _at(point: complex) -> str:
    return f"{point.real:.6f},{point.imag:.6f}"


def test_the_names_file_tells_and_takes_them() -> None:
    content = on_front(circle(INSIDE), path(INSIDE + 20, INSIDE + 60 + 30j))
    seen = looked(content)
    text = names_text(seen.found, seen.stated, "maker.svg", MM)
    assert "[piece.holes]\nhole = " in text
    assert "[piece.lines]\nline = " in text
    told = stated_in(text.replace("\nhole =", "\napex =").encode(), "names.toml")
    again = draft_as_stated(look_at(content, "maker.svg", {}, {}, told), "maker.svg")
    assert [mark.name for mark in again.draft.piece("front").marks] == ["apex", "line"]


def test_single_lines_are_named_and_named_otherwise() -> None:
    content = on_front(circle(INSIDE), path(INSIDE + 20, INSIDE + 60 + 30j))
    (front,) = (piece for piece in looked(content).stated.pieces if piece.name == "front")
    names = {str(front.lines["line"]): "front.line.flap", str(front.holes["hole"]): "front.hole.a"}
    found = draft_as_stated(look_at(content, "maker.svg", names, {}), "maker.svg")
    assert [mark.name for mark in found.draft.piece("front").marks] == ["a", "flap"]
    outline = {"1": "front.hole.a"}
    with pytest.raises(CannotTrace, match="nothing says what 1 is"):
        draft_as_stated(look_at(content, "maker.svg", outline, {}), "maker.svg")


def test_letters_drawn_as_outlines_and_very_many_lines_are_none() -> None:
    letter = "M {x},{y} l 6,0 l 0,8 l -6,0 z"
    letters = [
        f'<path d="{letter.format(x=INSIDE.real + 9 * k, y=INSIDE.imag)}"/>' for k in range(5)
    ]
    assert brought(on_front(*letters)).draft.piece("front").marks == ()
    hatched = [path(INSIDE + k * 0.3j, INSIDE + 50 + 5j + k * 0.3j) for k in range(150)]
    assert brought(on_front(*hatched)).draft.piece("front").marks == ()


def test_drill_holes_of_a_dxf_come_in_by_their_layer() -> None:
    document = ezdxf.new("R2000")
    document.units = ezdxf.units.MM
    page = document.modelspace()
    corners = [Vec3(0, 0), Vec3(300, 0), Vec3(300, 400), Vec3(0, 400)]
    page.add_polyline2d([(p.x, p.y) for p in corners], close=True, dxfattribs={"layer": "1"})
    page.add_point((120, 150), dxfattribs={"layer": "13"})
    page.add_line((50, 300), (200, 320), dxfattribs={"layer": "8"})
    content = document.encode(_text(document))
    seen = look_at(content, "maker.dxf", {}, {})
    (piece,) = seen.stated.pieces
    assert ([*piece.holes], [*piece.lines]) == (["hole"], ["line"])


def _text(document: ezdxf.document.Drawing) -> str:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def test_a_hole_goes_with_the_dart_it_marks_however_far_that_is_turned() -> None:
    found = brought(on_front(circle(IN_DART))).draft
    (mark,) = found.piece("front").marks
    (way,) = mark.runs
    assert cmath.phase(way[0]) == pytest.approx(0, abs=math.radians(0.1))
