"""What is known of an evaluated node without its geometry: small enough to keep for every node."""

from collections.abc import Sequence

from msgspec import Struct, field

from trueup.geometry.errors import NoSuchName
from trueup.geometry.measuring.finding import Finding
from trueup.geometry.said import Said, said
from trueup.geometry.sides.naming import names_at


class Problem(Struct, frozen=True):
    """A step of a node's own chain that could not be carried out and was left out.

    `code` is `missing` or `impossible`, `kind` that of the step, `error` what the geometry says of
    it; `largest_mm` what could still be done, where known.
    """

    step: str
    code: str
    kind: str
    error: Said
    piece: str
    edge: str
    largest_mm: float | None = None

    @property
    def says(self) -> Said:
        """Return what there is to say of it."""
        return said("step-left-out", self.error, kind=self.kind)


class SectionEase(Struct, frozen=True):
    """A section of a seam: its two sewn lengths and the ease it allows, mm."""

    name: str
    side: float
    mate: float
    low: float
    high: float


class SeamWalk(Struct, frozen=True):
    """A seam of an evaluated node: its two sewn lengths and the ease it allows, mm.

    `place` are the piece and the edge it is told by.
    """

    side: float
    mate: float
    low: float
    high: float
    runs: tuple[str, ...]
    place: tuple[str, str]
    sections: tuple[SectionEase, ...] = ()

    def ease(self, section: str = "") -> float | None:
        """Return its ease, or that of one section, mm; None where it has no such section."""
        if not section:
            return self.side - self.mate
        return next((s.side - s.mate for s in self.sections if s.name == section), None)

    @property
    def numbers(self) -> tuple[float, ...]:
        """Return all its lengths and what it allows, section by section, mm."""
        parts: tuple[SeamWalk | SectionEase, ...] = (self, *self.sections)
        return tuple(mm for p in parts for mm in (p.side, p.mate, p.low, p.high))


class Summary(Struct, frozen=True):
    """What is known of an evaluated node without its geometry.

    `shaped` says which own step last shaped an edge (`piece.edge`), by the edge's shape up to a
    rigid motion; edges that came unchanged from a parent are not in it. `forms` say how its lines
    and darts lie (`trueup.geometry.measuring.forms`); `cut_from` what each part was cut from;
    `laid_on` are the pieces that are laid on another and sewn there; `called` what pieces are
    called, by own names, where that is another: what is known of these is known by both. `joined`
    says of which two a piece was joined: these are known, too. `unsewn` are lines that need a seam
    and have none.
    """

    fingerprint: str
    measures: dict[str, float]
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    shaped: dict[str, str]
    seams: dict[str, SeamWalk]
    pieces: tuple[str, ...]
    forms: dict[str, tuple[float, ...]] = field(default_factory=dict)
    cut_from: dict[str, str] = field(default_factory=dict)
    laid_on: tuple[str, ...] = ()
    called: dict[str, str] = field(default_factory=dict)
    joined: dict[str, tuple[str, ...]] = field(default_factory=dict)
    unsewn: tuple[str, ...] = ()

    def own_name(self, piece: str) -> str:
        """Return the own name of a piece, whatever it is called."""
        return next((own for own, called in self.called.items() if called == piece), piece)

    def by_own_name(self, name: str) -> str:
        """Return a piece, or a place or measure of one, by the own name of the piece."""
        piece, dot, rest = name.partition(".")
        return f"{self.own_name(piece)}{dot}{rest}"

    def as_called(self, name: str) -> str:
        """Return a piece, or a place or measure of one, as the node calls it."""
        piece, dot, rest = name.partition(".")
        return f"{self.called.get(piece, piece)}{dot}{rest}"

    @property
    def told_of(self) -> tuple[str, ...]:
        """Return the names of all pieces, and of those that some of them were cut from."""
        joined = (part for parts in self.joined.values() for part in parts)
        above = (*self.cut_from.values(), *self.called.values(), *joined)
        return tuple(dict.fromkeys((*self.pieces, *above)))

    @property
    def measures_by_own_names(self) -> dict[str, float]:
        """Return its measures, those of pieces that are called otherwise by own names alone."""
        if not self.called:
            return self.measures
        twice = tuple(f"{called}." for called in self.called.values())
        return {n: mm for n, mm in self.measures.items() if not n.startswith(twice)}

    def chosen(self, names: Sequence[str], where: str) -> dict[str, float]:
        """Return the measures of these names, or that begin with one: `front` is all of the front.

        All when no name is given. `where` is what a message calls the node. Raises NoSuchName.
        """
        if not names:
            # What a piece measures is told once, by what it is called.
            twice = tuple(f"{own}." for own in self.called)
            return {n: mm for n, mm in self.measures.items() if not n.startswith(twice)}
        found: dict[str, float] = {}
        for name in self._apart(names):
            group = {m: v for m, v in self.measures.items() if m.startswith(f"{name}.")}
            if name in self.measures:
                group = {name: self.measures[name]}
            if not group:
                raise NoSuchName("measure", name, where, tuple(self.measures))
            found.update(group)
        return found

    def _apart(self, names: Sequence[str]) -> tuple[str, ...]:
        """Return names of measures; both sides of what is parted into left and right."""
        known = {*self.measures, *(name.partition(".")[0] for name in self.measures)}
        return tuple(each for name in names for each in names_at(known, name))
