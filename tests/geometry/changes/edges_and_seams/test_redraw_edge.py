import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import corner_degrees, sharpest_bend
from tests.fair import closed_points
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.cli.wording.words import worded_error
from trueup.geometry.changes import kind_named, read_change, write_change
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measure, measures
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

SMALL = st.floats(-6, 6)
EDGES = st.sampled_from(["front.armhole", "back.armhole", "front.neck", "back.side", "sleeve.cap"])


def redraw(draft: Draft, edge: str, through: str) -> Draft:
    return kind_named("redraw-edge")(edge=edge, through=through).apply(draft)


def drawn_as_it_is(draft: Draft, edge: str, off: list[float]) -> str:
    """Return points at quarters of an edge's straight way, each so far off the edge as it is."""
    piece_name, edge_name = edge.split(".")
    piece = draft.piece(piece_name)
    line = closed(piece.edge(edge_name)).chain
    way = line.end - line.start
    inward = way / abs(way) * piece.inward
    points = []
    for share, more in zip((0.25, 0.5, 0.75), off, strict=True):
        foot = line.start + way * share
        met = [((line.point_at(at) - foot) / inward).real for at in line.crossings(foot, inward)]
        depth = min(met, key=abs) if met else 0.0
        points.append(f"{share * 100:g}%:{depth + more:.4f}mm")
    return " ".join(points)


@given(drafts(), EDGES, st.lists(SMALL, min_size=3, max_size=3))
@settings(max_examples=60)
def test_the_line_runs_through_its_points_and_keeps_ends_and_directions(
    draft: Draft, name: str, off: list[float]
) -> None:
    through = drawn_as_it_is(draft, name, off)
    piece_name, edge_name = name.split(".")
    after = redraw(draft, name, through)
    old, new = draft.piece(piece_name), after.piece(piece_name)
    edge = new.edge(edge_name)
    assert (edge.start, edge.end) == (old.edge(edge_name).start, old.edge(edge_name).end)
    for corner in (edge.starts_at, edge.ends_at):
        assert corner_degrees(new, corner) == pytest.approx(corner_degrees(old, corner), abs=1e-4)
    line, was = closed(edge).chain, closed(old.edge(edge_name)).chain
    way = was.end - was.start
    inward = way / abs(way) * old.inward
    for point in through.split():
        share, _, depth = point.removesuffix("mm").partition("%:")
        wanted = was.start + way * float(share) / 100 + inward * float(depth)
        assert abs(line.point_at(line.nearest(wanted)) - wanted) < 1e-6
    assert sharpest_bend(new, edge_name) < 0.01
    assert all(new.edge(e) is old.edge(e) for e in new.edge_names if e != edge_name)
    for mouth in edge.mouths:
        assert mouth.legs[0] == pytest.approx(mouth.legs[1], abs=1e-6)


def test_it_follows_when_a_correction_moves_its_ends() -> None:
    drawn = drawn_as_it_is(block(), "front.armhole", [3.0, 4.0, 2.0])
    lowered = kind_named("lower-armhole")(by=20.0).apply(block())
    after = redraw(lowered, "front.armhole", drawn)
    assert after.piece("front").corner("underarm") == lowered.piece("front").corner("underarm")
    longer = measure(after, "front.armhole") - measure(
        redraw(block(), "front.armhole", drawn), "front.armhole"
    )
    assert 10 < longer < 25


@pytest.mark.parametrize("depth", ["-25mm", "10mm", "40mm"])
def test_a_straight_edge_stays_straight_up_to_the_points_drawn_on_it(depth: str) -> None:
    """It once swung out at its ends, by the more the further in the first point on it lay."""
    through = f"15%:0mm 30%:0mm 50%:{depth} 70%:0mm 85%:0mm"
    swings = {}
    for version in (1, 2):
        drawn = kind_named("redraw-edge", version)(edge="back.side", through=through)
        line = closed_points(drawn.apply(block()).edge("back", "side"))
        way = line[-1] - line[0]
        along = (line - line[0]) / way
        ends = (along.real < 0.3) | (along.real > 0.7)
        swings[version] = float(np.abs(along.imag[ends]).max() * abs(way))
    assert swings[2] < 1e-6
    assert swings[1] > 0.1


def test_inches_commas_and_outward_distances_are_read() -> None:
    drawn = redraw(block(), "back.side", "30%: 1/2in, 60%:-1/4in")
    line = drawn.edge("back", "side").parts[0]
    start, end = block().edge("back", "side").start, block().edge("back", "side").end
    inward = (end - start) / abs(end - start) * block().piece("back").inward
    for share, depth in ((0.3, 12.7), (0.6, -6.35)):
        wanted = start + (end - start) * share + inward * depth
        assert abs(line.point_at(line.nearest(wanted)) - wanted) < 1e-6


def test_two_ways_of_writing_the_same_points_draw_the_same_line() -> None:
    one = redraw(block(), "back.side", "30%:1 1/2in 60%:25.4mm")
    other = redraw(block(), "back.side", "30% : 38.1mm;60%:1in")
    assert measure(one, "back.side") == pytest.approx(measure(other, "back.side"))


@pytest.mark.parametrize(
    ("through", "says"),
    [
        ("", "1 to 24 points"),
        ("hello", "write it like"),
        ("25%:6mm 50%", "write it like"),
        ("25%:6", "unit"),
        ("25%:6ft", "ft is not a known unit"),
        ("0%:6mm", "between 0% and 100%"),
        ("120%:6mm", "between 0% and 100%"),
        ("50%:6mm 25%:3mm", "go up"),
        ("50%:6mm 50%:3mm", "go up"),
        ("50%:nanmm", "through cannot be"),
        (" ".join(f"{k}%:1mm" for k in range(1, 40)), "1 to 24 points"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(through: str, says: str) -> None:
    with refusing(BadParameter, match=says) as error:
        kind_named("redraw-edge")(edge="front.armhole", through=through)
    assert worded_error(error.value).endswith(".")


@given(st.text(max_size=80))
@settings(max_examples=100)
def test_no_text_gives_anything_but_points_or_a_refusal(text: str) -> None:
    try:
        kind_named("redraw-edge")(edge="front.armhole", through=text)
    except GeometryError:
        return


def test_it_survives_being_written_and_read() -> None:
    change = kind_named("redraw-edge")(edge="front.armhole", through="25%:6mm 50%:14mm")
    again = read_change(type(change), write_change(change), Unit.INCH)
    assert again == change


def test_the_fold_cannot_be_redrawn() -> None:
    with refusing(CannotChange, match=r"front\.centre.*fold"):
        redraw(block(), "front.centre", "50%:5mm")


def test_an_edge_that_is_not_there_is_refused() -> None:
    with pytest.raises(NoSuchName, match="armhole"):
        redraw(block(), "front.armhol", "50%:5mm")


@given(drafts(), EDGES, st.lists(st.floats(-900, 900), min_size=1, max_size=4))
@settings(max_examples=60)
def test_no_line_gives_a_broken_piece(draft: Draft, name: str, depths: list[float]) -> None:
    through = " ".join(f"{20 * (k + 1)}%:{depth:.3f}mm" for k, depth in enumerate(depths))
    try:
        after = redraw(draft, name, through)
    except GeometryError:
        return
    assert all(piece.is_simple for piece in after.pieces)


def test_it_means_the_length_of_the_edge() -> None:
    change = kind_named("redraw-edge")(edge="front.armhole", through="50%:5mm")
    assert change.meant(block()) == ("front.armhole",)
    assert set(change.meant(block())) <= set(measures(block()))
