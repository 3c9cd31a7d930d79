from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.geometry.changing import changed
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.redrawing.outlined_darts import darts_outlined
from trueup.geometry.units import Unit

DARTS = (
    ("front", "armhole", "bust"), ("front", "hem", "waist"), ("front", "hem", "waist-side"),
    ("back", "shoulder", "shoulder"), ("back", "hem", "waist"),
)  # fmt: skip


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@given(drafts(), st.sampled_from(DARTS))
@settings(max_examples=20, deadline=None)
def test_said_to_be_none_its_legs_are_lines_and_said_again_it_is_the_dart_it_was(
    draft: Draft, place: tuple[str, str, str]
) -> None:
    piece, edge, name = place
    own = {"edge": f"{piece}.{edge}", "name": name}
    was = draft.piece(piece).mouth(name)
    none = changed(draft, "state-dart", **own, none=True)
    legs = sum(was.legs)
    assert length(none.edge(piece, edge)) == pytest.approx(
        length(draft.edge(piece, edge)) + legs, abs=0.05
    )
    assert none.piece(piece).outline_points == pytest.approx(draft.piece(piece).outline_points)
    assert none.piece(piece).area == pytest.approx(draft.piece(piece).area)
    again = changed(none, "state-dart", **own, setback=f"{was.dart.setback}mm")
    now = again.piece(piece).mouth(name)
    assert abs(now.first - was.first) + abs(now.second - was.second) < 1e-6
    assert abs(now.dart.apex - was.dart.apex) < 1e-6
    assert measures(again) == pytest.approx(measures(draft))
    assert [each.code for each in check(again)] == [each.code for each in check(draft)]


def test_it_is_turned_and_deepened_like_any_other() -> None:
    own = {"edge": "front.armhole", "name": "bust"}
    again = changed(changed(block(), "state-dart", **own, none=True), "state-dart", **own)
    turn = {"dart": "front.bust", "edge": "front.side", "at": "50mm from underarm"}
    one, other = (changed(draft, "rotate-dart", **turn) for draft in (again, block()))
    assert measures(one) == pytest.approx(measures(other), abs=0.01)
    deeper = changed(again, "deepen-dart", dart="front.bust", by="6mm")
    assert measures(deeper)["front.bust.intake"] - measures(again)["front.bust.intake"] == (
        pytest.approx(6, abs=0.01)
    )


def test_marks_of_the_edge_stay_where_they_lie() -> None:
    marked = changed(
        changed(block(), "mark-notch", edge="front.armhole", at="30mm from underarm", name="low"),
        "mark-hole", edge="front.armhole", at="40mm from shoulder-point", by="12mm", name="spot",
    )  # fmt: skip
    own = {"edge": "front.armhole", "name": "bust"}
    for draft in (
        none := changed(marked, "state-dart", **own, none=True),
        changed(none, "state-dart", **own),
    ):
        for name in ("low", "spot"):
            assert abs(_lies(draft, name) - _lies(marked, name)) < 1e-6


def _lies(draft: Draft, name: str) -> complex:
    piece = draft.piece("front")
    for notch in piece.notches:
        if notch.name == name:
            edge = piece.edge(notch.edge)
            return edge.point_at(notch.at.along(edge))
    (mark,) = (each for each in piece.marks if each.name == name)
    return runs_of(piece, mark)[0][0]


def test_of_several_it_is_the_one_at_the_place_that_is_said() -> None:
    none = block()
    for name in ("waist", "waist-side"):
        none = changed(none, "state-dart", edge="front.hem", name=name, none=True)
    with refusing(CannotChange, match="2 of them on it; say with at"):
        changed(none, "state-dart", edge="front.hem", name="waist")
    centre = block().piece("front").mouth("waist")
    hem = none.edge("front", "hem")
    along = hem.parts[0].nearest((centre.first + centre.tip) / 2)
    corner = hem.starts_at
    one = changed(none, "state-dart", edge="front.hem", name="waist", at=f"{along}mm from {corner}")
    assert one.piece("front").mouth("waist").first == pytest.approx(centre.first)
    both = changed(one, "state-dart", edge="front.hem", name="waist-side")
    assert {d.name for d in both.edge("front", "hem").darts} == {"waist", "waist-side"}
    assert [d.name for d in both.edge("front", "hem").darts] == [
        d.name for d in block().edge("front", "hem").darts
    ]


def test_on_one_side_of_the_body_it_is_stated_by_itself() -> None:
    one = changed(block(), "state-dart", edge="front.armhole", name="bust", none=True, side="left")
    assert [p.name for p in one.pieces if "bust" in p.dart_names] == ["right-front"]


def test_what_is_no_dart_is_refused() -> None:
    with refusing(CannotChange, match="no V with straight legs.*draw a dart with add-dart"):
        changed(block(), "state-dart", edge="front.neck", name="new")
    with refusing(CannotChange, match="taken"):
        changed(block(), "state-dart", edge="front.armhole", name="bust")
    with pytest.raises(NoSuchName, match="dart"):
        changed(block(), "state-dart", edge="front.armhole", name="nape", none=True)
    with pytest.raises(NoSuchName, match="dart"):
        changed(block(), "state-dart", edge="front.neck", name="bust", none=True)
    with refusing(BadParameter, match="setback cannot be given beside none"):
        changed(block(), "state-dart", edge="front.neck", name="bust", none=True, setback="5mm")


def test_a_v_that_runs_out_of_the_cloth_or_lies_at_a_corner_is_none() -> None:
    none = changed(block(), "state-dart", edge="front.armhole", name="bust", none=True)
    edge = none.edge("front", "armhole")
    chain = edge.parts[0]
    tip = next(k for k, c in enumerate(chain.cubics) if c.is_straight)
    cut = replace(edge, parts=(Chain(chain.cubics[tip:]),))
    front = none.piece("front")
    assert len(darts_outlined(front, edge)) == 1
    assert darts_outlined(front, cut) == ()
    backwards = Edge("armhole", edge.ends_at, edge.starts_at, (chain.reversed(),))
    assert darts_outlined(front, backwards) == ()


def test_it_says_what_is_a_dart() -> None:
    change = kind_named("state-dart")(edge="front.armhole", name="bust")
    assert change.in_words(Unit.MILLIMETRE) == "state the dart front.bust in front.armhole"
    none = kind_named("state-dart")(edge="front.armhole", name="bust", none=True, side="left")
    assert none.in_words(Unit.MILLIMETRE) == (
        "leave the dart front.bust open as lines of front.armhole on the left"
    )
