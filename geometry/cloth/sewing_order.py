"""The order in which an alteration is done: open, press, mark and re-cut, then sew again.

What was sewn last is opened first; what lies beneath is sewn first: darts, the seams within a piece
that was cut apart, shoulder, side, sleeve, what is drafted to a line, then neck and hem. A collar
is on its stand before that is on the neck. Pleats are laid before an edge they begin or end on is
sewn, gathers drawn up just before their seam; a vent is turned in once its seam is sewn, before the
hem is. A patch pocket whose place moved comes off first, and is sewn on while the piece lies flat.
What is called a hem and is sewn to another piece is a seam (common practice, no source).
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.pieces.bodice import SIDE_SEAM, is_side_seam
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.drafted import BandTo, CuffTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtLevel, OnEdge, Purpose

SHOULDER_SEAM, SLEEVE_SEAM = "shoulder-seam", "sleeve-seam"
NECK, HEM, CENTRE = "neck", "hem", "centre"


class Work(StrEnum):
    """What is done in one step."""

    OPEN = "open"
    OPEN_PART = "open in part"
    PRESS = "press"
    RECUT = "mark and re-cut"
    DART = "sew the dart"
    PLEATS = "lay the pleats"
    GATHER = "gather"
    VENT = "turn in"
    POCKET = "sew on the pocket"
    SEW = "sew"
    SET = "set the sleeve"
    FINISH = "finish"


@dataclass(frozen=True)
class SewingStep:
    """One step: what is done, on which edges, darts or seam, and the same in words."""

    work: Work
    places: tuple[str, ...]
    says: str


def sewing_order(
    draft: Draft, moved: Collection[str], released: Collection[str] = ()
) -> tuple[SewingStep, ...]:
    """Return the steps to sew a garment again of which some edges and darts moved, in order.

    `moved` are full names (`front.armhole`, `front.bust`) of the corrected draft, `released` the
    darts that it no longer has. Where there are none there is nothing to do.
    """
    if not (moved or released):
        return ()
    return tuple(_steps(_Job(draft, frozenset(moved), tuple(released))))


@dataclass(frozen=True)
class _Job:
    draft: Draft
    moved: frozenset[str]
    released: tuple[str, ...]

    @property
    def darts(self) -> tuple[str, ...]:
        """Return the darts that are sewn anew, in the draft's order."""
        return tuple(name for name in self.draft.dart_names if name in self.moved)

    def edges(self, *names: str) -> tuple[str, ...]:
        """Return the moved edges of these names, of any piece; all without a name."""
        return tuple(
            full
            for full in self.draft.edge_names
            if full in self.moved and (not names or full.partition(".")[2] in names)
        )

    @property
    def opened(self) -> tuple[Seam, ...]:
        """Return the seams that are opened whole: an edge of theirs moved, or a dart in it."""
        return tuple(seam for seam in self.draft.seams if self._touches(seam))

    def _touches(self, seam: Seam) -> bool:
        for run in seam.runs:
            edge = self.draft.edge(run.piece, run.edge)
            names = {str(run), *(f"{run.piece}.{dart.name}" for dart in edge.darts)}
            if names & self.moved:
                return True
        return False

    def opens(self, *names: str) -> bool:
        """Return whether one of these seams is opened whole; one at the side of a skirt counts."""
        return any(
            seam.name in names or (SIDE_SEAM in names and is_side_seam(seam))
            for seam in self.opened
        )

    def has_darts_on(self, *names: str) -> bool:
        """Return whether a dart that is sewn anew opens on an edge of these names."""
        return any(
            f"{piece.name}.{dart.name}" in self.moved
            for piece in self.draft.pieces
            for edge in piece.edges
            if edge.name in names and not self.is_sewn_hem(f"{piece.name}.{edge.name}")
            for dart in edge.darts
        )

    def is_sewn_hem(self, full: str) -> bool:
        """Return whether an edge is called a hem and is sewn to another, as to a skirt."""
        return full.endswith(f".{HEM}") and self.sewing(full) is not None

    def sewing(self, full: str) -> Seam | None:
        """Return the seam that sews an edge, if one does."""
        return next((s for s in self.draft.seams if full in map(str, s.runs)), None)

    @property
    def hems(self) -> tuple[str, ...]:
        """Return the moved edges that are turned up."""
        return tuple(full for full in self.edges(HEM) if not self.is_sewn_hem(full))

    @property
    def opens_beside_hem(self) -> bool:
        """Return whether a seam that runs down to a hem is opened whole, or a centre is."""
        if self.edges(CENTRE):
            return True
        ends = {SIDE_SEAM, SLEEVE_SEAM}
        seams = (s for s in self.opened if s.name in ends or is_side_seam(s))
        pieces = {run.piece for seam in seams for run in seam.runs}
        hems = {f"{name}.{HEM}" for name in pieces} & {*self.draft.edge_names}
        return not hems or any(not self.is_sewn_hem(full) for full in hems) if pieces else False

    @property
    def beside_waist(self) -> tuple[Seam, ...]:
        """Return the seams that a side seam runs into which is opened, and are not themselves."""
        sides = [seam for seam in self.opened if is_side_seam(seam)]
        hems = (f"{run.piece}.{HEM}" for seam in sides for run in seam.runs)
        met = (self.sewing(full) for full in hems)
        return tuple(dict.fromkeys(s for s in met if s is not None and s not in self.opened))

    @property
    def pockets(self) -> tuple[str, ...]:
        """Return the pieces laid on others whose place is told from an edge that moved."""
        placed = (
            (mark.name, f"{piece.name}.{mark.place.edge}")
            for piece in self.draft.pieces
            for mark in piece.marks
            if mark.purpose is Purpose.PLACEMENT and isinstance(mark.place, OnEdge | AtLevel)
        )
        moved = {name for name, edge in placed if edge in self.moved}
        return tuple(p.name for p in self.draft.pieces if p.shared_name in moved)


