"""Find seams that do not sew together, as a whole and from one matched mark to the next."""

from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.measuring.walk import SectionWalk, Walk, walk
from trueup.geometry.pieces.draft import Draft, Run, Seam


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
        seam.side[0].piece,
        seam.side[0].edge,
        measured,
        allowed.low,
        allowed.high,
        " ".join([_of_whole(walked), *map(_of_section, outside)]),
        tuple((run.piece, run.edge) for run in seam.runs),
        section,
    )


def _of_whole(walked: Walk) -> str:
    allowed = walked.seam.allowed
    side, mate = _sewn(walked.seam.side), _sewn(walked.seam.mate)
    if allowed.low == allowed.high == 0:
        longer, shorter = (side, mate) if walked.ease > 0 else (mate, side)
        verdict = f"{longer} is {abs(walked.ease):.1f} mm longer than {shorter}"
        may_be = f"they may differ by {allowed.tolerance:.1f} mm"
    else:
        verdict = f"the ease is {walked.ease:.1f} mm"
        may_be = f"{allowed.low:.1f} to {allowed.high:.1f} mm are allowed"
    return (
        f"{side} measures {walked.side:.1f} mm and {mate} {walked.mate:.1f} mm: "
        f"{verdict}; {may_be}."
    )


def _of_section(walked: SectionWalk) -> str:
    allowed = walked.section.allowed
    return (
        f"Its {walked.section.name} part has {walked.ease:.1f} mm of it; "
        f"{allowed.low:.1f} to {allowed.high:.1f} mm are allowed there."
    )


def _sewn(runs: tuple[Run, ...]) -> str:
    return " + ".join(str(run) for run in runs)
