"""Recut a sleeve: move its underarm points, its crown and its hem, and its seams with them."""

from dataclasses import replace

from trueup.geometry.lines import fade
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.sleeve_cap import ScaledCap, scaled
from trueup.geometry.redrawing.hems.hem import drawn_between
from trueup.geometry.redrawing.move_corner import (
    end_carried,
    end_cut,
    end_motion,
    meeting,
    start_carried,
    start_motion,
)
from trueup.geometry.redrawing.sleeves.cap_ends import cap_at_seams, smooth_across_the_seam
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT

SLEEVE = "sleeve"
BACK_SEAM, FRONT_SEAM = "back-seam", "front-seam"
CROWN_NOTCH = "crown"


def recut(
    sleeve: Piece,
    out: float,
    up: float,
    hem_out: float = 0.0,
    *,
    aside: float = 0.0,
    smooth: bool = False,
) -> Piece:
    """Return a sleeve with both underarm points moved out, the crown raised, both hem ends out.

    Each side moves by the amount given, mm; the crown `aside` towards the back. The crown notch
    keeps its place on the cap. Where it is to be `smooth`, the cap runs on without a kink across
    the sleeve seam. What does not move stays the same edge. Raises CannotChange when the cap would
    lose its width or height.
    """
    old = sleeve.edge("cap")
    line = closed(old)
    larger = scaled(line.chain, out, up, aside)
    ends = larger.chain.start, line.motions[-1].inverse()(larger.chain.end)
    cap = meeting(line.opened(larger.chain), *ends)
    edges = [cap]
    if out or hem_out:
        across = (old.end - old.start) / abs(old.end - old.start)
        edges += moved_seams(sleeve, cap.start, cap.end, -across * hem_out, across * hem_out)
    changed = sleeve.with_edges(*edges)
    notches = tuple(_carried(notch, old, cap, larger) for notch in sleeve.notches)
    changed = replace(changed, notches=notches)
    return smooth_across_the_seam(changed)[0] if smooth else changed


def moved_seams(
    sleeve: Piece, front: Point, back: Point, hem_front: complex, hem_back: complex
) -> list[Edge]:
    """Return both sleeve seams run to new underarm points, and the hem where its ends move.

    `hem_front` and `hem_back` are the steps of the hem's two ends, mm. Where the hem moves more
    than the underarm, the seams flare from it. The hem is redrawn to meet them at the angles it
    had, so that it still runs on smoothly across the sleeve seam.
    """
    old_front, old_back = sleeve.edge("front-seam"), sleeve.edge("back-seam")
    steps = abs(front - old_front.end), abs(back - old_back.start)
    # One decision for both seams: they are sewn together.
    flares = max(abs(hem_front), abs(hem_back)) > max(steps) + SAME_POINT
    front_seam = _swung(old_front, front, hem_front, hem_first=True, flares=flares)
    back_seam = _swung(old_back, back, hem_back, hem_first=False, flares=flares)
    if not (hem_front or hem_back):
        return [front_seam, back_seam]
    hem = drawn_between(
        sleeve.edge("hem"),
        end_motion(old_back, back_seam),
        start_motion(old_front, front_seam),
        back_seam.end,
        front_seam.start,
    )
    return [front_seam, back_seam, hem]


def hem_moved(sleeve: Piece, out: float) -> Piece:
    """Return a sleeve with both ends of its hem moved out along it by so much, mm, seams and all.

    The underarm points stay; the seams differ by as much as they did, also where a dart bends the
    arm, and the cap runs on across the sleeve seam.
    """
    hem, (front, back) = sleeve.edge("hem"), cap_at_seams(sleeve)
    step = (hem.end - hem.start) / abs(hem.end - hem.start) * out
    moved = sleeve.with_edges(*moved_seams(sleeve, front.start, back.end, step, -step))
    return smooth_across_the_seam(seams_evened(sleeve, moved))[0]


def raglan_widened(sleeve: Piece, out: float, hem_out: float) -> Piece:
    """Return a raglan sleeve with its underarm points and both hem ends moved out, mm each.

    What is left of the cap is drawn up to them and stays where it meets the raglan lines.
    """
    front, back = cap_at_seams(sleeve)
    across = (back.end - front.start) / abs(back.end - front.start)
    first = start_carried(front, Motion(shift=-across * out), front.start - across * out)
    last = end_carried(back, Motion(shift=across * out), back.end + across * out)
    hem_step = across * hem_out
    seams = moved_seams(sleeve, first.start, last.end, -hem_step, hem_step)
    return smooth_across_the_seam(sleeve.with_edges(first, last, *seams))[0]


def seams_evened(old: Piece, new: Piece) -> Piece:
    """Return a sleeve whose back seam is trued at the hem, until the seams differ as on the old."""
    was, now = (each.edge(BACK_SEAM).length - each.edge(FRONT_SEAM).length for each in (old, new))
    if abs(now - was) < SAME_LENGTH:
        return new
    seam = new.edge(BACK_SEAM)
    trued = end_cut(seam, now - was)
    return new.with_edges(trued, start_carried(new.edge("hem"), end_motion(seam, trued), trued.end))


def _swung(
    seam: Edge, underarm: Point, hem_step: complex, *, hem_first: bool, flares: bool
) -> Edge:
    """Return a sleeve seam with its underarm end on a point and its hem end moved by a step.

    The step of the underarm fades to that of the hem along a parabola, level at the hem, whose
    direction is kept. Where the seam `flares`, the fading is straight: a straight seam stays so.
    """
    line = closed(seam)
    upwards = line.chain if hem_first else line.chain.reversed()
    total = upwards.length
    step = underarm - (seam.end if hem_first else seam.start)

    def near_underarm(length: float) -> tuple[float, float]:
        share = length / total
        return (share, 1 / total) if flares else (share * share, 2 * share / total)

    last = line.motions[-1].rotation
    at_hem, at_underarm = (1, last) if hem_first else (last, 1)
    with_hem = upwards.moved(Motion(shift=hem_step * at_hem))
    moved = fade.shifted(with_hem, step * at_underarm - hem_step * at_hem, near_underarm)
    opened = line.opened(moved if hem_first else moved.reversed())
    return meeting(opened, end=underarm) if hem_first else meeting(opened, start=underarm)


def _carried(notch: Notch, old: Edge, new: Edge, scaled: ScaledCap) -> Notch:
    """Return the crown notch at its place on a new cap; the others match notches of the armhole."""
    if notch.edge != "cap" or notch.name != CROWN_NOTCH or notch.at.distance is None:
        return notch
    along = scaled.carried(notch.at.along(old))
    distance = along if notch.at.corner == old.starts_at else new.length - along
    return replace(notch, at=Position(notch.at.corner, distance=max(distance, 0.0)))
