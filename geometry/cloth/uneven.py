"""What is left uneven where cloth lacks: seams of which one side stays shorter than the other."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trueup.geometry.cloth.cut_cloth import ClothAnswer
from trueup.geometry.measuring.walk import Walk
from trueup.geometry.pieces.bodice import FRONT, SIDE_SEAM
from trueup.geometry.pieces.corner import corner_degrees
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.side import unsided
from trueup.geometry.tolerance import UNCHANGED

HEM = "hem"

_FLATTEST = 0.5
"""Sine of the flattest corner at which a lack is turned into a length: beyond, it says nothing."""


@dataclass(frozen=True)
class Uneven:
    """A seam that would be left uneven: which of its edges is the shorter, and by how much, mm.

    `at` is the edge whose lack of cloth leaves it so (`front.hem`), empty where the corrected
    pattern itself is uneven.
    """

    seam: str
    shorter: str
    longer: str
    by: float
    at: str = ""

    @property
    def with_a_vent(self) -> bool:
        """Return whether it is a front hem shorter than the back: it may be worn with a vent.

        A front hem that is longer than the back is not (common practice, no source).
        """
        at_hem = not self.at or self.at.endswith(f".{HEM}")
        is_side, shorter = unsided(self.seam).endswith(SIDE_SEAM), unsided(self.shorter)
        return is_side and at_hem and shorter.startswith(f"{FRONT}.")


@dataclass(frozen=True)
class _Sewn:
    """The length one edge of a seam can be sewn to, and the edge beside it that cuts it short."""

    run: Run
    length: float
    short: float = 0.0
    at: str = ""


def uneven_seams(draft: Draft, answers: Mapping[str, ClothAnswer]) -> tuple[Uneven, ...]:
    """Return the seams of a corrected draft that cannot be sewn even on the cloth there is.

    `answers` are those of its pieces; a seam is walked where it joins one edge to one other.
    """
    return tuple(_uneven(draft, answers))


def _uneven(draft: Draft, answers: Mapping[str, ClothAnswer]) -> Iterator[Uneven]:
    for seam in draft.seams:
        if len(seam.side) != 1 or len(seam.mate) != 1 or not seam.pieces <= answers.keys():
            continue
        side, mate = (_sewn(draft, answers[runs[0].piece], runs[0]) for runs in _sides(seam))
        walked = Walk(seam, side.length, mate.length)
        if walked.matches:
            continue
        shorter, longer = (side, mate) if walked.excess < 0 else (mate, side)
        names = str(shorter.run), str(longer.run)
        yield Uneven(seam.name, *names, abs(walked.excess), _cause(shorter, longer))


def _cause(shorter: _Sewn, longer: _Sewn) -> str:
    """Return the edge that keeps one side too short or the other too long, empty for neither."""
    if shorter.short > UNCHANGED:
        return shorter.at
    return longer.at if longer.short < -UNCHANGED else ""


def _sides(seam: Seam) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    return seam.side, seam.mate


def _sewn(draft: Draft, answer: ClothAnswer, run: Run) -> _Sewn:
    piece = draft.piece(run.piece)
    edge = piece.edge(run.edge)
    before, after = piece.neighbours(run.edge)
    shorts = [
        (_along(answer.edge(before.name).at_end, corner_degrees(piece, edge.starts_at)), before),
        (_along(answer.edge(after.name).at_start, corner_degrees(piece, edge.ends_at)), after),
    ]
    total = sum(short for short, _ in shorts)
    if not any(abs(short) > UNCHANGED for short, _ in shorts):
        return _Sewn(run, edge.length)
    _, beside = max(shorts, key=lambda each: abs(each[0]))
    return _Sewn(run, edge.length - total, total, f"{piece.name}.{beside.name}")


def _along(lacking: float, degrees: float) -> float:
    """Return what a lack square to an edge takes off the edge that meets it at an angle, mm."""
    return lacking / max(math.sin(math.radians(degrees)), _FLATTEST)
