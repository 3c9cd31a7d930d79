import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.comparing.difference import difference
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.unstated import unsewn_lines
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form


def freed(draft: Draft, edge: str, **values: object) -> Draft:
    return kind_named("leave-free")(edge=edge, **values).apply(draft)


def loose(draft: Draft, *seams: str) -> Draft:
    return replace(draft, seams=tuple(each for each in draft.seams if each.name not in seams))


@given(drafts(), st.sampled_from(["front.side", "back.side"]))
@settings(max_examples=15, deadline=None)
def test_no_line_moves_and_the_edge_is_told_of_no_more(draft: Draft, edge: str) -> None:
    before = loose(draft, "side-seam")
    after = freed(before, edge)
    assert {*unsewn_lines(before)} - {*unsewn_lines(after)} == {edge}
    assert measures(after) == measures(before)
    assert check(after) == check(before)
    assert [p.edges for p in after.pieces] == [p.edges for p in before.pieces]
    assert fingerprint(after) != fingerprint(before)
    assert freed(after, edge) is after


def test_what_is_sewn_later_is_walked_like_any_other() -> None:
    free = freed(loose(block(), "side-seam"), "front.side")
    sewn = kind_named("sew-together")(line="front.side", to="back.side", name="side-seam").apply(
        free
    )
    assert unsewn_lines(sewn) == ()
    assert check(sewn) == check(block())


def test_it_goes_with_the_line_when_the_piece_is_cut_apart() -> None:
    free = freed(freed(loose(block(), "side-seam"), "front.side"), "back.side")
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    assert unsewn_lines(kind_named("cut-apart")(**princess).apply(free)) == ()


def test_one_side_of_the_body_is_left_free_by_itself() -> None:
    one = freed(loose(block(), "side-seam"), "front.side", side="left")
    assert {*unsewn_lines(one)} == {"right-front.side", "back.side"}


def test_it_is_kept_in_a_drawing_and_told_of_as_a_difference() -> None:
    before = loose(block(), "side-seam")
    after = freed(before, "front.side")
    back = read_form(json.dumps(draft_form(after)), "x.svg")
    assert fingerprint(back) == fingerprint(after)
    assert "which edges are free of front" in difference(before, after).others


def test_what_is_sewn_or_on_the_fold_is_refused() -> None:
    with refusing(CannotChange, match="side-seam sews it.*with unpick"):
        freed(block(), "front.side")
    with refusing(CannotChange, match="fold"):
        freed(block(), "front.centre")
    with pytest.raises(NoSuchName, match="edge"):
        freed(block(), "front.top")


def test_it_says_what_it_leaves_free() -> None:
    change = kind_named("leave-free")(edge="front.side", side="left")
    assert change.in_words(Unit.MILLIMETRE) == "leave the edge front.side free on the left"
