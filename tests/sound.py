"""What must hold of every draft, whatever was done to it."""

from collections.abc import Callable

from trueup.cli.wording.words import worded_error
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def assert_sound(draft: Draft) -> None:
    """Check that outlines are simple, dart legs equal and tips inside their darts."""
    for piece in draft.pieces:
        assert piece.is_simple, piece.name
        for edge in piece.edges:
            for mouth in edge.mouths:
                one, other = mouth.legs
                assert abs(one - other) < 1e-6, mouth.dart.name
                assert abs((mouth.first + mouth.second) / 2 - mouth.dart.apex) > mouth.dart.setback


def outcome(change: Callable[[], Draft]) -> Draft | None:
    """Return the sound draft a change makes, or None where it is refused in a plain sentence."""
    refusal = ""
    try:
        after = change()
    except GeometryError as refused:
        refusal = worded_error(refused)
    if refusal:
        assert refusal.endswith(".")
        return None
    assert_sound(after)
    return after


def largest_shift(one: Piece, other: Piece) -> float:
    """Return how far apart two pieces of the same edges and darts lie, mm."""
    edges = max(_edge_shift(edge, other.edge(edge.name)) for edge in one.edges)
    apexes = [
        abs(mouth.dart.apex - other.mouth(mouth.dart.name).dart.apex)
        for edge in one.edges
        for mouth in edge.mouths
    ]
    inner = [
        abs(p - q)
        for mine, theirs in zip(one.inner_darts, other.inner_darts, strict=True)
        for p, q in zip(
            (mine.upper, mine.lower, mine.left, mine.right),
            (theirs.upper, theirs.lower, theirs.left, theirs.right),
            strict=True,
        )
    ]
    return max([edges, *apexes, *inner])


def _edge_shift(one: Edge, other: Edge) -> float:
    return max(
        abs(mine.point_at(mine.length * k / 8) - theirs.point_at(theirs.length * k / 8))
        for mine, theirs in zip(one.parts, other.parts, strict=True)
        for k in range(9)
    )
