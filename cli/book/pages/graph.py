"""The graph of a wardrobe as pictures: the whole, or what of it one picture can hold."""

from collections.abc import Collection

import networkx as nx

from trueup.cli.book.addresses import href
from trueup.cli.book.source import BookSource
from trueup.cli.drawing.graph import tree_picture
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.render.last_correction import verdict_words
from trueup.lineage.files.records import NodeRecord, StyleRecord, replace
from trueup.lineage.files.state import State

_MOST = 60  # nodes beyond which a picture is too long to be taken in
_GENERATIONS = 6  # above a node, in the picture of its family
_CHILDREN = 12


def graph_picture(source: BookSource) -> Scene | None:
    """Return the picture of the graph, each node the way to its page.

    Where there are too many, only those from which something derives are drawn, with how many; None
    where there is nothing to draw, or even that is too much.
    """
    state = source.state
    kept = list(state.nodes)
    is_whole = len(kept) <= _MOST
    if not is_whole:
        kept = [name for name in kept if state.graph.out_degree(name)]
    if not 0 < len(kept) <= _MOST:
        return None
    words = (
        verdict_words(source.wardrobe, "HEAD")
        if is_whole
        else {name: f"{state.graph.out_degree(name)} derived from it" for name in kept}
    )
    return tree_picture(_part(state, kept), state.settings.name, words, _links(source, kept))


def family_picture(source: BookSource, name: str) -> Scene:
    """Return the picture of a node among its nearest, each the way to its page."""
    graph = source.state.graph
    above = nx.single_target_shortest_path_length(graph, name, cutoff=_GENERATIONS)
    children = [child for child in source.state.in_order if graph.has_edge(name, child)]
    kept = {*dict(above), *children[:_CHILDREN]}
    links = _links(source, kept - {name})
    part = _part(source.state, kept)
    return tree_picture(part, f"The family of {name}", {name: "this page"}, links)


def _links(source: BookSource, names: Collection[str]) -> dict[str, str]:
    return {name: href(source.addresses[name]) for name in names}


def _part(state: State, kept: Collection[str]) -> State:
    """Return a state of some nodes alone."""
    nodes = {
        name: replace(
            state.nodes[name],
            parents=tuple(p for p in state.nodes[name].parents if p.name in kept),
            style=_kept_style(state.nodes[name], kept),
        )
        for name in state.in_order
        if name in kept
    }
    return State(state.settings, nodes)


def _kept_style(node: NodeRecord, kept: Collection[str]) -> StyleRecord | None:
    return node.style if node.style and node.style.name in kept else None
