"""The edges of an outline as they are sewn: lines that run on once the darts between are closed."""

from dataclasses import dataclass

from trueup.geometry.lines.chain import Chain
from trueup.lineage.drawings.seen.found import FoundPiece, Notched, OutlineLine


@dataclass(frozen=True)
class SewnEdge:
    """Lines of an outline that run on into each other once the darts between are closed."""

    lines: tuple[OutlineLine | Notched, ...]
    inward: complex

    @property
    def parts(self) -> tuple[OutlineLine, ...]:
        """Return its lines, darts left out."""
        return tuple(line for line in self.lines if isinstance(line, OutlineLine))

    @property
    def darts(self) -> tuple[Notched, ...]:
        """Return its darts."""
        return tuple(line for line in self.lines if isinstance(line, Notched))

    @property
    def length(self) -> float:
        """Return its length as sewn, mm."""
        return sum(part.chain.length for part in self.parts)

    @property
    def hollow(self) -> float:
        """Return how far it bends into the cloth, as a share of its length; negative out of it.

        Of an edge parted by darts it is that of the part that bends most.
        """
        return max((_hollow(part.chain, self.inward) for part in self.parts), key=abs)

    @property
    def way(self) -> complex:
        """Return the way from its one end to the other, mm."""
        return self.parts[-1].chain.end - self.parts[0].chain.start

    @property
    def upright(self) -> float:
        """Return how nearly it runs up and down the page, from 0 to 1."""
        return abs(self.way.imag) / max(abs(self.way), 1e-9)

    @property
    def square(self) -> float:
        """Return how nearly it runs along a side of the page, whichever, from 0 to 1."""
        return max(abs(self.way.imag), abs(self.way.real)) / max(abs(self.way), 1e-9)

    @property
    def middle(self) -> complex:
        """Return the point between its ends."""
        return (self.parts[0].chain.start + self.parts[-1].chain.end) / 2


def _hollow(chain: Chain, inward: complex) -> float:
    way = chain.end - chain.start
    if abs(way) < 1e-9:
        return -1.0
    points = chain.flattened()
    aside = [((p - chain.start) / (way / abs(way) * inward)).real for p in points]
    return max(aside, key=abs) / abs(way)


def sewn_edges(piece: FoundPiece) -> tuple[SewnEdge, ...]:
    """Return the edges of a piece, in ring order: lines with the darts that part them."""
    inward = 1j if sum(line.chain.swept_area for line in piece.ring) > 0 else -1j
    ring = list(piece.ring)
    first = next(
        (
            k
            for k, line in enumerate(ring)
            if isinstance(line, OutlineLine) and isinstance(ring[k - 1], OutlineLine)
        ),
        None,
    )
    if first is None:
        return (SewnEdge(tuple(ring), inward),)
    edges: list[list[OutlineLine | Notched]] = []
    for line in (*ring[first:], *ring[:first]):
        after_side = bool(edges) and isinstance(edges[-1][-1], OutlineLine)
        if not edges or (isinstance(line, OutlineLine) and after_side):
            edges.append([])
        edges[-1].append(line)
    return tuple(SewnEdge(tuple(lines), inward) for lines in edges)
