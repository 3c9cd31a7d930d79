"""Two makers and a traced block: a drawing is taken from the side that redrew it, never joined."""

import pytest

from trueup.geometry.units import Unit
from trueup.lineage.files.records import NodeRecord, TracedDraft, replace
from trueup.lineage.merging.nodes import merge_node
from trueup.lineage.merging.three_way import Sides
from trueup.lineage.store.joins.merge_errors import CannotJoin

BASE = NodeRecord(name="coat", is_block=True, traced=TracedDraft("coat.svg", "<svg/>"))


def redrawn(drawing: str) -> NodeRecord:
    return replace(BASE, traced=TracedDraft("coat.svg", drawing))


def merged(ours: NodeRecord, theirs: NodeRecord) -> NodeRecord:
    return merge_node(BASE, ours, theirs, Sides(), Unit.MILLIMETRE).node


def test_the_side_that_redrew_it_is_taken():
    assert merged(BASE, redrawn("<a/>")) == redrawn("<a/>")
    assert merged(redrawn("<a/>"), BASE) == redrawn("<a/>")
    assert merged(redrawn("<a/>"), redrawn("<a/>")) == redrawn("<a/>")


def test_two_ways_of_redrawing_it_are_not_joined():
    with pytest.raises(CannotJoin, match=r"blocks/coat\.svg"):
        merged(redrawn("<a/>"), redrawn("<b/>"))
