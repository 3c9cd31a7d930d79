"""A piece on the fold becomes a pair with a seam there, and the reverse."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.side import Side
from trueup.geometry.said import Said
from trueup.geometry.sides.parting import of_both, worn_on
from trueup.geometry.units import Unit


def opened(draft: Draft, piece: str = "front", **values: object) -> Draft:
    return kind_named("open-fold")(piece=piece, **values).apply(draft)


def closed(draft: Draft, edge: str = "front.centre") -> Draft:
    return kind_named("close-fold")(edge=edge).apply(draft)


def straight_back(draft: Draft) -> Draft:
    return kind_named("straighten-edge")(edge="back.centre").apply(draft)


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(0, 40))
@settings(max_examples=20)
def test_no_line_moves_and_both_halves_are_sewn_there(draft: Draft, by: float) -> None:
    after = opened(draft, by=by)
    piece = after.piece("front")
    assert piece.edges == draft.piece("front").edges
    assert (piece.fold, piece.allowance("centre")) == (None, pytest.approx(by))
    seam = after.seam("front-centre")
    assert seam.side == seam.mate == (Run("front", "centre"),)
    assert check(after) == check(draft)


@given(drafts())
@settings(max_examples=20)
def test_closed_again_it_is_as_it_was(draft: Draft) -> None:
    assert fingerprint(closed(opened(draft))) == fingerprint(draft)


def test_where_left_and_right_differ_they_are_sewn_to_each_other() -> None:
    one_side = kind_named("lower-neck")(piece="front", by=10.0, side="left")
    ways = opened(one_side.apply(block())), one_side.apply(opened(block()))
    for after in ways:
        seam = after.seam("front-centre")
        assert (seam.side, seam.mate) == (
            (Run("left-front", "centre"),),
            (Run("right-front", "centre"),),
        )
        halves = [worn_on(after, side) for side in Side]
        assert fingerprint(of_both(*halves)) == fingerprint(after)
        # The one centre is shorter by what its neck was lowered.
        assert [(f.code, f.measured) for f in check(after) if f.edge == "centre"] == [
            ("seam", pytest.approx(-10.0, abs=0.01))
        ]
    assert fingerprint(ways[0]) == fingerprint(ways[1])


@given(drafts())
@settings(max_examples=20)
def test_a_straight_centre_back_comes_to_lie_on_the_fold(draft: Draft) -> None:
    wide = kind_named("seam-allowance")(piece="back", by=15.0).apply(straight_back(draft))
    after = closed(wide, "back.centre")
    piece = after.piece("back")
    assert piece.fold == "centre"
    assert piece.edges == wide.piece("back").edges
    assert "centre" not in dict(piece.allowances)
    assert dict(piece.allowances)["side"] == 15.0


def test_shaped_at_the_centre_it_cannot_be_closed_again_until_it_is_straight() -> None:
    shaped = kind_named("redraw-edge")(edge="front.centre", through="50%:6mm").apply(
        opened(block())
    )
    with pytest.raises(CannotChange) as refused:
        closed(shaped)
    assert "fold-is-bent" in reasons(refused.value.says)
    straight = kind_named("straighten-edge")(edge="front.centre").apply(shaped)
    again = closed(straight).piece("front")
    assert again.fold == "centre"
    line = sampled(again.edge("centre").parts[0])
    assert abs(line.real - line.real[0]).max() < 1e-6


@pytest.mark.parametrize(
    ("edge", "reason"),
    [
        ("front.shoulder", "other-on-fold"),
        ("back.centre", "fold-is-bent"),
        ("back.shoulder", "dart-on-fold"),
        ("sleeve.front-seam", "sewn-by"),
    ],
)
def test_what_cannot_lie_on_the_fold_is_refused(edge: str, reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        closed(block(), edge)
    assert reason in reasons(refused.value.says)


def test_what_lies_on_no_fold_is_refused() -> None:
    for draft, piece in ((block(), "back"), (opened(block()), "front")):
        with pytest.raises(CannotChange) as refused:
            opened(draft, piece)
        assert "on-no-fold" in reasons(refused.value.says)
    with pytest.raises(NoSuchName):
        opened(block(), "collar")


@pytest.mark.parametrize(
    ("kind", "values"),
    [("open-fold", {"piece": "front"}), ("close-fold", {"edge": "back.centre"})],
)
def test_a_fold_is_one_of_both_sides(kind: str, values: dict[str, str]) -> None:
    with pytest.raises(BadParameter) as refused:
        kind_named(kind)(**values, side="left")
    assert "fold-is-of-both" in str(refused.value.says)


def test_they_are_told_in_words() -> None:
    assert kind_named("open-fold")(piece="front").in_words(Unit.CENTIMETRE) == (
        "open the fold of the front"
    )
    assert kind_named("close-fold")(edge="back.centre").in_words(Unit.CENTIMETRE) == (
        "lay back.centre on the fold"
    )


def test_the_grain_comes_to_lie_along_the_fold() -> None:
    straight = kind_named("straighten-edge")(edge="back.centre").apply(block())
    old, after = (
        each.piece("back")
        for each in (straight, kind_named("close-fold")(edge="back.centre").apply(straight))
    )
    fold = after.edge("centre")
    assert old.grainline
    assert after.grainline
    was, now = (each.end - each.start for each in (old.grainline, after.grainline))
    assert abs(now) == pytest.approx(abs(was))
    assert np.angle(now / (fold.start - fold.end)) == pytest.approx(0.0, abs=1e-9)
    assert np.angle(now / was) == pytest.approx(0.0, abs=0.1)
    assert now != was
