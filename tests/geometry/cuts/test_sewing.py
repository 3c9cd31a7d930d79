from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changing import made
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.cuts.laying import AT_APEX
from trueup.geometry.cuts.sewing import relaid
from trueup.geometry.errors import CannotChange, GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side
from trueup.geometry.said import Said
from trueup.geometry.sides.parting import of_both, worn_on

NEAR = 0.05
"""An edge cut in two is drawn anew from curves cut there, too: a hair's breadth from otherwise."""


PRINCESS = made(
    "cut-apart", piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
)
YOKE = made(
    "cut-apart",
    piece="back",
    begins="armhole",
    at=Position("shoulder-point", share=0.4),
    ends="centre",
    ends_at=Position("neck-centre", share=0.25),
    line="yoke",
)
UNDERARM = made(
    "cut-apart",
    piece="sleeve",
    begins="cap",
    at=Position("back-underarm", share=0.2),
    ends="hem",
    ends_at=Position("hem-back", share=0.25),
    line="underarm",
)
BACK = made(
    "cut-apart", piece="back", begins="shoulder", ends="hem", through="shoulder waist", line="panel"
)
CUTS = {"princess": PRINCESS, "yoke": YOKE, "underarm": UNDERARM, "back": BACK}


def sewn_on(draft: Draft) -> Draft:
    """Return a draft with its darts sewn as a line along them is: to their apex."""
    pieces = (
        piece.with_edges(
            *(
                replace(edge, darts=tuple(replace(dart, setback=AT_APEX) for dart in edge.darts))
                for edge in piece.edges
                if edge.darts
            )
        )
        for piece in draft.pieces
    )
    return draft.with_pieces(*pieces)


def cut(draft: Draft, *changes: Change) -> Draft:
    for change in changes or (PRINCESS, YOKE, UNDERARM):
        draft = change.apply(draft)
    return draft


@given(drafts(), st.sampled_from(sorted(CUTS)))
@settings(max_examples=40)
def test_what_is_told_of_the_whole_is_as_before_the_cut(draft: Draft, name: str) -> None:
    draft = sewn_on(draft)
    after = cut(draft, CUTS[name])
    now = measures(after)
    for measure, value in measures(draft).items():
        assert now[measure] == pytest.approx(value, abs=1e-6), measure
    assert len(after.pieces) == len(draft.pieces) + 1


@given(drafts(), st.sampled_from(sorted(CUTS)))
@settings(max_examples=40)
def test_a_draft_that_was_true_is_true_when_it_is_cut(draft: Draft, name: str) -> None:
    was = {(found.code, found.piece, found.edge) for found in check(draft)}
    for found in check(cut(draft, CUTS[name])):
        assert (found.code, found.piece, found.edge) in was, found


@given(drafts(), st.sampled_from(sorted(CUTS)), st.integers(0, 2**32))
@settings(max_examples=150, deadline=None)
def test_a_change_of_the_whole_does_on_its_parts_what_it_does_on_the_piece(
    draft: Draft, name: str, seed: int
) -> None:
    draft = sewn_on(draft)
    change = any_change(Random(seed), looks=True)
    try:
        uncut = change.apply(draft)
    except GeometryError:
        return
    parts = cut(draft, CUTS[name])
    try:
        after = change.apply(parts)
    except CannotChange as refused:
        refusal = {each.what for each in told(refused.says)}
    else:
        refusal = set()
    if refusal:
        # Where a line ends in a dart, the dart stays; what only just fits may just not fit.
        assert refusal & {"line-ends-there", "dart-is-in-seam", "with-amount"}
        return
    now = measures(after)
    for measure, value in measures(uncut).items():
        assert now[measure] == pytest.approx(value, abs=NEAR), (change, measure)
    assert fingerprint(relaid(after)) == fingerprint(after)


def told(says: Said) -> list[Said]:
    return [says, *(each for part in says.also for each in told(part))]


def test_a_change_of_a_part_is_made_on_that_part_alone_and_shows_in_the_whole() -> None:
    parts = cut(block(), PRINCESS)
    after = made("redraw-edge", edge="front-side.side", through="50%:4mm").apply(parts)
    assert after.piece("front-centre") is parts.piece("front-centre")
    was, now = measures(parts), measures(after)
    assert now["front-side.side"] > was["front-side.side"] + 0.1
    assert now["front.side"] == pytest.approx(now["front-side.side"])


