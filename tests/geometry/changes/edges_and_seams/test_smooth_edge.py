import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees
from tests.fair import Points, closed_points, smallest_radius, turns
from tests.geometry.changes.tape_measure import angles
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes.base import kind_named
from trueup.geometry.changes.edges_and_seams.smooth_edge import SmoothEdge
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

CURVED = st.sampled_from(
    ["front.neck", "front.armhole", "front.hem", "back.neck", "back.armhole", "sleeve.cap"]
)
COUNTS = st.integers(0, 12).map(float)


def farthest(points: Points, line: Points) -> float:
    """Return how far points lie from a line through points, at most, mm."""
    starts, steps = line[:-1], np.diff(line)
    steps = np.where(steps == 0, 1e-9, steps)
    away = points[:, None] - starts
    share = np.clip((away * steps.conj()).real / np.abs(steps) ** 2, 0, 1)
    return float(np.abs(away - share * steps).min(axis=1).max())


def apart(one: Points, other: Points) -> float:
    return max(farthest(one, other), farthest(other, one))


def smoothed(draft: Draft, name: str, points: float) -> Draft:
    """Return the draft with an edge smoothed, with another number of points where it says so."""
    try:
        return SmoothEdge(edge=name, points=points).apply(draft)
    except CannotChange as refusal:
        points = float(refusal.possible.facts["points"])
    return SmoothEdge(edge=name, points=points).apply(draft)


@given(st.one_of(drafts(), side_dart_blocks()), CURVED, COUNTS)
@settings(max_examples=80, deadline=None)
def test_the_line_keeps_ends_and_directions_and_is_fair(
    draft: Draft, name: str, points: float
) -> None:
    after = smoothed(draft, name, points)
    assert_sound(after)
    piece, _, edge = name.partition(".")
    old, new = draft.edge(piece, edge), after.edge(piece, edge)
    assert (new.start, new.end) == (old.start, old.end)
    for corner in (old.starts_at, old.ends_at):
        assert corner_degrees(after.piece(piece), corner) == pytest.approx(
            corner_degrees(draft.piece(piece), corner), abs=1e-4
        )
    assert [mouth.dart for mouth in new.mouths] == [mouth.dart for mouth in old.mouths]
    assert angles(after.piece(piece)) == pytest.approx(angles(draft.piece(piece)), abs=1e-9)
    assert smallest_radius(closed_points(new)) > 14.5
    for other in draft.edge_names:
        if other != name:
            assert after.edge(*other.split(".")) is draft.edge(*other.split("."))


@given(st.one_of(drafts(), side_dart_blocks()), CURVED)
@settings(max_examples=40, deadline=None)
def test_it_runs_through_its_points_and_a_fair_line_hardly_moves(draft: Draft, name: str) -> None:
    lines = [
        closed_points(smoothed(draft, name, points).edge(*name.split("."))) for points in (4, 12)
    ]
    was = closed_points(draft.edge(*name.split(".")))
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(was)))])
    for count, line in zip((4, 12), lines, strict=True):
        wanted = along[-1] * np.arange(1, count + 1) / (count + 1)
        stops = np.interp(wanted, along, was.real) + 1j * np.interp(wanted, along, was.imag)
        assert farthest(stops, line) < 0.05
    assert apart(was, lines[1]) < 1.0
    assert apart(was, lines[0]) < 5.0


WAVES = {
    "back.armhole": "20%:14mm 35%:16mm 50%:34mm 65%:31mm 80%:42mm",
    "back.side": "20%:2mm 40%:-2mm 60%:2mm 80%:-2mm",
    "back.neck": "30%:9mm 50%:20mm 70%:14mm",
}


@given(drafts(), st.sampled_from(sorted(WAVES)))
@settings(max_examples=30, deadline=None)
def test_waves_go(draft: Draft, name: str) -> None:
    waved = kind_named("redraw-edge", 1)(edge=name, through=WAVES[name]).apply(draft)
    edges = [each.edge(*name.split(".")) for each in (waved, smoothed(waved, name, 2.0))]
    was, now = (turns(closed_points(edge), 3.0) for edge in edges)
    assert len(now) < len(was)


def test_too_many_points_follow_the_wave_and_are_refused_with_how_many_do() -> None:
    waved = kind_named("redraw-edge", 1)(edge="back.armhole", through=WAVES["back.armhole"])
    with refusing(CannotChange, match="through 8 of its points is not fair; draw it through"):
        SmoothEdge(edge="back.armhole", points=8.0).apply(waved.apply(block()))


def test_a_kink_where_a_dart_is_closed_goes() -> None:
    deeper = kind_named("deepen-dart", 1)(dart="front.waist", by=15.0).apply(block())
    after = SmoothEdge(edge="front.hem", points=1.0).apply(deeper)
    assert len(turns(closed_points(after.edge("front", "hem")), 2.0)) <= 2
    assert after.mouth("front.waist").dart == deeper.mouth("front.waist").dart


def test_a_straight_edge_is_left_as_it_is() -> None:
    assert SmoothEdge(edge="front.shoulder").apply(block()) is block()


# --- on one side, and on what is cut apart --------------------------------------------------------


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = SmoothEdge(edge="back.armhole", points=3.0, side="left").apply(block())
    assert after.edge("right-back", "armhole") == block().edge("back", "armhole")
    assert after.edge("left-back", "armhole") != block().edge("back", "armhole")


def test_on_pieces_that_were_cut_apart_it_is_one_line() -> None:
    yoke = {"at": "40% from shoulder-point", "ends_at": "25% from neck-centre", "line": "yoke"}
    cut = change("cut-apart", piece="back", begins="armhole", ends="centre", **yoke)
    smooth = SmoothEdge(edge="back.armhole", points=3.0)
    after, uncut = smooth.apply(cut.apply(block())), smooth.apply(block())
    points = closed_points(uncut.edge("back", "armhole"))
    assert apart(points, closed_points(after.edge("back", "armhole"))) < 0.05
    upper = closed_points(after.edge("back-upper", "armhole"))
    assert farthest(upper, points) < 0.05


# --- what is refused ------------------------------------------------------------------------------


def test_an_edge_on_the_fold_is_refused() -> None:
    with refusing(CannotChange, match="fold of the cloth and must stay straight; name another"):
        SmoothEdge(edge="front.centre").apply(block())


def test_an_edge_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        SmoothEdge(edge="front.seam").apply(block())


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_half_a_point_is_refused() -> None:
    with refusing(BadParameter, match="whole number"):
        SmoothEdge(edge="front.armhole", points=2.5)


def test_it_is_told_in_words() -> None:
    told = change("smooth-edge", edge="front.armhole", points=3).in_words(Unit.MILLIMETRE)
    assert told == "smooth the edge front.armhole through 3 of its points"
    told = change("smooth-edge", edge="front.neck", points=0, side="left").in_words(Unit.INCH)
    assert told == "smooth the edge front.neck from end to end on the left"


@pytest.mark.parametrize("points", [3, 4, 8])
def test_a_hollower_armhole_of_the_block_arrives_through_it(points: int) -> None:
    smooth = step("s1", "smooth-edge", edge="front.armhole", points=points)
    bench = Bench(state(block_node(), child("vest", smooth)))
    was = closed_points(bench.evaluator.draft("vest").edge("front", "armhole"))
    found = bench.correct("village", change("scoop-armhole", piece="front", by="3mm"))
    assert pattern(found, "vest").verdict is Verdict.CARRIED
    now = closed_points(bench.evaluator.draft("vest").edge("front", "armhole"))
    assert apart(was, now) == pytest.approx(3, abs=0.25)
