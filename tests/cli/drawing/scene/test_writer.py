"""Scenes as SVG: what every picture keeps to."""

import io
import math
import re
from xml.etree import ElementTree

import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.builders import block
from trueup.cli.drawing.draft_picture import Marked, draft_picture
from trueup.cli.drawing.notebook import show
from trueup.cli.drawing.scene.hatching import hatch_lines
from trueup.cli.drawing.scene.placing import places
from trueup.cli.drawing.scene.png import png_bytes
from trueup.cli.drawing.scene.scene import Group, Hatch, Line, Mark, Scene, Words
from trueup.cli.drawing.scene.writer import svg_element, svg_text
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.allowances import allowed
from trueup.lineage.files.records import ConflictKind, ConflictRecord

SVG = "{http://www.w3.org/2000/svg}"
AT_A_SIDE = 1e-6
"""mm within which a line lies along a side, and shapely may find it inside or outside."""
AT_ARMHOLE = ConflictRecord("a", ConflictKind.SHAPE, "a", "front", "armhole", "outline", "so")


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text.encode("utf-8"))


def ids(root: ElementTree.Element) -> list[str]:
    return [each.attrib["id"] for each in root.iter() if "id" in each.attrib]


@given(st.text(max_size=30))
@settings(max_examples=60)
def test_no_text_breaks_a_picture_and_markup_stays_text(text):
    items = (Words(text, 1j, 3), Group((Line(((0j, 1j),), id=text),), title=text))
    root = parsed(svg_text(Scene(10, 10, text, items)))
    assert {each.tag.removeprefix(SVG) for each in root.iter()} <= {
        *("svg", "title", "style", "text", "g", "path")
    }


def test_a_motion_moves_what_is_in_a_group_and_groups_in_it():
    line = Line(((0j, 1 + 0j),), id="a")
    inner = Group((line,), motion=Motion(shift=1 + 2j))
    root = parsed(svg_text(Scene(9, 9, "", (Group((inner,), motion=Motion(shift=3j)),))))
    (path,) = root.iter(f"{SVG}path")
    assert path.attrib["d"] == "M 1.00,5.00 L 2.00,5.00"


def test_a_straight_curve_of_a_picture_is_a_line_and_a_curved_one_stays():
    curved = Cubic(30 + 40j, 40 + 40j, 60 + 50j, 60 + 80j)
    run = Chain((Cubic.line(0j, 30 + 40j), curved))
    drawn = (Line((run,)),)
    (path,) = parsed(svg_text(Scene(90, 90, "", drawn))).iter(f"{SVG}path")
    assert path.attrib["d"] == "M 0.00,0.00 L 30.00,40.00 C 40.00,40.00 60.00,50.00 60.00,80.00"
    # A file to measure in has every curve as it was drawn.
    (path,) = parsed(svg_text(Scene(90, 90, "", drawn, is_picture=False))).iter(f"{SVG}path")
    assert path.attrib["d"].count("C") == 2


def test_a_linked_group_is_a_link_and_its_picture_no_image_that_would_hide_it():
    line = Line(((0j, 1j),))
    linked = parsed(svg_text(Scene(9, 9, "", (Group((Group((line,), link="#/a"),)),))))
    (link,) = linked.iter(f"{SVG}a")
    assert link.attrib["href"] == "#/a"
    assert linked.attrib["role"] == "group"
    plain = parsed(svg_text(Scene(9, 9, "", (Group((line,)),))))
    assert plain.attrib["role"] == "img"


def test_every_id_takes_the_prefix():
    found = ids(parsed(svg_text(draft_picture(block(), "a"), prefix="one.")))
    assert found
    assert all(name.startswith("one.") for name in found)


def test_a_picture_follows_light_and_dark_and_prints_black():
    text = svg_text(draft_picture(block(), "a", [Marked(AT_ARMHOLE, "")]))
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', text)) <= {"none", "currentColor", "white"}
    assert "prefers-color-scheme" in text
    assert "@media print" in text