def test_a_part_that_was_opened_or_notched_stays_so_when_the_whole_is_changed() -> None:
    notched = made(
        "mark-notch", edge="front-centre.shoulder", at=Position("neck-point", share=0.5), name="own"
    )
    opened = made("open-front", piece="front-centre", extension=30.0)
    draft = opened.apply(notched.apply(PRINCESS.apply(block())))
    assert draft.piece("front").fold is None
    for whole in (
        made("lower-neck", piece="front", by=10.0),
        made("shorten-shoulder", by=5.0),
        made("hem-allowance", piece="front", by=50.0),
    ):
        part = whole.apply(draft).piece("front-centre")
        assert part.fold is None
        assert part.allowance("centre") == 30.0
        assert [notch.name for notch in part.notches if notch.edge == "shoulder"] == ["own"]
        assert {n.name for n in part.notches} == {
            n.name for n in draft.piece("front-centre").notches
        }


def test_of_two_parts_on_the_fold_one_is_opened_and_the_other_is_not() -> None:
    draft = made("open-front", piece="front-lower", extension=20.0).apply(
        made(
            "cut-apart",
            piece="front",
            begins="armhole",
            at=Position("shoulder-point", share=0.15),
            ends="centre",
            ends_at=Position("neck-centre", share=0.2),
            line="yoke",
        ).apply(block())
    )
    after = made("shorten-shoulder", by=5.0).apply(draft)
    for each in (draft, after):
        assert each.piece("front-upper").fold == "centre"
        assert each.piece("front-lower").fold is None


def test_what_a_change_leaves_alone_stays_the_same_object() -> None:
    parts = cut(block())
    after = made("lower-neck", piece="front", by=12.0).apply(parts)
    changed = [new.name for new, old in zip(after.pieces, parts.pieces, strict=True) if new != old]
    assert changed == ["front-centre"]
    assert all(
        new is old for new, old in zip(after.pieces, parts.pieces, strict=True) if new == old
    )


def test_cut_on_one_side_the_other_stays_whole() -> None:
    left = worn_on(cut(block(), PRINCESS), Side.LEFT)
    both = of_both(left, block())
    assert {"left-front-side", "left-front-centre", "right-front"} <= {*both.piece_names}
    assert fingerprint(worn_on(both, Side.LEFT)) == fingerprint(cut(block(), PRINCESS))
    assert fingerprint(worn_on(both, Side.RIGHT)) == fingerprint(block())
    now = measures(both)
    assert now["left-front.armhole"] == pytest.approx(now["right-front.armhole"], abs=1e-6)


def test_a_part_is_cut_again_and_all_are_laid_together() -> None:
    draft = cut(sewn_on(block()), PRINCESS)
    again = made(
        "cut-apart",
        piece="front-centre",
        begins="princess",
        at=Position("princess-armhole", share=0.25),
        ends="centre",
        ends_at=Position("neck-centre", share=0.3),
        line="yoke",
    ).apply(draft)
    assert {"front-centre-upper", "front-centre-lower", "front-side"} <= {*again.piece_names}
    plain = sewn_on(block())
    before, now = measures(plain), measures(again)
    for measure in (m for m in before if m.startswith("front.")):
        assert now[measure] == pytest.approx(before[measure], abs=1e-6), measure
    lower = made("lower-armhole", by=8.0)
    before, now = measures(lower.apply(plain)), measures(lower.apply(again))
    for measure in (m for m in before if m.startswith("front.")):
        assert now[measure] == pytest.approx(before[measure], abs=NEAR), measure


def test_a_dart_inside_the_seam_is_changed_before_the_cut() -> None:
    with pytest.raises(CannotChange) as refused:
        made("release-dart", dart="front.bust").apply(cut(block(), PRINCESS))
    assert "line-ends-there" in {each.what for each in told(refused.value.says)}


def test_the_whole_stays_sound_when_a_line_of_a_part_is_drawn_otherwise() -> None:
    drawn = made("redraw-edge", edge="front-centre.princess", through="50%:3mm")
    trued = made("true-line", edge="front-centre.princess")
    after = trued.apply(drawn.apply(cut(block(), PRINCESS)))
    assert after.piece("front").is_simple
    lower = made("lower-neck", piece="front", by=15.0).apply(after)
    depth = measures(lower)["front.neck-depth"] - measures(after)["front.neck-depth"]
    assert depth == pytest.approx(15.0, abs=1e-6)
