import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft, Join
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit


def joined(draft: Draft, edge: str, to: str, **values: object) -> Draft:
    return kind_named("state-join")(edge=edge, to=to, **values).apply(draft)


def kinks(draft: Draft) -> list[float]:
    return [each.measured for each in check(draft) if each.code == "kink"]


@given(drafts(), st.integers(0, 5))
@settings(max_examples=20, deadline=None)
def test_what_was_left_out_is_stated_as_it_was_drafted(draft: Draft, index: int) -> None:
    gone = draft.joins[index % len(draft.joins)]
    without = replace(draft, joins=tuple(join for join in draft.joins if join is not gone))
    (one, first, corner), (other, second, meets) = gone.first, gone.second
    after = joined(without, f"{one}.{first}", f"{other}.{second}", at=corner, meets=meets)
    (join,) = [each for each in after.joins if each not in without.joins]
    assert (join.first, join.second, join.degrees) == (gone.first, gone.second, gone.degrees)
    assert check(after) == check(draft)
    assert all(a is b for a, b in zip(after.pieces, draft.pieces, strict=True))


def test_a_kink_is_told_of_just_where_it_is_stated_to_run_on() -> None:
    draft = block()
    bare = replace(draft, joins=())
    assert kinks(bare) == kinks(joined(bare, "front.neck", "back.neck")) == []
    (measured,) = kinks(joined(bare, "front.neck", "back.neck", degrees=150.0))
    front, back = (draft.edge(piece, "neck").parts[-1].end_tangent for piece in ("front", "back"))
    beside = (draft.edge(piece, "shoulder").parts[0].start_tangent for piece in ("front", "back"))
    angles = (
        180 - abs(math.degrees(cmath.phase(out / into)))
        for into, out in zip((front, back), beside, strict=True)
    )
    assert measured == pytest.approx(sum(angles), abs=0.1)
    meant = joined(bare, "front.neck", "back.neck", degrees=measured)
    assert kinks(meant) == []


def test_stated_anew_it_stays_one_and_keeps_its_name() -> None:
    again = joined(block(), "back.neck", "front.neck", degrees=170.0)
    assert len(again.joins) == len(block().joins)
    (was,) = [j for j in block().joins if {j.first[1], j.second[1]} == {"neck"}]
    (now,) = [j for j in again.joins if {j.first[1], j.second[1]} == {"neck"}]
    assert (now.name, now.degrees) == (was.name, 170.0)


def test_stated_wrongly_it_is_taken_back() -> None:
    apart = joined(block(), "front.hem", "back.hem", apart=True)
    gone = {*(j.name for j in block().joins)} - {*(j.name for j in apart.joins)}
    assert gone == {"hem-at-side"}
    with refusing(CannotChange, match="nothing says that it runs on into back.hem there"):
        joined(apart, "front.hem", "back.hem", apart=True)


def test_two_joins_of_one_edge_and_corner_have_names_of_their_own() -> None:
    twice = joined(replace(block(), joins=()), "front.neck", "back.neck")
    more = joined(twice, "front.neck", "back.shoulder", at="neck-point")
    assert len({join.name for join in more.joins}) == 2


def test_on_one_side_of_the_body_it_is_stated_by_itself() -> None:
    one = joined(block(), "front.hem", "back.hem", apart=True, side="left")
    sides = [join.worn for join in one.joins if join.shared_name == "hem-at-side"]
    assert [str(side) for side in sides] == ["right"]


def test_of_pieces_that_are_cut_apart_it_is_asked_of_the_parts() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    cut = kind_named("cut-apart")(**princess)
    bare = replace(block(), joins=())
    first = joined(cut.apply(bare), "front.hem", "back.hem")
    then = cut.apply(joined(bare, "front.hem", "back.hem"))
    assert fingerprint(first) == fingerprint(then)
    ends = (("front-side", "hem", "hem-side"), ("back", "hem", "hem-side"))
    assert Join("hem-at-hem-side", *ends) in first.joins


def test_what_does_not_meet_is_refused() -> None:
    with refusing(CannotChange, match="no one corner in common; name the corner of the one"):
        joined(block(), "front.neck", "sleeve.hem")
    with pytest.raises(NoSuchName, match="corner"):
        joined(block(), "front.neck", "back.neck", at="underarm")
    with refusing(BadParameter, match="name the corner of the one"):
        joined(block(), "front.neck", "back.neck", meets="neck-point")
    with refusing(CannotChange, match="itself"):
        joined(block(), "front.neck", "front.neck", at="neck-point")
    with pytest.raises(NoSuchName, match="edge"):
        joined(block(), "front.neck", "back.top")


def test_it_says_what_runs_on_into_what() -> None:
    change = kind_named("state-join")(edge="front.neck", to="back.neck", degrees=170.0)
    assert change.in_words(Unit.MILLIMETRE) == ("run front.neck on into back.neck, at 170 degrees")
    apart = kind_named("state-join")(edge="front.hem", to="back.hem", at="hem-side", apart=True)
    assert apart.in_words(Unit.MILLIMETRE) == "let front.hem and back.hem part at the hem side"
