"""full-arm and pitch-sleeve."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


def widened(draft: Draft, by: float) -> Draft:
    return kind_named("full-arm")(by=by).apply(draft)


def pitched(draft: Draft, by: float) -> Draft:
    return kind_named("pitch-sleeve")(by=by).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def notches(draft: Draft) -> dict[str, float]:
    """Return how far each notch of the cap lies from the front underarm, mm."""
    cap = draft.edge("sleeve", "cap")
    return {n.name: n.at.along(cap) for n in draft.piece("sleeve").notches if n.edge == "cap"}


def eases(draft: Draft) -> dict[str, float]:
    walked = walk(draft, draft.seam("armhole-seam"))
    return {each.section.name: each.ease for each in walked.sections}


@given(drafts(), st.floats(-25, 50).filter(lambda by: abs(by) > 0.5))
@settings(max_examples=30, deadline=None)
def test_the_arm_gains_width_and_the_cap_keeps_its_length(draft: Draft, by: float) -> None:
    after = widened(draft, by)
    assert_sound(after)
    old, new = draft.piece("sleeve"), after.piece("sleeve")
    assert length(new.edge("cap")) == pytest.approx(length(old.edge("cap")), abs=0.01)
    assert new.edge("hem") == old.edge("hem")
    one, other = (abs(each.edge("cap").end - each.edge("cap").start) for each in (old, new))
    assert other - one == pytest.approx(by, abs=1e-6)
    # The crown sinks as the halves swing out.
    crown = [min(p.imag for part in e.edge("cap").parts for p in part.flattened())
             for e in (old, new)]  # fmt: skip
    assert (crown[1] > crown[0]) == (by > 0)
    assert notches(after) == pytest.approx(notches(draft), abs=0.01)
    assert eases(after) == pytest.approx(eases(draft), abs=0.01)
    seams = [length(new.edge(name)) for name in ("front-seam", "back-seam")]
    assert seams[0] == pytest.approx(seams[1], abs=0.01)
    assert not check(after)


def test_an_arm_that_is_too_full_for_its_cap_is_refused() -> None:
    with refusing(CannotChange, match=r"too flat or too steep; its amount can go as far as \d"):
        widened(block(), 100.0)
    with pytest.raises(NoSuchName):
        widened(block().only(["front", "back"]), 20.0)


@given(drafts(), st.floats(-13, 13).filter(lambda by: abs(by) > 0.1))
@settings(max_examples=30, deadline=None)
def test_the_notches_of_a_turned_sleeve_move_and_no_line_does(draft: Draft, by: float) -> None:
    after = pitched(draft, by)
    assert after.piece("sleeve").edges == draft.piece("sleeve").edges
    moved = {name: at + by for name, at in notches(draft).items()}
    assert notches(after) == pytest.approx(moved, abs=1e-6)
    old, new = eases(draft), eases(after)
    assert new["front"] == pytest.approx(old["front"] + by, abs=1e-6)
    assert new["back"] == pytest.approx(old["back"] - by, abs=1e-6)
    assert not check(after)
    again = pitched(after, -by)
    assert notches(again) == pytest.approx(notches(draft), abs=1e-6)
    held = [s.allowed.low for s in again.seam("armhole-seam").sections]
    assert held == pytest.approx([s.section.allowed.low for s in walk(
        draft, draft.seam("armhole-seam")).sections])  # fmt: skip


def test_what_takes_the_ease_from_the_front_again_is_found() -> None:
    after = pitched(block(), 13.0)
    back = kind_named("state-ease")(seam="armhole-seam", low=10.0, high=18.0, section="front")
    assert [each.code for each in check(back.apply(after))] == ["seam"]


def test_a_sleeve_without_its_notch_is_not_turned() -> None:
    sleeve = block().piece("sleeve")
    bare = block().with_pieces(replace(sleeve, notches=()))
    with refusing(CannotChange, match="no notch crown .* mark one with mark-notch first"):
        pitched(bare, 6.0)
    low = sleeve.with_notches(Notch("low", "cap", Position("front-underarm", distance=12.0)))
    with refusing(CannotChange, match="the notch low would come off the cap"):
        pitched(block().with_pieces(low), -10.0)


def test_they_are_told_as_a_maker_would_say_it() -> None:
    assert kind_named("full-arm")(by=25.0).in_words(Unit.CENTIMETRE) == (
        "widen the sleeve at the arm by 2.5 cm"
    )
    assert kind_named("pitch-sleeve")(by=-6.0, side="right").in_words(Unit.CENTIMETRE) == (
        "turn the sleeve back by 0.6 cm on the right"
    )
