"""Letters of seams: all lines that are sewn together carry the same. Lengths in mm."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, count, product

from trueup.geometry.measuring.sections import sewn_to
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.seams.seam import Run, Seam

_ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which look like a line and a hole."""


@dataclass(frozen=True)
class SewnStretch:
    """A stretch of an edge that is sewn: from `low` to `high` along it, in ring order."""

    piece: str
    edge: str
    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.piece}.{self.edge}"


@dataclass(frozen=True)
class LetteredSeam:
    """What is sewn together under one letter: a seam, or both that are one where sides are alike.

    `meets_its_mirror` says that a line is sewn to the same line of the other half.
    """

    letter: str
    name: str
    side: tuple[SewnStretch, ...]
    mate: tuple[SewnStretch, ...]
    meets_its_mirror: bool = False

    @property
    def stretches(self) -> tuple[SewnStretch, ...]:
        """Return every stretch that carries the letter, one of each line."""
        return tuple({str(each): each for each in (*self.mate, *self.side)}.values())

    @property
    def says(self) -> str:
        """Return what is sewn to what."""
        side, mate = (", ".join(map(str, _lines(each))) for each in (self.side, self.mate))
        return (
            f"{side} with that of the other half"
            if self.meets_its_mirror
            else f"{side} with {mate}"
        )


def _lines(stretches: Sequence[SewnStretch]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(map(str, stretches)))


def lettered(
    draft: Draft, before: Sequence[LetteredSeam] = (), not_as: Collection[str] = ()
) -> tuple[LetteredSeam, ...]:
    """Return the seams of a draft with their letters, in the order of the draft.

    A seam keeps the letter it had `before`, so that earlier paper goes on being of use; no letter
    is one of `not_as`, nor one that another had. Seams of both sides of the body that share a line
    share the letter.
    """
    kept = {each.name: each.letter for each in before}
    taken = {*kept.values(), *not_as}
    free = (letter for letter in _letters() if letter not in taken)
    used: set[str] = set()
    found = []
    for name, seams in _together(draft):
        letter = kept.get(name)
        if letter is None or letter in used:
            letter = next(free)
        used.add(letter)
        parts = [_stretches(draft, seam) for seam in seams]
        side = tuple(dict.fromkeys(chain.from_iterable(part[0] for part in parts)))
        mate = tuple(dict.fromkeys(chain.from_iterable(part[1] for part in parts)))
        mirrored = all(seam.meets_its_mirror for seam in seams)
        found.append(LetteredSeam(letter, name, side, mate, mirrored))
    return tuple(found)


def _letters() -> Iterator[str]:
    for length in count(1):
        yield from map("".join, product(_ALPHABET, repeat=length))


def _together(draft: Draft) -> Iterator[tuple[str, list[Seam]]]:
    """Yield seams under one letter by a name that tells them: by their own, or that of both."""
    on_paper = {*draft.piece_names}
    seams = [seam for seam in draft.seams if seam.pieces <= on_paper]
    by_name: dict[str, list[Seam]] = {}
    for seam in seams:
        by_name.setdefault(seam.shared_name, []).append(seam)
    for name, both in by_name.items():
        first, *others = both
        if all({*first.runs} & {*other.runs} for other in others):
            yield name, both
        else:
            yield from ((seam.name, [seam]) for seam in both)


def _stretches(draft: Draft, seam: Seam) -> tuple[tuple[SewnStretch, ...], tuple[SewnStretch, ...]]:
    ends = sewn_to(draft, seam)
    first, second = ends or (None, None)
    return tuple(_along(draft, seam.side, first)), tuple(_along(draft, seam.mate, second))


def _along(draft: Draft, runs: Sequence[Run], ends: float | None) -> Iterator[SewnStretch]:
    """Yield what of each run is sewn, where a seam is sewn so far along them all."""
    done = 0.0
    for run in runs:
        length = draft.edge(run.piece, run.edge).length
        sewn = length if ends is None else min(max(ends - done, 0.0), length)
        done += length
        if sewn > 0:
            low, high = (length - sewn, length) if run.backwards else (0.0, sewn)
            yield SewnStretch(run.piece, run.edge, low, high)


def by_piece(seams: Sequence[LetteredSeam]) -> Mapping[str, tuple[tuple[str, SewnStretch], ...]]:
    """Return for each piece the letters on it, each with its stretch."""
    found: dict[str, list[tuple[str, SewnStretch]]] = {}
    for seam in seams:
        for stretch in seam.stretches:
            found.setdefault(stretch.piece, []).append((seam.letter, stretch))
    return {name: tuple(each) for name, each in found.items()}
