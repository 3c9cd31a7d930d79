"""What every kind of change has: its name, and a pure function on drafts."""

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import ClassVar

from trueup.geometry.calling.own_names import as_called, by_own_names, told_in_names
from trueup.geometry.changes.declaring import name
from trueup.geometry.changes.on_side import by_own_names_told
from trueup.geometry.changes.wording import completed, places_named
from trueup.geometry.cuts.joined.joining import told_of_joined, told_of_parts
from trueup.geometry.cuts.sewing import as_told_of, relaid
from trueup.geometry.errors import BrokenOutline, CannotChange, DoesNotFit, NoSuchName
from trueup.geometry.following.redrafting import redrafted
from trueup.geometry.marking.places import without_lost_marks
from trueup.geometry.pieces.beyond.aside import put_back, set_aside
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import Side
from trueup.geometry.redrawing.sound import require_sound_pieces
from trueup.geometry.sides.parting import of_both, worn_on
from trueup.geometry.units import Unit


@dataclass(frozen=True, kw_only=True)
class Change(ABC):
    """One change of one kind: a frozen record of parameters and a pure function on drafts.

    Lengths among the parameters are mm. The docstring of a kind is its text in the reference.
    """

    side: str | None = name(
        "side of the body it is made on, as the wearer has it; both unless given",
        None,
        choices=tuple(Side),
        last=True,
    )

    kind: ClassVar[str]
    version: ClassVar[int]
    phrases: ClassVar[tuple[str, ...]] = ()
    """How a maker says it where the kind's name is not enough: plainly, then for a negative `by`
    if that has a word of its own."""

    either_way: ClassVar[str] = ""
    """How it is said where the sign of the amount is not at hand and the opposite is as common."""

    of_parts: ClassVar[bool] = False
    """Whether it is told of what lies on the table, not of a piece that was cut as a whole."""

    sound: ClassVar[bool] = True
    """Whether what it draws anew has to be sound; one that never asked so leaves old steps be."""

    only_calls: ClassVar[bool] = False
    """Whether it draws nothing and only says what a piece is called; it sees every name."""

    sees_beyond: ClassVar[bool] = False
    """Whether it is about marks that lie beyond the ends of their lines; all others leave them."""

    def apply(self, draft: Draft) -> Draft:
        """Return the draft after the change.

        Raises NoSuchName when it names something the draft does not have, CannotChange when the
        geometry cannot take its amounts: what does not fit is told with kind and place here, and
        whatever was drawn anew is held to be sound, so that no kind can forget it. Where left and
        right differ, or it is made on one side, it is carried out on each side by itself; and on a
        piece that was cut as a whole, unless it names one of its parts. Pieces that are called
        otherwise than by their own names have those while it is carried out. Marks for which their
        line became too short stay as they are.
        """
        if self.only_calls:
            return self._named_anew(draft)
        if not self.sees_beyond and (drawable := set_aside(draft)) is not draft:
            return put_back(self.apply(drawable), draft)
        if draft.called:
            return self._applied_by_own_names(draft)
        if self.side is None and not draft.is_parted:
            return self._applied_and_followed(draft)
        left, right = (self._applied_on(side, worn_on(draft, side)) for side in Side)
        return of_both(left, right)

    def _named_anew(self, draft: Draft) -> Draft:
        try:
            return self.carried_out(draft)
        except DoesNotFit as refusal:
            raise CannotChange.of(self.kind, refusal.at(*self.place(draft))) from refusal

    def _applied_by_own_names(self, draft: Draft) -> Draft:
        own = by_own_names(draft)
        try:
            after = by_own_names_told(self, draft).apply(own)
            return as_called(after, draft.called, draft)
        except DoesNotFit as refusal:
            raise CannotChange.of(self.kind, refusal.at(*self.place(draft))) from refusal
        except (CannotChange, NoSuchName) as refusal:
            raise told_in_names(refusal, draft.called_names) from refusal

    def _applied_on(self, side: Side, half: Draft) -> Draft:
        if self.side not in (None, side):
            return half
        try:
            return self._applied_and_followed(half)
        except CannotChange as refusal:
            raise refusal.on(side) from refusal

    def _applied_and_followed(self, draft: Draft) -> Draft:
        try:
            after = self._applied_on_joined(draft) if draft.joined else self._applied_as_told(draft)
            return redrafted(draft, after)
        except DoesNotFit as refusal:
            raise CannotChange.of(self.kind, refusal.at(*self.place(draft))) from refusal

    def _applied_on_joined(self, draft: Draft) -> Draft:
        """Return the draft after the change, made on what was joined where it names that.

        It is made on the pieces as they were before otherwise, and comes to what they make.
        """
        told = {*self._pieces_told()} & {each.name for each in draft.joined}
        if told:
            return told_of_joined(draft, told, self._applied_as_told)
        return told_of_parts(draft, self._applied_and_followed)

    def _pieces_told(self) -> Iterator[str]:
        """Yield the names of the pieces that it names."""
        for place in places_named(self):
            if told := getattr(self, place):
                yield str(told).partition(".")[0]

    def _applied_as_told(self, draft: Draft) -> Draft:
        if self.of_parts or not draft.cuts:
            return relaid(self._applied(draft))
        try:
            after = as_told_of(draft, self._pieces_told(), self._applied)
            if self.sound:
                require_sound_pieces(draft, after)
            return after
        except (DoesNotFit, BrokenOutline) as refusal:
            raise CannotChange.of(self.kind, DoesNotFit.of(refusal)) from refusal

    def _applied(self, draft: Draft) -> Draft:
        try:
            after = without_lost_marks(self.carried_out(draft), draft)
            if self.sound:
                require_sound_pieces(draft, after)
        except (DoesNotFit, BrokenOutline) as refusal:
            met = DoesNotFit.of(refusal).at(*self.place(draft))
            raise CannotChange.of(self.kind, met) from refusal
        return after

    @abstractmethod
    def carried_out(self, draft: Draft) -> Draft:
        """Return the draft after the change; raises as `apply`, DoesNotFit where that is known."""

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        """Return piece and edge (or dart) that a refusal names, where nothing nearer is known."""
        full = str(getattr(self, "dart", None) or getattr(self, "edge", None) or "")
        piece, _, place = full.partition(".")
        return piece or str(getattr(self, "piece", None) or ""), place

    @abstractmethod
    def meant(self, draft: Draft) -> tuple[str, ...]:
        """Return the names of the measures this change is meant to change on this draft."""

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        """Return the names of the forms it is made to change, if it is any.

        They are those of `measuring/forms.py`.

        A change that draws a line is judged by how far the line moved, not by a measure.
        """
        return ()

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        """Return the names of measures that follow from it and are worth showing."""
        return ()

    def in_words(self, unit: Unit) -> str:
        """Return what it does as a maker would say it, lengths in `unit`."""
        where = f" on the {self.side}" if self.side else ""
        if not self.phrases:
            return completed(self, self.kind.replace("-", " "), unit) + where
        amount = getattr(self, "by", None) or 0.0
        has_word = amount < 0 and len(self.phrases) > 1
        by = abs(amount) if has_word else None
        return completed(self, self.phrases[has_word], unit, by) + where

    @property
    def trues(self) -> bool:
        """Return whether it makes one line fit another as that comes, instead of by an amount.

        Such a change takes up a correction from above by itself, and made twice it does no more
        than made once.
        """
        return False

    def opposes(self, other: "Change") -> bool:
        """Return whether another change of the same kind does the reverse of this one."""
        mine, theirs = self._amount(), other._amount()
        return mine * theirs < 0

    def _amount(self) -> float:
        amount = getattr(self, "by", None)
        return float(amount) if isinstance(amount, int | float) else 1.0

    def same_place(self, other: "Change") -> bool:
        """Return whether another change is of this kind and on the same piece, edge or dart.

        What is made on both sides of the body meets what is made on one.
        """
        sides = {self.side, other.side} - {None}
        return (
            self.kind == other.kind
            and len(sides) < 2
            and all(
                getattr(self, place) == getattr(other, place, None) for place in places_named(self)
            )
        )