def _steps(job: _Job) -> Iterator[SewingStep]:
    yield from _opening(job)
    yield SewingStep(Work.PRESS, (), "Press flat what was opened, and mark the new seam lines.")
    recut = job.edges()
    if recut:
        yield SewingStep(Work.RECUT, recut, f"Re-cut by the new cutting line: {_list(recut)}.")
    for dart in job.darts:
        yield SewingStep(Work.DART, (dart,), f"Sew the dart {dart} and press it.")
    yield from _pleats(job)
    yield from _sewing(job)
    yield SewingStep(Work.PRESS, (), "Press the whole.")


def _opening(job: _Job) -> Iterator[SewingStep]:
    hems, necks = job.hems, job.edges(NECK)
    for pocket in job.pockets:
        yield SewingStep(Work.OPEN, (pocket,), f"Take off the {pocket}.")
    if hems or job.has_darts_on(HEM):
        yield SewingStep(Work.OPEN, hems, "Let down the hem.")
    elif job.opens_beside_hem:
        yield SewingStep(Work.OPEN_PART, (), "Let down the hem a hand's width at the seam.")
    if job.opens(CAP_SEAM):
        yield SewingStep(Work.OPEN, (CAP_SEAM,), "Take the sleeve out of the armhole.")
    elif job.draft.has_seam(CAP_SEAM):
        if job.opens(SHOULDER_SEAM):
            says = "Open the armhole seam a hand's width across the shoulder."
            yield SewingStep(Work.OPEN_PART, (CAP_SEAM,), says)
        if job.opens(SIDE_SEAM, SLEEVE_SEAM):
            says = "Open the armhole seam a hand's width across the underarm."
            yield SewingStep(Work.OPEN_PART, (CAP_SEAM,), says)
    if necks or job.has_darts_on(NECK):
        yield SewingStep(Work.OPEN, necks, "Take off the finish of the neck.")
    elif job.opens(SHOULDER_SEAM):
        says = "Open the finish of the neck a hand's width at the shoulder."
        yield SewingStep(Work.OPEN_PART, (), says)
    yield from _opening_seams(job)


def _opening_seams(job: _Job) -> Iterator[SewingStep]:
    for seam in job.beside_waist:
        says = f"Open the {_words(seam.name)} a hand's width at the side."
        yield SewingStep(Work.OPEN_PART, (seam.name,), says)
    for seam in reversed(_in_order(job)):
        yield SewingStep(Work.OPEN, (seam.name,), f"Open the {_words(seam.name)}.")
    centres = job.edges(CENTRE)
    if centres:
        yield SewingStep(Work.OPEN, centres, f"Open the seam at {_list(centres)}.")
    darts = (*job.darts, *job.released)
    if darts:
        yield SewingStep(Work.OPEN, darts, f"Unpick the darts: {_list(darts)}.")


