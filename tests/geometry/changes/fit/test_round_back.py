import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled, smallest_radius
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


def rounded(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("round-back")(by=by, **values).apply(draft)


def at_neck(draft: Draft) -> Draft:
    return kind_named("rotate-dart")(
        dart="back.shoulder", edge="back.neck", at=Position("neck-centre", share=0.5)
    ).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def angle(piece: Piece) -> float:
    mouth = piece.mouth("shoulder")
    return float(abs(np.angle((mouth.first - mouth.dart.apex) / (mouth.second - mouth.dart.apex))))


@given(drafts(), st.floats(-8, 25).filter(lambda by: abs(by) > 0.5), st.booleans())
@settings(max_examples=40, deadline=None)
def test_the_centre_grows_and_the_dart_takes_in_what_opens(
    draft: Draft, by: float, turned: bool
) -> None:
    before = at_neck(draft) if turned else draft
    after = rounded(before, by)
    assert_sound(after)
    old, new = before.piece("back"), after.piece("back")
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")) + by, abs=1e-3)
    assert length(new.edge("armhole")) == pytest.approx(length(old.edge("armhole")), abs=0.3)
    for name in ("neck", "shoulder", "side", "hem"):
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=1e-6), name
    # The neck goes straight up at the centre.
    step = new.corner("neck-centre") - old.corner("neck-centre")
    assert abs(step) == pytest.approx(abs(by), abs=1e-6)
    assert step.imag * by < 0
    # By hand: the paper at the arm turns about the armhole, half way up what opens at the blade.
    blade = old.mouth("shoulder").dart.apex
    armhole = np.concatenate([sampled(part) for part in old.edge("armhole").parts])
    level = (blade + step / 2).imag
    hinge = armhole[int(np.argmin(np.abs(armhole.imag - level)))]
    turn = abs(np.angle((blade + step - hinge) / (blade - hinge)))
    opened = angle(new) - angle(old)
    assert opened == pytest.approx(turn if by > 0 else -turn, abs=0.003)
    assert smallest_radius(closed_points(new.edge("armhole"))) > 15.0
    assert not check(after)
    assert after.piece("front") is before.piece("front")


def test_it_comes_out_the_same_wherever_the_dart_opens_above_the_slash() -> None:
    one, other = at_neck(rounded(block(), 12.0)), rounded(at_neck(block()), 12.0)
    for corner in ("neck-centre", "shoulder-point", "underarm", "hem-side"):
        there = one.piece("back").corner(corner) - other.piece("back").corner(corner)
        assert abs(there) < 0.1, corner


def test_what_is_let_in_and_taken_out_again_leaves_the_back() -> None:
    again = rounded(rounded(block(), 12.0), -12.0).piece("back")
    old = block().piece("back")
    assert angle(again) == pytest.approx(angle(old), abs=0.01)
    assert length(again.edge("centre")) == pytest.approx(length(old.edge("centre")), abs=1e-3)


def test_a_notch_of_the_centre_stays_on_its_own_paper() -> None:
    marked = block()
    for name, share in (("high", 0.1), ("low", 0.8)):
        marked = kind_named("mark-notch")(
            edge="back.centre", at=Position("neck-centre", share=share), name=name
        ).apply(marked)
    back = rounded(marked, 15.0).piece("back")
    centre = back.edge("centre")
    along = {n.name: n.at.along(centre) for n in back.notches if n.edge == "centre"}
    old = block().edge("back", "centre").length
    assert centre.length - along["high"] == pytest.approx(0.1 * old, abs=1e-6)
    assert along["low"] == pytest.approx(0.2 * old, abs=1e-6)


def test_it_is_refused_with_what_would_be_possible() -> None:
    with refusing(CannotChange, match=r"nothing would be left of the dart shoulder; .* far as -\d"):
        rounded(block(), -40.0)
    with refusing(CannotChange, match=r"cross the dart back\.waist-side"):
        rounded(block(), 10.0, dart="back.waist")
    at_side = kind_named("rotate-dart")(
        dart="back.shoulder", edge="back.armhole", at=Position("underarm", share=0.4)
    )
    with refusing(CannotChange, match="the dart shoulder does not open above the slash"):
        rounded(at_side.apply(block()), 10.0)
    with pytest.raises(NoSuchName):
        rounded(block(), 10.0, dart="front.bust")
    with pytest.raises(NoSuchName):
        rounded(kind_named("release-dart")(dart="back.shoulder").apply(block()), 10.0)


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("round-back")(by=12.0).in_words(Unit.CENTIMETRE) == (
        "lengthen the back over the blades on back.shoulder by 1.2 cm"
    )