KINDS: dict[tuple[str, int], type[Change]] = {}


def kind(
    name: str, version: int = 1, *, unfair: int | None = None, unfinished: int | None = None
) -> Callable[[type[Change]], type[Change]]:
    """Register a kind of change under its name and version; a second one of both is a mistake.

    `unfair` is an earlier version that left lines as they came, whether fair or not; `unfinished`
    one that besides left them with all the curves they were drawn of.
    """

    def register(cls: type[Change]) -> type[Change]:
        made = _entered(cls, name, version)
        as_before = {"fair": False, "leaves_cloth": False, "__doc__": cls.__doc__}
        if unfair is not None:
            _entered(type(cls.__name__, (cls,), as_before), name, unfair)
        if unfinished is not None:
            rough = {"finished": False, **as_before}
            _entered(type(cls.__name__, (cls,), rough), name, unfinished)
        return made

    return register


def _entered(cls: type[Change], name: str, version: int) -> type[Change]:
    if (name, version) in KINDS:
        raise TypeError(f"the kind {name} version {version} is registered twice")
    cls.kind, cls.version = name, version
    frozen = dataclass(frozen=True, kw_only=True)(cls)
    KINDS[name, version] = frozen
    return frozen


def kinds() -> dict[str, type[Change]]:
    """Return the newest version of every kind, by name in alphabetical order."""
    return {name: KINDS[name, version] for name, version in sorted(KINDS)}


def kind_named(name: str, version: int | None = None) -> type[Change]:
    """Return a kind by name, the newest unless a version is asked for; raises NoSuchName."""
    if version is not None and (name, version) in KINDS:
        return KINDS[name, version]
    newest = kinds()
    if name not in newest:
        raise NoSuchName("kind of change", name, "trueup", tuple(newest))
    if version is None:
        return newest[name]
    known = tuple(str(v) for n, v in KINDS if n == name)
    raise NoSuchName("version", str(version), f"the kind {name}", known)
