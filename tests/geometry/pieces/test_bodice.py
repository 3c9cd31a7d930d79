import pytest

from tests.builders import block
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.bodice import bodice_names, bodice_pieces


def test_front_and_back_come_in_that_order() -> None:
    assert bodice_names(block()) == ("front", "back")


def test_a_front_alone_is_enough() -> None:
    assert [piece.name for piece in bodice_pieces(block().only(["front"]))] == ["front"]


def test_a_sleeve_alone_is_no_bodice() -> None:
    with pytest.raises(NoSuchName, match="front"):
        bodice_pieces(block().only(["sleeve"]))
