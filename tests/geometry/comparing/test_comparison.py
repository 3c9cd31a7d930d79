from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.changes import read_change
from trueup.geometry.changes.base import kind_named
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


def changed(draft: Draft, kind: str, **values: str) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def scooped(draft: Draft) -> Draft:
    return changed(draft, "scoop-armhole", piece="front", by="8mm")


@given(drafts())
@settings(max_examples=10)
def test_nothing_moved_in_a_draft_compared_with_itself(draft):
    found = compare(draft, draft)
    assert found.is_same
    assert found.changed_pieces == ()
    assert [edge.distance for edge in found.edges] == [0.0] * len(draft.edge_names)


@given(drafts())
@settings(max_examples=10)
def test_scooping_moves_the_armhole_of_the_front_and_no_other_edge(draft):
    found = compare(draft, scooped(draft))
    (move,) = found.moves
    assert move.name == "front.armhole"
    assert 7 < move.distance < 10
    assert move.after > move.before
    assert found.changed_pieces == ("front",)


@given(drafts())
@settings(max_examples=10)
def test_the_place_of_the_largest_move_lies_on_both_lines_and_where_it_is_said(draft):
    for move in compare(draft, changed(draft, "lower-neck", piece="front", by="20mm")).moves:
        assert abs(move.old_place - move.new_place) == pytest.approx(move.distance)
    found = compare(draft, scooped(draft))
    (move,) = found.moves
    edge = (found.old if move.on_old else found.new).edge("front", "armhole")
    at = move.along if move.corner == edge.starts_at else edge.length - move.along
    place = move.old_place if move.on_old else move.new_place
    assert abs(edge.point_at(at) - place) < 0.01 or edge.darts


def test_cloth_that_came_and_cloth_that_went():
    hollowed = compare(block(), scooped(block()))
    assert area(hollowed.cloth_gained("front")) < 1
    assert area(hollowed.cloth_lost("front")) > 300
    filled = compare(scooped(block()), block())
    came, went = filled.cloth_gained("front"), hollowed.cloth_lost("front")
    assert area(came) == pytest.approx(area(went))
    assert hollowed.cloth_lost("back").is_empty
    whole = compare(block().only(["back"]), block())
    of_all = block().piece("front").cloth.area
    assert area(whole.cloth_gained("front")) == pytest.approx(of_all, rel=0.001)


def area(cloth):
    return shapely.intersection(cloth.more, cloth.broad).area


def test_edges_that_only_one_draft_has_are_told_apart():
    found = compare(block(), block().only(["front", "back"]))
    assert found.only_new == ()
    assert set(found.only_old) == {f"sleeve.{n}" for n in block().piece("sleeve").edge_names}
    assert found.moves == ()
    assert not found.is_same
    assert compare(block().only(["front", "back"]), block()).only_new == found.only_old


def test_a_dart_that_moved_on_a_line_that_stays_is_told():
    front = block().piece("front")
    edge = front.edge_of_dart("bust")
    darts = tuple(replace(dart, setback=20.0) for dart in edge.darts)
    found = compare(block(), block().with_pieces(front.with_edges(replace(edge, darts=darts))))
    assert found.moves == ()
    assert [dart.dart for dart in found.darts] == ["front.bust"]
    assert found.changed_pieces == ("front",)
