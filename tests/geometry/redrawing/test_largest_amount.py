import pytest

from tests.builders import block
from tests.refusals import refusing
from trueup.geometry.errors import BrokenOutline, DoesNotFit, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.said import said


def limited(limit: float):
    def attempt(by: float) -> Draft:
        if abs(by) > limit:
            raise DoesNotFit(said("cap-flat"), piece="back", edge="shoulder", dart="shoulder")
        return block()

    return attempt


def test_an_amount_that_fits_is_carried_out() -> None:
    assert or_furthest(limited(10), 10) is block()


@pytest.mark.parametrize("sign", [1, -1])
def test_a_refusal_names_the_largest_amount_that_was_found_to_fit(sign: int) -> None:
    with refusing(DoesNotFit, match=r"can go as far as -?12\.3 mm\.$") as refused:
        or_furthest(limited(12.34), 40 * sign)
    assert refused.value.largest == 12.3 * sign
    assert (refused.value.piece, refused.value.edge) == ("back", "shoulder")
    assert refused.value.dart == "shoulder"


def test_a_refusal_of_everything_names_no_amount() -> None:
    with refusing(DoesNotFit, match="no amount can be done") as refused:
        or_furthest(limited(-1), 40)
    assert refused.value.largest is None


def test_a_broken_outline_is_refused_with_the_amount_that_broke_it() -> None:
    def attempt(by: float) -> Draft:
        raise BrokenOutline(said("no-curve"))

    with refusing(DoesNotFit, match="with 5 mm a line needs at least one curve"):
        or_furthest(attempt, 5)


def test_a_missing_name_passes_through() -> None:
    def attempt(by: float) -> Draft:
        raise NoSuchName("piece", "front", "this draft", ())

    with pytest.raises(NoSuchName):
        or_furthest(attempt, 5)
