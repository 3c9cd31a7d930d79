import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changing import changed
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import BadPosition, CannotChange, NoSuchName
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit

NOTCH = {"edge": "front.side", "at": "60mm from underarm", "name": "match"}
HOLE = {"edge": "front.side", "at": "60mm from underarm", "by": "25mm", "name": "spot"}


@given(drafts(), st.integers(5, 95))
@settings(max_examples=15, deadline=None)
def test_moved_it_lies_where_it_would_have_been_marked(draft: Draft, share: int) -> None:
    there = f"{share}% from hem-side"
    for kind, values in (("mark-notch", NOTCH), ("mark-hole", HOLE)):
        edge, name = values["edge"], values["name"]
        moved = changed(changed(draft, kind, **values), "move-mark", edge=edge, name=name, at=there)
        assert fingerprint(moved) == fingerprint(changed(draft, kind, **{**values, "at": there}))


@given(drafts())
@settings(max_examples=10, deadline=None)
def test_dropped_it_is_as_if_it_had_never_been_marked(draft: Draft) -> None:
    for kind, values in (("mark-notch", NOTCH), ("mark-hole", HOLE)):
        marked = changed(draft, kind, **values)
        after = changed(marked, "drop-mark", edge=values["edge"], name=values["name"])
        assert fingerprint(after) == fingerprint(draft)


def test_a_mark_beyond_the_end_of_its_line_is_brought_back_on_it_or_dropped() -> None:
    at = f"{round(block().edge('front', 'neck').length * 0.97, 1)}mm from neck-point"
    marked = changed(block(), "mark-notch", edge="front.neck", at=at, name="mid")
    lost = changed(marked, "redraw-edge", edge="front.neck", through="50%:0mm")
    own = {"edge": "front.neck", "name": "mid"}
    moved = changed(lost, "move-mark", **own, at="97% from neck-point")
    dropped = changed(lost, "drop-mark", **own)
    for after in (moved, dropped):
        assert [e.code for e in check(after) if e.code.startswith("beyond-end")] == []
    (notch,) = (n for n in moved.piece("front").notches if n.name == "mid")
    assert notch.at == Position("neck-point", share=0.97)


def test_on_one_side_of_the_body_it_is_moved_by_itself() -> None:
    marked = changed(block(), "mark-notch", **NOTCH)
    moved = changed(marked, "move-mark", edge="front.side", name="match",
                 at="80mm from underarm", side="left")  # fmt: skip
    places = {p.name: p.notches[-1].at.distance for p in moved.pieces if p.shared_name == "front"}
    assert places == {"left-front": 80.0, "right-front": 60.0}


def test_of_a_piece_that_was_cut_apart_it_is_moved_on_its_part() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    cut = changed(changed(block(), "mark-hole", **HOLE), "cut-apart", **princess)
    moved = changed(cut, "move-mark", edge="front.side", name="spot", at="90mm from underarm")
    whole = changed(changed(block(), "mark-hole", **{**HOLE, "at": "90mm from underarm"}),
                 "cut-apart", **princess)  # fmt: skip
    one, other = (
        runs_of(d.piece("front-side"), d.piece("front-side").marks[0]) for d in (moved, whole)
    )
    assert abs(one[0][0] - other[0][0]) < 0.01


def test_what_cannot_be_is_refused() -> None:
    marked = changed(block(), "mark-notch", **NOTCH)
    for kind, more in (("move-mark", {"at": "10mm from underarm"}), ("drop-mark", {})):
        with pytest.raises(NoSuchName, match="match"):
            changed(marked, kind, edge="front.side", name="other", **more)
    with pytest.raises(BadPosition, match="edge-only"):
        changed(marked, "move-mark", edge="front.side", name="match", at="900mm from underarm")
    with refusing(CannotChange, match="armhole-seam is sewn to it; move it, with move-mark"):
        changed(block(), "drop-mark", edge="sleeve.cap", name="crown")


def test_it_says_what_is_done_with_which_mark() -> None:
    own = {"edge": "front.side", "name": "match"}
    move = read_change(kind_named("move-mark"), {**own, "at": "40% from underarm"}, Unit.CENTIMETRE)
    drop = read_change(kind_named("drop-mark"), own, Unit.CENTIMETRE)
    assert move.in_words(Unit.CENTIMETRE) == (
        "move the mark match of front.side to 40% of the way from the underarm"
    )
    assert drop.in_words(Unit.CENTIMETRE) == "take the mark match off front.side"
