"""Lines of a graph: bridged where they cross, beside each other elsewhere, behind no frame.

Judged on what is drawn, by shapely: nothing of how a line finds its way is asked.
"""

import re
from itertools import combinations
from xml.etree import ElementTree

import shapely
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.drawing.graph.graph_key import graph_key
from trueup.cli.drawing.graph.picture import tree_picture
from trueup.cli.drawing.key import Sample
from trueup.cli.drawing.scene.writer import svg_text
from trueup.lineage.files.records import NodeRecord, ParentRecord, Settings
from trueup.lineage.files.state import State

SVG = "{http://www.w3.org/2000/svg}"
NEAR = 7.5  # from the top of an arc, all of it
HIGH, WIDE = 4.0, 8.0  # an arc is; a line across is not high, and one down not wide


@st.composite
def states(draw: st.DrawFn) -> State:
    """Draw wardrobes in which patterns take from up to three others, some of them held."""
    names = [f"n{number:02}" for number in range(draw(st.integers(2, 14)))]
    nodes = {}
    for place, name in enumerate(names):
        earlier = [draw(st.sampled_from(names[:place])) for _ in range(3 if place else 0)]
        above = list(dict.fromkeys(earlier[: draw(st.integers(0, 3))]))
        parents = tuple(
            ParentRecord(each, None, "a" * 40 if draw(st.booleans()) else None) for each in above
        )
        nodes[name] = NodeRecord(name, not above, parents)
    return State(Settings("store", "mm"), nodes)


def drawn(state: State) -> ElementTree.Element:
    links = {name: f"#/{name}" for name in state.nodes}
    words = dict.fromkeys(list(state.nodes)[::2], "+ carried")
    return ElementTree.fromstring(svg_text(tree_picture(state, "store", words, links)))


def points(path: ElementTree.Element) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.attrib["d"])
    return [(float(x), float(y)) for x, y in found]


def lines(root: ElementTree.Element) -> dict[tuple[str, str], shapely.LineString]:
    named = (each for each in root.iter(f"{SVG}path") if each.get("id", "").startswith("from."))
    return {
        tuple(each.attrib["id"].removeprefix("from.").split(".to.")): shapely.LineString(
            points(each)
        )
        for each in named
    }


def frames(root: ElementTree.Element) -> dict[str, shapely.Polygon]:
    named = (each for each in root.iter(f"{SVG}path") if each.get("id", "").startswith("node."))
    return {e.attrib["id"].removeprefix("node."): shapely.Polygon(points(e)) for e in named}


def crossings(one: shapely.LineString, other: shapely.LineString) -> list[shapely.Point]:
    met = one.intersection(other)
    return [each for each in getattr(met, "geoms", [met]) if each.geom_type == "Point"]


def is_an_arc(line: shapely.LineString, at: shapely.Point) -> bool:
    left, upper, right, lower = line.intersection(at.buffer(NEAR)).bounds
    return right - left >= WIDE and lower - upper >= HIGH


@given(states())
def test_where_lines_of_two_parents_cross_one_goes_over_the_other(state):
    found = lines(drawn(state))
    met = 0
    for (one, a), (other, b) in combinations(found.items(), 2):
        if one[0] != other[0] and one[1] != other[1]:
            for at in crossings(a, b):
                met += 1
                assert is_an_arc(a, at) != is_an_arc(b, at), (one, other, at)
    said = {each.sample for each in graph_key(state)}
    assert (Sample.CROSSES in said) >= bool(met)


@given(states())
def test_lines_of_two_parents_to_two_children_never_run_on_each_other(state):
    for (one, a), (other, b) in combinations(lines(drawn(state)).items(), 2):
        if one[0] != other[0] and one[1] != other[1]:
            assert a.intersection(b).length < 0.1, (one, other)


@given(states())
def test_a_line_touches_its_parent_and_its_child_and_no_other_frame(state):
    root = drawn(state)
    found = frames(root)
    for one, other in combinations(found.values(), 2):
        assert not one.intersects(other)
    for arrow, line in lines(root).items():
        touched = {name for name, frame in found.items() if frame.intersects(line)}
        assert touched == set(arrow)
        assert all(frame.buffer(-0.1).disjoint(line) for frame in found.values())


@given(states())
def test_what_is_read_next_stands_to_the_right_or_below(state):
    root = drawn(state)
    found = frames(root)
    named = [each.attrib["href"].removeprefix("#/") for each in root.iter(f"{SVG}a")]
    assert sorted(named) == sorted(state.nodes)
    corners = [(found[name].bounds[1], found[name].bounds[0]) for name in named]
    assert corners == sorted(corners)


def test_two_lines_that_cross_are_told_of_in_the_key_and_drawn_so():
    """Two blocks; the pattern of the second that also takes from the first of the other."""
    nodes = [
        NodeRecord("a", True),
        NodeRecord("b", True),
        NodeRecord("a-child", False, (ParentRecord("a"),)),
        NodeRecord("a-other", False, (ParentRecord("a"),)),
        NodeRecord("mixed", False, (ParentRecord("a-other"), ParentRecord("b"))),
    ]
    state = State(Settings("store", "mm"), {each.name: each for each in nodes})
    found = lines(drawn(state))
    assert any(
        crossings(a, b) for (one, a), (two, b) in combinations(found.items(), 2) if one[0] != two[0]
    )
    assert Sample.CROSSES in {each.sample for each in graph_key(state)}
    plain = State(Settings("store", "mm"), {each.name: each for each in nodes[:3]})
    assert Sample.CROSSES not in {each.sample for each in graph_key(plain)}
