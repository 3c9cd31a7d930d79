from itertools import pairwise
from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled, turns
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

PETER_PAN = {"width": 60.0, "overlap": 12.0, "fold": True}


def collar(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-flat-collar")(**{**PETER_PAN, **values}).apply(draft)


def points(draft: Draft, edge: str) -> np.ndarray:
    return sampled(draft.edge("collar", edge).parts[0])


def length(line: np.ndarray) -> float:
    return float(np.abs(np.diff(line)).sum())


def neck(draft: Draft) -> float:
    return sum(length(closed_points(draft.edge(piece, "neck"))) for piece in ("front", "back"))


def turned(line: np.ndarray) -> float:
    """Return by how many degrees a line turns in all."""
    steps = np.diff(line)
    headings = np.unwrap(np.angle(steps[np.abs(steps) > 1e-9]))
    return float(np.degrees(abs(headings[-1] - headings[0])))


def shoulder(edge: Edge) -> float:
    line = closed_points(edge)
    return float(abs(line[-1] - line[0]))


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(0, 100), st.floats(30, 120))
@settings(max_examples=40)
def test_it_is_as_long_as_the_neck_and_turns_less_by_the_angle_of_the_overlap(
    draft: Draft, overlap: float, width: float
) -> None:
    after = collar(draft, overlap=overlap, width=width)
    sewn = points(after, "sewn-edge")
    assert length(sewn) == pytest.approx(neck(draft), abs=0.01)
    reach = min(shoulder(draft.edge(piece, "shoulder")) for piece in ("front", "back"))
    angle = np.degrees(2 * np.arcsin(overlap / 2 / reach))
    flat = points(collar(draft, overlap=0.0), "sewn-edge")
    assert turned(flat) - turned(sewn) == pytest.approx(angle, abs=1)


@given(drafts(), st.floats(0, 80), st.floats(30, 120))
@settings(max_examples=30)
def test_it_is_as_wide_everywhere_and_square_to_the_centre_back(
    draft: Draft, overlap: float, width: float
) -> None:
    after = collar(draft, overlap=overlap, width=width)
    sewn, outer = points(after, "sewn-edge"), points(after, "outer-edge")
    line = shapely.LineString(np.column_stack([sewn.real, sewn.imag]))
    apart = shapely.distance(shapely.points(np.column_stack([outer.real, outer.imag])), line)
    assert np.abs(apart - width).max() < 0.3
    centre = after.edge("collar", "centre")
    along = centre.end - centre.start
    for edge in (sewn[1] - sewn[0], outer[-2] - outer[-1]):
        assert abs((edge / abs(edge) / along * abs(along)).real) < 0.02
    assert [each for each in check(after) if each not in check(draft)] == []


@given(drafts(), st.floats(5, 80))
@settings(max_examples=20)
def test_the_more_it_overlaps_the_shorter_is_its_outer_edge(draft: Draft, overlap: float) -> None:
    """Beside a line of one length, a line so far out is longer by width times its turn."""
    flat, standing = collar(draft, overlap=0.0), collar(draft, overlap=overlap)
    reach = min(shoulder(draft.edge(piece, "shoulder")) for piece in ("front", "back"))
    shorter = length(points(flat, "outer-edge")) - length(points(standing, "outer-edge"))
    assert shorter == pytest.approx(60 * 2 * np.arcsin(overlap / 2 / reach), abs=1.0)


def test_without_an_overlap_it_lies_on_the_garment() -> None:
    draft = block()
    sewn = points(collar(draft, overlap=0.0), "sewn-edge")
    back = sampled(draft.edge("back", "neck").parts[0])
    line = shapely.LineString(np.column_stack([sewn.real, sewn.imag]))
    apart = shapely.distance(shapely.points(np.column_stack([back.real, back.imag])), line)
    assert apart.max() < 1e-3


@given(drafts(), st.floats(1, 12))
@settings(max_examples=20)
def test_lowered_it_ends_lower_and_stays_as_long(draft: Draft, by: float) -> None:
    plain, lower = (
        points(collar(draft), "sewn-edge"),
        points(collar(draft, lowered=by), "sewn-edge"),
    )
    assert length(lower) == pytest.approx(length(plain), abs=0.01)
    square = (plain[-1] - plain[-2]) / abs(plain[-1] - plain[-2]) * 1j
    down = ((lower[-1] - plain[-1]) / square).real
    assert abs(down) == pytest.approx(by, abs=0.1)
    back = length(closed_points(draft.edge("back", "neck")))
    places = []
    for line in (plain, lower):
        along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(line)))])
        at = np.linspace(0.0, back - 5, 20)
        places.append(np.interp(at, along, line.real) + 1j * np.interp(at, along, line.imag))
    assert np.abs(places[0] - places[1]).max() < 0.1


