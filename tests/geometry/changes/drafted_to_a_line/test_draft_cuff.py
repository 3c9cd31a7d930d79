from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

CUFF = {"to": "sleeve.hem", "width": 60.0}


def cuffed(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-cuff")(**{**CUFF, **values}).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def cloth(piece: Piece) -> shapely.Polygon:
    points = np.concatenate([sampled(e.parts[0]) for e in piece.edges])
    return shapely.Polygon(np.column_stack([points.real, points.imag]))


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


LAPS = st.just(0.0) | st.floats(6, 40)


@given(drafts(), LAPS, LAPS, st.floats(0, 120), st.booleans())
@settings(max_examples=40)
def test_it_is_a_straight_band_as_long_as_the_line_with_its_laps_and_gathers(
    draft: Draft, overlap: float, underlap: float, gathers: float, doubled: bool
) -> None:
    after = cuffed(draft, overlap=overlap, underlap=underlap, gathers=gathers, doubled=doubled)
    piece = after.piece("cuff")
    hem = length(draft.edge("sleeve", "hem"))
    assert length(piece.edge("sewn-edge")) == pytest.approx(hem - gathers, abs=0.01)
    whole = hem - gathers + overlap + underlap
    left, top, right, bottom = cloth(piece).bounds
    assert right - left == pytest.approx(whole, abs=0.01)
    assert bottom - top == pytest.approx(60.0 * (2 if doubled else 1), abs=1e-6)
    assert cloth(piece).area == pytest.approx((right - left) * (bottom - top), abs=0.1)
    assert piece.edge("sewn-edge").start.real - left == pytest.approx(underlap, abs=1e-5)
    assert check(after) == check(draft)


def test_a_doubled_one_is_notched_where_it_is_folded_and_both_where_they_lap() -> None:
    piece = cuffed(block(), doubled=True, overlap=20.0, underlap=15.0).piece("cuff")
    notched = [(n.name, n.edge, n.at.along(piece.edge(n.edge))) for n in piece.notches]
    sewn = piece.edge("sewn-edge").length
    assert notched == [
        ("underlap", "sewn-edge", 0.0),
        ("overlap", "sewn-edge", pytest.approx(sewn)),
        ("fold-line", "end", pytest.approx(60.0)),
        ("fold-line", "centre", pytest.approx(60.0)),
    ]
    plain = cuffed(block()).piece("cuff")
    assert plain.notches == ()
    assert plain.edge_names == ("sewn-edge", "end", "outer-edge", "centre")


def test_a_waistband_lies_on_the_fold_and_is_notched_at_the_side() -> None:
    after = cuffed(
        block(), to="front.hem back.hem", name="waistband", overlap=30.0, fold=True, doubled=True
    )
    piece = after.piece("waistband")
    assert piece.fold == "centre"
    assert [n.name for n in piece.notches] == ["hem-side", "overlap", "fold-line"]
    assert piece.notches[0].at.distance == pytest.approx(
        length(block().edge("front", "hem")), abs=0.01
    )
    assert check(after) == check(block())


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_it_follows_its_line_through_every_change(draft: Draft, seed: int) -> None:
    after, dice = cuffed(draft, gathers=30.0), Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    hem = length(after.edge("sleeve", "hem"))
    assert length(after.edge("cuff", "sewn-edge")) == pytest.approx(hem - 30, abs=0.02)


def test_made_before_or_after_a_change_it_is_the_same() -> None:
    wider = kind_named("widen-sleeve")(by=20.0)
    first = wider.apply(cuffed(block(), overlap=20.0))
    assert fingerprint(first) == fingerprint(cuffed(wider.apply(block()), overlap=20.0))


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"gathers": 900.0}, "nothing-left"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"to": "sleeve.hem front.hem"}, "lines-do-not-meet"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        cuffed(block(), **values)
    assert reason in reasons(refused.value.says)


def test_an_underlap_on_the_fold_and_a_line_that_is_not_there_are_refused() -> None:
    with pytest.raises(BadParameter):
        cuffed(block(), fold=True, underlap=10.0)
    with pytest.raises(NoSuchName):
        cuffed(block(), to="sleeve.cuff")


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-cuff")(**CUFF, doubled=True).in_words(Unit.CENTIMETRE)
    assert told == "draft the doubled cuff to sleeve.hem, 6 cm wide"
