"""A corner that cannot be cut as it was asked for says so, and is cut as any other."""

from tests.builders import block
from trueup.cli.wording.words import worded
from trueup.geometry.changes import kind_named
from trueup.geometry.cloth.corners_told import check_corners
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.measuring.finding import Severity
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


def allowing(draft: Draft, by: float) -> Draft:
    """Return a draft with allowances round the back, its hem and its seams alike."""
    for kind in ("seam-allowance", "hem-allowance"):
        draft = kind_named(kind)(piece="back", by=by).apply(draft)
    return draft


def shaped(how: str, by: float | None = None, allowance: float = 15.0) -> Draft:
    allowed = allowing(block(), allowance)
    return kind_named("shape-corner")(
        edge="back.hem", corner="hem-side", how=how, by=by
    ).apply(allowed)  # fmt: skip


def test_a_corner_that_is_cut_as_asked_is_not_told_of() -> None:
    assert check_corners(shaped("squared")) == ()
    assert check_corners(shaped("blunted", 18.0)) == ()
    assert check_corners(block()) == ()


def test_one_that_cannot_be_is_a_note_and_is_cut_as_any_other() -> None:
    draft = shaped("blunted", 90.0)
    (found,) = check_corners(draft)
    assert found.severity is Severity.NOTE
    assert (found.piece, found.edge) == ("back", "hem")
    told = worded(found.says, Unit.MILLIMETRE)
    assert told.startswith("The hem side of back cannot be cut blunted as its allowances are")
    plain = allowing(block(), 15.0)
    assert cutting_line(draft.piece("back")).equals(cutting_line(plain.piece("back")))


def test_one_that_an_allowance_made_since_leaves_no_room_for_is_told_of_then() -> None:
    draft = shaped("blunted", 18.0)
    assert check_corners(draft) == ()
    narrower = allowing(draft, 4.0)
    assert [found.code for found in check_corners(narrower)] == ["corner"]
