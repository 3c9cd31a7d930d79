from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import Change, kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.side import Side
from trueup.geometry.sides.parting import of_both, parted_as, worn_on

LEFT, RIGHT = Side.LEFT, Side.RIGHT


def lowered(side: str | None, draft: Draft | None = None) -> Draft:
    change = kind_named("lower-neck")(piece="front", by=12.0, side=side)
    return change.apply(draft or block())


def chained(draft: Draft, changes: list[Change]) -> tuple[Draft, list[Change]]:
    """Return a draft after changes, and those of them that could be made."""
    made = []
    for change in changes:
        try:
            draft = change.apply(draft)
        except GeometryError:
            continue
        made.append(change)
    return draft, made


@given(drafts(), st.integers(0, 2**32), st.integers(1, 5))
@settings(max_examples=60)
def test_each_side_is_what_its_own_steps_make_of_the_draft(
    draft: Draft, seed: int, steps: int
) -> None:
    dice = Random(seed)
    sides = [None, LEFT, RIGHT]
    changes = [replace(any_change(dice, looks=True), side=dice.choice(sides)) for _ in range(steps)]
    both, made = chained(draft, changes)
    for side in Side:
        alone = draft
        for change in made:
            if change.side in (None, side):
                alone = replace(change, side=None).apply(alone)
        assert fingerprint(worn_on(both, side)) == fingerprint(alone)


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=40)
def test_made_on_one_side_after_the_other_a_change_is_made_on_both(draft: Draft, seed: int) -> None:
    change = any_change(Random(seed), looks=True)
    try:
        at_once = change.apply(draft)
    except GeometryError:
        return
    in_turn = replace(change, side=RIGHT).apply(replace(change, side=LEFT).apply(draft))
    assert not in_turn.is_parted
    assert fingerprint(in_turn) == fingerprint(at_once)


def test_only_what_differs_is_parted() -> None:
    draft = lowered("left")
    assert draft.piece_names == ("left-front", "right-front", "back", "sleeve")
    assert draft.piece("back") is block().piece("back")
    assert {s.name for s in draft.seams if s.worn is None} == {"sleeve-seam", "front-centre"}
    assert len(check(draft)) == 1


def test_left_and_right_have_to_meet_at_the_fold() -> None:
    (found,) = check(lowered("left"))
    assert (found.code, found.piece, found.edge) == ("seam", "left-front", "centre")
    assert found.measured == pytest.approx(-12.0, abs=0.01)


def test_the_two_sides_make_the_draft_they_are_of() -> None:
    draft = lowered("left")
    again = of_both(worn_on(draft, LEFT), worn_on(draft, RIGHT))
    assert fingerprint(again) == fingerprint(draft)


def test_a_draft_that_is_alike_is_either_of_its_sides() -> None:
    assert worn_on(block(), LEFT) is block()


def test_measures_of_a_side_are_told_by_their_names_there() -> None:
    found, plain = measures(lowered("left")), measures(block())
    assert found["left-front.neck-depth"] == pytest.approx(plain["front.neck-depth"] + 12)
    assert found["right-front.neck-depth"] == plain["front.neck-depth"]
    assert found["back.neck-depth"] == plain["back.neck-depth"]
    assert found["left-sleeve.cap-ease"] == pytest.approx(plain["sleeve.cap-ease"])
    assert "front.neck-depth" not in found


def test_a_piece_that_is_alike_is_found_as_worn_on_a_side() -> None:
    draft = lowered("left")
    assert draft.piece("left-back") is draft.piece("back")
    assert draft.has_piece("right-sleeve")
    for name in ("front", "left-collar"):
        with pytest.raises(NoSuchName):
            draft.piece(name)
    with pytest.raises(NoSuchName):
        block().piece("left-back")


def test_no_two_findings_of_a_parted_draft_have_the_same_key() -> None:
    draft = lowered("left")
    bent = replace(draft, joins=tuple(replace(join, degrees=120.0) for join in draft.joins))
    keys = [each.key for each in check(bent)]
    kinks = [key for key in keys if key[0] == "kink"]
    assert len(kinks) == len(draft.joins) == 10
    assert len(keys) == len({*keys})


def test_a_refusal_says_on_which_side() -> None:
    with pytest.raises(CannotChange) as refused:
        kind_named("lower-neck")(piece="front", by=500.0, side="left").apply(block())
    assert refused.value.piece == "left-front"
    assert refused.value.largest is not None


def test_laid_to_a_parted_draft_the_same_pieces_are_named() -> None:
    parted = lowered("left")
    old = parted_as(block(), parted)
    assert old.piece_names == parted.piece_names
    assert parted_as(block(), block()) is block()
    assert parted_as(parted, block()) is parted


def test_the_version_of_a_side_is_another_draft_than_a_piece_that_is_called_so() -> None:
    draft = lowered("left")
    named = tuple(replace(piece, worn=None) for piece in draft.pieces)
    assert fingerprint(replace(draft, pieces=named)) != fingerprint(draft)
