import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.judging.cap_halves import halves
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.cloth.cap_answer import CapAnswer, cap_answer, most_hollowing
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM, measure
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft


def hollowed(draft: Draft, by: float, piece: str = "front") -> Draft:
    return kind_named("scoop-armhole")(piece=piece, by=by).apply(draft)


def answer(old: Draft, new: Draft) -> CapAnswer:
    found = cap_answer(old, new)
    assert found is not None
    return found


@given(drafts(), st.floats(0.5, 25))
@settings(max_examples=25)
def test_the_ease_shrinks_by_what_the_armhole_grows(draft: Draft, by: float) -> None:
    after = hollowed(draft, by)
    found = answer(draft, after)
    assert found.old_ease == pytest.approx(measure(draft, CAP_EASE))
    assert found.new_ease == pytest.approx(measure(after, CAP_EASE))
    assert found.old_ease - found.new_ease == pytest.approx(found.growth)
    low = draft.seam(CAP_SEAM).allowed.low
    assert found.holds == (found.new_ease >= low - draft.seam(CAP_SEAM).allowed.tolerance)


@given(drafts(), st.sampled_from(["front", "back"]), st.floats(0.5, 12))
@settings(max_examples=15)
def test_each_half_is_answered_for_as_its_curves_are_sampled(
    draft: Draft, piece: str, by: float
) -> None:
    try:
        after = hollowed(draft, by, piece)
    except CannotChange:
        reject()
    found = answer(draft, after)
    front, back = found.sections
    assert [front.old_ease, back.old_ease] == pytest.approx(halves(draft), abs=0.02)
    # The sleeve is as it was: only the armhole under it grew.
    assert [front.new_ease, back.new_ease] == pytest.approx(halves(after), abs=0.02)
    assert (front.pieces, back.pieces) == (("front",), ("back",))
    other = back if piece == "front" else front
    assert other.growth == pytest.approx(0, abs=1e-6)


def test_a_front_too_short_in_a_cap_that_is_right_in_all_does_not_fit() -> None:
    found = answer(block(), hollowed(block(), 6.0))
    front, back = found.sections
    assert found.holds
    assert not found.fits
    assert front.new_ease < 10 - 1.6  # two fifths of 25 mm, and what is tolerated
    assert back.holds
    # With the notch nearer the back the front half has its ease, and the back keeps its own.
    assert found.notch == pytest.approx(10 - front.new_ease)
    assert back.new_ease - found.notch >= 15


def test_a_notch_that_cannot_help_is_not_told_of() -> None:
    assert answer(block(), block()).notch is None
    assert answer(block(), hollowed(block(), 25.0)).notch is None


@given(drafts(), st.sampled_from(["front", "back"]), st.floats(1, 12))
@settings(max_examples=15)
def test_the_most_hollowing_uses_the_room_up_and_no_more(
    draft: Draft, piece: str, room: float
) -> None:
    most = most_hollowing(draft, piece, room)
    before = draft.edge(piece, "armhole").length
    grown = hollowed(draft, most, piece).edge(piece, "armhole").length - before
    assert grown <= room + 1e-6
    if grown < room - 0.1:
        # The outline allows no more.
        with pytest.raises(CannotChange):
            hollowed(draft, most + 0.2, piece)


def test_the_most_hollowing_leaves_the_cap_its_least_ease() -> None:
    room = answer(block(), block()).room_on("front")
    most = most_hollowing(block(), "front", room)
    found = answer(block(), hollowed(block(), most))
    front, _ = found.sections
    assert front.new_ease == pytest.approx(front.allowed.low, abs=0.05)
    assert found.fits
    assert not answer(block(), hollowed(block(), most + 8.0)).fits


def test_the_cap_as_cut_counts_and_not_the_refitted_one() -> None:
    old = block()
    new = kind_named("refit-cap")().apply(hollowed(old, 25.0))
    assert measure(new, CAP_EASE) >= 25 - 0.1
    found = answer(old, new)
    assert found.cap == pytest.approx(run_length(old, old.seam(CAP_SEAM).side))
    assert not found.fits
    assert found.excess == pytest.approx(found.new_ease - found.allowed.low)


def test_a_cap_too_full_for_a_smaller_armhole_does_not_fit() -> None:
    found = answer(block(), hollowed(block(), -12.0))
    assert found.growth < 0
    assert found.holds == (found.new_ease <= found.allowed.high + found.allowed.tolerance)


def test_without_a_sleeve_there_is_no_answer() -> None:
    assert cap_answer(block().only(("front", "back")), block()) is None