def test_in_a_page_a_picture_has_no_style_of_its_own_and_draws_the_same():
    scene = draft_picture(block(), "old -> new", [Marked(AT_ARMHOLE, "")])
    alone = svg_text(scene, prefix="one.")
    inside = svg_element(scene, prefix="one.", attributes=' data-is="inside"')
    assert inside.startswith('<svg data-is="inside" ')
    assert "<style" not in inside
    assert "prefers-color-scheme" not in inside
    drawn = [
        [(each.tag, each.get("id")) for each in parsed(text).iter()] for text in (alone, inside)
    ]
    assert [each for each in drawn[0] if each[0] != f"{SVG}style"] == drawn[1]
    assert parsed(inside).findtext(f"{SVG}title") == "old \N{RIGHTWARDS ARROW} new"


def test_a_conflict_is_marked_by_its_number_in_a_triangle():
    root = parsed(svg_text(draft_picture(block(), "a", [Marked(AT_ARMHOLE, "")])))
    mark = next(each for each in root.iter() if each.attrib.get("id") == "conflict.1")
    assert mark.findtext(f"{SVG}text") == "1"
    assert not list(mark.iter(f"{SVG}circle"))


def test_the_cutting_line_is_drawn_where_there_are_allowances_but_not_along_the_fold():
    draft = block()
    front = allowed(draft.piece("front"), {"side": 10.0, "hem": 40.0, "neck": 6.0})
    root = parsed(svg_text(draft_picture(draft.with_pieces(front), "a")))
    lines = [each for each in root.iter() if "cutting-line" in each.attrib.get("id", "")]
    assert [each.attrib["id"] for each in lines] == ["front.cutting-line"]
    assert "Z" not in lines[0].attrib["d"]


def test_two_pictures_in_one_notebook_share_no_id():
    shown = show(block().piece("front"))
    first, second = (set(ids(parsed(shown._repr_svg_()))) for _ in range(2))
    assert first
    assert not first & second


def test_a_notebook_shows_a_draft_with_all_its_pieces():
    found = ids(parsed(show(block(), "village")._repr_svg_()))
    for name in block().edge_names:
        assert any(each.split(".", 1)[1].startswith(name) for each in found)


@given(st.floats(5, 200), st.floats(5, 200), st.floats(1, 6), st.sampled_from(Hatch))
@settings(max_examples=40)
def test_a_hatch_lies_in_its_area_evenly_at_45_degrees(width, height, spacing, hatch):
    area = shapely.box(3, 7, 3 + width, 7 + height)
    lines = hatch_lines(area, hatch, spacing)
    for start, end in lines:
        assert area.buffer(1e-6).contains(
            shapely.LineString([(start.real, start.imag), (end.real, end.imag)])
        )
        step = end - start
        assert math.isclose(abs(step.real), abs(step.imag), abs_tol=1e-6)
        rises = step.real * step.imag < 0  # y grows down the page
        assert rises is (hatch is Hatch.RISING) or abs(step) < 1e-6
    total = sum(abs(end - start) for start, end in lines)
    assert abs(total * spacing - width * height) <= spacing * (width + height) * 1.5


def found_along(hatch: Hatch, spacing: float, *areas: shapely.Geometry) -> tuple[float, float]:
    """Return how much of the lines of a hatch shapely finds in all of some areas, mm.

    What runs along a side is in an area as much as beside it: so it is least and most.
    """
    across = 1 if hatch is Hatch.RISING else -1
    apart = spacing * math.sqrt(2)
    rules = [
        shapely.LineString([(-300, (k * apart + 300) * across), (300, (k * apart - 300) * across)])
        for k in range(-200, 201)
    ]
    found = []
    for wider in (-AT_A_SIDE, AT_A_SIDE):
        inside = rules
        for area in areas:
            inside = shapely.intersection(inside, area.buffer(wider))
        found.append(float(sum(shapely.length(inside))))
    return found[0], found[1]


