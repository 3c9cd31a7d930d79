from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from tests.builders import block
from tests.fair import sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.points import Point
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

PRINCESS = {
    "piece": "front", "begins": "armhole", "ends": "hem",
    "through": "bust waist", "line": "princess",
}  # fmt: skip


def cut(draft: Draft, **values: object) -> Draft:
    return kind_named("cut-apart")(**{**PRINCESS, **values}).apply(draft)


def yoke(draft: Draft, armhole: float = 0.4, centre: float = 0.25) -> Draft:
    return kind_named("cut-apart")(
        piece="back",
        begins="armhole",
        ends="centre",
        at=Position("shoulder-point", share=armhole),
        ends_at=Position("neck-centre", share=centre),
        line="yoke",
    ).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def cloth(piece: Piece) -> Polygon:
    """Return the cloth of a piece, darts cut out, from points sampled on its lines."""
    ring: list[Point] = []
    for edge in piece.edges:
        for part, mouth in zip(edge.parts, (*edge.mouths, None), strict=True):
            ring += list(sampled(part))
            ring += [mouth.dart.apex] if mouth and mouth.intake > 1e-6 else []
    return Polygon([(p.real, p.imag) for p in ring]).buffer(0)


@given(drafts(), st.floats(0.45, 0.7), st.floats(0.35, 0.6))
@settings(max_examples=30)
def test_the_parts_are_the_cloth_of_the_piece(draft: Draft, armhole: float, centre: float) -> None:
    try:
        after = yoke(draft, armhole, centre)
    except CannotChange as refused:
        assert "line-crosses" in reasons(refused.says)  # noqa: PT017  (the tip of a dart is there)
        return
    upper, lower = after.piece("back-upper"), after.piece("back-lower")
    both, whole = cloth(upper).union(cloth(lower)), cloth(draft.piece("back"))
    assert both.symmetric_difference(whole).area < 1.0
    assert cloth(upper).intersection(cloth(lower)).area < 1.0
    assert {*upper.edge_names} == {"centre", "neck", "shoulder", "armhole", "yoke"}
    assert {*lower.edge_names} == {"armhole", "side", "hem", "centre", "yoke"}


@given(drafts())
@settings(max_examples=30)
def test_what_a_line_takes_in_of_darts_lies_in_neither_part(draft: Draft) -> None:
    after = cut(draft, rounded=0.0)
    side, centre = after.piece("front-side"), after.piece("front-centre")
    whole = cloth(draft.piece("front"))
    both = cloth(side).union(cloth(centre))
    # The tip of the waist dart stops short of the bust point: up to there its legs are drawn on.
    waist = draft.piece("front").mouth("waist")
    sliver = abs(waist.dart.apex - waist.tip) * waist.intake / 2
    assert both.difference(whole).area < 1.0
    assert whole.difference(both).area < sliver


@given(drafts(), st.floats(0, 15))
@settings(max_examples=30)
def test_both_parts_are_as_long_along_the_line(draft: Draft, rounded: float) -> None:
    after = cut(draft, rounded=rounded)
    side, centre = (after.edge(f"front-{part}", "princess") for part in ("side", "centre"))
    assert length(side) == pytest.approx(length(centre), abs=0.05)


@given(drafts())
@settings(max_examples=20)
def test_no_edge_loses_length_by_being_cut(draft: Draft) -> None:
    after = yoke(cut(draft))
    for whole in ("front", "back"):
        parts = after.parts_of(whole)
        for edge in draft.piece(whole).edges:
            found = sum(length(p.edge(edge.name)) for p in parts if edge.name in p.edge_names)
            assert found == pytest.approx(length(edge), abs=1e-3)


def test_corners_of_both_parts_meet_and_the_outlines_are_closed() -> None:
    for piece in yoke(cut(block())).pieces:
        for before, now in pairwise((*piece.edges, piece.edges[0])):
            assert before.end == now.start
            assert before.ends_at == now.starts_at


def test_notches_of_both_parts_meet_where_the_line_turns() -> None:
    after = cut(block())
    found = []
    for name in ("front-side", "front-centre"):
        piece = after.piece(name)
        (notch,) = (n for n in piece.notches if n.edge == "princess")
        edge = piece.edge("princess")
        found.append(notch.at.along(edge) / edge.length)
        place = edge.point_at(notch.at.along(edge))
        apex = block().piece("front").mouth("bust").dart.apex
        assert abs(place - apex) < 10.0
    assert found[0] == pytest.approx(1 - found[1], abs=0.001)


