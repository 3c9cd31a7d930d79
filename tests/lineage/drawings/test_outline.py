import io
import re
from itertools import pairwise

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from trueup.cli.wording.words import worded_error
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.allowances import allowed
from trueup.lineage.drawings.outline import outline_svg, read_outline
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_ELEMENTS, MOST_POINTS

BODY = {"bust": 880.0, "waist": 680.0, "back-length": 380.0, "sleeve-length": 540.0}
SQUARE = "M 0,0 L 100,0 L 100,100 L 0,100 Z"
SVG = '<svg xmlns="http://www.w3.org/2000/svg">%s</svg>'


def drawn():
    draft = draft_block("bust-proportion", BODY)
    allowances = {"front": {"side": 15.0, "hem": 40.0}, "sleeve": {"cap": 10.0}}
    pieces = [allowed(p, allowances.get(p.name, {})) for p in draft.pieces]
    draft = draft.with_pieces(*pieces)
    cloth = {piece.name: cutting_line(piece) for piece in draft.pieces}
    return draft, cloth, outline_svg(draft, cloth, "blouse <1> & more")


DRAFT, CLOTH, DRAWING = drawn()


def path(d: str, name: str = "front.cut", more: str = "") -> bytes:
    return (SVG % f'<path id="{name}" d="{d}"{more}/>').encode()


def refused(content: bytes) -> str:
    with pytest.raises(BadRecord) as caught:
        read_outline(content, "garments/blouse-1.svg")
    told = worded_error(caught.value)
    assert told.startswith("garments/blouse-1.svg")
    assert "\n" not in told
    assert len(told) < 300
    return told


def test_an_outline_is_read_as_it_was_drawn():
    read = read_outline(DRAWING)
    assert read.keys() == CLOTH.keys()
    for name, cloth in CLOTH.items():
        assert read[name].hausdorff_distance(cloth) < 1e-5
        assert read[name].area == pytest.approx(cloth.area, abs=0.01)


def test_every_seam_edge_and_dart_is_drawn_inside_its_cloth():
    page = svgelements.SVG.parse(io.BytesIO(DRAWING), ppi=25.4)
    boxes = {e.id: e.bbox() for e in page.elements() if isinstance(e, svgelements.Path)}
    for piece in DRAFT.pieces:
        left, top, right, bottom = boxes[f"{piece.name}.cut"]
        for edge in piece.edges:
            names = [n for n in boxes if re.fullmatch(rf"{piece.name}\.{edge.name}(\.\d)?", n)]
            assert len(names) == len(edge.parts)
            for name in names:
                x, y, far, low = boxes[name]
                assert left - 1 <= x <= far <= right + 1
                assert top - 1 <= y <= low <= bottom + 1
        for dart in piece.dart_names:
            assert f"{piece.name}.dart.{dart}" in boxes


def test_pieces_lie_beside_each_other_on_the_page():
    page = svgelements.SVG.parse(io.BytesIO(DRAWING), ppi=25.4)
    cut = [e.bbox() for e in page.elements() if str(getattr(e, "id", "")).endswith(".cut")]
    assert len(cut) == len(DRAFT.pieces)
    for first, second in pairwise(cut):
        assert first[2] < second[0]
    assert all(left >= 0 and top >= 0 for left, top, _, _ in cut)


def test_drawing_twice_gives_the_same_bytes():
    assert drawn()[2] == DRAWING


@pytest.mark.parametrize(
    "d",
    [
        SQUARE,
        "m0 0 100 0 0 100-100 0z",
        "M0,0H100V100H0Z",
        "M0 0 L100 0 L100 100 L0 100 L0 0 Z",
        "M0,0 C 30,0 60,0 100,0 L 100,100 Q 50,100 0,100 Z",
        "M0,0\nL1e2,0\tL100,1.0e2,0,100z",
    ],
)
def test_lines_and_curves_as_any_tool_writes_them_are_followed(d: str):
    (cloth,) = read_outline(path(d)).values()
    assert cloth.equals_exact(box(0, 0, 100, 100), 1e-6) or cloth.area == pytest.approx(1e4)


def test_curves_are_flattened_finely():
    k = 55.22847498
    round_ = (
        f"M100,0 C100,{k} {k},100 0,100 C-{k},100 -100,{k} -100,0 "
        f"C-100,-{k} -{k},-100 0,-100 C{k},-100 100,-{k} 100,0 Z"
    )
    (cloth,) = read_outline(path(round_)).values()
    assert cloth.area == pytest.approx(31416, rel=1e-3)


