"""A drawing that says nothing of itself: its lines are named, joined as they meet, or refused."""

import math

import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.cli.drawing.svg import draft_svg
from trueup.geometry.measuring.measures import measures
from trueup.lineage.drawings.tracing.trace import traced
from trueup.lineage.errors import BadRecord

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"'
SQUARE = (
    ("pocket.top", "M 10 10 H 60"),
    ("pocket.right", "M 60 10 V 70"),
    ("pocket.bottom", "M 60 70 L 10 70"),
    ("pocket.left", "M 10 70 V 10"),
)


def page(*lines, head=HEAD, more=""):
    paths = "".join(f'<path id="{name}" d="{drawn}"/>' for name, drawn in lines)
    return f"{head}>{more}{paths}</svg>".encode()


def draft_of(content, **names):
    return traced(content, {k.replace("_", "-"): v for k, v in names.items()}, "x.svg").draft


@settings(max_examples=20)
@given(drafts())
def test_named_lines_alone_give_the_same_lengths_darts_and_corners(draft):
    found = traced(draft_svg(draft, "bare").encode(), {}, "x.svg")
    ours, theirs = measures(draft), measures(found.draft)
    for name in draft.edge_names:
        assert theirs[name] == pytest.approx(ours[name], abs=0.01)
    for dart in draft.dart_names:
        for what in ("intake", "leg"):
            assert theirs[f"{dart}.{what}"] == pytest.approx(ours[f"{dart}.{what}"], abs=0.01)
    for piece in draft.pieces:
        corners = [edge.starts_at for edge in found.draft.piece(piece.name).edges]
        assert corners == [edge.starts_at for edge in piece.edges]
        notches = {notch.name for notch in found.draft.piece(piece.name).notches}
        assert notches == {notch.name for notch in piece.notches}
    assert any("no seams" in each for each in found.missing)
    assert any("no levels" in each for each in found.missing)


def test_lines_may_be_drawn_in_any_order_and_either_way_round():
    mixed = (SQUARE[2], ("pocket.right", "M 60 70 V 10"), SQUARE[0], SQUARE[3])
    piece = draft_of(page(*mixed)).piece("pocket")
    assert piece.area == pytest.approx(3000.0)
    assert {edge.name: edge.length for edge in piece.edges} == pytest.approx(
        {"top": 50, "right": 60, "bottom": 50, "left": 60}
    )


def test_ends_that_almost_meet_are_put_together_and_others_are_not():
    almost = (*SQUARE[:3], ("pocket.left", "M 10.04 70.04 V 10"))
    piece = draft_of(page(*almost)).piece("pocket")
    for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert before.end == after.start
    with refusing(BadRecord, match="no other line of the piece starts where it ends"):
        draft_of(page(*SQUARE[:3], ("pocket.left", "M 12 70 V 10")))


def test_where_two_lines_could_follow_nothing_is_guessed():
    with refusing(BadRecord, match="more than one line"):
        draft_of(page(*SQUARE, ("pocket.flap", "M 60 10 L 90 40")))


def test_a_dart_parts_the_edge_it_opens_on():
    lines = (
        ("pocket.top.1", "M 10 10 H 30"),
        ("pocket.top.2", "M 36 10 H 60"),
        ("pocket.dart.small", "M 36 10 L 33 40 L 30 10"),
        *SQUARE[1:],
    )
    edge = draft_of(page(*lines)).edge("pocket", "top")
    assert edge.length == pytest.approx(44.0)
    (mouth,) = edge.mouths
    assert (mouth.intake, mouth.tip) == (pytest.approx(6.0), 33 + 40j)


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ((*SQUARE, ("pocket.dart.small", "M 36 10 L 33 40 L 30 10")), "no other line"),
        ((*SQUARE, ("pocket.notch.a", "M 40 30 V 35")), "off the nearest edge"),
        ((("a.b", "M 0 0 H 50 V 50 Z"),), "one line from a corner"),
        ((("a.b", "M 0 0 H 50"),), "fewer than two edges"),
        ((("a.b", "M 0 0 L 50 50"), ("a.c", "M 50 50 L 0 0")), "no cloth"),
        ((*SQUARE, SQUARE[0]), "two lines have this name"),
        ((*SQUARE[:3], ("pocket.left", "M 10 70 A 5 5 0 0 0 10 10")), "no line, curve or number"),
    ],
)
def test_lines_that_make_no_piece_are_refused(lines, told):
    with refusing(BadRecord, match=told):
        draft_of(page(*lines))


