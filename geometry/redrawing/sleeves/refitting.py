"""Refit a sleeve cap to its armhole: what each half asks for, and the sleeve that gives it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.kept import kept
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.sections import CROWN, shared_out
from trueup.geometry.measuring.walk import Walk, walk
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.sleeves.cap_ends import Reaches, seam_kink, smooth_across_the_seam
from trueup.geometry.redrawing.sleeves.cap_halves import Cap, CapShape, Way, at_the_ends, solved
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, recut
from trueup.geometry.tolerance import SAME_LENGTH, SMOOTH_JOIN_DEGREES

WIDTH, HEIGHT, BOTH = "width", "height", "both"
WAYS = (WIDTH, HEIGHT, BOTH)
IN_WORDS = {WIDTH: "in its width", HEIGHT: "in its height", BOTH: "in width and height"}

_EXACT = 1e-7
_MOST_TRIES, _FREE_TRIES = 20, 3
_GRAIN = 0.01
"""What can be done is told to this, mm."""


@dataclass(frozen=True)
class CapRefit:
    """How a cap meets what is asked: the ease of its halves, its change in width and height, mm.

    The ease is that of the whole alone where the cap has no halves. `notch` is how far the crown
    notch moves along the cap, towards the back.
    """

    eases: tuple[float, ...]
    width: float
    height: float
    notch: float
    sleeve: Piece

    @property
    def ease(self) -> float:
        """Return the ease in all, mm."""
        return sum(self.eases)

    @property
    def amount(self) -> float:
        """Return the change in width, or in height where the width stays, mm."""
        return self.width or self.height or self.notch


@dataclass(frozen=True)
class Refitting:
    """A cap to be refitted: the draft, what of the cap may change, and whether its notch moves."""

    draft: Draft
    how: str = BOTH
    width: float | None = None
    notch: bool = False

    @kept
    def _sleeve(self) -> Piece:
        return self.draft.piece(SLEEVE)

    @kept
    def _sewn(self) -> Walk:
        return walk(self.draft, self.draft.seam(CAP_SEAM))

    @kept
    def _cap(self) -> Cap:
        return Cap.of(closed(self._sleeve.edge("cap")).chain)

    @property
    def _halves(self) -> bool:
        """Whether the seam is walked by the two halves of the cap."""
        return len(self._sewn.sections) == 2

    @property
    def _eases(self) -> tuple[float, ...]:
        return _eases(self._sewn)

    def wanted(self, to: float | None) -> tuple[float, ...]:
        """Return the ease that each half is to have for one of `to` mm in all.

        Without it, each half is brought to what is allowed there, and all of it to what is allowed
        in all; where only the notch is to move, the whole is kept if it can be. A cap without
        halves has the ease of the whole.
        """
        allowed = self._sewn.seam.allowed
        sections = tuple(each.section for each in self._sewn.sections)
        if not self._halves:
            return (allowed.nearest(self._sewn.ease) if to is None else to,)
        if to is not None:
            return shared_out(to, sections)
        near = tuple(
            part.allowed.nearest(ease) for part, ease in zip(sections, self._eases, strict=True)
        )
        now = self._sewn.ease
        total = allowed.nearest(now if self.notch and near != self._eases else sum(near))
        return near if total == sum(near) else shared_out(total, sections)

    def found(self, wanted: tuple[float, ...]) -> CapRefit | None:
        """Return how the cap comes to have the wanted ease; None where it would lose its shape."""
        off = max(map(abs, _missing(wanted, self._sewn)))
        size = self.width is None or abs(self.width - self._cap.shape.width) <= _EXACT
        if off <= _EXACT and size and abs(seam_kink(self._sleeve)) <= SMOOTH_JOIN_DEGREES:
            return CapRefit(wanted, 0.0, 0.0, 0.0, self._sleeve)
        return self._with_notch_moved(wanted) if self.notch else self._redrawn(wanted)

    def possible(self) -> tuple[float, float]:
        """Return the least and the most ease that the cap can be brought to, mm."""
        sections = tuple(part.section for part in self._sewn.sections)
        mates = tuple(part.mate for part in self._sewn.sections)

        def uneven(shape: CapShape) -> float:
            lengths = self._cap.lengths(shape)
            eases = [length - mate for length, mate in zip(lengths, mates, strict=True)]
            return eases[0] - shared_out(sum(eases), sections)[0]

        by_halves = uneven if self._halves and not self.notch else None
        smallest, largest = at_the_ends(self._cap, self._way, by_halves)
        return self._reached(smallest), self._reached(largest)

    def _reached(self, shape: CapShape) -> float:
        """Return the ease nearest to that of a shape that the cap can be given, mm.

        What smoothing its ends does to each half keeps it a little short of the shape itself.
        """
        near, far = self._sewn.ease, self._walked(self._of(shape, ())[0].sleeve).ease
        while abs(far - near) > _GRAIN:
            middle = (near + far) / 2
            if self.found(self.wanted(middle)) is None:
                far = middle
            else:
                near = middle
        return near

    @property
    def in_words(self) -> str:
        """Return what of the cap may change."""
        if self.width is not None:
            return HEIGHT
        return "width and height" if self.how == BOTH else self.how

    @property
    def _way(self) -> Way:
        shape = self._cap.shape
        width, height = (0.0, shape.width), (0.0, shape.height)
        if self.width is not None:
            return Way((self.width, 0.0), height)
        if self.how == WIDTH:
            return Way(width, (shape.height, 0.0))
        return Way((shape.width, 0.0), height) if self.how == HEIGHT else Way(width, height)

    def _redrawn(self, wanted: tuple[float, ...]) -> CapRefit | None:
        """Return the cap redrawn until its halves, or the whole of it, hold the ease asked for.

        The halves are those beside the crown notch, which may lie a little off the crown; and what
        smoothing the ends adds is known only when it is done. So what is aimed at is put right by
        what is still missing, until nothing is.
        """
        now = self._cap.lengths(self._cap.shape)
        aimed: tuple[float, ...] = now if len(wanted) == 2 else (sum(now),)
        missing = _missing(wanted, self._sewn)
        reaches: Reaches | None = None
        for tried in range(_MOST_TRIES):
            aimed = tuple(a + m for a, m in zip(aimed, missing, strict=True))
            shape = solved(self._cap, self._way, aimed)
            if shape is None:
                return None
            refit, found = self._of(shape, wanted, reaches)
            # How far the ends are drawn anew may leap to and fro: it is held once it is near.
            reaches = found if tried >= _FREE_TRIES else None
            missing = _missing(wanted, self._walked(refit.sleeve))
            if max(map(abs, missing)) <= _EXACT:
                return refit
        return None

    def _with_notch_moved(self, wanted: tuple[float, ...]) -> CapRefit | None:
        """Return the cap with its crown notch put in place, redrawn as a whole where it has to."""
        refit = Refitting(self.draft, self.how, self.width).found((sum(wanted),))
        if refit is None or len(wanted) < 2:
            return refit
        cap = refit.sleeve.edge("cap")
        along = self._sewn.sections[0].mate + wanted[0]
        if not 0 < along < cap.length:
            return None
        notch = next(n for n in refit.sleeve.notches if (n.edge, n.name) == ("cap", CROWN))
        moved = replace(notch, at=Position(cap.starts_at, distance=along))
        notches = tuple(moved if n is notch else n for n in refit.sleeve.notches)
        by = along - notch.at.along(cap)
        return replace(refit, eases=wanted, notch=by, sleeve=replace(refit.sleeve, notches=notches))

    def _of(
        self, shape: CapShape, wanted: tuple[float, ...], reaches: Reaches | None = None
    ) -> tuple[CapRefit, Reaches]:
        was = self._cap.shape
        width, height = _if_any(shape.width - was.width), _if_any(shape.height - was.height)
        aside = _if_any(shape.front - was.front - width / 2)
        drawn = recut(self._sleeve, width / 2, height, aside=aside)
        smooth, found = smooth_across_the_seam(drawn, reaches)
        return CapRefit(wanted, width, height, 0.0, _with_notches(self.draft, smooth)), found

    def _walked(self, sleeve: Piece) -> Walk:
        return walk(self.draft.with_pieces(sleeve), self._sewn.seam)


def _eases(sewn: Walk) -> tuple[float, ...]:
    if len(sewn.sections) == 2:
        return tuple(part.ease for part in sewn.sections)
    return (sewn.ease,)


def _missing(wanted: tuple[float, ...], sewn: Walk) -> tuple[float, ...]:
    eases = _eases(sewn) if len(wanted) == 2 else (sewn.ease,)
    return tuple(want - ease for want, ease in zip(wanted, eases, strict=True))


def _if_any(amount: float) -> float:
    return amount if abs(amount) > _EXACT else 0.0


def _with_notches(draft: Draft, sleeve: Piece) -> Piece:
    """Return a sleeve whose notches match those of their names on the armhole.

    Nothing is eased in below the notches: they lie as far from the underarm here as there.
    """
    cap, seam = sleeve.edge("cap"), draft.seam(CAP_SEAM)
    at: dict[str, Position] = {}
    for run, corner in ((seam.mate[0], cap.starts_at), (seam.mate[-1], cap.ends_at)):
        at |= {name: Position(corner, distance=mm) for name, mm in _from_underarm(draft, run)}
    notches = (
        _put(notch, cap, at[notch.name]) if notch.edge == "cap" and notch.name in at else notch
        for notch in sleeve.notches
    )
    return replace(sleeve, notches=tuple(notches))


def _put(notch: Notch, cap: Edge, at: Position) -> Notch:
    """Return a notch at a place; the same where it lies there but for rounding."""
    if abs(notch.at.along(cap) - at.along(cap)) <= SAME_LENGTH:
        return notch
    return replace(notch, at=at)


def _from_underarm(draft: Draft, run: Run) -> Iterator[tuple[str, float]]:
    """Yield the notches of an armhole with how far they lie from the underarm, mm."""
    piece = draft.piece(run.piece)
    edge = piece.edge(run.edge)
    for notch in piece.notches:
        if notch.edge == edge.name:
            along = notch.at.along(edge)
            yield notch.name, edge.length - along