@pytest.mark.parametrize(
    ("d", "told"),
    [
        ("", "one closed line"),
        ("M 0,0 L 100,0 L 100,100", "one closed line"),
        (f"{SQUARE} {SQUARE}", "one closed line"),
        ("M 0,0 L 100,100 L 100,0 L 0,100 Z", "crosses itself"),
        ("M 0,0 L 100,0 Z", "goes round nothing"),
        ("M 0,0 L 50,0 L 100,0 Z", "crosses itself"),
        ("M 0,0 L nan,0 L 100,100 Z", "no line, curve or number"),
        ("M 0,0 L inf,0 L 100,100 Z", "no line, curve or number"),
        ("M 0,0 L 1e999,0 L 100,100 Z", "more than 100 m away"),
        ("M 0,0 L 1e6,0 L 100,100 Z", "more than 100 m away"),
        ("M 0,0 C 1e9,0 1e9,9 100,100 L 0,100 Z", "more than 100 m away"),
        ("M 0,0 L 007,0 L 100,100 Z", "no line, curve or number"),
        ("M 0,0 L 1.e2,0 L 100,100 Z", "no line, curve or number"),
        ("M 0,0 L 100 L 100,100 Z", "cannot be followed"),
        ("L 0,0 100,0 100,100 Z", ""),
        ("M 0,0 A 1 1 0 0 0 100,100 Z", "no line, curve or number"),
        ("M 0,0 L 100,0 url(http://x/) Z", "no line, curve or number"),
        ("Z", ""),
        ("-" * 100_000, "no line, curve or number"),
        ("1" * 500_000 + "x", "no line, curve or number"),
        ("1 " * 300_000 + "x", "no line, curve or number"),
    ],
)
def test_a_path_that_goes_round_no_cloth_is_refused(d: str, told: str):
    assert told in refused(path(d))


def test_a_million_points_are_refused():
    many = "M 0,0 " + " ".join(f"{i % 9},{i}" for i in range(MOST_POINTS + 10)) + " Z"
    assert "more than 50000 points" in refused(path(many))
    million = "M 0,0 " + "1,1 " * 1_000_000 + " Z"
    assert "larger than 4 MB" in refused(path(million)) or "points" in refused(path(million))
    curves = "M 0,0 " + "C 90000,0 0,90000 1,1 " * 1000 + " Z"
    assert "more than 50000 points" in refused(path(curves))


def test_a_million_parts_are_refused():
    assert "parts" in refused((SVG % ("<g/>" * 900_000)).encode())
    assert "parts" in refused((SVG % ("<g>" * 500_000)).encode())
    nested = "<g>" * (MOST_ELEMENTS - 10) + "</g>" * (MOST_ELEMENTS - 10)
    assert "holds no outline" in refused((SVG % nested).encode())


LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>
<svg xmlns="http://www.w3.org/2000/svg"><title>&b;</title></svg>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>
<svg xmlns="http://www.w3.org/2000/svg"><path id="front.cut" d="&x;"/></svg>"""
OTHER_DTD = b"""<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://localhost:9/svg11.dtd">
<svg xmlns="http://www.w3.org/2000/svg"/>"""


@pytest.mark.parametrize("content", [LAUGHS, OUTSIDE, OTHER_DTD])
def test_entities_and_documents_elsewhere_are_refused(content: bytes):
    assert "entities" in refused(content)


def test_references_to_elsewhere_are_never_followed():
    more = '<image href="http://localhost:9/x.png"/><use href="file:///etc/passwd#front.cut"/>'
    content = (SVG % f'{more}<path id="front.cut" d="{SQUARE}"/>').encode()
    assert read_outline(content).keys() == {"front"}


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "not XML"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (('<?xml version="1.0" encoding="cp037"?>' + SVG % "").encode("cp037"), "not UTF-8"),
        (b"<svg>", "not XML"),
        (b'<?xml version="1.0" encoding="klingon"?><svg/>', "no SVG drawing"),
        (b"<svg/>", "no SVG drawing"),
        (b"<html/>", "no SVG drawing"),
        ((SVG % "").encode(), "holds no outline"),
        (path(SQUARE, "front.side"), "holds no outline"),
        (path(SQUARE, more=' transform="scale(2)"'), "moved by more"),
        ((SVG % f'<g transform="rotate(9)"><path id="a.cut" d="{SQUARE}"/></g>').encode(), "moved"),
        (b"x" * 4_000_001, "larger than 4 MB"),
    ],
)
def test_what_is_no_drawing_of_a_garment_is_refused(content: bytes, told: str):
    assert told in refused(content)


def test_an_outline_twice_is_refused():
    two = f'<path id="front.cut" d="{SQUARE}"/>' * 2
    assert "twice" in refused((SVG % two).encode())


@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda t: (SVG % t).encode("utf-8")))
@settings(max_examples=80)
def test_arbitrary_bytes_are_refused_in_one_sentence(content: bytes):
    refused(content)


@given(st.text(alphabet="MLHVCSQTZAmlz0123456789 ,.-+eE\n\tnaif", max_size=60))
@settings(max_examples=200)
def test_arbitrary_paths_are_read_or_refused(d: str):
    try:
        (cloth,) = read_outline(path(d)).values()
    except BadRecord as error:
        refusal = worded_error(error)
    else:
        refusal = "" if cloth.is_valid and not cloth.is_empty else "what was read is no cloth\n"
    assert "\n" not in refusal


@given(st.integers(0, len(DRAWING) - 2))
@settings(max_examples=40)
def test_a_drawing_cut_short_is_refused(cut: int):
    if DRAWING[:cut].strip() != DRAWING.strip():
        refused(DRAWING[:cut])


@given(
    st.lists(
        st.tuples(st.floats(-9e4, 9e4), st.floats(-9e4, 9e4)), min_size=3, max_size=12, unique=True
    )
)
def test_any_outline_that_is_drawn_is_read_again(points: list[tuple[float, float]]):
    hull = Polygon(points).convex_hull
    if hull.geom_type != "Polygon" or hull.area < 1:
        return
    piece = DRAFT.pieces[0]
    drawing = outline_svg(DRAFT.only([piece.name]), {piece.name: hull}, "x")
    assert read_outline(drawing)[piece.name].hausdorff_distance(hull) < 1e-4
