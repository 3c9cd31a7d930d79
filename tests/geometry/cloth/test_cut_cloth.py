from collections.abc import Collection

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from tests.turned import turned_piece
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.cloth.cut_cloth import ClothAnswer, Possible, Reason, compare_cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.comparing.laying import laid
from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


def with_allowances(draft: Draft, seams: float = 15.0, hem: float = 40.0) -> Draft:
    return draft.with_pieces(
        *(
            allowed(p, {e: hem if e == "hem" else seams for e in p.edge_names if e != p.fold})
            for p in draft.pieces
        )
    )


def corrected(draft: Draft, kind: str, **values: str) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def answer(
    before: Draft, after: Draft, piece: str, stitched: Collection[str] = (), least: float = 6.0
) -> ClothAnswer:
    old = before.piece(piece)
    return compare_cloth(cutting_line(old), old, after.piece(piece), stitched, least)


HELD_FRONT = ("front.centre",)


@given(drafts())
@settings(max_examples=10)
def test_an_unchanged_pattern_asks_nothing_of_its_cloth(draft: Draft) -> None:
    draft = with_allowances(draft)
    for piece in draft.piece_names:
        found = answer(draft, draft, piece)
        assert found.stays
        assert found.possible is Possible.CAN
        assert found.slide == 0


@given(drafts(), st.floats(1, 15).map(lambda mm: round(mm, 1)))
@settings(max_examples=15)
def test_what_is_hollowed_can_be_cut(draft: Draft, by: float) -> None:
    draft = with_allowances(draft)
    found = answer(draft, corrected(draft, "scoop-armhole", piece="front", by=f"{by}mm"), "front")
    assert found.possible is Possible.CAN
    armhole = found.edge("armhole")
    assert armhole.let_out == 0
    # Measured on the closed line; the dart that opens in it turns what lies beyond.
    assert armhole.taken_in == pytest.approx(by, rel=0.2)
    assert all(edge.stays for edge in found.edges if edge.edge != "armhole")


@pytest.mark.parametrize(
    ("by", "possible", "lacking"),
    [
        ("20mm", Possible.CAN, 0.0),
        ("36mm", Possible.CAN, 0.0),
        ("60mm", Possible.PARTLY, 6.0),
        ("80mm", Possible.PARTLY, 11.0),
    ],
)
def test_a_side_is_let_out_as_far_as_its_allowance(
    by: str, possible: Possible, lacking: float
) -> None:
    """Ease is shared by four sides; each has 15 mm and keeps 6, so that 9 can be had."""
    draft = with_allowances(block())
    found = answer(draft, corrected(draft, "add-ease", by=by), "front", HELD_FRONT)
    side = found.edge("side")
    assert side.possible is possible
    assert side.lacking == pytest.approx(lacking, abs=0.05)
    if lacking:
        assert (side.low, side.high) == pytest.approx((0.0, draft.edge("front", "side").length), 1)
        assert side.reason is Reason.CLOTH


def test_nothing_can_be_let_out_where_only_the_least_is_left() -> None:
    draft = with_allowances(block(), seams=6.0)
    found = answer(draft, corrected(draft, "add-ease", by="20mm"), "front", HELD_FRONT)
    assert found.edge("side").possible is Possible.CANNOT
    assert (
        answer(draft, corrected(draft, "add-ease", by="20mm"), "front", HELD_FRONT, least=1.0)
        .edge("side")
        .possible
        is Possible.CAN
    )


def test_an_edge_sewn_with_less_needs_no_more() -> None:
    draft = with_allowances(block(), seams=3.0)
    found = answer(draft, corrected(draft, "scoop-armhole", piece="front", by="4mm"), "front")
    assert found.possible is Possible.CAN


def test_an_edge_stitched_down_must_not_move() -> None:
    draft = with_allowances(block())
    after = corrected(draft, "scoop-armhole", piece="front", by="8mm")
    found = answer(draft, after, "front", ("front.armhole", "front.neck")).edge("armhole")
    assert (found.possible, found.reason) == (Possible.CANNOT, Reason.STITCHED_DOWN)
    assert found.lacking == pytest.approx(8.0, rel=0.2)
    assert answer(draft, after, "front", ("front.neck",)).possible is Possible.CAN


def test_a_piece_is_slid_along_the_grain_to_where_the_cloth_is() -> None:
    """A neck and shoulder all 12 mm higher go on the cloth once the piece is slid into its hem."""
    draft = with_allowances(block())
    old = draft.piece("front")
    higher = turned_piece(old, Motion(shift=-12j))
    found = compare_cloth(cutting_line(old), old, higher, ())
    assert found.possible is Possible.CAN
    assert 3 - 0.1 < found.slide < 12.1
    assert found.lacking_in_place == pytest.approx(3.0, abs=0.3)
    held = compare_cloth(cutting_line(old), old, higher, HELD_FRONT)
    assert held.slide == 0
    assert held.possible is Possible.PARTLY


def test_a_fold_is_laid_on_the_fold() -> None:
    old = with_allowances(block()).piece("front")
    aside = turned_piece(old, Motion(shift=7 + 0j))
    assert abs(laid(aside, old).edge("centre").start - old.edge("centre").start) < 1e-9
    assert compare_cloth(cutting_line(old), old, aside, ()).stays


def test_a_fold_that_moves_off_the_grain_cannot() -> None:
    old = with_allowances(block()).piece("front")
    middle = old.edge("centre").start
    turned = turned_piece(old, Motion.turn(middle, 0.02), grain=False)
    found = compare_cloth(cutting_line(old), old, turned, ()).edge("centre")
    assert (found.possible, found.reason) == (Possible.CANNOT, Reason.FOLD)


def test_what_lacks_at_a_corner_is_counted_to_its_own_edge() -> None:
    draft = with_allowances(block())
    found = answer(draft, corrected(draft, "add-ease", by="80mm"), "front", HELD_FRONT)
    assert found.edge("hem").possible is Possible.CAN
    assert found.edge("side").at_end > 10


def test_an_edge_is_asked_for_by_name() -> None:
    draft = with_allowances(block())
    with pytest.raises(NoSuchName):
        answer(draft, draft, "front").edge("cuff")
