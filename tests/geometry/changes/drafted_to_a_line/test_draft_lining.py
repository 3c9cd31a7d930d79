from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
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

PIECES = ("front", "back", "sleeve")


def lined(draft: Draft, piece: str, **values: object) -> Draft:
    return kind_named("draft-lining")(piece=piece, **values).apply(draft)


def faced(draft: Draft) -> Draft:
    for edge in ("front.neck", "back.neck"):
        draft = kind_named("draft-facing")(edge=edge, width=50.0).apply(draft)
    return draft


def wholly_lined(draft: Draft) -> Draft:
    draft = lined(faced(draft), "front", facings="front-neck-facing", shorter=20.0)
    draft = lined(draft, "back", facings="back-neck-facing", shorter=20.0, pleat=20.0)
    return lined(draft, "sleeve", shorter=20.0)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def cloth(piece: Piece) -> shapely.Polygon:
    """Return the cloth of a piece, darts on its edges cut out to their tips, inner ones left."""
    points: list[complex] = []
    for edge in piece.edges:
        for k, part in enumerate(edge.parts):
            points += list(sampled(part))
            if k < len(edge.darts):
                points.append(edge.mouths[k].tip)
    return shapely.Polygon([(p.real, p.imag) for p in points])


def largest_shift(one: Draft, other: Draft, piece: str) -> float:
    mine, theirs = one.piece(piece), other.piece(piece)
    assert mine.edge_names == theirs.edge_names
    return max(
        float(np.abs(sampled(a) - sampled(b)).max())
        for edge in mine.edges
        for a, b in zip(edge.parts, theirs.edge(edge.name).parts, strict=True)
    )


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.sampled_from(PIECES))
@settings(max_examples=20)
def test_without_amounts_it_is_the_piece_itself(draft: Draft, piece: str) -> None:
    after = lined(draft, piece)
    for edge in draft.piece(piece).edges:
        assert after.edge(f"{piece}-lining", edge.name) == edge
    assert check(after) == check(draft)


@given(drafts(), st.sampled_from(("front", "back")), st.floats(5, 40))
@settings(max_examples=30)
def test_its_centre_lies_further_out_by_the_pleat(draft: Draft, piece: str, pleat: float) -> None:
    after = lined(draft, piece, pleat=pleat)
    lining = after.piece(f"{piece}-lining")
    grown = cloth(lining).area - cloth(draft.piece(piece)).area
    assert grown == pytest.approx(pleat * length(draft.edge(piece, "centre")), rel=0.03)
    for name in ("neck", "hem"):
        longer = length(lining.edge(name)) - length(draft.edge(piece, name))
        assert longer == pytest.approx(pleat, abs=1e-6)
    marked = [n for n in lining.notches if n.name == "pleat"]
    assert {n.edge for n in marked} == {"neck", "hem"}
    for notch in marked:
        edge = lining.edge(notch.edge)
        place = edge.point_at(notch.at.along(edge))
        was = [draft.edge(piece, "centre").start, draft.edge(piece, "centre").end]
        assert min(abs(place - each) for each in was) < 1e-6
    for name in ("shoulder", "armhole", "side"):
        assert lining.edge(name) == draft.edge(piece, name)


@given(drafts(), st.sampled_from(PIECES), st.floats(5, 40))
@settings(max_examples=30)
def test_it_is_shorter_along_both_edges_that_meet_the_hem(
    draft: Draft, piece: str, shorter: float
) -> None:
    after = lined(draft, piece, shorter=shorter)
    for edge in draft.piece(piece).neighbours("hem"):
        own = after.edge(f"{piece}-lining", edge.name)
        assert length(own) == pytest.approx(length(edge) - shorter, abs=0.01)
    assert after.piece(f"{piece}-lining").is_simple


@given(drafts(), st.sampled_from(("front.neck", "sleeve.hem")), st.floats(20, 70))
@settings(max_examples=30)
def test_lining_and_facing_are_the_piece(draft: Draft, edge: str, width: float) -> None:
    piece, _, name = edge.partition(".")
    facing = f"{piece}-{name}-facing"
    after = kind_named("draft-facing")(edge=edge, width=width).apply(draft)
    after = lined(after, piece, facings=facing)
    parts = [cloth(after.piece(each)) for each in (f"{piece}-lining", facing)]
    whole = cloth(draft.piece(piece))
    assert sum(part.area for part in parts) == pytest.approx(whole.area, rel=1e-4)
    assert parts[0].intersection(parts[1]).area < 1e-4 * whole.area
    assert check(after) == check(draft)


@given(drafts())
@settings(max_examples=20)
def test_a_dart_that_its_facing_takes_in_opens_on_its_edge_and_as_sewn_they_are_one(
    draft: Draft,
) -> None:
    """The shoulder dart of the back runs through a facing 50 mm wide."""
    after = lined(faced(draft), "back", facings="back-neck-facing")
    neck = after.edge("back-lining", "neck")
    assert [dart.name for dart in neck.darts] == ["shoulder"]
    inner = sampled(after.edge("back-neck-facing", "inner-edge").parts[0])[::-1]
    own = closed_points(neck)
    line = shapely.LineString(np.column_stack([inner.real, inner.imag]))
    apart = shapely.distance(shapely.points(np.column_stack([own.real, own.imag])), line)
    assert apart.max() < 0.01
    one, other = neck.mouths[0].legs
    assert one == pytest.approx(other, abs=1e-6)
    assert check(after) == check(draft)


