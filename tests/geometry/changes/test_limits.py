"""What a refusal tells a maker: the amount that it can go as far as, and no more."""

import math
from functools import lru_cache

import pytest

from tests.as_far import as_far_as_it_goes
from tests.builders import block
from tests.fair import closed_points, smallest_radius
from tests.refusals import refusing
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

BODIES = {
    80: (800.0, 620.0, 400.0, 580.0),
    96: (960.0, 780.0, 410.0, 600.0),
    118: (1180.0, 1020.0, 430.0, 610.0),
}
TOO_MUCH = (
    ("shorten-shoulder", {}, 150.0),
    ("shorten-shoulder", {}, -150.0),
    ("slope-shoulder", {}, 150.0),
    ("slope-shoulder", {"with_underarm": True}, 150.0),
    ("lower-armhole", {}, 200.0),
    ("lower-neck", {"piece": "front"}, 400.0),
    ("lower-neck", {"piece": "back"}, -400.0),
    ("widen-neck", {}, 150.0),
    ("widen-neck", {}, -150.0),
    ("add-ease", {}, -400.0),
    ("true-hem", {"piece": "front"}, -300.0),
    ("true-hem", {"piece": "back"}, 300.0),
    ("scoop-armhole", {"piece": "front"}, 60.0),
    ("scoop-armhole", {"piece": "back"}, -60.0),
    ("raise-cap", {}, -200.0),
    ("widen-sleeve", {}, -200.0),
    ("shift-shoulder", {}, 80.0),
    ("deepen-dart", {"dart": "front.bust"}, 200.0),
    ("deepen-dart", {"dart": "back.shoulder"}, 200.0),
    ("deepen-dart", {"dart": "back.waist"}, -200.0),
    ("true-shoulder", {"piece": "back"}, -150.0),
    ("lengthen", {"piece": "sleeve"}, -900.0),
    ("taper-side", {"level": "waist"}, 150.0),
    ("flare-hem", {"piece": "sleeve", "slashes": 1.0}, 1900.0),
    ("puff-hem", {"slashes": 1.0}, 1900.0),
    ("add-elbow-dart", {"leg": 30.0}, 100.0),
    ("drop-shoulder", {}, 120.0),
    ("puff-cap", {"slashes": 1.0}, 600.0),
    ("gather-edge", {"edge": "sleeve.cap", "slashes": 1.0}, 1900.0),
    ("taper-side", {"level": "hem", "piece": "back"}, -200.0),
    ("change-bust", {"dart": "front.bust"}, -40.0),
    (
        "contour-edge",
        {"dart": "front.bust", "edge": "front.neck", "at": Position("neck-centre", share=0.4)},
        40.0,
    ),
    ("change-bust", {"dart": "front.bust", "into": "front.waist"}, -40.0),
)


@lru_cache(maxsize=8)
def draft_of(bust: int) -> Draft:
    return block(*BODIES[bust])


def can(kind: str, values: dict[str, object], draft: Draft, by: float) -> bool:
    try:
        kind_named(kind)(by=by, **values).apply(draft)
    except CannotChange:
        return False
    return True


@pytest.mark.parametrize("bust", sorted(BODIES))
@pytest.mark.parametrize(
    ("kind", "values", "by"),
    TOO_MUCH,
    ids=[" ".join([k, *map(str, v.values()), f"{by:g}"]) for k, v, by in TOO_MUCH],
)
def test_the_amount_told_can_be_done_and_a_tenth_more_cannot(
    bust: int, kind: str, values: dict[str, object], by: float
) -> None:
    draft = draft_of(bust)
    _, largest = as_far_as_it_goes(kind, draft, by, **values)
    # What can be asked for at all may end before the lines do.
    assert largest == by or not can(kind, values, draft, largest + math.copysign(0.1, by))


@pytest.mark.parametrize("bust", sorted(BODIES))
def test_a_shoulder_cannot_be_drawn_out_until_the_armhole_waves(bust: int) -> None:
    """An armhole drawn out so far once waved by 3 mm at the shoulder point."""
    sloped = kind_named("slope-shoulder")(by=-25.0).apply(draft_of(bust))
    with refusing(CannotChange, match="bend back and forth") as refused:
        kind_named("shorten-shoulder")(by=-60.0).apply(sloped)
    after = kind_named("shorten-shoulder")(by=refused.value.largest).apply(sloped)
    assert not [each for each in check(after) if each.code == "wave"]


@pytest.mark.parametrize("bust", sorted(BODIES))
def test_a_raised_back_neck_keeps_a_bend_that_can_be_sewn(bust: int) -> None:
    with pytest.raises(CannotChange) as refused:
        kind_named("lower-neck")(piece="back", by=-20.0).apply(draft_of(bust))
    assert refused.value.largest is not None
    after = kind_named("lower-neck")(piece="back", by=refused.value.largest)
    assert smallest_radius(closed_points(after.apply(draft_of(bust)).edge("back", "neck"))) > 14.5
