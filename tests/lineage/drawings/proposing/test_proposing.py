"""Drawings by others come in with the names and lengths they were drawn with, as proposed."""

import cmath
import math

import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.lineage.drawings.editors import WRITERS, path_data
from tests.lineage.drawings.sampled import apart, outlines
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.cli.exporting.dxf import draft_dxf
from trueup.geometry.drafting import draft_block
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.allowances import allowed
from trueup.lineage.drawings.proposing.bringing_in import draft_as_stated, look_at
from trueup.lineage.drawings.proposing.piece_names import NamedBy
from trueup.lineage.drawings.tracing.errors import CannotTrace

SKIRT = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
TROUSERS = {
    "waist": 720.0,
    "hip": 960.0,
    "hip-depth": 206.0,
    "body-rise": 270.0,
    "inside-leg": 760.0,
    "trouser-hem": 400.0,
}


def brought_in(content, name="maker.svg", names=None, lengths=None):
    looked = look_at(content, name, names or {}, lengths or {})
    return draft_as_stated(looked, name).draft


def require_same(found, drawn, within=0.05):
    """Hold lengths of edges and darts against those of the draft that was drawn."""
    assert set(found.edge_names) == set(drawn.edge_names)
    ours, theirs = measures(drawn), measures(found)
    for name in (*drawn.edge_names, *(f"{d}.intake" for d in drawn.dart_names)):
        assert theirs[name] == pytest.approx(ours[name], abs=within), name


def require_drawn(found, lines, within=0.05):
    """Hold the outlines of pieces against the lines that were drawn, by sampling alone."""
    for piece, line in zip(found.pieces, lines, strict=True):
        ours = [tuple(c) for edge in piece.edges for c in edge.outline.cubics]
        strays = apart(ours, line)
        assert strays < within


@pytest.mark.parametrize("writer", WRITERS)
def test_a_bodice_by_any_editor_is_named_without_a_word(writer):
    drawn, lines = block(), outlines()
    lengths = {"side seam": measures(drawn)["front.side"]} if writer == "reportlab" else {}
    found = brought_in(WRITERS[writer](lines), lengths=lengths)
    require_same(found, drawn)
    assert [seam.name for seam in found.seams] == [seam.name for seam in drawn.seams]
    assert found.seams == drawn.seams
    assert found.joins == drawn.joins
    assert found.piece("front").fold == "centre"
    assert set(found.dart_names) == set(drawn.dart_names)
    assert check(found) == ()
    if writer != "reportlab":  # whose page is of another size
        require_drawn(found, lines)


@settings(max_examples=25)
@given(drafts())
def test_a_bodice_for_any_body_is_named_without_a_word(drawn):
    lines = outlines(drawn)
    found = brought_in(WRITERS["svgwrite"](lines))
    require_same(found, drawn)
    require_drawn(found, lines)


@pytest.mark.parametrize(
    "measured",
    [(830, 640, 380, 540), (770, 530, 360, 500), (1040, 800, 420, 600), (900, 780, 400, 560)],
)
def test_our_own_dxf_comes_back_by_its_lines_alone(measured):
    drawn = block(*map(float, measured))
    found = brought_in(draft_dxf(drawn, "own"), "own.dxf")
    require_same(found, drawn)
    # A dart is drawn to its tip; only its maker knows how far beyond that it aims.
    assert {finding.code for finding in check(found)} <= {"dart-kink"}
    for piece in drawn.pieces:
        assert found.piece(piece.name).grainline is not None
        assert len(found.piece(piece.name).notches) == len(piece.notches)
        for edge in piece.edges:
            ours = [tuple(c) for c in edge.outline.cubics]
            theirs = [tuple(c) for c in found.edge(piece.name, edge.name).outline.cubics]
            shift = ours[0][0] - theirs[0][0]
            strays = apart([[p + shift for p in curve] for curve in theirs], ours)
            assert strays < 0.05


