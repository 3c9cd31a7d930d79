"""The graph of blocks and patterns: who derives from whom. Pure; from literals to networkx."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

import networkx as nx

from trueup.lineage.errors import BadRecord, Cycle, MissingParent, NoSuchNode
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.limits import DEEPEST_LINEAGE


def graph_of(nodes: Mapping[str, NodeRecord]) -> "nx.DiGraph[str]":
    """Return the graph with an arrow from each parent to its child.

    Raises MissingParent naming the nearest nodes, or Cycle naming the nodes that chase each other.
    """
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(sorted(nodes))
    for node in nodes.values():
        for parent in node.parents:
            if parent.name not in nodes:
                raise MissingParent(node.path, parent.name, nearest(parent.name, nodes))
            graph.add_edge(parent.name, node.name)
    if not nx.is_directed_acyclic_graph(graph):
        cycle = tuple(parent for parent, _ in nx.find_cycle(graph))
        raise Cycle(nodes[cycle[0]].path, cycle)
    if nx.dag_longest_path_length(graph) > DEEPEST_LINEAGE:
        deepest = nx.dag_longest_path(graph)[-1]
        raise BadRecord(
            nodes[deepest].path,
            f"it stands more than {DEEPEST_LINEAGE} patterns below its block",
            "parents",
        )
    return graph


def in_order(graph: "nx.DiGraph[str]", names: Iterable[str]) -> tuple[str, ...]:
    """Return the names so that parents come before children, alphabetically among equals."""
    wanted = graph.subgraph(names)
    return tuple(nx.lexicographical_topological_sort(wanted))


def descendants(graph: "nx.DiGraph[str]", names: Iterable[str]) -> tuple[str, ...]:
    """Return all that derive from the named nodes, themselves left out, parents first."""
    roots = set(names)
    below: set[str] = set()
    for root in roots:
        below |= nx.descendants(graph, root)
    return in_order(graph, below - roots)


def lineage_between(graph: "nx.DiGraph[str]", ancestor: str, node: str) -> tuple[str, ...]:
    """Return all nodes on any way from an ancestor to a node, both included, parents first."""
    between = nx.descendants(graph, ancestor) & nx.ancestors(graph, node)
    return in_order(graph, between | {ancestor, node})


def nearest(name: str, nodes: Iterable[str]) -> tuple[str, ...]:
    """Return the names most like a name, all (at most eight) when none is like it."""
    known = sorted(nodes)
    return tuple(get_close_matches(name, known, n=3, cutoff=0.5)) or tuple(known[:8])


def node_named(nodes: Mapping[str, NodeRecord], name: str) -> NodeRecord:
    """Return a node by name; raises NoSuchNode with the nearest names."""
    if name not in nodes:
        raise NoSuchNode(name, nearest(name, nodes))
    return nodes[name]
