"""Pieces drawn apart for a page: to one scale, no wider than a phone, their letters as high."""

from xml.etree import ElementTree

import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.cli.drawing.legible import SVG, assert_legible
from tests.strategies import drafts
from trueup.cli.drawing.conflict_picture import ConflictWords, conflict_on_page
from trueup.cli.drawing.draft_picture import pieces_of_draft
from trueup.cli.drawing.overlay import overlay_key, overlays
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord

SMALL_PHONE = 320 - 2 * 16  # pixels: what is left between the edges of a page
PHONE = 390 - 2 * 16
LEAST = 11.0  # pixels high, that letters can be read


def hollowed(draft: Draft) -> Draft:
    values = {"piece": "front", "by": "15mm"}
    return read_change(kind_named("scoop-armhole"), values, Unit.MILLIMETRE).apply(draft)


def drawn(scenes) -> list[ElementTree.Element]:
    return [ElementTree.fromstring(svg_text(scene).encode()) for scene in scenes]


def pixels_of_mm(root: ElementTree.Element) -> float:
    return float(root.attrib["width"]) / float(root.attrib["viewBox"].split()[2])


def on_any_phone(root: ElementTree.Element) -> list[float]:
    """Return how high each text is on the smallest phone, which shrinks what is wider, pixels."""
    wide = float(root.attrib["width"])
    shrinks = min(1.0, SMALL_PHONE / wide) * pixels_of_mm(root)
    return [float(each.attrib["font-size"]) * shrinks for each in root.iter(f"{SVG}text")]


@settings(max_examples=25, deadline=None)
@given(drafts())
def test_whatever_is_drawn_fits_a_phone_and_can_be_read_on_it(draft):
    for roots in (
        drawn(pieces_of_draft(draft, "a block")),
        drawn(overlays(compare(draft, draft), "it")),
    ):
        assert len({round(pixels_of_mm(root), 6) for root in roots}) == 1
        for root in roots:
            assert float(root.attrib["width"]) <= PHONE
            assert min(on_any_phone(root)) >= LEAST
            assert_legible(root)


def test_each_piece_is_a_picture_that_says_which_and_bears_no_other_word():
    roots = drawn(pieces_of_draft(block(), "village"))
    assert [root.findtext(f"{SVG}title") for root in roots] == [
        "village: front", "village: back", "village: sleeve",
    ]  # fmt: skip
    assert [[text.text for text in root.iter(f"{SVG}text")] for root in roots] == [
        ["front"], ["back"], ["sleeve"],
    ]  # fmt: skip


def test_what_moved_is_numbered_as_in_the_list_and_heavier_than_what_stays():
    found = compare(block(), hollowed(block()))
    (root,) = drawn(overlays(found, "what moved"))
    by_id = {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}
    assert [move.name for move in found.moves] == ["front.armhole"]
    assert by_id["mark.1"].findtext(f"{SVG}text") == "1"
    seam = float(root.attrib["stroke-width"])
    moved = [each for name, each in by_id.items() if name in ("front.armhole.1", "front.armhole.2")]
    assert len(moved) == 2
    for line in moved:
        assert line.attrib["class"] == "moved"
        assert float(line.attrib["stroke-width"]) > 1.5 * seam
    assert "stroke-width" not in by_id["front.neck"].attrib
    assert by_id["front.armhole.1.before"].attrib["stroke-dasharray"]
    texts = [entry.text for entry in overlay_key(found, "before", "after")]
    assert texts == ["before", "after", "what moved", "cloth taken away"]


@pytest.mark.parametrize("edge", ["cap", "hem"])
def test_the_line_that_does_not_fit_is_thick_from_end_to_end(edge):
    record = ConflictRecord(
        "it-1", ConflictKind.SEAM, "village", "sleeve", edge, "seam", "It is so."
    )
    told = ConflictWords("it-1", "before", "now", ("It is so.",), ())
    page = conflict_on_page(record, block(), hollowed(block()), told, Unit.MILLIMETRE)
    roots = drawn(page.pieces)
    for root in roots:
        assert_legible(root)
    thick = [
        each.attrib["id"] for root in roots for each in root.iter()
        if each.attrib.get("class") == "offending"
    ]  # fmt: skip
    whole = [
        each.attrib["id"] for root in roots for each in root.iter()
        if each.attrib.get("id", "").startswith(f"sleeve.{edge}")
    ]  # fmt: skip
    assert thick == whole != []
    assert "the line that does not fit" in [entry.text for entry in page.key]


def test_a_walk_on_a_page_bears_no_words_and_says_them_beside_it():
    record = ConflictRecord("it-1", ConflictKind.SEAM, "village", "sleeve", "cap", "seam", "So.")
    told = ConflictWords("it-1", "before", "now", (), ())
    page = conflict_on_page(record, block(), hollowed(block()), told, Unit.MILLIMETRE)
    assert [walked.heading.partition(",")[0] for walked in page.walks] == ["before", "now"]
    for walked, draft in zip(page.walks, (block(), hollowed(block())), strict=True):
        (root,) = drawn([walked.scene])
        assert not list(root.iter(f"{SVG}text"))
        cap = draft.edge("sleeve", "cap").length
        assert f"Above: sleeve.cap {cap:.1f}".rstrip("0").rstrip(".") in walked.told[0]
        _, _, wide, high = (float(n) for n in root.attrib["viewBox"].split())
        for path in root.iter(f"{SVG}path"):
            numbers = [
                float(n) for n in path.attrib["d"].replace(",", " ").split() if n[-1].isdigit()
            ]
            assert 0 <= min(numbers[::2]) <= max(numbers[::2]) <= wide
            assert 0 <= min(numbers[1::2]) <= max(numbers[1::2]) <= high