def test_lines_without_a_name_are_listed_with_what_they_look_like():
    lines = (("path1", "M 10 10 H 60"), *SQUARE[1:], ("q", "M 100 0 V 61"))
    found = traced(page(*SQUARE, *lines[:1], lines[-1]), {}, "x.svg")
    first, second = found.unnamed
    assert (first.id, first.length, first.start, first.end) == ("path1", 50, 10 + 10j, 60 + 10j)
    assert first.mates == ("pocket.bottom", "pocket.top")
    assert second.mates == ("pocket.left", "pocket.right")


def test_a_line_is_named_by_its_id():
    content = page(("path1", "M 10 10 H 60"), *SQUARE[1:])
    found = traced(content, {"path1": "pocket.top"}, "x.svg")
    assert found.unnamed == ()
    assert found.draft.edge("pocket", "top").length == 50
    for names, told in (({"path2": "a.b"}, "no line of this id"), ({"path1": "Top"}, "is not")):
        with refusing(BadRecord, match=told):
            traced(content, names, "x.svg")


def test_centimetres_inches_and_a_scaled_view_box_are_worked_in():
    for size, unit in ((20, "cm"), (2000 / 254, "in"), (200, "mm")):
        head = HEAD.replace("200mm", f"{size:.9f}{unit}").replace("100mm", f"{size / 2:.9f}{unit}")
        assert draft_of(page(*SQUARE, head=head)).edge("pocket", "top").length == pytest.approx(
            50, abs=1e-5
        )
    head = HEAD.replace('"0 0 200 100"', '"100 50 100 50"')
    assert draft_of(page(*SQUARE, head=head)).edge("pocket", "top").length == pytest.approx(100)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('width="200mm"', 'width="200px"', "how large it is on paper"),
        ('width="200mm"', 'width="200"', "how large it is on paper"),
        ('width="200mm"', "", "how large it is on paper"),
        ('viewBox="0 0 200 100"', "", "no viewBox"),
        ('viewBox="0 0 200 100"', 'viewBox="0 0 100 100"', "proportions"),
        ('viewBox="0 0 200 100"', 'viewBox="0 0 0 100"', "no page"),
        ('viewBox="0 0 200 100"', 'viewBox="0 0 nan 100"', "no viewBox"),
    ],
)
def test_a_page_that_is_no_paper_is_refused(old, new, told):
    with refusing(BadRecord, match=told):
        draft_of(page(*SQUARE, head=HEAD.replace(old, new)))


@pytest.mark.parametrize(
    ("moved", "length"),
    [
        ("translate(5)", 50),
        ("translate(5 -3) rotate(30)", 50),
        ("rotate(90, 20, 20)", 50),
        ("scale(2)", 100),
        ("scale(-1 1)", 50),
        ("matrix(0 1 -1 0 10 10)", 50),
    ],
)
def test_transforms_that_keep_shapes_are_worked_in(moved, length):
    content = page(*SQUARE).replace(b"<path", f'<g transform="{moved}"><path'.encode())
    content = content.replace(b"/>", b"/></g>")
    piece = draft_of(content).piece("pocket")
    assert piece.edge("top").length == pytest.approx(length)
    assert piece.area == pytest.approx(3000 * (length / 50) ** 2)


def test_turning_about_a_point_goes_where_svg_says():
    content = page(*SQUARE).replace(b"<path", b'<path transform="rotate(90 10 10)"')
    top = draft_of(content).edge("pocket", "top")
    assert math.isclose(top.start.real, 10, abs_tol=1e-9)
    assert {round(top.start.imag, 6), round(top.end.imag, 6)} == {10.0, 60.0}


@pytest.mark.parametrize("moved", ["skewX(10)", "scale(1 2)", "scale(0)", "spin(3)", "rotate(x)"])
def test_transforms_that_do_not_are_refused(moved):
    content = page(*SQUARE).replace(b"<path", f'<path transform="{moved}"'.encode())
    with refusing(BadRecord, match="transform"):
        draft_of(content)


def test_the_drawn_block_has_the_trades_corners():
    found = draft_of(draft_svg(block(), "bare").encode())
    assert found.piece("sleeve").edge("cap").starts_at == "front-underarm"
