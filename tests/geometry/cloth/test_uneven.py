import pytest

from tests.builders import block
from trueup.geometry.changes import kind_named
from trueup.geometry.cloth.cut_cloth import ClothAnswer, compare_cloth
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.uneven import uneven_seams
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft

HELD = ("front.centre", "back.centre", "sleeve.hem")


def with_hems(hem: float) -> Draft:
    draft = block()
    return draft.with_pieces(
        *(
            allowed(p, {e: hem if e == "hem" else 15.0 for e in p.edge_names if e != p.fold})
            for p in draft.pieces
        )
    )


def answers(old: Draft, new: Draft) -> dict[str, ClothAnswer]:
    return {
        piece.name: compare_cloth(cutting_line(piece), piece, new.piece(piece.name), HELD)
        for piece in old.pieces
    }


def lengthened(draft: Draft, piece: str, by: float) -> Draft:
    """Return a draft of which one side, taken in and made longer by as much, still sews even."""
    return kind_named("true-hem")(piece=piece, by=by).apply(draft)


def test_an_unchanged_garment_is_even() -> None:
    draft = with_hems(40.0)
    assert uneven_seams(draft, answers(draft, draft)) == ()


@pytest.mark.parametrize(("piece", "vent"), [("front", True), ("back", False)])
def test_a_hem_that_cannot_be_let_down_stays_shorter(piece: str, vent: bool) -> None:
    """Both sides are 20 mm longer; one hem has 10 mm of cloth and keeps 6."""
    draft = with_hems(40.0)
    draft = draft.with_pieces(allowed(draft.piece(piece), {"hem": 10.0}))
    after = lengthened(lengthened(draft, "front", 20.0), "back", 20.0)
    (found,) = uneven_seams(after, answers(draft, after))
    assert found.seam == "side-seam"
    assert found.shorter == f"{piece}.side"
    assert found.at == f"{piece}.hem"
    assert found.by == pytest.approx(16.0, abs=0.3)
    assert found.with_a_vent is vent


def test_a_pattern_that_is_uneven_itself_is_told_apart() -> None:
    draft = with_hems(40.0)
    after = lengthened(draft, "front", 12.0)
    (found,) = uneven_seams(after, answers(draft, after))
    assert (found.shorter, found.at) == ("back.side", "")
    assert found.by == pytest.approx(12.0, abs=1e-6)
    assert not found.with_a_vent


def test_a_hem_stitched_down_stays_where_it_was() -> None:
    draft = with_hems(40.0)
    after = lengthened(lengthened(draft, "front", 20.0), "back", 20.0)
    front = draft.piece("front")
    found = answers(draft, after)
    found["front"] = compare_cloth(
        cutting_line(front), front, after.piece("front"), ("front.hem", "front.centre")
    )
    (uneven,) = uneven_seams(after, found)
    assert (uneven.shorter, uneven.at) == ("front.side", "front.hem")
    assert uneven.by == pytest.approx(20.0, abs=0.3)


def test_shoulders_that_cannot_both_be_lengthened_are_uneven() -> None:
    draft = with_hems(40.0)
    draft = draft.with_pieces(allowed(draft.piece("back"), {"armhole": 6.0}))
    after = kind_named("shorten-shoulder")(by=-8.0).apply(draft)
    (found,) = uneven_seams(after, answers(draft, after))
    assert (found.seam, found.shorter, found.at) == (
        "shoulder-seam",
        "back.shoulder",
        "back.armhole",
    )
    assert found.by == pytest.approx(8.0, abs=0.5)
    assert not found.with_a_vent
