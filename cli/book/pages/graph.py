"""The graph of a wardrobe as pictures: the whole, or what of it one picture can hold."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import networkx as nx

from trueup.cli.book.addresses import href
from trueup.cli.book.source import BookSource
from trueup.cli.drawing.graph.graph_key import graph_key
from trueup.cli.drawing.graph.picture import tree_picture
from trueup.cli.drawing.key import KeyEntry
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.render.last_correction import LastCorrection, last_of, sign_key
from trueup.lineage.files.records import NodeRecord, StyleRecord, replace
from trueup.lineage.files.state import State

_MOST = 60  # nodes beyond which a picture is too long to be taken in
_GENERATIONS = 6  # above a node, in the picture of its family
_CHILDREN = 12


@dataclass(frozen=True)
class DrawnGraph:
    """The picture of the graph and its key; `is_whole` unless it leaves nodes out.

    `last` is the correction that it shows.
    """

    picture: Scene
    key: tuple[KeyEntry, ...]
    is_whole: bool
    last: LastCorrection | None


def drawn_graph(source: BookSource) -> DrawnGraph | None:
    """Return the picture of the graph, each node the way to its page.

    Where there are too many, only those from which something derives are drawn, with how many, and
    no correction is shown; None where there is nothing to draw, or even that is too much.
    """
    state = source.state
    kept = list(state.nodes)
    is_whole = len(kept) <= _MOST
    if not is_whole:
        kept = [name for name in kept if state.graph.out_degree(name)]
    if not 0 < len(kept) <= _MOST:
        return None
    last = last_of(source.chronicle, state) if is_whole else None
    words = dict(last.words) if last else {}
    if not is_whole:
        words = {name: f"{state.graph.out_degree(name)} derived from it" for name in kept}
    part = _part(state, kept)
    title = f"Who derives from whom in {state.settings.name}"
    scene = tree_picture(part, title, words, _links(source, kept))
    return DrawnGraph(scene, _key(part, words), is_whole, last)


def family_picture(source: BookSource, name: str) -> tuple[Scene, tuple[KeyEntry, ...]]:
    """Return the picture of a node among its nearest, each the way to its page, and its key."""
    graph = source.state.graph
    above = nx.single_target_shortest_path_length(graph, name, cutoff=_GENERATIONS)
    children = [child for child in source.state.in_order if graph.has_edge(name, child)]
    kept = {*dict(above), *children[:_CHILDREN]}
    links = _links(source, kept - {name})
    part = _part(source.state, kept)
    words = {name: "this page"}
    scene = tree_picture(part, f"The family of {name}", words, links)
    return scene, _key(part, words)


def _key(part: State, words: Mapping[str, str]) -> tuple[KeyEntry, ...]:
    signs = sign_key(words.values(), is_open=bool(part.open_conflicts))
    return (*graph_key(part), *signs)


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
