"""release-dart, version 1: a band along the edge grew with what was eased into it."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.sections import eased
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import (
    dart_edge_measures,
    find_edge_dart,
    find_inner_dart,
    level_measures,
    unsewn,
)
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said


@kind("release-dart")
class FirstReleaseDart(Change):
    """Leave a dart unsewn: its intake becomes ease, gathers or flare.

    The parts of its edge are joined by a straight line across the mouth, so the edge gains exactly
    the intake, and the piece the cloth between the legs. With `eased` the seam the edge is sewn to
    takes up what it gained: its allowed ease moves by the intake. Notches stay at the distance they
    had from their corner. A double-pointed dart inside a piece is left out, and the width there
    gains its intake.
    """

    phrases = ("leave the dart unsewn",)

    dart: str = name("dart left unsewn, as piece.dart", of="dart")
    eased: bool = flag("the seam takes up what the edge gains")

    def carried_out(self, draft: Draft) -> Draft:
        inner = find_inner_dart(draft, self.dart)
        if inner:
            return self._without(draft, *inner)
        piece, edge, mouth = find_edge_dart(draft, self.dart)
        seams = _seams_of(draft, piece, edge)
        if self.eased and not seams:
            raise DoesNotFit(said("sewn-to-nothing", edge=edge.name), said("leave-eased-out"))
        changed = replace(
            piece.with_edges(unsewn(edge, mouth)),
            notches=tuple(_kept(notch, edge) for notch in piece.notches),
        )
        require_sound(changed, mouth.dart.name, said("rotate-first"))
        released = draft.with_pieces(changed)
        if self.eased:
            for seam in seams:
                released = released.with_seam(_eased(draft, seam, piece, edge, mouth.intake))
            released = self.taken_up(released, f"{piece.name}.{edge.name}", mouth.intake)
        return released

    def taken_up(self, draft: Draft, edge: str, by: float) -> Draft:  # noqa: ARG002
        """Return the draft with what is drafted to the edge as long as it was, where it is held."""
        return draft

    def _without(self, draft: Draft, piece: Piece, dart: InnerDart) -> Draft:
        if self.eased:
            raise DoesNotFit(said("opens-on-no-seam"), said("leave-eased-out"))
        kept = tuple(d for d in piece.inner_darts if d.name != dart.name)
        return draft.with_pieces(replace(piece, inner_darts=kept))

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return (f"{self.dart}.intake",) if self.dart in draft.dart_names else ()

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        inner = find_inner_dart(draft, self.dart)
        return level_measures(*inner) if inner else dart_edge_measures(draft, self.dart)


def _seams_of(draft: Draft, piece: Piece, edge: Edge) -> list[Seam]:
    return [
        seam
        for seam in draft.seams
        if any((run.piece, run.edge) == (piece.name, edge.name) for run in seam.runs)
    ]


def _eased(draft: Draft, seam: Seam, piece: Piece, edge: Edge, intake: float) -> Seam:
    run = next(run for run in seam.runs if (run.piece, run.edge) == (piece.name, edge.name))
    return eased(draft, seam, run, intake if run in seam.side else -intake)


def _kept(notch: Notch, edge: Edge) -> Notch:
    """Return a notch at the distance it had: a share of the longer edge would be another place."""
    if notch.edge != edge.name or notch.at.share is None:
        return notch
    return replace(notch, at=Position(notch.at.corner, distance=notch.at.share * edge.length))
