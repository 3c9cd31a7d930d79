"""shape-corner: how the allowances are cut at a corner."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.pieces.corner import corner_degrees, edges_at
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import point_in_words
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_MITRE_ALLOWANCE = 6.0
_SHARPEST, _BLUNTEST = 25.0, 155.0
_MOST_FOLDED = 145.0


@kind("shape-corner")
class ShapeCorner(Change):
    """Say how the allowances are cut at a corner, where that is not as two lines that meet.

    A hem that is turned up is `mirrored`: beyond it the cloth is cut as the mirror image of what
    lies above, so that the hem of a tapered sleeve or leg lies flat inside it; with `by` it is
    turned so far outside the edge, as a facing beyond an extension. A seam that is sewn
    before the other is `squared`: its allowance ends square to it where its seam line, drawn on,
    meets the other allowance, so that the allowances lie on each other. A sharp point is `blunted`,
    cut straight across as far beyond it as the larger allowance, or farther by `by`. Two hems that
    meet, as at a slit, are `folded`: cut along the mitre that lies between them when both are
    turned, with 6 mm to sew it (common practice, no source), or `by` so much. `mitred` is as unless
    said. Without a corner it is both ends of the edge, but for an end on the fold.
    """

    phrases = ("shape the corners of the allowance",)

    edge: str = name("edge whose allowance is turned or sewn first, as piece.edge", of="edge")
    corner: str | None = name("end of that edge, both unless given", None)
    how: str = name("how it is cut there", choices=tuple(Treatment))
    by: float | None = length(
        "how far beyond a point, beside a mitre, or outside the edge", None, low=0, high=100
    )

    def carried_out(self, draft: Draft) -> Draft:
        of, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(of)
        if piece.fold == edge:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"))
        told = {corner: self._cut(piece, edge, corner) for corner in self._corners(piece, edge)}
        kept = tuple(each for each in piece.corners if each.corner not in told)
        new = tuple(each for each in told.values() if each.treatment is not Treatment.MITRED)
        return draft.with_pieces(replace(piece, corners=(*kept, *new)))

    def _corners(self, piece: Piece, name: str) -> Iterator[str]:
        edge = piece.edge(name)
        ends = (edge.starts_at, edge.ends_at)
        if self.corner is not None and self.corner not in ends:
            raise NoSuchName("corner", self.corner, edge.name, ends)
        for corner in ends:
            on_fold = piece.fold in [each.name for each in edges_at(piece, corner)]
            if self.corner is None and not on_fold:
                yield corner
            elif corner == self.corner:
                if on_fold:
                    raise DoesNotFit(said("on-fold"), said("another-corner"))
                yield corner

    def _cut(self, piece: Piece, edge: str, corner: str) -> CutCorner:
        how = Treatment(self.how)
        if how is Treatment.MITRED:
            return CutCorner(corner, how, edge)
        before, after = edges_at(piece, corner)
        needs = [before.name, after.name] if how is Treatment.FOLDED else [edge]
        for each in needs:
            if piece.allowance(each) == 0:
                reason = said("cut-without", edge=each)
                raise DoesNotFit(reason, said("allowance-first"), edge=edge)
        degrees = corner_degrees(piece, corner)
        most = _MOST_FOLDED if how is Treatment.FOLDED else _BLUNTEST
        least = 0.0 if how is Treatment.BLUNTED else _SHARPEST
        if not least <= degrees <= most:
            reason = said("corner-opens", corner=corner, degrees=degrees)
            raise DoesNotFit(reason, said("corner-between", low=f"{least:g}", high=f"{most:g}"))
        widest = max(piece.allowance(before.name), piece.allowance(after.name))
        if how is Treatment.BLUNTED and self.by is not None and self.by < widest:
            raise DoesNotFit(said("cut-into", corner=corner), said("use-at-least", by=widest))
        if how is Treatment.MIRRORED and (self.by or 0.0) >= piece.allowance(edge):
            reason = said("turned-outside", by=self.by or 0.0, allowance=piece.allowance(edge))
            raise DoesNotFit(reason, said("smaller-amount"))
        by = 0.0 if how is Treatment.SQUARED else self.by or 0.0
        if self.by is None and how is Treatment.FOLDED:
            by = _MITRE_ALLOWANCE
        return CutCorner(corner, how, edge, by)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        if self.corner:
            where = f"the corner of {self.edge} at {point_in_words(self.corner)}"
        else:
            where = f"the corners of {self.edge}"
        return f"cut {where} {self.how}{side}"
