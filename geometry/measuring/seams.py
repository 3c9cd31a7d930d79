"""Find seams that do not sew together, as a whole and from one matched mark to the next."""

from collections.abc import Iterator, Sequence

from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.measuring.walk import SectionWalk, Walk, walk
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.said import Said, said


def seam_finding(draft: Draft, seam: Seam) -> Finding | None:
    """Return what does not hold of a seam, None where it walks as it should.

    One seam is one finding: what it measures is the whole or the section that is farthest outside
    what is allowed, for one change mends them together. Raises NoSuchName for a seam whose edges
    the draft does not have.
    """
    walked = walk(draft, seam)
    outside = [each for each in walked.sections if not each.matches]
    if walked.matches and not outside:
        return None
    worst = max(outside, key=lambda each: abs(each.excess), default=None)
    if worst is None or (not walked.matches and abs(walked.excess) >= abs(worst.excess)):
        section, measured, allowed = "", walked.ease, seam.allowed
    else:
        section, measured, allowed = worst.section.name, worst.ease, worst.section.allowed
    return Finding(
        "seam",
        Severity.ERROR,
        *seam.place,
        measured,
        allowed.low,
        allowed.high,
        _of_whole(walked, [*map(_of_section, outside), *_of_opening(seam)]),
        tuple((run.piece, run.edge) for run in seam.runs),
        section,
    )


def _of_whole(walked: Walk, outside: Sequence[Said]) -> Said:
    allowed = walked.seam.allowed
    side, mate = _sewn(walked.seam.side), _sewn(walked.seam.mate)
    lengths = {"side_mm": walked.side, "mate_mm": walked.mate}
    if allowed.low == allowed.high == 0:
        longer, shorter = (side, mate) if walked.ease > 0 else (mate, side)
        return said(
            "seam-uneven", *outside,
            side=side, mate=mate, **lengths,
            longer=longer, shorter=shorter, by=abs(walked.ease), tolerance=allowed.tolerance,
        )  # fmt: skip
    return said(
        "seam-ease", *outside,
        side=side, mate=mate, **lengths,
        ease=walked.ease, low=allowed.low, high=allowed.high,
    )  # fmt: skip


def _of_section(walked: SectionWalk) -> Said:
    section, allowed = walked.section.name, walked.section.allowed
    return said(
        "section-ease", section=section, ease=walked.ease, low=allowed.low, high=allowed.high
    )


def _of_opening(seam: Seam) -> Iterator[Said]:
    if seam.open_from:
        yield said("sewn-down-to", mark=seam.open_from[0])


def _sewn(runs: tuple[Run, ...]) -> str:
    return " + ".join(str(run) for run in runs)