@pytest.mark.parametrize(
    ("system", "body", "names"),
    [
        ("straight-skirt", SKIRT, {"piece-1": "skirt-front", "piece-2": "skirt-back"}),
        (
            "trousers",
            TROUSERS,
            {
                "piece-1": "trouser-front",
                "piece-2": "trouser-back",
                "9": "trouser-back.dart.waist",
                "11": "trouser-back.dart.waist-side",
            },
        ),
    ],
)
def test_skirts_and_trousers_want_the_names_of_their_pieces(system, body, names):
    drawn = draft_block(system, body)
    lines = outlines(drawn)
    found = brought_in(WRITERS["drawsvg"](lines), names=names)
    require_same(found, drawn)
    require_drawn(found, lines)
    assert found.seams == drawn.seams
    for piece in drawn.pieces:
        corners = [edge.starts_at for edge in found.piece(piece.name).edges]
        assert corners == [edge.starts_at for edge in piece.edges]


def lying(lines, degrees):
    """Return lines that lie so many degrees clockwise each, apart from one another."""
    laid = []
    for number, (line, each) in enumerate(zip(lines, degrees, strict=True)):
        turn = cmath.rect(1.0, math.radians(each))
        laid.append(
            [[turn * (p - 500 - 500j) + 700 + 700j + 1500 * number for p in c] for c in line]
        )
    return laid


def wide(lines):
    """Return an SVG of lines on a page large enough for them."""
    paths = "".join(f'<path d="{path_data(line)}" fill="none" stroke="#000"/>' for line in lines)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="6000mm" height="2000mm" '
        f'viewBox="0 0 6000 2000">{paths}</svg>'
    ).encode()


@pytest.mark.parametrize("degrees", [(0, 0, 0), (90, 90, 90), (180, -90, 90), (-90, 180, 0)])
@pytest.mark.parametrize("flipped", [False, True])
@pytest.mark.parametrize("system", ["straight-skirt", "trousers", "bust-proportion"])
def test_pieces_are_known_by_their_form_whichever_way_up_they_lie(system, degrees, flipped):
    body = {"straight-skirt": SKIRT, "trousers": TROUSERS}.get(system)
    drawn = draft_block(system, body) if body else block()
    lines = outlines(drawn)
    if flipped:
        lines = [[[-p.conjugate() for p in c] for c in line] for line in lines]
    looked = look_at(wide(lying(lines, degrees[: len(lines)])), "maker.svg", {}, {})
    turns = [round(turn) % 360 for turn in looked.turns]
    assert turns == [-each % 360 for each in degrees[: len(lines)]]
    found = draft_as_stated(looked, "maker.svg").draft
    require_same(found, drawn)
    assert {seam.name for seam in found.seams} == {seam.name for seam in drawn.seams}
    for piece in drawn.pieces:
        twin = found.piece(piece.name)
        assert twin.fold == piece.fold
        start, same = piece.edges[0].start, twin.edge(piece.edges[0].name).start
        for edge in piece.edges:
            way, there = edge.end - start, twin.edge(edge.name).end - same
            assert abs((-way.conjugate() if flipped else way) - there) < 0.05


def test_a_piece_that_leans_is_turned_by_the_grain_that_is_drawn_on_it():
    (line, _) = outlines(draft_block("straight-skirt", SKIRT))
    (leaning,) = lying([line], [7])
    turn = cmath.rect(1.0, math.radians(7))
    middle = sum(c[0] for c in leaning) / len(leaning)
    grain = [[middle - 100j * turn, middle + 100j * turn]]
    plain = look_at(wide([leaning]), "maker.svg", {}, {})
    assert plain.turns == (0.0,)  # its centre may be meant to slant
    drawn = (
        wide([leaning])
        .decode()
        .replace("</svg>", f'<path id="grain" d="{path_data(grain, closed=False)}"/></svg>')
    )
    looked = look_at(drawn.encode(), "maker.svg", {}, {})
    assert looked.turns[0] == pytest.approx(-7, abs=0.01)
    (piece,) = draft_as_stated(looked, "maker.svg").draft.pieces
    way = piece.edge("centre").end - piece.edge("centre").start
    assert abs(way.real) < 0.05


