"""Where the name of a piece is written."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from tests.turned import turned_piece
from trueup.cli.drawing.piece.naming import drawn_lines, name_place
from trueup.cli.drawing.piece.pieces import piece_items
from trueup.cli.drawing.scene.layout import text_room
from trueup.cli.drawing.scene.scene import Words
from trueup.geometry.lines.points import Motion, coordinates
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

LETTERS = 12.0


def name(
    piece: Piece, others: tuple[Piece, ...] = (), letters: float = LETTERS
) -> shapely.Geometry:
    at = name_place(piece, letters, others)
    right = at.real + text_room(piece.name, letters)
    return shapely.box(at.real, at.imag - letters, right, at.imag)


def legs(piece: Piece) -> shapely.Geometry:
    lines = [
        shapely.LineString(coordinates([mouth.first, mouth.tip, mouth.second]))
        for edge in piece.edges
        for mouth in edge.mouths
    ]
    return shapely.union_all([*lines, shapely.LinearRing(coordinates(piece.outline_points))])


@given(drafts(), st.sampled_from([LETTERS, 20.0, 26.0]))
@settings(max_examples=20)
def test_a_name_is_written_across_no_line(draft: Draft, letters: float) -> None:
    for piece in draft.pieces:
        written = name(piece, letters=letters)
        assert not written.intersects(legs(piece)), piece.name
        assert piece.cloth.covers(written)


@pytest.mark.parametrize("letters", [34.0, 37.0, 41.0])
def test_a_name_finds_the_last_place_that_large_letters_leave(letters: float) -> None:
    front = block().piece("front")
    assert not name(front, letters=letters).intersects(legs(front))
    assert front.cloth.covers(name(front, letters=letters))


def test_a_name_keeps_clear_of_another_version_under_it() -> None:
    front = block().piece("front")
    shift = name_place(front, LETTERS) - front.mouth("waist").tip
    other = turned_piece(front, Motion(shift=shift + LETTERS))
    assert name(front).intersects(legs(other))
    assert not name(front, (other,)).intersects(legs(other))
    (written,) = [each for each in piece_items(front, LETTERS, (other,)) if isinstance(each, Words)]
    assert written.at == name_place(front, LETTERS, (other,))


def test_marks_keep_clear_of_the_name_and_the_grainline() -> None:
    front = block().piece("front")
    drawn = drawn_lines(front, LETTERS)
    assert drawn.intersects(name(front))
    assert front.grainline is not None
    middle = (front.grainline.start + front.grainline.end) / 2
    assert drawn.distance(shapely.Point(middle.real, middle.imag)) < 1e-6
