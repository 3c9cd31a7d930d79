"""Which edge of a piece lies nearest to a point."""

from collections.abc import Mapping

from trueup.geometry.lines.points import Point
from trueup.lineage.drawings.proposing.sewn_edges import SewnEdge


def nearest_edge(at: Point, edges: Mapping[str, SewnEdge]) -> str:
    """Return the name of the edge that comes nearest to a point."""

    def away(edge: SewnEdge) -> float:
        chains = [part.chain for part in edge.parts]
        return min(abs(chain.point_at(chain.nearest(at)) - at) for chain in chains)

    return min(edges, key=lambda name: away(edges[name]))