def test_where_nothing_tells_front_from_back_no_name_is_taken():
    back = outlines(draft_block("straight-skirt", SKIRT))[1]
    looked = look_at(wide(lying([back, back], (0, 180))), "maker.svg", {}, {})
    assert looked.forms == ("skirt", "skirt")
    assert [piece.name for piece in looked.stated.pieces] == ["piece-1", "piece-2"]
    assert {*looked.named_by} == {NamedBy.NOTHING}
    names = {"piece-1": "skirt-front"}
    named = look_at(wide(lying([back, back], (0, 180))), "maker.svg", names, {})
    assert named.stated.pieces[0].fold == "centre"


def test_a_layer_says_what_its_pieces_are_worn_as():
    lines = [[[0j, 300 + 0j], [300 + 0j, 280 + 90j], [280 + 90j, 200 + 130j], [200 + 130j, 90j]]]
    (line,) = [[*each, [each[-1][-1], each[0][0]]] for each in lines]
    paths = [
        f'<g id="{name}"><path d="{path_data([[p + 100 + x for p in c] for c in line])}"/></g>'
        for name, x in (("Front yoke panel", 0), ("Back", 600))
    ]
    text = wide([]).decode().replace("</svg>", f'<g id="Skirt">{"".join(paths)}</g></svg>')
    looked = look_at(text.encode(), "maker.svg", {}, {})
    assert [piece.name for piece in looked.stated.pieces][1] == "skirt-back"


def test_what_the_maker_wrote_goes_before_what_it_looks_like():
    front, back, sleeve = outlines()
    content = WRITERS["svgwrite"]([front, back, sleeve]).decode()
    head, first, second, third = content.split("<path")
    # The deeper neck is called the back, and the sleeve by a name of the maker's own.
    content = (
        f'{head}<g id="Back"><path{first}</g><g id="Front piece"><path{second}</g>'
        f'<g id="Mancherón"><path{third.replace("</svg>", "</g></svg>")}'
    )
    found = brought_in(content.encode())
    assert found.piece_names == ("back", "front", "mancheron")


def test_the_same_page_may_be_drawn_lying_on_another_side():
    lines = [[[p.conjugate() * -1 + 1400 for p in c] for c in line] for line in outlines()]
    found = brought_in(WRITERS["svgwrite"](lines))
    require_same(found, block())
    assert found.seams == block().seams


def test_a_length_that_the_maker_measured_sets_the_size_or_checks_it():
    side = measures(block())["front.side"]
    stated = WRITERS["svgwrite"](outlines())
    require_same(brought_in(stated, lengths={"front.side": side}), block())
    with refusing(CannotTrace, match="as the drawing states its size, not"):
        brought_in(stated, lengths={"front.side": side * 1.1})
    with refusing(CannotTrace, match="larger or smaller than by"):
        brought_in(stated, lengths={"front.side": side, "front.centre": side})
    small = stated.replace(b"1400.0mm", b"14.0mm").replace(b"1000.0mm", b"10.0mm")
    with refusing(CannotTrace, match="which no garment's is; say how long"):
        brought_in(small)
    require_same(brought_in(small, lengths={"front.side": side}), block())
    large = stated.replace(b"1400.0mm", b"28000mm").replace(b"1000.0mm", b"20000mm")
    with refusing(CannotTrace, match="which no garment's is; say how long"):
        brought_in(large)
    require_same(brought_in(large, lengths={"front.side": side}), block())


def test_the_seam_lines_of_a_piece_that_is_cut_wider_are_what_is_traced():
    drawn = block()
    for piece in drawn.pieces:
        around = dict.fromkeys(piece.edge_names, 10.0) | {"hem": 30.0}
        drawn = drawn.with_pieces(allowed(piece, around))
    found = brought_in(draft_dxf(drawn, "own"), "own.dxf")
    require_same(found, drawn)
    assert found.piece("front").fold == "centre"
    assert len(found.piece("sleeve").notches) == 4
