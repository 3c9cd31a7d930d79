from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.fair import sampled
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.units import Unit


def raised(draft: Draft, by: float, side: str = "left") -> Draft:
    return kind_named("high-hip")(by=by, side=side).apply(draft)


def skirt(waist: float = 720.0, hip: float = 960.0) -> Draft:
    body = {"waist": waist, "hip": hip, "hip-depth": 206.0, "skirt-length": 600.0}
    return draft_block("straight-skirt", body)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def seams(draft: Draft) -> list[str]:
    return [each.code for each in check(draft)]


@given(st.integers(640, 800), st.floats(-10, 20).filter(lambda by: abs(by) > 0.5))
@settings(max_examples=20, deadline=None)
def test_the_waist_of_a_skirt_rises_at_one_side(waist: int, by: float) -> None:
    before = skirt(float(waist), waist + 240.0)
    after = raised(before, by)
    assert_sound(after)
    for name in ("skirt-front", "skirt-back"):
        old, new = before.piece(name), after.piece(f"left-{name}")
        assert length(new.edge("side")) == pytest.approx(length(old.edge("side")) + by, abs=1e-3)
        assert length(new.edge("waist")) == pytest.approx(length(old.edge("waist")), abs=0.4)
        assert new.edge("hem") == old.edge("hem")
        assert new.corner("waist-centre") == old.corner("waist-centre")
        assert (new.corner("waist-side").imag < old.corner("waist-side").imag) == (by > 0)
        right = after.piece(f"right-{name}")
        assert right.edges == old.edges
        # The hip is marked where it was.
        marks = [
            [piece.edge(n.edge).point_at(n.at.along(piece.edge(n.edge))) for n in piece.notches]
            for piece in (old, new)
        ]
        assert marks[1] == pytest.approx(marks[0], abs=1e-3)
    assert not seams(after)


@given(drafts(), st.floats(3, 15))
@settings(max_examples=15, deadline=None)
def test_a_bodice_rises_with_the_waist_and_a_longer_one_hangs_lower(
    draft: Draft, by: float
) -> None:
    at_waist = raised(draft, by, "right")
    longer = kind_named("lengthen")(by=250.0).apply(draft)
    hung = raised(longer, by, "right")
    for name in ("front", "back"):
        for before, after, grown in ((draft, at_waist, -by), (longer, hung, by)):
            old, new = before.piece(name), after.piece(f"right-{name}")
            side = length(new.edge("side")) - length(old.edge("side"))
            assert side == pytest.approx(grown, abs=1e-3)
            assert new.corner("hem-centre") == old.corner("hem-centre")
            assert new.edge("armhole") == old.edge("armhole")
    assert not seams(at_waist)
    assert not seams(hung)


def test_it_is_made_on_one_side() -> None:
    with pytest.raises(BadParameter):
        kind_named("high-hip")(by=10.0)


def test_more_than_the_lines_take_is_refused() -> None:
    tight: dict[str, Any] = {"dart": "skirt-front.waist", "to": 2.0}
    with refusing(CannotChange, match=r"nothing would be left of the dart waist; its amount can"):
        raised(kind_named("deepen-dart")(**tight).apply(skirt()), 30.0)


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("high-hip")(by=12.0, side="left").in_words(Unit.CENTIMETRE) == (
        "raise the side over the hip by 1.2 cm on the left"
    )
