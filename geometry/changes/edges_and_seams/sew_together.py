"""sew-together: sew one line to another, such as a skirt to a bodice at the waist."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, require_new_name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.following.sewn_line import lines_named, runs_of
from trueup.geometry.measuring.forms import least_of, most_of
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import EVEN, Draft, Seam
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("sew-together")
class SewTogether(Change):
    """Sew one line to another: a skirt to a bodice at the waist, a sleeve of one block to the
    armhole of another.

    Both lines are named edge after edge, from the end at which they are sewn to each other first.
    From then on the seam is walked like any other: where a correction makes one side of it longer,
    that is told. `low` and `high` say by how much the first line may be the longer one, as where it
    is gathered or eased in. No line moves.
    """

    phrases = ("sew two lines together",)

    line: str = free_text("edges of the first line, such as 'skirt-front.waist skirt-back.waist'")
    to: str = free_text("edges it is sewn to, from the same end, such as 'front.hem back.hem'")
    name: str = free_text("what the seam is called, such as waist-seam")
    low: float = length("the least it is to be longer", 0.0, low=-1000, high=10000)
    high: float = length("the most it may be longer", 0.0, low=-1000, high=10000)

    def __post_init__(self) -> None:
        require_new_name("name", self.name)
        lines = (*lines_named(self.line), *lines_named(self.to))
        if len(set(lines)) < len(lines):
            twice = next(line for line in lines if lines.count(line) > 1)
            raise BadParameter("to", self.to, said("sewn-to-itself", line=twice))
        if self.low > self.high:
            raise BadParameter("low", said("length", mm=self.low), said("at-most", most=self.high))

    def carried_out(self, draft: Draft) -> Draft:
        if draft.has_seam(self.name):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        side, mate = (runs_of(draft, lines_named(text)) for text in (self.line, self.to))
        seam = Seam(self.name, side, mate, Band(self.low, self.high, EVEN.tolerance))
        return replace(draft, seams=(*draft.seams, seam))

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        piece, _, edge = self.line.split()[0].partition(".")
        return piece, edge

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return least_of(self.name), most_of(self.name)

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        one, other = (" and ".join(text.split()) for text in (self.line, self.to))
        side = f" on the {self.side}" if self.side else ""
        return f"sew {one} to {other} ({self.name}){side}"