@given(drafts(), st.floats(16, 55), st.floats(50, 90), st.floats(-0.4, 0.4))
@settings(max_examples=30)
def test_its_front_ends_in_a_point_or_is_round(
    draft: Draft, reach: float, point: float, share: float
) -> None:
    lean = share * point
    pointed = collar(draft, point=point, lean=lean)
    front = pointed.edge("collar", "front-edge")
    assert length(sampled(front.parts[0])) == pytest.approx(point, abs=1e-6)
    reach = min(reach, point - 2)
    rounded = collar(draft, point=point, lean=lean, rounded=reach)
    assert length(points(rounded, "front-edge")) == pytest.approx(point - reach, abs=1e-6)
    whole = np.concatenate([points(rounded, "front-edge"), points(rounded, "outer-edge")[1:]])
    steps = np.diff(whole)
    headings = np.unwrap(np.angle(steps[np.abs(steps) > 1e-9]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 5
    assert rounded.piece("collar").is_simple


@given(drafts(), st.floats(0, 40))
@settings(max_examples=20)
def test_its_lines_wave_nowhere(draft: Draft, overlap: float) -> None:
    after = collar(draft, overlap=overlap)
    for edge in ("sewn-edge", "outer-edge"):
        assert len(turns(points(after, edge), 3.0)) == 1


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_it_follows_neck_and_shoulders_through_every_change(draft: Draft, seed: int) -> None:
    after, dice = collar(draft), Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    assert length(points(after, "sewn-edge")) == pytest.approx(neck(after), abs=0.02)
    try:
        again = collar(after.only(n for n in after.piece_names if n != "collar"))
    except CannotChange:
        assert not after.piece("collar").is_simple
        return
    assert np.abs(points(after, "outer-edge") - points(again, "outer-edge")).max() < 0.01


def test_made_before_or_after_a_change_of_the_shoulder_it_is_the_same() -> None:
    shorter = kind_named("shorten-shoulder")(by=12.0)
    assert fingerprint(shorter.apply(collar(block()))) == fingerprint(
        collar(shorter.apply(block()))
    )


@pytest.mark.parametrize("piece", ["front", "back"])
@pytest.mark.parametrize("shape", ["v", "square"])
def test_it_has_the_corners_of_the_neck_and_stays_as_wide(shape: str, piece: str) -> None:
    lower = kind_named("lower-neck")(piece="front", by=60.0).apply(block())
    draft = kind_named("shape-neck")(piece=piece, shape=shape).apply(lower)
    after = collar(draft)
    sewn, outer = points(after, "sewn-edge"), points(after, "outer-edge")
    assert length(sewn) == pytest.approx(neck(draft), abs=0.01)
    assert [each for each in check(after) if each.piece == "collar"] == []
    line = shapely.LineString(np.column_stack([sewn.real, sewn.imag]))
    apart = shapely.distance(shapely.points(np.column_stack([outer.real, outer.imag])), line)
    assert np.median(apart) == pytest.approx(60, abs=2)
    # Beside a V the front edge runs down the centre, and so aslant.
    assert apart.min() > (35 if (shape, piece) == ("v", "front") else 55)


def test_on_one_side_of_the_body_it_follows_that_side() -> None:
    after = kind_named("lower-neck")(piece="front", by=20.0, side="left").apply(collar(block()))
    left, right = (
        length(sampled(after.edge(f"{side}-collar", "sewn-edge").parts[0]))
        for side in ("left", "right")
    )
    assert left > right + 5
    assert right == pytest.approx(neck(block()), abs=0.01)


def test_it_is_drafted_to_a_front_that_was_cut_apart() -> None:
    princess = kind_named("cut-apart")(
        piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
    )
    first, second = princess.apply(collar(block())), collar(princess.apply(block()))
    for edge in ("sewn-edge", "outer-edge"):
        assert np.abs(points(first, edge) - points(second, edge)).max() < 1e-6


def test_it_is_notched_at_the_shoulder() -> None:
    (notch,) = collar(block()).piece("collar").notches
    back = length(closed_points(block().edge("back", "neck")))
    assert notch.at.distance == pytest.approx(back, abs=0.01)


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"lowered": 40.0, "to": "back.shoulder front.shoulder"}, "lines-do-not-meet"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"rounded": 80.0}, "rounds-too-far"),
        ({"lowered": 40.0, "overlap": 190.0}, "lowers-too-far"),
        ({"overlap": 190.0, "to": "back.hem front.hem"}, "overlaps-too-far"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        collar(block(), **values)
    assert reason in reasons(refused.value.says)


@pytest.mark.parametrize(
    ("values", "what"),
    [
        ({"to": "back.neck"}, "name-two-lines"),
        ({"lean": 60.0}, "lean-at-most"),
        ({"name": "A collar"}, "write-name"),
    ],
)
def test_what_no_collar_can_be_is_refused_as_it_is_written(
    values: dict[str, object], what: str
) -> None:
    with pytest.raises(BadParameter) as raised:
        collar(block(), **values)
    assert what in str(raised.value.says)


def test_a_line_that_is_not_there_is_named() -> None:
    with pytest.raises(NoSuchName):
        collar(block(), to="back.neck front.collar")


def test_its_ring_is_closed() -> None:
    edges = collar(block(), rounded=30.0).piece("collar").edges
    assert all(before.end == now.start for before, now in pairwise((*edges, edges[0])))


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-flat-collar")(**PETER_PAN).in_words(Unit.CENTIMETRE)
    assert told == (
        "draft the flat collar to back.neck and front.neck, 6 cm wide, overlapping by 1.2 cm"
    )
