"""How far edges moved, against shapely's Hausdorff distance of the two lines finely flattened."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.changes import read_change
from geometry.changes.base import kind_named
from geometry.comparison import compare
from geometry.draft import Draft
from geometry.piece import Edge
from geometry.tolerance import UNCHANGED
from geometry.units import Unit
from tests.strategies import drafts

CHANGES = st.sampled_from(
    (
        ("scoop-armhole", {"piece": "front", "by": "8mm"}),
        ("shorten-shoulder", {"by": "-6mm"}),
        ("lower-neck", {"piece": "front", "by": "20mm"}),
        ("slope-shoulder", {"by": "5mm"}),
        ("widen-sleeve", {"by": "12mm"}),
    )
)


def changed(draft: Draft, change: tuple[str, dict[str, str]]) -> Draft:
    name, values = change
    return read_change(kind_named(name), values, Unit.MILLIMETRE).apply(draft)


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


@given(drafts(), CHANGES)
@settings(max_examples=8)
def test_every_edge_that_moved_is_named_by_as_much_as_its_hausdorff_distance(draft, change):
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
            assert apart <= UNCHANGED + 0.05


@given(drafts(), drafts())
@settings(max_examples=2)
def test_two_bodies_agree_as_they_are_laid(old, new):
    found = compare(old, new)
    for move in found.edges:
        one, other = (d.edge(move.piece, move.edge) for d in (found.old, found.new))
        assert move.distance == pytest.approx(hausdorff(one, other), abs=0.05)
