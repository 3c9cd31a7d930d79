import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.cli.drawing.svg import draft_svg
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+\.\d+")


def drawn(draft: Draft, title: str = "a block") -> ElementTree.Element:
    return ElementTree.fromstring(draft_svg(draft, title).encode("utf-8"))


def ids(root: ElementTree.Element) -> list[str]:
    return [path.attrib["id"] for path in root.iter(f"{SVG}path")]


def points(path: ElementTree.Element) -> list[complex]:
    numbers = [float(x) for x in NUMBER.findall(path.attrib["d"])]
    return [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def by_id(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {path.attrib["id"]: path for path in root.iter(f"{SVG}path")}


def renamed(piece: Piece, name: str) -> Draft:
    return Draft((replace(piece, name=name),))


def fish(piece: Piece) -> Piece:
    middle = complex(60, piece.level("bust").y)
    dart = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    return replace(piece, inner_darts=(dart,))


def test_a_unit_is_a_millimetre():
    root = drawn(block())
    assert root.attrib["width"].endswith("mm")
    _, _, width, height = root.attrib["viewBox"].split()
    assert (root.attrib["width"], root.attrib["height"]) == (f"{width}mm", f"{height}mm")


@given(drafts())
@settings(max_examples=15)
def test_every_edge_and_dart_has_a_path_of_its_name(draft):
    found = ids(drawn(draft))
    for piece in draft.pieces:
        for edge in piece.edges:
            name = f"{piece.name}.{edge.name}"
            parts = (
                [name] if not edge.darts else [f"{name}.{k + 1}" for k in range(len(edge.parts))]
            )
            assert all(part in found for part in parts)
            assert all(f"{piece.name}.dart.{dart.name}" in found for dart in edge.darts)
    assert len(set(found)) == len(found)


@given(drafts())
@settings(max_examples=15)
def test_everything_lies_on_the_page_and_no_piece_on_another(draft):
    root = drawn(draft)
    _, _, width, height = (float(x) for x in root.attrib["viewBox"].split())
    reached = 0.0
    groups = list(root.iter(f"{SVG}g"))
    assert len(groups) == len(draft.pieces)
    for group in groups:
        on_page = [p for path in group.iter(f"{SVG}path") for p in points(path)]
        assert min(p.real for p in on_page) > reached
        assert min(p.imag for p in on_page) >= 0
        assert max(p.imag for p in on_page) <= height
        reached = max(p.real for p in on_page)
    assert reached < width


def test_the_edges_of_a_piece_still_join_on_the_page():
    draft = block().only(["sleeve"])
    paths = by_id(drawn(draft))
    ring = [points(paths[f"sleeve.{name}"]) for name in draft.piece("sleeve").edge_names]
    for before, after in zip(ring, [*ring[1:], ring[0]], strict=True):
        assert before[-1] == after[0]


def test_curves_are_written_as_cubics_with_six_decimals():
    path = by_id(drawn(block()))["sleeve.cap"].attrib["d"]
    assert set(re.findall(r"[A-Za-z]", path)) == {"M", "C"}
    assert all(len(x.split(".")[1]) == 6 for x in NUMBER.findall(path))


def test_there_are_no_transforms_and_nothing_is_told_by_colour():
    text = draft_svg(block(), "a block")
    assert "transform" not in text
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', text)) == {"none", "black"}


def test_a_dart_is_drawn_from_leg_to_tip_to_leg():
    mouth = block().mouth("front.bust")
    first, tip, second = points(by_id(drawn(block()))["front.dart.bust"])
    assert abs(tip - first) == pytest.approx(mouth.legs[0], abs=1e-5)
    assert abs(tip - second) == pytest.approx(mouth.legs[1], abs=1e-5)


def test_a_dart_inside_a_piece_is_drawn_all_round():
    draft = block().with_pieces(fish(block().piece("back")))
    path = by_id(drawn(draft))["back.dart.fish"]
    assert len(points(path)) == 4
    assert path.attrib["d"].endswith("Z")


def test_grainline_notches_fold_and_name_are_on_the_piece():
    root = drawn(block())
    paths = by_id(root)
    for piece in block().pieces:
        assert f"{piece.name}.grainline" in paths
        assert all(f"{piece.name}.notch.{notch.name}" in paths for notch in piece.notches)
    assert block().piece("front").fold == "centre"
    assert "stroke-dasharray" in paths["front.centre"].attrib
    assert "stroke-dasharray" not in paths["back.centre"].attrib
    assert [text.text for text in root.iter(f"{SVG}text")] == list(block().piece_names)


def test_a_notch_sits_on_its_edge():
    draft = block().only(["sleeve"])
    sleeve = draft.piece("sleeve")
    notch = next(n for n in sleeve.notches if n.edge == "cap")
    paths = by_id(drawn(draft))
    step = points(paths["sleeve.cap"])[0] - sleeve.edge("cap").start
    place = sleeve.edge("cap").point_at(notch.at.along(sleeve.edge("cap")))
    assert points(paths[f"sleeve.notch.{notch.name}"])[0] == pytest.approx(place + step, abs=1e-5)


@given(st.text(max_size=30), st.text(min_size=1, max_size=30))
@settings(max_examples=60)
def test_no_name_and_no_title_breaks_the_drawing(title, name):
    root = drawn(renamed(block().piece("sleeve"), name), title)
    assert len(list(root.iter(f"{SVG}path"))) == len(ids(drawn(block().only(["sleeve"]))))


def test_a_name_stays_text():
    evil = '"/><script>alert(1)</script>'
    root = drawn(renamed(block().piece("sleeve"), evil), "</title><script/>")
    assert not list(root.iter(f"{SVG}script"))
    assert root.findtext(f"{SVG}title") == "</title><script/>"
    assert f"{evil}.cap" in ids(root)


def test_a_draft_without_pieces_is_an_empty_page():
    assert ids(drawn(Draft(()))) == []


def test_the_same_draft_gives_the_same_text():
    assert draft_svg(block(), "a block") == draft_svg(block(), "a block")
