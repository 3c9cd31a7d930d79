"""How far edges moved, against shapely's Hausdorff distance of the two lines finely flattened."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.strategies import drafts
from trueup.geometry.changes import read_change
from trueup.geometry.changes.base import kind_named
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.comparing.distance import farthest, lie_apart
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.units import Unit

CHANGES = (
    ("scoop-armhole", {"piece": "front", "by": "8mm"}),
    ("shorten-shoulder", {"by": "-6mm"}),
    ("lower-neck", {"piece": "front", "by": "20mm"}),
    ("slope-shoulder", {"by": "5mm"}),
    ("widen-sleeve", {"by": "12mm"}),
    ("deepen-dart", {"dart": "front.bust", "by": "4mm"}),
    ("rotate-dart", {"dart": "front.bust", "edge": "front.side", "at": "30% from underarm"}),
)


places = st.builds(complex, st.integers(0, 60), st.integers(0, 60))


def changed(draft: Draft, change: tuple[str, dict[str, str]]) -> Draft:
    name, values = change
    return read_change(kind_named(name), values, Unit.MILLIMETRE).apply(draft)


def zigzag(points: list[complex]) -> Edge:
    return Edge("edge", "start", "end", (Chain.line(*points),))


zigzags = st.lists(places, min_size=2, max_size=5, unique=True).map(zigzag)


def hausdorff(one: Edge, other: Edge) -> float:
    if one == other:
        return 0.0
    lines = [
        shapely.MultiLineString(
            [[(p.real, p.imag) for p in part.flattened(0.001)] for part in edge.parts]
        )
        for edge in (one, other)
    ]
    fine = [shapely.segmentize(line, 0.09) for line in lines]
    return float(shapely.hausdorff_distance(*fine))


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change[0])
@given(drafts())
@settings(max_examples=3)
def test_every_edge_that_moved_is_named_by_as_much_as_its_hausdorff_distance(change, draft):
    new = changed(draft, change)
    found = compare(draft, new)
    named = {move.name: move.distance for move in found.moves}
    assert named
    for full_name in draft.edge_names:
        piece, edge = draft.split_edge_name(full_name)
        apart = hausdorff(draft.edge(piece, edge), new.edge(piece, edge))
        if full_name in named:
            assert named[full_name] == pytest.approx(apart, abs=0.05)
        else:
            assert apart <= 0.05 + 0.05


@given(zigzags, zigzags)
@settings(max_examples=40)
def test_any_two_lines_lie_as_far_apart_as_their_hausdorff_distance(one, other):
    found = farthest(one, other)
    assert found.distance == pytest.approx(hausdorff(one, other), abs=0.05)
    assert abs(found.on_one - found.on_other) == pytest.approx(found.distance, abs=0.01)


def test_a_line_whose_gap_is_closed_moved_by_half_the_gap():
    halves = (Chain.line(0j, 93 + 0j), Chain.line(106 + 0j, 200 + 0j))
    gap = Edge("edge", "start", "end", halves, (Dart("dart", 99.5 + 80j),))
    whole = zigzag([0j, 200 + 0j])
    assert farthest(whole, gap).distance == pytest.approx(6.5, abs=0.02)
    assert farthest(gap, whole).distance == pytest.approx(6.5, abs=0.02)


@given(drafts(), drafts())
@settings(max_examples=2)
def test_two_bodies_agree_as_they_are_laid(old, new):
    found = compare(old, new)
    for move in found.edges:
        one, other = (d.edge(move.piece, move.edge) for d in (found.old, found.new))
        assert move.distance == pytest.approx(hausdorff(one, other), abs=0.05)


@given(zigzags, zigzags, st.floats(0.01, 60))
@settings(max_examples=40)
def test_lines_lie_apart_by_less_than_their_hausdorff_distance(one, other, by):
    apart = hausdorff(one, other)
    if abs(apart - by) > 0.05:
        assert lie_apart(one, other, by) is (apart > by)
