import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import depth, sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadPosition, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

FROM_CENTRE = Position("neck-centre", distance=40.0)
FROM_NECK_POINT = Position("neck-point", distance=30.0)


def lapped(draft: Draft, **values: object) -> Draft:
    given_ = {"by": 60.0, "at": FROM_CENTRE, "beyond": True, **values}
    return kind_named("overlap-front")(**given_).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def cloth(piece: Piece) -> shapely.Polygon:
    points: list[complex] = []
    for edge in piece.edges:
        for k, part in enumerate(edge.parts):
            points += list(sampled(part))
            if k < len(edge.darts):
                points.append(edge.mouths[k].tip)
    return shapely.Polygon([(p.real, p.imag) for p in points])


def mirrored(shape: shapely.Geometry, draft: Draft) -> shapely.Geometry:
    """Return a shape of the front on the other side of its centre, which is upright."""
    across = draft.edge("front", "centre").start.real
    return shapely.affinity.scale(shape, xfact=-1, origin=(across, 0))


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(15, 70), st.floats(10, 60), st.floats(0, 12))
@settings(max_examples=30)
def test_past_the_centre_it_is_cut_as_the_other_half_along_its_edge(
    draft: Draft, by: float, on_neck: float, curve: float
) -> None:
    at = Position("neck-centre", distance=on_neck)
    after = lapped(draft, by=by, at=at, curve=curve)
    old, new = draft.piece("front"), after.piece("front")
    assert length(new.edge("overlap-hem")) == pytest.approx(by, abs=1e-3)
    assert length(new.edge("overlap-neck")) == pytest.approx(on_neck, abs=1e-3)
    assert depth(sampled(new.edge("front-edge").parts[0])) == pytest.approx(curve, abs=0.05)
    whole = shapely.union(cloth(old), mirrored(cloth(old), draft))
    beyond = cloth(new).difference(cloth(old).buffer(1e-6))
    bow = 0.7 * curve * new.edge("front-edge").length
    assert beyond.difference(whole.buffer(0.01)).area <= bow + 1.0
    for name in old.edge_names[:-1]:
        assert new.edge(name) == old.edge(name)
    assert new.fold is None
    assert new.is_simple
    assert [f for f in check(after) if f not in check(draft)] == []


@given(drafts(), st.floats(10, 60), st.floats(5, 80))
@settings(max_examples=30)
def test_a_wrap_crosses_its_own_neck_and_goes_past_the_centre(
    draft: Draft, by: float, down: float
) -> None:
    at = Position("neck-point", distance=down)
    after = lapped(draft, by=by, at=at, beyond=False)
    piece = after.piece("front")
    assert length(piece.edge("neck")) == pytest.approx(down, abs=1e-3)
    edge = piece.edge("front-edge")
    centre = draft.edge("front", "centre").start.real
    sides = [np.sign(edge.start.real - centre), np.sign(edge.end.real - centre)]
    assert sides == [1, -1]
    assert piece.edge("shoulder") == draft.edge("front", "shoulder")


def test_from_the_shoulder_the_neck_goes() -> None:
    at = Position("neck-point", distance=20.0)
    after = lapped(block(), starts="shoulder", at=at, beyond=False)
    piece = after.piece("front")
    assert "neck" not in piece.edge_names
    assert length(piece.edge("shoulder")) == pytest.approx(
        length(block().edge("front", "shoulder")) - 20, abs=1e-3
    )
    assert all("neck" not in (j.first[1], j.second[1]) for j in after.joins)


def test_darts_of_the_other_half_that_lie_in_it_whole_are_darts_of_it() -> None:
    wide = lapped(block(), by=140.0, at=Position("neck-centre", distance=95.0))
    hem = wide.edge("front", "overlap-hem")
    assert [dart.name for dart in hem.darts] == ["other-waist"]
    own = block().edge("front", "hem")
    mine = next(m for m in own.mouths if m.dart.name == "waist")
    (theirs,) = hem.mouths
    assert theirs.intake == pytest.approx(mine.intake, abs=1e-6)
    assert theirs.legs == pytest.approx(mine.legs[::-1], abs=1e-6)
    longer = kind_named("lengthen")(by=200.0).apply(block())
    beyond = lapped(longer, by=150.0, at=Position("neck-centre", distance=105.0))
    assert "other-waist" in beyond.piece("front").dart_names


