import pytest

from tests.builders import block
from trueup.geometry.errors import BrokenOutline, CannotChange, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.largest_amount import or_furthest

PLACE = ("front", "neck")


def limited(limit: float):
    def attempt(by: float) -> Draft:
        if abs(by) > limit:
            raise CannotChange("other", "back", "shoulder", "it does not fit", "try less")
        return block()

    return attempt


def test_an_amount_that_fits_is_carried_out() -> None:
    assert or_furthest("test", block(), limited(10), 10, PLACE) is block()


@pytest.mark.parametrize("sign", [1, -1])
def test_a_refusal_names_the_largest_amount_that_was_found_to_fit(sign: int) -> None:
    with pytest.raises(CannotChange) as refused:
        or_furthest("test", block(), limited(12.34), 40 * sign, PLACE)
    assert refused.value.largest == 12.3 * sign
    assert (refused.value.piece, refused.value.edge) == ("back", "shoulder")
    assert "12.3 mm" in str(refused.value)


def test_a_refusal_of_everything_names_no_amount() -> None:
    with pytest.raises(CannotChange, match="no amount can be done") as refused:
        or_furthest("test", block(), limited(-1), 40, PLACE)
    assert refused.value.largest is None


def test_a_broken_outline_is_refused_at_the_place_that_was_worked_on() -> None:
    def attempt(by: float) -> Draft:
        raise BrokenOutline("the line has no length")

    with pytest.raises(CannotChange, match=r"front\.neck"):
        or_furthest("test", block(), attempt, 5, PLACE)


def test_a_dart_out_of_reach_is_named_with_its_piece_and_edge() -> None:
    def attempt(by: float) -> Draft:
        raise CannotChange("this change", "armhole", "bust", "the dart is not met", "try less")

    with pytest.raises(CannotChange, match=r"test cannot be done on front\.armhole"):
        or_furthest("test", block(), attempt, 5, PLACE)


def test_a_missing_name_passes_through() -> None:
    def attempt(by: float) -> Draft:
        raise NoSuchName("piece", "front", "this draft", ())

    with pytest.raises(NoSuchName):
        or_furthest("test", block(), attempt, 5, PLACE)
