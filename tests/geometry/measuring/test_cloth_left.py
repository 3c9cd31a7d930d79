import pytest

from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.cloth_left import narrowed
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def panel(*inner: InnerDart) -> Piece:
    """Return a panel 300 mm square with a dart in its top edge, 20 mm wide at 140 mm."""
    top = Edge(
        "top", "a", "b",
        (Chain.line(0j, 140 + 0j), Chain.line(160 + 0j, 300 + 0j)),
        (Dart("waist", 150 + 100j),),
    )  # fmt: skip
    corners = [300 + 0j, 300 + 300j, 300j, 0j]
    sides = [
        Edge(name, *ends, (Chain.line(corners[k], corners[k + 1]),))
        for k, (name, ends) in enumerate([("right", "bc"), ("hem", "cd"), ("left", "da")])
    ]
    return Piece("front", (top, *sides), inner)


@pytest.mark.parametrize(("beside", "is_too_near"), [(4.95, True), (5.05, False)])
def test_a_dart_that_was_not_there_before_leaves_all_the_cloth_there_should_be(
    beside: float, is_too_near: bool
) -> None:
    lower = complex(150, 300 - beside)
    new = InnerDart("new", lower - 80j, lower, lower - (40j - 6), lower - (40j + 6))
    gap = narrowed(panel(), panel(new))
    assert (gap is not None) == is_too_near
