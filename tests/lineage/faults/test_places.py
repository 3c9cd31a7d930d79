"""Which lines a place of a fit note stands for."""

import pytest

from tests.builders import block
from tests.lineage.making import change
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.faults.places import PlaceLine, lines_of


def names(draft: Draft, place: str) -> list[str]:
    return [str(line) for line in lines_of(draft, place, "village")]


@pytest.mark.parametrize(
    ("place", "lines"),
    [
        ("front.armhole", ["front.armhole"]),
        ("front.bust", ["front.armhole"]),
        ("back.shoulder", ["back.shoulder"]),
        ("chest", ["back.armhole", "front.armhole"]),
        ("bust", ["back.armhole", "back.side", "front.armhole", "front.side"]),
        ("waist", ["back.hem", "back.side", "front.hem", "front.side"]),
        ("back.waist", ["back.hem"]),
        ("biceps", ["sleeve.cap"]),
        ("wrist", ["sleeve.back-seam", "sleeve.front-seam", "sleeve.hem"]),
    ],
)
def test_a_place_of_the_block(place: str, lines: list[str]) -> None:
    assert names(block(), place) == lines


def test_a_dart_stands_for_the_edge_it_was_turned_to() -> None:
    turned = change("rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm")
    assert names(turned.apply(block()), "front.bust") == ["front.side"]


def test_once_lengthened_the_waist_is_the_side_and_the_darts_inside() -> None:
    longer = change("lengthen", by="200mm").apply(block())
    assert longer.piece("front").inner_darts
    lines = lines_of(longer, "waist", "village")
    assert PlaceLine("front", "side") in lines
    assert PlaceLine("front", "waist", is_inner_dart=True) in lines
    assert PlaceLine("front", "hem") not in lines
    assert lines_of(longer, "front.waist", "x") == (
        PlaceLine("front", "waist", is_inner_dart=True),
    )


@pytest.mark.parametrize(
    "place", ["", ".", "front", "front.", "collar.edge", "front.lapel", "knee"]
)
def test_a_place_that_is_not_there_is_refused_with_those_there_are(place: str) -> None:
    with pytest.raises(NoSuchName, match="is not a place of village"):
        lines_of(block(), place, "village")
