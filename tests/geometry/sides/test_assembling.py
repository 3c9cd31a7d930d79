import pytest

from tests.builders import block
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.sides.assembling import assembled

NECK = {"piece": "front", "by": 8.0}


def parted() -> Draft:
    return kind_named("lower-neck")(**NECK, side="right").apply(block())


def test_both_sides_of_a_piece_come_under_the_name_they_share() -> None:
    found = assembled([(parted(), ("front", "back")), (block(), ("sleeve",))])
    assert found.piece_names == ("left-front", "right-front", "back", "sleeve")
    assert fingerprint(found) == fingerprint(parted())


def test_what_is_not_parted_comes_as_it_is() -> None:
    found = assembled([(parted(), ("back",)), (block(), ("front", "sleeve"))])
    assert not found.is_parted
    assert fingerprint(found) == fingerprint(block().only(("back", "front", "sleeve")))


def test_a_piece_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        assembled([(parted(), ("collar",))])
