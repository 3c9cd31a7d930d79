"""Pieces of several drafts put together: seams and names come from who gives the pieces."""

from dataclasses import replace

from tests.builders import block
from tests.geometry.changing import made
from trueup.geometry.pieces.position import Position
from trueup.geometry.sides.assembling import assembled

RENAME = made("rename-piece", piece="front", to="wrap")


def test_a_piece_keeps_what_it_is_called_where_it_comes_from() -> None:
    renamed = RENAME.apply(block())
    for name in ("front", "wrap"):
        after = assembled([(renamed, (name, "back")), (block(), ("sleeve",))])
        assert after.piece_names == ("wrap", "back", "sleeve")
        assert after == replace(renamed, joins=after.joins)
    without = assembled([(renamed, ("back",)), (block(), ("front", "sleeve"))])
    assert without.piece_names == ("back", "front", "sleeve")
    assert without.called == ()


def test_so_does_one_that_left_and_right_have_apart() -> None:
    parted = made("lower-neck", piece="front", by=9.0, side="left").apply(RENAME.apply(block()))
    after = assembled([(parted, ("front", "back")), (block(), ("sleeve",))])
    assert {*after.piece_names} == {"left-wrap", "right-wrap", "back", "sleeve"}


def test_who_gives_none_of_its_pieces_states_no_seam_and_no_join() -> None:
    """A neck point that a front lost is not asked to run on because a sleeve's block has one."""
    place = Position("neck-point", distance=0.0)
    wrap = made("overlap-front", by=60.0, starts="shoulder", at=place).apply(block())
    after = assembled([(wrap, ("front", "back")), (block(), ("sleeve",))])
    of_the_wrap = {join.name for join in wrap.joins}
    assert {join.name for join in after.joins if join.pieces <= {"front", "back"}} <= of_the_wrap
