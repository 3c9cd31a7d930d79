"""The graph of blocks and patterns: who derives from whom. Pure; from literals to networkx.

Only here, and only where it is asked for, is networkx loaded: that takes an eighth of a second,
and most verbs that read ask for no more than the order of the nodes.
"""

from collections.abc import Collection, Iterable, Mapping
from difflib import get_close_matches
from graphlib import TopologicalSorter
from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING

from trueup.lineage.errors import BadRecord, Cycle, MissingParent, NoSuchNode
from trueup.lineage.files.records import NodeRecord, Role
from trueup.lineage.limits import DEEPEST_LINEAGE

if TYPE_CHECKING:
    import networkx as nx


def graph_of(
    nodes: Mapping[str, NodeRecord], follows: Mapping[str, Collection[str]]
) -> "nx.DiGraph[str]":
    """Return the graph with an arrow from each parent to its child.

    `follows` has the names of all that a node follows.
    Raises MissingParent naming the nearest nodes, or Cycle naming the nodes that chase each other.
    """
    import networkx as nx  # noqa: PLC0415

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(sorted(nodes))
    for name, parents in follows.items():
        for parent in parents:
            if parent not in nodes:
                raise MissingParent(nodes[name].path, parent, nearest(parent, nodes))
            graph.add_edge(parent, name)
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
    wanted = set(names)
    return ordered({name: wanted.intersection(graph.predecessors(name)) for name in wanted})


def ordered(parents: Mapping[str, Collection[str]]) -> tuple[str, ...]:
    """Return all names so that parents come before children, alphabetically among equals.

    Raises graphlib's CycleError where nodes derive from each other.
    """
    sorter = TopologicalSorter(parents)
    sorter.prepare()
    ready, found = [*sorter.get_ready()], []
    heapify(ready)
    while ready:
        name = heappop(ready)
        found.append(name)
        sorter.done(name)
        for each in sorter.get_ready():
            heappush(ready, each)
    return tuple(found)


def lineage_of(nodes: Mapping[str, NodeRecord], name: str) -> tuple[str, ...]:
    """Return all that a node derives from, parents first, and the node itself; without networkx."""
    found: dict[str, set[str]] = {}
    waiting = [name]
    while waiting:
        each = waiting.pop()
        if each not in found:
            found[each] = {parent.name for parent in nodes[each].followed}
            waiting += found[each]
    return ordered(found)


def above(graph: "nx.DiGraph[str]", name: str) -> set[str]:
    """Return all that a node derives from."""
    import networkx as nx  # noqa: PLC0415

    return set[str](nx.ancestors(graph, name))


def fit_above(nodes: Mapping[str, NodeRecord], name: str) -> set[str]:
    """Return all that a node's fit comes from: its parents, and whose corrections it takes.

    Whose style it takes is not among them.
    """
    found: set[str] = set()
    waiting = [name]
    while waiting:
        node = nodes[waiting.pop()]
        taken = node.style if node.style and node.style.takes is Role.CORRECTION else None
        above_it = {*(p.name for p in node.parents), *([taken.name] if taken else [])} - found
        found |= above_it
        waiting += above_it
    return found


def below(graph: "nx.DiGraph[str]", name: str) -> set[str]:
    """Return all that derive from a node."""
    import networkx as nx  # noqa: PLC0415

    return set[str](nx.descendants(graph, name))


def descendants(graph: "nx.DiGraph[str]", names: Iterable[str]) -> tuple[str, ...]:
    """Return all that derive from the named nodes, themselves left out, parents first."""
    roots = set(names)
    return in_order(graph, set[str]().union(*(below(graph, root) for root in roots)) - roots)


def lineage_between(graph: "nx.DiGraph[str]", ancestor: str, node: str) -> tuple[str, ...]:
    """Return all nodes on any way from an ancestor to a node, both included, parents first."""
    return in_order(graph, below(graph, ancestor) & above(graph, node) | {ancestor, node})


def rings(parents: Mapping[str, Collection[str]]) -> list[set[str]]:
    """Return the groups of nodes that derive from each other, or a node from itself."""
    import networkx as nx  # noqa: PLC0415

    graph = nx.DiGraph({name: [*names] for name, names in parents.items()})
    groups = nx.strongly_connected_components(graph)
    return [each for each in groups if len(each) > 1 or any(graph.has_edge(n, n) for n in each)]


def nearest(name: str, nodes: Iterable[str]) -> tuple[str, ...]:
    """Return the names most like a name, all (at most eight) when none is like it."""
    known = sorted(nodes)
    return tuple(get_close_matches(name, known, n=3, cutoff=0.5)) or tuple(known[:8])


def node_named(nodes: Mapping[str, NodeRecord], name: str) -> NodeRecord:
    """Return a node by name; raises NoSuchNode with the nearest names."""
    if name not in nodes:
        raise NoSuchNode(name, nearest(name, nodes))
    return nodes[name]
