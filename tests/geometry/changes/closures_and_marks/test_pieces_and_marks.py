import pytest

from tests.builders import block
from tests.geometry.changing import made
from trueup.geometry.changes.base import Change
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

PRINCESS = made(
    "cut-apart", piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
)


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


def refused(change: Change, draft: Draft) -> set[str]:
    with pytest.raises(CannotChange) as found:
        change.apply(draft)
    return reasons(found.value.says)


# --- leaving a piece out --------------------------------------------------------------------------


def test_what_is_left_out_goes_with_its_seams_and_leaves_the_rest_as_it_is() -> None:
    after = made("drop-piece", piece="sleeve").apply(block())
    assert after.piece_names == ("front", "back")
    assert [seam.name for seam in after.seams] == ["shoulder-seam", "side-seam"]
    assert all(after.piece(name) is block().piece(name) for name in after.piece_names)
    assert check(after) == ()


def test_a_piece_that_was_cut_goes_with_its_parts_and_what_follows_it_stays_as_it_is() -> None:
    draft = made("draft-facing", edge="front.neck", width=50.0).apply(PRINCESS.apply(block()))
    after = made("drop-piece", piece="front").apply(draft)
    assert {"front-side", "front-centre"}.isdisjoint(after.piece_names)
    assert after.cuts == ()
    assert "front-neck-facing" in after.piece_names
    again = made("lower-neck", piece="back", by=8.0).apply(after)
    assert again.piece("front-neck-facing") == after.piece("front-neck-facing")


def test_a_part_or_the_last_piece_is_not_left_out() -> None:
    assert "is-a-part" in refused(made("drop-piece", piece="front-side"), PRINCESS.apply(block()))
    alone = block().only(["front"])
    assert "last-piece" in refused(made("drop-piece", piece="front"), alone)
    with pytest.raises(NoSuchName):
        made("drop-piece", piece="collar").apply(block())


# --- notches --------------------------------------------------------------------------------------


def test_a_notch_lies_where_it_is_asked_for_and_moves_with_its_edge() -> None:
    notch = made("mark-notch", edge="front.side", at=Position("underarm", share=0.25), name="match")
    after = notch.apply(block())
    (found,) = (each for each in after.piece("front").notches if each.name == "match")
    side = after.edge("front", "side")
    assert found.at.along(side) == pytest.approx(side.length / 4)
    longer = made("lower-armhole", by=10.0).apply(after)
    (moved,) = (each for each in longer.piece("front").notches if each.name == "match")
    assert moved.at == found.at


def test_two_notches_lie_ten_millimetres_apart_from_either_end() -> None:
    for corner in ("underarm", "hem-side"):
        at = Position(corner, distance=60.0)
        after = made("mark-notch", edge="back.side", at=at, name="match", double=True).apply(
            block()
        )
        side = after.edge("back", "side")
        places = [n.at.along(side) for n in after.piece("back").notches if n.edge == "side"]
        assert abs(places[0] - places[1]) == pytest.approx(10.0)


def test_a_notch_of_the_whole_comes_to_the_part_it_lies_on() -> None:
    at = Position("underarm", share=0.2)
    after = made("mark-notch", edge="front.armhole", at=at, name="match").apply(
        PRINCESS.apply(block())
    )
    names = {p.name: [n.name for n in p.notches] for p in after.pieces}
    assert "match" in names["front-side"]
    assert "match" not in names["front-centre"]


def test_a_name_stands_once_and_two_notches_need_room() -> None:
    at = Position("underarm", share=0.5)
    notch = made("mark-notch", edge="front.side", at=at, name="match")
    assert "name-is-taken" in refused(notch, notch.apply(block()))
    near_the_end = Position("hem-side", share=0.99)
    twice = made("mark-notch", edge="front.side", at=near_the_end, double=True)
    assert "edge-only" in refused(twice, block())
    with pytest.raises(BadParameter):
        made("mark-notch", edge="front.side", at=at, name="No Name")
    assert (
        notch.in_words(Unit.MILLIMETRE)
        == "notch front.side, 50% of the way from the underarm (match)"
    )


# --- opening at the fold --------------------------------------------------------------------------


def test_an_opened_front_is_no_more_on_the_fold_and_has_cloth_beyond_its_centre() -> None:
    after = made("open-front", piece="front", extension=20.0, facing=60.0).apply(block())
    front = after.piece("front")
    assert front.fold is None
    assert front.edges == block().piece("front").edges
    assert front.allowance("centre") == 80.0
    beyond = cutting_line(front).area - cutting_line(block().piece("front")).area
    assert beyond == pytest.approx(80.0 * front.edge("centre").length, rel=0.05)
    assert check(after) == ()


def test_the_part_that_has_the_fold_is_opened_when_the_piece_was_cut() -> None:
    after = made("open-front", piece="front", extension=20.0).apply(PRINCESS.apply(block()))
    assert after.piece("front-centre").fold is None
    assert after.piece("front-centre").allowance("centre") == 20.0


def test_what_lies_on_no_fold_is_not_opened() -> None:
    assert "on-no-fold" in refused(made("open-front", piece="back", extension=20.0), block())
