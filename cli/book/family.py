"""The near family of a node as a picture: what it derives from and what derives from it."""

import networkx as nx

from cli.book.addresses import href
from cli.book.source import Source
from cli.drawing.graph import tree_picture
from cli.drawing.scene import Scene
from lineage.records import replace
from lineage.state import State

_GENERATIONS = 6  # above it
_CHILDREN = 12


def family_picture(source: Source, name: str) -> Scene:
    """Return the picture of a node among its nearest, each the way to its page."""
    state, kept = _family(source.state, name)
    links = {each: href(source.addresses[each]) for each in kept if each != name}
    return tree_picture(state, f"The family of {name}", {name: "this page"}, links)


def _family(state: State, name: str) -> tuple[State, set[str]]:
    """Return a state of a node and its nearest alone, and their names."""
    graph = state.graph
    above = nx.single_target_shortest_path_length(graph, name, cutoff=_GENERATIONS)
    kept = set(dict(above))
    children = [child for child in state.in_order if graph.has_edge(name, child)]
    kept |= set(children[:_CHILDREN])
    nodes = {
        each: replace(
            state.nodes[each],
            parents=tuple(p for p in state.nodes[each].parents if p.name in kept),
        )
        for each in state.in_order
        if each in kept
    }
    return State(state.settings, nodes), kept
