"""taper-sleeve: narrow a sleeve to a width at its hem, and at its elbow."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.redrawing.sleeves.puffed import swollen
from trueup.geometry.redrawing.sleeves.sleeve import BACK_SEAM, FRONT_SEAM, SLEEVE, hem_moved
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length

_HEM, _ELBOW = "hem", "elbow"
_SEAMS = (BACK_SEAM, FRONT_SEAM)
_TRIES, _NEARER = 12, 1e-9


@kind("taper-sleeve")
class TaperSleeve(ByAmount):
    """Narrow a sleeve to the wrist, until its hem has a given width; or let it out to that.

    Both ends of the hem move alike, and both seams run to them from the underarm points, which
    stay: they come out as equal as they were, and the hem runs on across the sleeve seam. With a
    width at the `elbow` both seams are bent in or out there, alike again, and fade evenly to their
    ends. The cap runs on smoothly across the seam; its ease changes by a
    millimetre or two.

    A sleeve that is fitted to the wrist bends at the elbow by `add-elbow-dart`.
    """

    about = _HEM
    fair = True
    leaves_cloth = True
    phrases = ("taper the sleeve",)

    to: float = length("how wide the hem becomes", low=20, high=1500)
    elbow: float | None = length(
        "how wide the sleeve becomes at the elbow; as it comes unless given",
        None,
        low=100,
        high=1500,
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def carried_out(self, draft: Draft) -> Draft:
        if self.elbow is not None:
            _require_elbow(draft.piece(SLEEVE))
        tapered = super().carried_out(draft)
        if self.elbow is None:
            return tapered
        return self._held(tapered, self._shaped(tapered))

    def wanted(self, draft: Draft) -> float:
        return self.to - draft.edge(SLEEVE, _HEM).length

    def on(self, piece: Piece, by: float) -> Piece:
        wanted, out = piece.edge(_HEM).length + by, by
        for _ in range(_TRIES):
            drawn = hem_moved(piece, out / 2)
            lacking = wanted - drawn.edge(_HEM).length
            if abs(lacking) < _NEARER:
                break
            # The hem bends to meet the seams squarely: it is longer than the way between its ends.
            out += lacking
        return drawn

    def _shaped(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        places = [_at_elbow(sleeve, sleeve.edge(name)) for name in _SEAMS]
        back, front = (
            sleeve.edge(name).point_at(at) for name, at in zip(_SEAMS, places, strict=True)
        )
        assert self.elbow is not None
        step = (back - front) / abs(back - front) * (self.elbow - abs(back - front)) / 2
        if abs(step) < SAME_POINT:
            return draft
        for name, at, out in zip(_SEAMS, places, (step, -step), strict=True):
            sleeve = swollen(sleeve, name, (0.0, sleeve.edge(name).length), at, out)
        return draft.with_pieces(sleeve)

    def in_words(self, unit: Unit) -> str:
        hem = format_length(self.to, unit)
        elbow = f", {format_length(self.elbow, unit)} at the elbow" if self.elbow else ""
        side = f" on the {self.side}" if self.side else ""
        return f"taper the sleeve to {hem} at the hem{elbow}{side}"

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        at_elbow = (f"{SLEEVE}.{_ELBOW}-width",) if self.elbow is not None else ()
        return (f"{SLEEVE}.{_HEM}", *at_elbow)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (*(f"{SLEEVE}.{seam}" for seam in _SEAMS), CAP_EASE)


def _require_elbow(sleeve: Piece) -> None:
    if not sleeve.has_level(_ELBOW):
        no_level = said("no-such-level", piece=sleeve.name, level=_ELBOW)
        raise DoesNotFit(no_level, said("leave-elbow-out"))
    for name in _SEAMS:
        require_no_dart(sleeve.edge(name), said("leave-elbow-out"))


def _at_elbow(sleeve: Piece, seam: Edge) -> float:
    """Return where a seam without a dart passes the elbow, mm along it; raises DoesNotFit."""
    passes = seam.parts[0].crossings(complex(0, sleeve.level(_ELBOW).y), 1 + 0j)
    if not passes:
        reason = said("seam-off-level", line=seam.name, level=_ELBOW)
        raise DoesNotFit(reason, said("leave-elbow-out"), edge=seam.name)
    return passes[0]
