"""state-ease: say what a seam may hold where its two sides are meant to differ."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.measuring.forms import least_of, most_of
from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("state-ease")
class StateEase(Change):
    """State how much longer the first side of a seam may be than the second when it is sewn.

    For sides that are meant to differ: a back longer than the front over a vent, an edge that is
    gathered or eased in. Which side is the first, `walk` shows; negative amounts say how much
    shorter it may be. With a `section` only that stretch of the seam is stated (`front` or `back`
    of a cap), and the whole may hold what its sections may hold. No line moves.
    """

    phrases = ("state the ease",)

    seam: str = name("seam whose sides may differ, as side-seam", of="seam")
    low: float = length("the least it is to hold", low=-1000, high=1000)
    high: float = length("the most it may hold", low=-1000, high=1000)
    section: str | None = name("stretch of the seam that is stated; the whole unless given", None)

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise BadParameter("low", said("length", mm=self.low), said("at-most", most=self.high))

    def carried_out(self, draft: Draft) -> Draft:
        seam = draft.seam(self.seam)
        allowed = Band(self.low, self.high, seam.allowed.tolerance)
        if self.section is None:
            return draft.with_seam(replace(seam, allowed=allowed, sections=()))
        return draft.with_seam(_with_section(draft, seam, self.section, allowed))

    def in_words(self, unit: Unit) -> str:
        of = f"{self.section} of {self.seam}" if self.section else self.seam
        low, high = format_length(self.low, unit), format_length(self.high, unit)
        return f"state the ease of {of}, {low} to {high}"

    @property
    def trues(self) -> bool:
        return True

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and (self.seam, self.section) == (
            getattr(other, "seam", None),
            getattr(other, "section", None),
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        stated = f"{self.seam}.{self.section}" if self.section else self.seam
        return least_of(stated), most_of(stated)


def _with_section(draft: Draft, seam: Seam, section: str, allowed: Band) -> Seam:
    """Return a seam with a section stated; the whole may hold what its sections may hold."""
    sections = sections_of(draft, seam)
    known = tuple(each.name for each in sections)
    if section not in known:
        raise NoSuchName("section", section, seam.name, known)
    stated = tuple(
        replace(each, allowed=allowed) if each.name == section else each for each in sections
    )
    whole = Band(
        sum(each.allowed.low for each in stated),
        sum(each.allowed.high for each in stated),
        seam.allowed.tolerance,
    )
    return replace(seam, allowed=whole, sections=stated)
