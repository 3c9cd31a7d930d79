"""Which change of which node last shaped an edge."""

from msgspec import Struct

from trueup.geometry.pieces.side import unsided
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import StepRecord


class Origin(Struct, frozen=True):
    """The node an edge's shape comes from, and the step; None where the block was drafted so."""

    node: str
    step: StepRecord | None


def origin(evaluator: Evaluator, node: str, piece: str, edge: str) -> Origin:
    """Return where an edge of a node got the shape it has, up to turning and shifting it bodily.

    Raises NoSuchNode, or NoSuchName with the edges the node has.
    """
    evaluator.draft(node).edge(piece, edge)
    while True:
        summary = evaluator.summary(node)
        # What was shaped before it was parted into left and right was shaped by the name of both.
        step = next(
            (
                summary.shaped[f"{each}.{edge}"]
                for each in (piece, unsided(piece))
                if f"{each}.{edge}" in summary.shaped
            ),
            None,
        )
        if step:
            taken = evaluator.source_of(node, step)
            return Origin(taken.node, taken.step) if taken else Origin(node, None)
        giver = evaluator.giver(node, piece)
        if giver is not None:
            evaluator, node = giver
        elif piece in summary.cut_from:  # here it was cut, and was some of that
            piece = summary.cut_from[piece]
        else:
            return Origin(node, None)


def origins(evaluator: Evaluator, node: str) -> dict[str, Origin]:
    """Return the origin of every edge of a node, by its full name `piece.edge`."""
    draft = evaluator.draft(node)
    return {
        f"{piece.name}.{edge.name}": origin(evaluator, node, piece.name, edge.name)
        for piece in draft.pieces
        for edge in piece.edges
    }
