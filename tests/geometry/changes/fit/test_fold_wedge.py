import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

CHEST = {
    "edge": "back.centre", "at": Position("neck-centre", share=0.25),
    "ends": "back.armhole", "ends_at": Position("shoulder-point", share=0.5),
}  # fmt: skip


def folded(draft: Draft, by: float, **values: object) -> Draft:
    return kind_named("fold-wedge")(**{**CHEST, "by": by, **values}).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def area(piece: Piece) -> float:
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    return float(shapely.Polygon(np.column_stack([points.real, points.imag])).area)


@given(drafts(), st.floats(-20, 20).filter(lambda by: abs(by) > 0.5))
@settings(max_examples=40, deadline=None)
def test_one_edge_changes_by_the_amount_and_no_other_does(draft: Draft, by: float) -> None:
    after = folded(draft, by)
    old, new = draft.piece("back"), after.piece("back")
    assert length(new.edge("centre")) == pytest.approx(length(old.edge("centre")) - by, abs=0.02)
    assert length(new.edge("armhole")) == pytest.approx(length(old.edge("armhole")), abs=1.0)
    for name in ("neck", "shoulder", "side", "hem"):
        assert length(new.edge(name)) == pytest.approx(length(old.edge(name)), abs=1e-6)
    assert after.piece("front") is draft.piece("front")


@given(drafts(), st.floats(2, 15))
@settings(max_examples=30, deadline=None)
def test_the_cloth_of_the_wedge_is_what_is_lost(draft: Draft, by: float) -> None:
    old, new = draft.piece("back"), folded(draft, by).piece("back")
    reach = abs(
        old.edge("centre").point_at(old.edge("centre").length * 0.75)
        - old.edge("armhole").point_at(old.edge("armhole").length * 0.5)
    )
    assert area(old) - area(new) == pytest.approx(by * reach / 2, rel=0.12, abs=40.0)


@given(drafts(), st.floats(2, 15))
@settings(max_examples=20, deadline=None)
def test_what_is_folded_out_and_let_in_again_leaves_the_lengths(draft: Draft, by: float) -> None:
    again = folded(folded(draft, by), -by)
    for edge in draft.piece("back").edges:
        same = length(again.edge("back", edge.name))
        assert same == pytest.approx(length(edge), abs=0.6), edge.name


def test_it_is_folded_over_a_dart_inside_the_piece() -> None:
    longer = kind_named("lengthen")(by=150.0).apply(block())
    sway = {
        "edge": "back.centre", "at": Position("neck-centre", distance=320.0),
        "ends": "back.side", "ends_at": Position("underarm", distance=120.0),
    }  # fmt: skip
    after = folded(longer, 10.0, **sway)
    assert length(after.edge("back", "side")) == pytest.approx(
        length(longer.edge("back", "side")), abs=0.5
    )
    old, new = ({d.name: d for d in x.piece("back").inner_darts} for x in (longer, after))
    assert new["waist"].upper == old["waist"].upper
    assert new["waist"].lower != old["waist"].lower


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"edge": "front.centre", "ends": "front.armhole"}, "on-fold"),
        ({"ends": "back.side", "ends_at": Position("underarm", share=0.8)}, "crosses-dart"),
        ({"at": Position("neck-centre", distance=2.0)}, "line-near-end"),
        ({"edge": "back.neck", "at": Position("neck-centre", share=0.3),
          "ends": "back.shoulder", "ends_at": Position("neck-point", share=0.2)},
         "fold-leaves-cloth"),
    ],
)  # fmt: skip
def test_what_cannot_be_folded_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        folded(block(), 8.0, **values)
    assert reason in reasons(refused.value.says)


def test_both_edges_are_of_one_piece() -> None:
    with pytest.raises(NoSuchName):
        folded(block(), 8.0, ends="front.armhole")
    with pytest.raises(BadParameter):
        folded(block(), 8.0, ends="back.centre")


def test_it_is_told_as_a_maker_would_say_it() -> None:
    told = kind_named("fold-wedge")(**CHEST, by=-8.0).in_words(Unit.CENTIMETRE)
    assert told.startswith("let a wedge in")
    assert "0.8 cm" in told