def test_its_centre_is_marked_from_hem_to_neck() -> None:
    (mark,) = lapped(block()).piece("front").marks
    centre = block().edge("front", "centre")
    assert abs(mark.runs[0][1]) == pytest.approx(length(centre), abs=0.01)
    (short,) = lapped(block(), at=FROM_NECK_POINT, beyond=False).piece("front").marks
    assert abs(short.runs[0][1]) < abs(mark.runs[0][1]) - 20


def test_on_one_side_the_other_stays_as_it_is() -> None:
    after = lapped(block(), side="left")
    assert "front-edge" in after.piece("left-front").edge_names
    assert after.piece("right-front").edges == block().piece("front").edges


def test_a_collar_is_drafted_along_the_neck_past_the_centre() -> None:
    band = kind_named("draft-band")(
        to="back.neck front.neck front.overlap-neck", name="stand", height=30.0
    )
    after = band.apply(lapped(block()))
    necks = [("back", "neck"), ("front", "neck"), ("front", "overlap-neck")]
    whole = sum(length(after.edge(*each)) for each in necks)
    assert length(after.edge("stand", "sewn-edge")) == pytest.approx(whole, abs=0.01)


def test_of_a_front_that_was_cut_apart_the_part_at_the_centre_goes_past_it() -> None:
    princess = kind_named("cut-apart")(
        piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
    )
    after = lapped(princess.apply(block()))
    assert "front-edge" in after.piece("front-centre").edge_names
    assert "front-edge" not in after.piece("front-side").edge_names
    other = princess.apply(lapped(block())).piece("front-centre")
    for edge in after.piece("front-centre").edges:
        for one, two in zip(edge.parts, other.edge(edge.name).parts, strict=True):
            assert np.abs(sampled(one) - sampled(two)).max() < 1e-6


def test_of_a_pair_that_was_sewn_at_the_centre_that_seam_goes() -> None:
    after = lapped(kind_named("open-fold")(piece="front").apply(block()))
    assert not after.has_seam("front-centre")


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"by": 400.0}, "edge-ends-before"),
        ({"starts": "armhole", "at": Position("underarm", share=0.5)}, "edge-not-above"),
        ({"starts": "shoulder", "at": FROM_NECK_POINT}, "edge-not-above"),
        ({"piece": "back"}, "fold-is-bent"),
        ({"at": Position("neck-point", distance=0.0)}, "edge-ends-before"),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        lapped(block(), **values)
    assert reason in reasons(refused.value.says)


def test_a_second_time_and_where_the_neck_is_sewn_it_is_refused() -> None:
    with pytest.raises((CannotChange, NoSuchName)):
        lapped(lapped(block()))
    band = kind_named("draft-band")(to="back.neck front.neck", name="stand", height=30.0)
    with pytest.raises(CannotChange) as refused:
        lapped(
            band.apply(block()),
            starts="shoulder",
            at=Position("neck-point", distance=0.0),
            beyond=False,
        )
    assert "sewn-by" in reasons(refused.value.says)


def test_a_place_that_is_not_there_is_refused() -> None:
    with pytest.raises(BadPosition):
        lapped(block(), at=Position("neck-centre", distance=900.0))
    with pytest.raises(NoSuchName):
        lapped(block(), at=Position("underarm", distance=10.0))


def test_it_is_told_in_words() -> None:
    told = kind_named("overlap-front")(by=60.0, at=FROM_CENTRE, beyond=True, side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "let the front go 6 cm past the centre, beginning 4 cm from the neck centre on the neck "
        "of the "
        "other half on the left"
    )
