"""add-elbow-dart: bend a sleeve forward at the elbow, and take up the back seam by a dart there."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import free_text, length, position, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.sleeves.sleeve import BACK_SEAM, FRONT_SEAM, SLEEVE
from trueup.geometry.redrawing.turning.elbow import Elbow
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_ELBOW = "elbow"
_SHARE = 0.25
"""A dart comes half way from the back seam to the middle of the sleeve (from memory)."""


@kind("add-elbow-dart")
class AddElbowDart(ByAmount):
    """Bend a sleeve forward at the elbow, and take up what its back seam gains by a dart there.

    The sleeve is slashed across at the elbow, from the back seam to the place of the front seam
    that is sewn to it, and the forearm is turned forward about that place until the dart has its
    intake. The seams are drawn fair through the elbow, the back one with its dart closed, and come
    out as equal as they were; the hem goes along and keeps its length. The dart lies square to the
    arm and ends a quarter of the way across unless its length is given; where the back seam is
    drawn fair it comes out a few millimetres longer.

    A fitted sleeve is narrowed to the wrist first, by `taper-sleeve`. 10 mm to 25 mm of intake are
    usual (from memory).
    """

    about = BACK_SEAM
    fair = True
    leaves_cloth = True
    phrases = ("add an elbow dart",)

    by: float = length("how much the dart takes in at the back seam", low=1, high=100)
    leg: float | None = length(
        "about how long the dart is; a quarter of the width at the elbow unless given",
        None,
        low=10,
        high=300,
    )
    at: Position | None = position(
        "where on the back seam it opens; at the elbow unless given", None, on="back-seam"
    )
    name: str = free_text("what the dart is called", _ELBOW)

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (draft.piece(SLEEVE),)

    def wanted(self, draft: Draft) -> float:
        sleeve = draft.piece(SLEEVE)
        if self.name in sleeve.dart_names:
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        self._elbow(sleeve)
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        return self._elbow(piece).opened(by)

    def _elbow(self, sleeve: Piece) -> Elbow:
        seam = sleeve.edge(BACK_SEAM)
        down = self.at.along(seam) if self.at else _at_elbow(sleeve, seam)
        front = sleeve.edge(FRONT_SEAM)
        across = abs(seam.point_at(down) - front.point_at(max(front.length - down, 0.0)))
        return Elbow(sleeve, down, self.name, self.leg or _SHARE * across)

    def in_words(self, unit: Unit) -> str:
        long = f" and {format_length(self.leg, unit)} long" if self.leg else ""
        at = f" {self.at.in_words(unit)}" if self.at else ""
        side = f" on the {self.side}" if self.side else ""
        return (
            f"add an elbow dart to the sleeve{at}, {format_length(self.by, unit)} wide{long}{side}"
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.{self.name}.intake",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.{BACK_SEAM}", f"{SLEEVE}.{FRONT_SEAM}", "sleeve-seam.ease")


def _at_elbow(sleeve: Piece, seam: Edge) -> float:
    """Return how far down the back seam the elbow lies, mm."""
    if not sleeve.has_level(_ELBOW):
        raise DoesNotFit(said("no-such-level", piece=sleeve.name, level=_ELBOW), said("say-where"))
    level: Point = complex(0, sleeve.level(_ELBOW).y)
    done = 0.0
    for part in seam.parts:
        passes = part.crossings(level, 1 + 0j)
        if passes:
            return done + passes[0]
        done += part.length
    reason = said("seam-off-level", line=seam.name, level=_ELBOW)
    raise DoesNotFit(reason, said("say-where"), edge=seam.name)
