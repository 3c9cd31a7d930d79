"""Gapes of the sizes that are published, closed into the bust dart of a drafted front.

Source: dresspatternmaking.com, standard contouring amounts: 1/4 in at the bust circle for a low
neck, 3/4 in where it comes near or below the bust point, 1/2 in at a cut-away armhole.
"""

import pytest

from tests.builders import block
from tests.fair import closed_points, smallest_radius
from trueup.geometry.changes import Change, kind_named
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.position import Position

LOW_NECK = kind_named("lower-neck")(piece="front", by=60.0)
NEAR_BUST_POINT = kind_named("lower-neck")(piece="front", by=110.0)
SIDE_DART = kind_named("rotate-dart")(
    dart="front.bust", edge="front.side", at=Position("underarm", share=0.3)
)


@pytest.mark.parametrize(
    ("inches", "before", "edge", "at"),
    [
        (1 / 4, LOW_NECK, "neck", Position("neck-centre", share=0.2)),
        (3 / 4, NEAR_BUST_POINT, "neck", Position("neck-centre", share=0.1)),
        (1 / 2, SIDE_DART, "armhole", Position("underarm", share=0.4)),
    ],
)
@pytest.mark.parametrize("bust", [800.0, 830.0, 920.0, 1000.0])
def test_a_gape_of_a_published_size_is_closed_fair(
    bust: float, inches: float, before: Change, edge: str, at: Position
) -> None:
    made = before.apply(block(bust, bust - 190.0))
    closing = kind_named("contour-edge")(
        dart="front.bust", edge=f"front.{edge}", at=at, by=inches * 25.4
    )
    after = closing.apply(made)
    shorter = made.edge("front", edge).length - after.edge("front", edge).length
    assert shorter == pytest.approx(inches * 25.4, abs=1e-3)
    assert smallest_radius(closed_points(after.edge("front", edge))) > 15.0
    assert not [each for each in check(after) if each.piece == "front"]
