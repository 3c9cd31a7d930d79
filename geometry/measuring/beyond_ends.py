"""Find the notches and marks for which their line became too short."""

from collections.abc import Iterator

from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.pieces.beyond.marks import marks_beyond
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said

BEYOND_END = "beyond-end"
"""The code of such a finding, before the name of its mark: several may lie beyond one end."""


def beyond_findings(draft: Draft) -> Iterator[Finding]:
    """Yield a finding for each mark that lies beyond the end of its line: where, and how far."""
    for piece in (*draft.pieces, *draft.wholes):
        for each in marks_beyond(piece):
            yield Finding(
                f"{BEYOND_END}:{each.name}",
                Severity.ERROR,
                piece.name,
                each.edge,
                each.distance,
                0.0,
                each.length,
                said(
                    "beyond-end",
                    mark=f"{each.purpose} {each.name}",
                    place=f"{piece.name}.{each.edge}",
                    corner=each.at.corner,
                    measured=each.distance,
                    length=each.length,
                    by=each.distance - each.length,
                ),
                ((piece.name, each.edge),),
            )
