"""Conflicts as pictures: what is drawn of each kind, where it is marked, whether it reads."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from tests.builders import block
from tests.cli.drawing.legible import SVG, assert_legible
from trueup.cli.drawing.conflict_picture import ConflictWords, conflict_picture
from trueup.cli.drawing.draft_picture import Marked, draft_picture
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictKind, ConflictRecord

TOLD = ConflictWords(
    "a conflict of the village block",
    "before: 2025-03-01",
    "now",
    ("The cap measures 480.0 mm and the armhole 470.0 mm: too little ease is left in it.",),
    ("refit-cap (15.2 mm): redraw the cap by +15.2 mm in width", "accept: leave it as it is"),
)


def changed(draft: Draft, kind: str, **values: object) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def hollowed() -> Draft:
    return changed(block(), "scoop-armhole", piece="front", by="15mm")


def conflict(kind: ConflictKind, piece: str, edge: str, code: str = "") -> ConflictRecord:
    return ConflictRecord("it-1", kind, "village", piece, edge, code or kind.value, "It is so.")


def drawn(record: ConflictRecord, before: Draft | None, now: Draft, number: int = 1):
    scene = conflict_picture(record, before, now, TOLD, Unit.MILLIMETRE, number)
    root = ElementTree.fromstring(svg_text(scene).encode("utf-8"))
    assert_legible(root)
    found = [each.attrib["id"] for each in root.iter() if "id" in each.attrib]
    assert len(found) == len(set(found))
    return root, {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}


def words(root: ElementTree.Element) -> str:
    return "\n".join(each.text or "" for each in root.iter(f"{SVG}text"))


def across(path: ElementTree.Element) -> float:
    found = [float(x) for x in re.findall(r"(-?[\d.]+),", path.attrib["d"])]
    return max(found) - min(found)


CAP = conflict(ConflictKind.SEAM, "sleeve", "cap", "seam")


def test_a_cap_that_no_longer_fits_is_walked_before_and_now():
    before, now = block(), hollowed()
    root, found = drawn(CAP, before, now)
    for when, draft in (("before", before), ("now", now)):
        walked = walk(draft, draft.seam("armhole-seam"))
        left_over = across(found[f"{when}.walk.sleeve.cap"]) - sum(
            across(found[f"{when}.walk.{name}.armhole"]) for name in ("front", "back")
        )
        assert left_over == pytest.approx(walked.ease, abs=0.1)
        assert f"{when}.seam.armhole-seam.left-over" in found
    assert "+ matches" in words(root)
    assert "! outside" in words(root)


def test_the_pieces_of_the_seam_are_drawn_old_under_new():
    _, found = drawn(CAP, block(), hollowed())
    assert {"front", "back", "sleeve", "front.armhole.1.before", "front.lost"} <= set(found)
    assert "back.armhole.before" not in found
    assert found["front.armhole.1.before"].attrib["stroke-dasharray"]


def test_the_sign_with_its_number_stands_by_the_edge_it_speaks_of():
    now = hollowed()
    _, found = drawn(CAP, block(), now, number=7)
    sign = found["conflict.7"]
    assert sign.findtext(f"{SVG}text") == "7"
    leader = sign.find(f"{SVG}path")
    x, y = (float(n) for n in leader.attrib["d"].split()[1].split(","))
    cap = found["sleeve.cap"].attrib["d"].replace(",", " ").split()
    numbers = [float(n) for n in cap if n[-1].isdigit()]
    assert min(numbers[::2]) <= x <= max(numbers[::2])
    assert min(numbers[1::2]) - 0.1 <= y <= max(numbers[1::2]) + 0.1


def test_what_can_be_done_is_written_below_with_its_amounts():
    root, _ = drawn(CAP, block(), hollowed())
    for text in (*TOLD.says, *TOLD.remedies, TOLD.title, TOLD.before):
        assert text in words(root).replace("\n", " ")


def test_only_one_piece_is_drawn_where_only_one_is_concerned():
    record = conflict(ConflictKind.DOUBLED, "front", "armhole")
    _, found = drawn(record, block(), hollowed())
    assert "front" in found
    assert {"back", "sleeve"}.isdisjoint(found)
    assert not any("walk" in name for name in found)


def test_a_dart_that_is_gone_is_marked_where_it_was():
    now = changed(block(), "release-dart", dart="front.waist")
    record = conflict(ConflictKind.MISSING, "front", "waist", "missing:s1")
    _, found = drawn(record, block(), now)
    assert found["conflict.1"].find(f"{SVG}path") is not None
    assert "front.dart.waist.before" in found


def test_a_piece_that_is_gone_is_marked_where_it_was():
    now = replace(block(), pieces=block().pieces[:2], seams=(), joins=())
    _, found = drawn(conflict(ConflictKind.MISSING, "sleeve", "cap"), block(), now)
    assert {"sleeve.cap.before", "conflict.1"} <= set(found)


@pytest.mark.parametrize(
    ("kind", "piece", "edge", "code"),
    [
        (ConflictKind.IMPOSSIBLE, "front", "shoulder", "impossible:s1"),
        (ConflictKind.IMPOSSIBLE, "front", "", "impossible:s1"),
        (ConflictKind.MISSING, "front", "bust", "missing:s1"),
        (ConflictKind.BOTH_SHAPED, "front", "armhole", "both-shaped"),
        (ConflictKind.DOUBLED, "back", "hem", "doubled"),
        (ConflictKind.SEAM, "front", "side", "seam"),
        (ConflictKind.SEAM, "back", "shoulder", "seam"),
        (ConflictKind.SEAM, "gone", "away", "seam"),
        (ConflictKind.SHAPE, "front", "armhole", "kink"),
        (ConflictKind.SHAPE, "front", "bust", "dart-kink"),
        (ConflictKind.SHAPE, "sleeve", "cap", "outline"),
        (ConflictKind.TWO_MAKERS, "front", "", "two-makers:step:s1"),
        (ConflictKind.TWO_MAKERS, "", "", "two-makers:draft"),
    ],
)
def test_every_kind_of_conflict_has_a_picture(kind, piece, edge, code):
    record = conflict(kind, piece, edge, code)
    for before in (None, block(), hollowed()):
        root, found = drawn(record, before, hollowed())
        assert ("conflict.1" in found) is block().has_piece(piece)
        assert "How it can be settled:" in words(root)
    if not block().has_piece(piece):
        assert {"front", "back", "sleeve"} <= set(found)


def test_a_kink_is_marked_at_the_corner_where_the_edges_meet():
    _, found = drawn(conflict(ConflictKind.SHAPE, "front", "armhole", "kink"), None, block())
    leader = found["conflict.1"].find(f"{SVG}path").attrib["d"].split()[1]
    points = re.findall(r"-?[\d.]+,-?[\d.]+", found["front.armhole.1"].attrib["d"])
    ends = {points[0], re.findall(r"\S+,\S+", found["front.armhole.2"].attrib["d"])[-1]}
    assert leader in ends


# --- all conflicts of a pattern in one picture ------------------------------------------------


def marked(*places: tuple[str, str]):
    listed = [
        Marked(
            conflict(ConflictKind.SHAPE, *place, "outline"), f"What does not hold, {count}. " * 9
        )
        for count, place in enumerate(places, start=1)
    ]
    root = ElementTree.fromstring(svg_text(draft_picture(block(), "village", listed)).encode())
    assert_legible(root)
    return root


def test_conflicts_are_numbered_in_their_order_and_written_below():
    root = marked(("sleeve", "cap"), ("front", "armhole"), ("front", "armhole"), ("front", "side"))
    signs = [e for e in root.iter() if e.attrib.get("id", "").startswith("conflict.")]
    assert {e.attrib["id"]: e.findtext(f"{SVG}text") for e in signs} == {
        f"conflict.{n}": str(n) for n in range(1, 5)
    }
    assert words(root).index("does not hold, 1.") < words(root).index("does not hold, 4.")


def test_a_conflict_without_a_place_is_only_written_below():
    root = marked(("front", "side"), ("", ""))
    assert not [e for e in root.iter() if e.attrib.get("id") == "conflict.2"]
    assert "does not hold, 2." in words(root)
