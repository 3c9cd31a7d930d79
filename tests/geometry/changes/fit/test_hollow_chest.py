from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, headings, sampled, smallest_radius
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


def shortened(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("hollow-chest")(by=by, **values).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.floats(-12, 15).filter(lambda by: abs(by) > 0.5))
@settings(max_examples=40, deadline=None)
def test_the_centre_is_shorter_and_straight_on_the_fold(draft: Draft, by: float) -> None:
    after = shortened(draft, by)
    assert_sound(after)
    old, new = draft.piece("front"), after.piece("front")
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")) - by, abs=1e-4)
    centre = np.concatenate([sampled(part) for part in new.edge("centre").parts])
    assert np.ptp(centre.real) < 1e-6
    assert new.fold == "centre"
    for name in ("shoulder", "side", "hem"):
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=1e-6), name
    assert length(new.edge("armhole")) == pytest.approx(length(old.edge("armhole")), abs=0.5)
    assert abs(length(new.edge("neck")) - length(old.edge("neck"))) < 0.2 * abs(by) + 0.3
    # The neck meets the centre square, as it did.
    slants = [headings(closed_points(each.edge("neck")), 1.0)[0] for each in (old, new)]
    assert (slants[1] - slants[0] + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1.5)
    assert smallest_radius(closed_points(new.edge("armhole"))) > 15.0
    for corner in ("underarm", "hem-side", "hem-centre"):
        assert new.corner(corner) == old.corner(corner)
    assert not [each for each in check(after) if each.code != "seam"]
    assert after.piece("back") is draft.piece("back")


@given(st.floats(0.72, 0.85), st.floats(0.28, 0.42))
@settings(max_examples=20, deadline=None)
def test_the_wedge_lies_where_it_is_asked(share: float, ends: float) -> None:
    after = shortened(
        block(), 8.0, at=Position("hem-centre", share=share),
        ends_at=Position("shoulder-point", share=ends),
    )  # fmt: skip
    old, new = block().piece("front"), after.piece("front")
    # Below the place on the armhole nothing moved, above it the shoulder swung down about it.
    pivot = old.edge("armhole").point_at(ends * old.edge("armhole").length)
    reach = [abs(each.corner("shoulder-point") - pivot) for each in (old, new)]
    assert reach[1] == pytest.approx(reach[0], abs=0.6)
    turn = np.angle((new.corner("neck-point") - pivot) / (old.corner("neck-point") - pivot))
    wide = abs(old.corner("neck-centre").real - pivot.real)
    assert abs(turn) == pytest.approx(8.0 / wide, rel=0.2)


def test_a_notch_of_the_centre_stays_on_its_own_paper() -> None:
    marked = kind_named("mark-notch")(
        edge="front.centre", at=Position("hem-centre", distance=100.0), name="low"
    ).apply(block())
    front = shortened(marked, 9.0).piece("front")
    (low,) = [notch for notch in front.notches if notch.name == "low"]
    assert low.at.along(front.edge("centre")) == pytest.approx(100.0)


def test_it_is_refused_with_what_would_be_possible() -> None:
    with refusing(CannotChange, match="in the lower half of the centre"):
        shortened(block(), 8.0, at=Position("hem-centre", distance=100.0))
    with refusing(CannotChange, match="its centre is not straight"):
        front = block().piece("front")
        curved = kind_named("redraw-edge")(edge="front.centre", through="50%:6mm")
        loose = block().with_pieces(replace(front, fold=None))
        shortened(curved.apply(loose), 8.0)
    deep = kind_named("lower-neck")(piece="front", by=80.0).apply(block())
    with refusing(CannotChange, match="its centre does not pass the chest"):
        shortened(deep, 8.0)
    on_shoulder = kind_named("rotate-dart")(
        dart="front.bust", edge="front.shoulder", at=Position("neck-point", share=0.5)
    )
    with refusing(CannotChange, match="cross the dart front.bust"):
        shortened(on_shoulder.apply(block()), 8.0)
    with pytest.raises(NoSuchName):
        shortened(block().only(["back"]), 8.0)


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("hollow-chest")(by=8.0).in_words(Unit.CENTIMETRE) == (
        "shorten the front above the bust by 0.8 cm"
    )
