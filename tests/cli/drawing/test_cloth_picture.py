"""The cloth of a garment as a picture: what is drawn of each piece, and whether it reads."""

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from tests.builders import block
from tests.cli.drawing.legible import SVG, assert_legible
from tests.geometry.cloth.test_cut_cloth import with_allowances
from trueup.cli.drawing.cloth_picture import ClothWords, EdgeLine, PieceOfCloth, cloth_picture
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.cloth.cloth_areas import cloth_areas
from trueup.geometry.cloth.cut_cloth import Possible, compare_cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

HEADS = ("edge", "", "asked for", "cloth")


def changed(draft: Draft, kind: str, **values: object) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def told(*edges: EdgeLine, notes: tuple[str, ...] = ()) -> ClothWords:
    return ClothWords("tea, cut from blouse", "as sewn", "as wanted now", HEADS, edges, notes)


def drawn(before: Draft, after: Draft, stitched: tuple[str, ...] = ()):
    """Draw a block and its correction; each edge that moves has a line in the list."""
    pieces, lines = [], []
    for old in before.pieces:
        new, cloth = after.piece(old.name), cutting_line(old)
        answer = compare_cloth(cloth, old, new, stitched)
        pieces.append(PieceOfCloth(old.name, cloth, old, cloth_areas(cloth, old, new, answer)))
        for edge in answer.edges:
            if not edge.stays:
                name = f"{old.name}.{edge.edge}"
                can = edge.possible is Possible.CAN
                lines.append(EdgeLine(name, can, (name, "+ can", "20 mm", "enough")))
    return found(cloth_picture(pieces, told(*lines)))


def found(scene):
    root = ElementTree.fromstring(svg_text(scene).encode("utf-8"))
    assert_legible(root)
    names = [each.attrib["id"] for each in root.iter() if "id" in each.attrib]
    assert len(names) == len(set(names))
    return root, {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}


def words(root: ElementTree.Element) -> list[str]:
    return [each.text or "" for each in root.iter(f"{SVG}text")]


BEFORE = with_allowances(block())
HOLLOWED = changed(BEFORE, "scoop-armhole", piece="front", by="12mm")
WIDER = changed(BEFORE, "add-ease", by="70mm")


def test_every_piece_lies_on_its_cloth_with_its_seam_lines():
    _, names = drawn(BEFORE, BEFORE)
    for piece in BEFORE.pieces:
        assert f"{piece.name}.cloth" in names
        assert any(name.startswith(f"{piece.name}.hem") for name in names)
    assert not [name for name in names if name.endswith((".before", ".cut-off", ".lacking"))]


def test_what_moved_is_dashed_where_it_was_sewn_and_solid_where_it_is_wanted():
    _, names = drawn(BEFORE, HOLLOWED)
    assert names["front.armhole.1.before"].attrib["stroke-dasharray"]
    assert "stroke-dasharray" not in names["front.armhole.1"].attrib
    before = {name for name in names if name.endswith(".before")}
    assert all(name.startswith(("front.armhole", "front.dart.bust")) for name in before)


def test_only_what_is_to_be_seen_stands_in_the_key():
    said = words(drawn(BEFORE, BEFORE)[0])
    assert "the cloth as it was cut" in said
    assert not {"as sewn", "to be cut off", "cloth lacks", "can be done"} & set(said)
    said = words(drawn(BEFORE, HOLLOWED)[0])
    assert {"as sewn", "as wanted now", "to be cut off", "can be done"} <= set(said)
    assert not {"cloth lacks", "can in part, or not at all"} & set(said)
    assert {"cloth lacks", "can in part, or not at all"} <= set(words(drawn(BEFORE, WIDER)[0]))


def slants(path: ElementTree.Element) -> set[bool]:
    """Return whether the lines of a hatch rise to the right."""
    lines = re.findall(r"M ([-\d.]+),([-\d.]+) L ([-\d.]+),([-\d.]+)", path.attrib["d"])
    assert lines
    drawn = [[float(n) for n in line] for line in lines]
    return {(x2 - x1) * (y2 - y1) < 0 for x1, y1, x2, y2 in drawn if abs(x2 - x1) > 0.1}


def test_what_lacks_is_hatched_one_way_and_what_is_cut_off_the_other():
    _, lacks = drawn(BEFORE, WIDER, ("front.centre", "back.centre"))
    _, cut = drawn(BEFORE, HOLLOWED)
    assert slants(lacks["back.lacking"]) == {True}
    assert slants(cut["front.cut-off"]) == {False}
    assert "front.cutting-line" in cut
    assert "back.cutting-line" not in cut


def test_each_edge_is_numbered_in_its_sign_as_in_the_list():
    root, names = drawn(BEFORE, WIDER, ("front.centre", "back.centre"))
    numbers = [name for name in names if name.startswith("mark.")]
    listed = [text for text in words(root) if re.fullmatch(r"(front|back|sleeve)\.[a-z-]+", text)]
    assert len(numbers) == len(listed) > 4
    side = listed.index("back.side") + 1
    hem = listed.index("back.hem") + 1
    warning, disc = names[f"mark.{side}"], names[f"mark.{hem}"]
    assert warning.find(f"{SVG}circle") is None
    assert warning.findtext(f"{SVG}text") == str(side)
    assert disc.find(f"{SVG}circle") is not None


def test_an_edge_that_is_stitched_down_has_nothing_cut_off():
    _, names = drawn(BEFORE, HOLLOWED, ("front.armhole",))
    assert "front.cut-off" not in names
    assert names["mark.1"].find(f"{SVG}circle") is None


def test_a_piece_that_is_not_wanted_any_more_is_dashed():
    front, back = BEFORE.pieces[:2]
    pieces = [
        PieceOfCloth("front", cutting_line(front), front),
        PieceOfCloth("back", cutting_line(back), back),
    ]
    root, names = found(cloth_picture(pieces, told(notes=("- back was cut.",))))
    assert names["back.hem.1.before"].attrib["stroke-dasharray"]
    assert {"front", "back", "- back was cut."} <= set(words(root))


def test_cloth_of_which_nothing_else_is_known_is_drawn_alone():
    pieces = [PieceOfCloth(piece.name, cutting_line(piece)) for piece in BEFORE.pieces]
    says = "tea cannot be compared with its pattern: blouse was deleted since. " * 4
    root, names = found(cloth_picture(pieces, ClothWords("tea", "", "", notes=(says,))))
    lines = {name for name in names if "." in name}
    assert lines == {"front.cloth", "back.cloth", "sleeve.cloth"}
    assert says.strip() in " ".join(words(root))


def test_there_is_no_cloth_along_a_fold():
    _, names = drawn(BEFORE, BEFORE)
    cloth = cutting_line(BEFORE.piece("front"))
    drawn_long = length(names["front.cloth"])
    fold = BEFORE.piece("front").edge("centre").length
    assert drawn_long < cloth.exterior.length - fold + 1


def length(path: ElementTree.Element) -> float:
    total = 0.0
    for run in path.attrib["d"].split("M ")[1:]:
        points = [complex(*map(float, p.split(","))) for p in run.replace("L ", "").split()]
        total += sum(abs(b - a) for a, b in pairwise(points))
    return total


@pytest.mark.parametrize("by", ["-20mm", "-8mm", "8mm", "20mm"])
@pytest.mark.parametrize("kind", ["shorten-shoulder", "shift-shoulder", "lower-armhole"])
def test_whatever_is_corrected_reads(kind, by):
    _, names = drawn(BEFORE, changed(BEFORE, kind, by=by))
    assert "front.cloth" in names