def test_grainlines_lie_in_the_parts() -> None:
    for piece in yoke(cut(block())).pieces:
        grain = piece.grainline
        assert grain is not None
        line = LineString([(p.real, p.imag) for p in (grain.start, grain.end)])
        assert cloth(piece).buffer(0.01).covers(line) or piece.name not in (
            "front-side",
            "back-upper",
        )
        assert line.length > 60


def test_parts_are_called_as_the_maker_says() -> None:
    named = cut(block(), parts="middle flank")
    assert {"middle", "flank"} < {*named.piece_names}
    assert "centre" in named.piece("middle").edge_names


def test_the_line_has_the_allowance_of_the_edge_it_begins_on() -> None:
    def allowed(kind: str, by: float, piece: str, draft: Draft) -> Draft:
        return kind_named(kind)(piece=piece, by=by).apply(draft)

    before = cut(allowed("seam-allowance", 15.0, "front", block()))
    after = allowed("seam-allowance", 15.0, "front", cut(block()))
    for draft in (before, after):
        for part in ("front-side", "front-centre"):
            assert draft.piece(part).allowance("princess") == 15.0
    own = kind_named("seam-allowance")(edge="front-side.princess", by=10.0).apply(after)
    wider = allowed("seam-allowance", 20.0, "front", own)
    assert wider.piece("front-side").allowance("princess") == 10.0
    assert wider.piece("front-centre").allowance("princess") == 20.0


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"ends": "armhole"}, "line-on-one-edge"),
        ({"through": ""}, "where-on-edge"),
        ({"at": Position("underarm", share=0.5)}, "dart-says-where"),
        ({"through": "bust", "ends_at": Position("hem-side", share=0.001)}, "line-near-end"),
        ({"line": "neck"}, "name-is-taken"),
        ({"parts": "back front-side"}, "name-is-taken"),
    ],
)
def test_what_cannot_be_cut_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        cut(block(), **values)
    assert reason in reasons(refused.value.says)


def test_a_line_through_a_dart_inside_the_piece_is_refused() -> None:
    longer = kind_named("lengthen")(by=200.0).apply(block())
    across = {
        "piece": "front", "begins": "side", "ends": "centre", "through": "", "line": "waist-seam",
        "at": Position("hem-side", distance=205.0),
        "ends_at": Position("hem-centre", distance=205.0),
    }  # fmt: skip
    with pytest.raises(CannotChange) as refused:
        cut(longer, **across)
    assert "crosses-dart" in reasons(refused.value.says)


def test_what_was_cut_is_cut_again_by_its_parts() -> None:
    with pytest.raises(CannotChange) as refused:
        cut(cut(block()), line="another")
    assert "is-cut-apart" in reasons(refused.value.says)
    with pytest.raises(NoSuchName):
        cut(block(), piece="collar")


@pytest.mark.parametrize(
    "values", [{"line": "Two Words"}, {"line": "9"}, {"parts": "one"}, {"parts": "same same"}]
)
def test_names_are_small_plain_words(values: dict[str, str]) -> None:
    with pytest.raises(BadParameter):
        kind_named("cut-apart")(**{**PRINCESS, **values})


def test_it_is_told_as_a_maker_would_say_it() -> None:
    assert kind_named("cut-apart")(**PRINCESS).in_words(Unit.MILLIMETRE) == (
        "cut the front apart from the armhole to the hem along bust and waist (princess)"
    )


@given(drafts(), st.integers(5, 60))
@settings(max_examples=8, deadline=None)
def test_what_a_line_drawn_round_takes_in_is_told_as_it_is(draft: Draft, rounded: int) -> None:
    longer = kind_named("lengthen")(by=300.0).apply(draft)
    where = {"ends_at": Position("hem-centre", share=0.45), "rounded": float(rounded)}
    step = kind_named("cut-apart")(**PRINCESS, **where)
    after = step.apply(longer)
    level = longer.piece("front").level("waist").y
    across = LineString([(-1e4, level), (1e4, level)])
    own = [
        Polygon([(p.real, p.imag) for p in piece.outline_points]).intersection(across).length
        for piece in after.parts_of("front")
    ]
    # Seam to seam, the cloth that is left out between the parts.
    bare = longer.piece("front")
    whole = Polygon([(p.real, p.imag) for p in bare.outline_points]).intersection(across).length
    taken_in = whole - sum(own)
    told = measures(after)["front.waist.intake"]
    assert told == pytest.approx(taken_in, abs=0.05)
    assert told < measures(longer)["front.waist.intake"] - 0.2
    assert step.knock_on(longer) == ("front.bust.intake", "front.waist.intake")