@given(drafts())
@settings(max_examples=20)
def test_linings_are_sewn_as_the_pieces_are_and_to_their_facings(draft: Draft) -> None:
    after = wholly_lined(draft)
    assert [f for f in check(after) if f not in check(draft)] == []
    of_linings = {s.name: s.pieces for s in after.seams if s.name.startswith("lining-")}
    assert of_linings == {
        "lining-shoulder-seam": {"front-lining", "back-lining"},
        "lining-side-seam": {"front-lining", "back-lining"},
        "lining-armhole-seam": {"front-lining", "back-lining", "sleeve-lining"},
        "lining-sleeve-seam": {"sleeve-lining"},
    }
    assert after.has_seam("back-lining-back-neck-facing-seam")


@given(drafts(), st.integers(0, 2**32), st.booleans())
@settings(max_examples=40, deadline=None)
def test_it_follows_the_whole_piece_through_every_change(
    draft: Draft, seed: int, is_cut: bool
) -> None:
    after, dice = wholly_lined(draft), Random(seed)
    if is_cut:
        after = kind_named("cut-apart")(
            piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
        ).apply(after)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    shell = after.only(name for name in after.piece_names if not name.endswith("-lining"))
    for piece, pleat in (("back", 20.0), ("front", 0.0)):
        values = {"facings": f"{piece}-neck-facing", "shorter": 20.0, "pleat": pleat}
        try:
            again = lined(shell, piece, **values)
        except CannotChange:
            # A dart of a piece a little below the waist would come down to its shorter hem.
            assert shell.piece(piece).inner_darts
            continue
        assert largest_shift(after, again, f"{piece}-lining") < 0.01


def test_made_before_or_after_a_change_it_is_the_same() -> None:
    lower = kind_named("lower-neck")(piece="front", by=12.0)
    first, second = lower.apply(wholly_lined(block())), wholly_lined(lower.apply(block()))
    for piece in ("front-lining", "back-lining", "sleeve-lining"):
        assert fingerprint(first.only([piece])) == fingerprint(second.only([piece]))


def test_one_with_lines_of_its_own_keeps_them() -> None:
    own = kind_named("redraw-edge")(edge="front-lining.hem", through="50%:3mm")
    drawn = own.apply(lined(kind_named("lengthen")(by=200.0).apply(block()), "front"))
    after = kind_named("lower-neck")(piece="front", by=12.0).apply(drawn)
    assert after.piece("front-lining").edges == drawn.piece("front-lining").edges


def test_on_one_side_of_the_body_it_follows_that_side() -> None:
    draft = wholly_lined(block())
    after = kind_named("lengthen")(piece="back", by=30.0, side="left").apply(draft)
    left, right = (length(after.edge(f"{s}-back-lining", "side")) for s in ("left", "right"))
    assert left > right + 20
    assert right == pytest.approx(length(draft.edge("back-lining", "side")), abs=1e-6)


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"facings": "front-neck-facing"}, "no-facing-of"),
        ({"facings": "back"}, "no-facing-of"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"shorter": 300.0}, "no-room-along"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        lined(faced(block()), "back", **values)
    assert reason in reasons(refused.value.says)


def test_a_facing_across_a_dart_that_stands_in_the_way_is_refused() -> None:
    short = kind_named("move-apex")(dart="back.shoulder", by=62.0).apply(block())
    wide = kind_named("draft-facing")(edge="back.neck", width=70.0).apply(short)
    with pytest.raises(CannotChange) as refused:
        lined(wide, "back", facings="back-neck-facing")
    assert "dart-ends-in-facing" in reasons(refused.value.says)
    armhole = kind_named("draft-facing")(edge="front.armhole", width=40.0).apply(block())
    with pytest.raises(CannotChange) as refused:
        lined(armhole, "front", facings="front-armhole-facing")
    assert "dart-on-faced" in reasons(refused.value.says)


def test_a_facing_that_was_drawn_otherwise_and_a_dart_on_the_centre_are_refused() -> None:
    own = kind_named("true-line")(edge="back-neck-facing.shoulder", by=5.0).apply(faced(block()))
    with pytest.raises(CannotChange) as refused:
        lined(own, "back", facings="back-neck-facing")
    assert "facing-drawn-otherwise" in reasons(refused.value.says)


def test_a_name_and_a_piece_that_cannot_be_are_refused() -> None:
    with pytest.raises(BadParameter):
        lined(block(), "back", name="A lining")
    with pytest.raises(NoSuchName):
        lined(block(), "collar")


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-lining")(piece="back", pleat=20.0, shorter=15.0)
    assert told.in_words(Unit.CENTIMETRE) == (
        "draft the lining of the back, with a pleat of 2 cm and a hem shorter by 1.5 cm "
        "(back-lining)"
    )
    plain = kind_named("draft-lining")(piece="back", name="lined").in_words(Unit.MILLIMETRE)
    assert plain == "draft the lining of the back (lined)"
