from dataclasses import replace

from tests.builders import block
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.on_side import names_a_side, on_its_side

LOWER = kind_named("lower-neck")


def test_a_piece_of_a_side_is_the_piece_on_that_side() -> None:
    change = LOWER(piece="left-front", by=5.0)
    assert names_a_side(change)
    assert on_its_side(change, block()) == LOWER(piece="front", by=5.0, side="left")


def test_so_is_an_edge_and_a_seam() -> None:
    redraw = kind_named("redraw-edge")(edge="right-front.neck", through="50%:9mm")
    found = on_its_side(redraw, block())
    assert (found.side, found.edge) == ("right", "front.neck")
    state = kind_named("state-ease")(seam="left-side-seam", low=0.0, high=9.0)
    assert on_its_side(state, block()).side == "left"


def test_what_says_its_side_or_none_stays() -> None:
    for change in (LOWER(piece="front", by=5.0), LOWER(piece="left-front", by=5.0, side="left")):
        assert on_its_side(change, block()) is change
    assert not names_a_side(LOWER(piece="front", by=5.0))


def test_a_piece_that_is_called_so_stays() -> None:
    draft = block()
    named = tuple(replace(piece, name=f"left-{piece.name}") for piece in draft.pieces)
    change = LOWER(piece="left-front", by=5.0)
    assert on_its_side(change, replace(draft, pieces=named, seams=(), joins=())) is change
