import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.fair import closed_points, smallest_radius, stands_out, turns
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.lines.points import dot
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

PIECES = st.sampled_from(["front", "back"])

# The tip of a back waist dart lies close to the armhole: what would reach it is refused.
FRONT_OR_BACK = {"front": 1.0, "back": 0.3}


def scoop(draft: Draft, piece: str, by: float, at: Position | None = None) -> Draft:
    kind = kind_named("scoop-armhole")
    return (kind(piece=piece, by=by, at=at) if at else kind(piece=piece, by=by)).apply(draft)


def scoop_as_far(draft: Draft, piece: str, by: float, at: Position | None = None) -> Draft:
    """Return a draft hollowed by an amount, or as far as it can be, if it can be at all."""
    try:
        return scoop(draft, piece, by, at)
    except CannotChange as refused:
        largest = refused.largest
    return scoop(draft, piece, largest, at) if largest else draft


def moves_inwards(before: Draft, after: Draft, piece: str, level: float) -> list[float]:
    """Return how far an armhole moved square to itself at the level, all along it, darts closed."""
    old = closed(before.edge(piece, "armhole")).chain
    new = closed(after.edge(piece, "armhole")).chain
    inward = old.tangent_at(level) * before.piece(piece).inward
    shares = [k / 400 for k in range(401)]
    places = [old.point_at(old.length * share) for share in shares] + [old.point_at(level)]
    found = []
    for place in places:
        met = new.crossings(place, inward)
        if met:
            found.append(min((dot(new.point_at(at) - place, inward) for at in met), key=abs))
    return found


@given(drafts(), PIECES, st.floats(-12, 20).filter(lambda by: abs(by) > 0.1))
@settings(max_examples=50)
def test_the_ends_stay_and_the_largest_move_is_the_amount(
    draft: Draft, piece: str, by: float
) -> None:
    by *= FRONT_OR_BACK[piece]
    after = scoop(draft, piece, by)
    old, new = draft.piece(piece), after.piece(piece)
    armhole = old.edge("armhole")
    level = 0.55 * armhole.length
    place = armhole_point(draft, piece, level)
    inward = closed(armhole).chain.tangent_at(level) * old.inward
    moved = closed(new.edge("armhole")).chain
    assert abs(moved.point_at(moved.nearest(place + inward * by)) - place - inward * by) < 0.01
    largest = max(moves_inwards(draft, after, piece, level), key=abs)
    assert largest == pytest.approx(by, abs=max(0.01, abs(by) * 0.01))
    for corner in ("shoulder-point", "underarm"):
        assert new.corner(corner) == old.corner(corner)
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)
    assert all(new.edge(e) is old.edge(e) for e in new.edge_names if e != "armhole")


def armhole_point(draft: Draft, piece: str, level: float) -> complex:
    return closed(draft.edge(piece, "armhole")).chain.point_at(level)


@given(drafts(), PIECES, st.floats(2, 20))
@settings(max_examples=40)
def test_hollowing_an_armhole_lengthens_it_and_eats_cap_ease_one_for_one(
    draft: Draft, piece: str, by: float
) -> None:
    # common practice, no source
    by *= FRONT_OR_BACK[piece]
    before, after = measures(draft), measures(scoop(draft, piece, by))
    gained = after[f"{piece}.armhole"] - before[f"{piece}.armhole"]
    assert gained > 0
    assert before["sleeve.cap-ease"] - after["sleeve.cap-ease"] == pytest.approx(gained, abs=1e-6)


@given(drafts(), PIECES, st.floats(-12, 25).filter(lambda by: abs(by) > 1), st.floats(0.2, 0.8))
@settings(max_examples=30)
def test_the_hollowed_armhole_is_one_smooth_line_with_its_dart_closed(
    draft: Draft, piece: str, by: float, share: float
) -> None:
    by *= FRONT_OR_BACK[piece]
    after = scoop_as_far(draft, piece, by, Position("shoulder-point", share=share))
    edge = after.edge(piece, "armhole")
    assert sharpest_bend(after.piece(piece), "armhole") < 0.01
    for mouth in edge.mouths:
        assert closed(edge).kink_degrees(mouth.dart.name) < 0.01
        assert mouth.legs[0] == pytest.approx(mouth.legs[1], abs=1e-6)


@given(drafts(), PIECES, st.floats(-20, 20).filter(lambda by: abs(by) > 1))
@settings(max_examples=30)
@pytest.mark.parametrize("share", [0.0001, 0.05, 0.1, 0.2, 0.55, 0.85, 0.95, 0.999])
def test_near_an_end_it_is_drawn_fair_or_refused(
    share: float, draft: Draft, piece: str, by: float
) -> None:
    """Once 6 mm at 95 % bent as a circle of 7 mm, and 10 mm at 0.01 % were a step."""
    after = scoop_as_far(draft, piece, by, Position("shoulder-point", share=share))
    before = closed_points(draft.edge(piece, "armhole"))
    line = closed_points(after.edge(piece, "armhole"))
    assert smallest_radius(line) > 14
    assert len(turns(before, 3.0)) == 1
    back = sorted(abs(each) for each in turns(line, 3.0))[:-1]
    assert all(each < 20 for each in back[:-1])
    assert not back or stands_out(line) < 0.6 or min(back) < 15


def test_what_can_be_hollowed_near_an_end_is_told() -> None:
    with refusing(CannotChange, match=r"bend .* from its shoulder point") as error:
        scoop(block(), "front", 6, Position("shoulder-point", share=0.95))
    assert error.value.largest == pytest.approx(2, abs=0.5)


def test_hollowing_again_and_again_does_not_multiply_the_curves() -> None:
    draft = block()
    for _ in range(30):
        draft = scoop(draft, "front", 0.3)
    assert sum(len(part.cubics) for part in draft.edge("front", "armhole").parts) < 16


def test_a_level_at_the_end_of_the_armhole_is_refused() -> None:
    with refusing(CannotChange, match="choose a place between"):
        scoop(block(), "front", 5, Position("underarm", distance=0))


@given(drafts(), PIECES, st.floats(-3000, 3000))
@settings(max_examples=40)
def test_no_amount_gives_a_broken_piece(draft: Draft, piece: str, by: float) -> None:
    try:
        after = scoop(draft, piece, by)
    except GeometryError:
        return
    assert after.piece(piece).is_simple


def test_too_much_is_refused_with_what_is_possible() -> None:
    with refusing(CannotChange, match=r"scoop-armhole cannot be done on front\.") as error:
        scoop(block(), "front", 400)
    largest = error.value.largest
    assert largest is not None
    assert scoop(block(), "front", largest).piece("front").is_simple


def test_a_waist_dart_in_the_way_stops_it_whether_open_or_double_pointed() -> None:
    largest = []
    for draft in (block(), kind_named("lengthen")(by=150.0).apply(block())):
        with refusing(CannotChange, match=r"back\.armhole") as error:
            scoop(draft, "back", 20)
        largest.append(error.value.largest)
    assert largest[0] == pytest.approx(largest[1], abs=0.2)


def test_it_needs_its_piece() -> None:
    with pytest.raises(NoSuchName):
        scoop(block().only(["back"]), "front", 5)


def test_it_means_the_chest() -> None:
    change = kind_named("scoop-armhole")(piece="front", by=5)
    assert change.meant(block()) == ("front.chest-width",)
    assert set(change.knock_on(block())) <= set(measures(block()))
    assert measure(scoop(block(), "front", 5), "front.chest-width") == pytest.approx(
        measure(block(), "front.chest-width") - 5, abs=0.5
    )
