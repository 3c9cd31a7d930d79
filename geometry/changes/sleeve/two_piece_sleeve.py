"""two-piece-sleeve: cut a sleeve into an upper and an under sleeve, as a coat has them."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, require_new_name
from trueup.geometry.cuts.two_piece_sleeve import CAP, HEM, TwoPieces, own_seams
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.following.redrafting import lines_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("two-piece-sleeve")
class TwoPieceSleeve(Change):
    """Cut a sleeve into an upper and an under sleeve, sewn to each other in front and behind.

    Folded with its seam at the middle of the under side, a sleeve has a fold in front and one
    behind, half way from that seam to the crown. Both seams of the new sleeve lie `front` and
    `back` of them, towards the under side, and run straight up from the hem to the cap. What lies
    beyond them is the under sleeve, in one piece: the seam that the sleeve had is none any more.
    Where that seam was shaped, the under sleeve is as wide on each level as both stretches were.

    Both seams are bent back by `bend` at the elbow, hollow in front and full behind, and fade to
    nothing at the cap and at the hem, so that the sleeve bends with the arm and grows no wider.
    Behind, the upper sleeve is fuller by half and the under sleeve by half less, or by as much as
    it takes until the upper one is longer by the `ease`. That is eased in at the elbow: the
    hind-arm seam holds it, up to twice as much, between its two notches; all else of both seams is
    sewn even.

    The sleeve goes on under its name: its cap runs across both pieces and is walked to the armhole
    as before, and a step that names the sleeve, or any that refits, widens or tapers it, is made on
    both. The edges are `upper-sleeve.hind-arm` and `upper-sleeve.fore-arm`, the same of the under
    sleeve; that has `cap-front` and `cap-back`. A vent is laid in the hind-arm seam by `add-vent`.

    Both seams lie 15 mm to 25 mm from the fold; a bend of 10 mm to 20 mm and 2 mm to 4 mm of ease
    are usual (common practice, no source).
    """

    of_parts: ClassVar[bool] = True
    phrases = ("cut a two-piece sleeve",)

    front: float = length(
        "how far the fore-arm seam lies from the fold, towards the under side", 20.0, low=0, high=80
    )
    back: float = length(
        "how far the hind-arm seam lies from the fold, towards the under side", 20.0, low=0, high=80
    )
    bend: float = length("how far both seams are bent back at the elbow", 15.0, low=0, high=40)
    ease: float | None = length(
        "how much longer the upper sleeve is at the elbow, behind; as it comes unless given",
        None,
        low=0,
        high=15,
    )
    parts: str = free_text(
        "what the two pieces are called, the upper one first; 'upper-sleeve under-sleeve' unless "
        "given",
        "",
    )

    def __post_init__(self) -> None:
        for word in self.parts.split():
            require_new_name("parts", word)
        if self.parts and len(set(self.parts.split())) != 2:
            raise BadParameter("parts", self.parts, said("two-names"))

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        _require_plain(draft, sleeve)
        upper, under = self.parts.split() or (f"upper-{SLEEVE}", f"under-{SLEEVE}")
        for name in (upper, under):
            if draft.has_piece(name):
                raise DoesNotFit(said("name-is-taken", name=name), said("another-name"))
        pieces = TwoPieces(sleeve, self.front, self.back, self.bend, self.ease)
        after = pieces.cut(draft, (upper, under))
        for part in after.parts_of(SLEEVE):
            if not part.is_simple:
                raise DoesNotFit(said("outline-crosses"), said("seam-elsewhere"), part.name)
        return after

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return SLEEVE, CAP

    def in_words(self, unit: Unit) -> str:
        front, back = (format_length(each, unit) for each in (self.front, self.back))
        side = f" on the {self.side}" if self.side else ""
        return (
            f"cut a two-piece sleeve, its seams {front} in front and {back} behind from the "
            f"folds{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()


def _require_plain(draft: Draft, sleeve: Piece) -> None:
    """Raise DoesNotFit where a sleeve is cut already, or has what cannot come to both pieces."""
    parts = draft.parts_of(SLEEVE)
    if len(parts) > 1:
        named = ", ".join(part.name for part in parts)
        raise DoesNotFit(said("is-cut-apart", parts=named), said("leave-as-is"), SLEEVE)
    if sleeve.pleats:
        pleats = " and ".join(each.name for each in sleeve.pleats)
        raise DoesNotFit(said("is-pleated", pleats=pleats), said("cut-before-pleats"), SLEEVE)
    for vent in sleeve.vents:
        raise DoesNotFit(said("is-vented", vent=vent.name), said("cut-before-vent"), SLEEVE)
    for edge in (sleeve.edge(CAP), sleeve.edge(HEM), *own_seams(sleeve)):
        require_no_dart(edge, said("bend-instead"))
    for dart in sleeve.inner_darts:
        reason = said("dart-opens-on", dart=dart.name, line=sleeve.name)
        raise DoesNotFit(reason, said("bend-instead"), SLEEVE, dart=dart.name)
    lines = {f"{SLEEVE}.{edge.name}" for edge in sleeve.edges}
    for to in draft.drafted:
        if drafted := lines.intersection(lines_of(to)):
            reason = said("drafted-to-it", piece=to.piece, line=min(drafted))
            raise DoesNotFit(reason, said("drop-it-first", piece=to.piece))
    _require_own_seam(draft, sleeve)


def _require_own_seam(draft: Draft, sleeve: Piece) -> None:
    """Raise DoesNotFit where the edges under the arm are sewn to anything but each other."""
    edges = {f"{SLEEVE}.{edge.name}" for edge in own_seams(sleeve)}
    if len(sleeve.edges) != 4:
        reason = said("sleeve-of-edges", edges=", ".join(sleeve.edge_names))
        raise DoesNotFit(reason, said("cut-it-before"), SLEEVE)
    for seam in draft.seams:
        runs = {*map(str, seam.runs)}
        if runs & edges and runs - edges:
            reason = said("sewn-to-other", seam=seam.name)
            raise DoesNotFit(reason, said("cut-it-before"), SLEEVE)