@given(
    st.lists(st.complex_numbers(max_magnitude=80), min_size=3, max_size=12),
    st.floats(1, 6),
    st.sampled_from(Hatch),
)
@example([0, -1j, -3 - 3j], 1, Hatch.FALLING)  # a line of it lies along a side
@settings(max_examples=60)
def test_a_hatch_lies_wherever_shapely_finds_its_area_with_holes_and_in_parts(
    corners, spacing, hatch
):
    area = shapely.Polygon([(p.real, p.imag) for p in corners]).buffer(0)
    area = area.difference(shapely.Point(5, 3).buffer(9))
    drawn = hatch_lines(area, hatch, spacing)
    across = 1 if hatch is Hatch.RISING else -1
    least, most = found_along(hatch, spacing, area)
    assert least - 1e-3 < sum(abs(end - start) for start, end in drawn) < most + 1e-3
    for start, end in drawn:
        line = shapely.LineString([(start.real, start.imag), (end.real, end.imag)])
        assert area.buffer(1e-6).covers(line)
        place = (start.real + across * start.imag) * math.sqrt(0.5) / spacing
        assert abs(place - round(place)) < 1e-6


@given(
    st.lists(st.complex_numbers(max_magnitude=80), min_size=3, max_size=12),
    st.lists(st.complex_numbers(max_magnitude=80), min_size=3, max_size=12),
    st.sampled_from(Hatch),
)
@example([-8.75 - 2j, 0, -2], [-8.75 - 2j, -2, 2j], Hatch.RISING)  # they share a side alone
@settings(max_examples=60)
def test_a_hatch_within_another_area_lies_where_shapely_finds_both(corners, others, hatch):
    rings = ([(p.real, p.imag) for p in points] for points in (corners, others))
    area, within = (shapely.Polygon(ring).buffer(0) for ring in rings)
    within = within.difference(shapely.Point(5, 3).buffer(9))
    drawn = hatch_lines(area, hatch, 3.0, within)
    least, most = found_along(hatch, 3.0, area, within)
    assert least - 1e-3 < sum(abs(end - start) for start, end in drawn) < most + 1e-3
    for start, end in drawn:
        line = shapely.LineString([(start.real, start.imag), (end.real, end.imag)])
        assert area.buffer(1e-5).covers(line)
        assert within.buffer(1e-5).covers(line)


@given(st.floats(-50, 50), st.floats(-50, 50), st.sampled_from(list(Hatch)))
@settings(max_examples=60)
def test_an_area_too_small_to_hold_a_line_of_the_hatch_is_drawn_all_the_same(x, y, hatch):
    sliver = shapely.box(x, y, x + 0.01, y + 0.3)
    assert len(hatch_lines(sliver, hatch, 5.0)) <= 1


def test_an_empty_area_has_no_hatch():
    assert hatch_lines(shapely.Polygon(), Hatch.RISING, 2) == ()


@given(st.lists(st.complex_numbers(max_magnitude=30), max_size=8))
@settings(max_examples=40)
def test_no_mark_covers_another(targets):
    stands = places(targets, 1.0, shapely.LineString([(-50, 0), (50, 0)]))
    assert len(stands) == len(targets)
    for index, at in enumerate(stands):
        assert all(abs(at - other) > 2 for other in stands[:index])


def test_a_mark_of_any_number_is_written():
    root = parsed(svg_text(Scene(9, 9, "", (Mark(12, 4 + 4j, 2, 1 + 1j),))))
    assert [each.text for each in root.iter(f"{SVG}text")] == ["12"]


def test_a_png_is_drawn_as_wide_as_its_picture_and_never_wider_than_can_be_opened():
    for width, pixels in ((100.0, 160), (90_000.0, 8000)):
        scene = Scene(width, 50, "", (Words("a word", 10j, 8),), pen=1.0)
        with Image.open(io.BytesIO(png_bytes(scene))) as image:
            assert image.width == pixels


def test_words_are_drawn_in_a_png_whatever_faces_the_machine_has():
    scene = Scene(100, 20, "", (Words("armhole", 2 + 15j, 14),), pen=1.0)
    with Image.open(io.BytesIO(png_bytes(scene))) as image:
        assert sum(image.convert("L").histogram()[:128]) > 200