def _sewing(job: _Job) -> Iterator[SewingStep]:
    centres = job.edges(CENTRE)
    for pocket in job.pockets:
        yield SewingStep(Work.POCKET, (pocket,), f"Sew the {pocket} on at its new place.")
    if centres:
        yield SewingStep(Work.SEW, centres, f"Sew the seam at {_list(centres)}.")
    for seam in _in_order(job):
        yield from _gathers(job, seam)
        yield SewingStep(Work.SEW, (seam.name,), f"Sew the {_words(seam.name)}.")
    for seam in job.beside_waist:
        yield SewingStep(Work.SEW, (seam.name,), f"Close the {_words(seam.name)} at the side.")
    yield from _vents(job)
    hems, necks = job.hems, job.edges(NECK)
    if necks or job.has_darts_on(NECK) or job.opens(SHOULDER_SEAM):
        yield SewingStep(Work.FINISH, necks, "Finish the neck.")
    if job.draft.has_seam(CAP_SEAM) and job.opens(CAP_SEAM, SHOULDER_SEAM, SIDE_SEAM, SLEEVE_SEAM):
        how = "Set" if job.opens(CAP_SEAM) else "Close"
        what = "the sleeve, its ease spread over the cap" if how == "Set" else "the armhole seam"
        yield SewingStep(Work.SET, (CAP_SEAM,), f"{how} {what}.")
    elif job.edges("armhole"):
        yield SewingStep(Work.FINISH, job.edges("armhole"), "Finish the armhole.")
    if hems or job.has_darts_on(HEM) or job.opens_beside_hem:
        yield SewingStep(Work.FINISH, hems, "Level the hem and turn it up.")


def _pleats(job: _Job) -> Iterator[SewingStep]:
    """Yield how the pleats are laid again that begin or end on an edge that is sewn anew."""
    anew = {*job.moved, *(str(run) for seam in job.opened for run in seam.runs)}
    for piece in job.draft.pieces:
        pleats = [
            pleat.name
            for pleat in piece.pleats
            if anew & {f"{piece.name}.{pleat.edge}", f"{piece.name}.{pleat.ends}"}
        ]
        if pleats:
            places = tuple(f"{piece.name}.{name}" for name in pleats)
            yield SewingStep(Work.PLEATS, places, f"Lay and tack the pleats: {_list(places)}.")


def _gathers(job: _Job, seam: Seam) -> Iterator[SewingStep]:
    """Yield what is gathered before a seam is sewn: the line that a band or a cuff takes up."""
    for to in job.draft.drafted:
        if isinstance(to, BandTo | CuffTo) and to.gathers > 0 and to.piece in seam.pieces:
            lines = tuple(str(run) for run in seam.runs if str(run) in to.lines)
            if lines:
                yield SewingStep(Work.GATHER, lines, f"Gather {_list(lines)} to its length.")


def _vents(job: _Job) -> Iterator[SewingStep]:
    """Yield the vents that are turned in again: their edge, or the hem they end at, was opened."""
    anew = {*job.moved, *(str(run) for seam in job.opened for run in seam.runs)}
    for piece in job.draft.pieces:
        for vent in piece.vents:
            beside = (each.name for each in piece.neighbours(vent.edge))
            below = next(n for n in beside if vent.hem in _corners(piece.edge(n)))
            if anew & {f"{piece.name}.{vent.edge}", f"{piece.name}.{below}"}:
                place = f"{piece.name}.{vent.name}"
                yield SewingStep(Work.VENT, (place,), f"Turn in the extension of {place}.")


def _corners(edge: Edge) -> tuple[str, str]:
    return edge.starts_at, edge.ends_at


def _in_order(job: _Job) -> list[Seam]:
    """Return the opened seams but that of the sleeve, in the order they are sewn."""
    seams = [seam for seam in job.opened if seam.name != CAP_SEAM]
    return sorted(seams, key=lambda seam: _rank(job.draft, seam))


def _rank(draft: Draft, seam: Seam) -> tuple[int, int]:
    """Return when a seam is sewn: those of a lower rank first."""
    drafted = [k for k, to in enumerate(draft.drafted) if to.piece in seam.pieces]
    if drafted:
        # A piece can only be drafted to one that was there before it.
        return 5, -max(drafted)
    first, *others = (draft.cut_from(piece) for piece in sorted(seam.pieces))
    if others and first.intersection(*others):
        return 0, 0
    if seam.name == SHOULDER_SEAM:
        return 1, 0
    if is_side_seam(seam):
        return 2, 0
    return (3 if seam.name == SLEEVE_SEAM else 4), 0


def _words(seam: str) -> str:
    words = seam.replace("-", " ")
    return words if words.endswith("seam") else f"{words} seam"


def _list(names: Collection[str]) -> str:
    return ", ".join(names)
