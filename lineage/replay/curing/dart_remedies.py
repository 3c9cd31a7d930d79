"""Remedies for a seam whose lines have darts: one of them takes in more, or less."""

from collections.abc import Iterator

from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.said import said
from trueup.lineage.files.records import Remedy

DEEPEN = "deepen-dart"
_LEAST = 0.05


def for_darts(draft: Draft, seam: Seam) -> tuple[Remedy, ...]:
    """Return a remedy for each dart that opens on a line of a seam: what lies outside its band.

    Those of the longer side take in more, those of the shorter one less.
    """
    excess = walk(draft, seam).excess
    if abs(excess) < _LEAST:
        return ()
    longer, shorter = (seam.side, seam.mate) if excess > 0 else (seam.mate, seam.side)
    return (*_of(draft, longer, abs(excess)), *_of(draft, shorter, -abs(excess)))


def _of(draft: Draft, runs: tuple[Run, ...], by: float) -> Iterator[Remedy]:
    version = kind_named(DEEPEN).version
    for run in runs:
        for dart in draft.edge(run.piece, run.edge).darts:
            name = f"{run.piece}.{dart.name}"
            says = said("take-in-dart" if by > 0 else "let-out-dart", dart=name, by=abs(by))
            values = {"dart": name, "by": f"{by:.2f}mm"}
            told = f"{DEEPEN}-of-{run.piece}-{dart.name}"
            yield Remedy(told, round(abs(by), 2), says, DEEPEN, values, version=version)
