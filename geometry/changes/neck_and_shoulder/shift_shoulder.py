"""shift-shoulder: bring the shoulder seam forward or back; what one piece loses the other gains."""

import math
from dataclasses import replace

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, degrees_between, dot, unit
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.closed_line import closed, reshaped, smoothed_at
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.move_corner import start_carried, turned_about_start
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_AREA, SAME_DIRECTION, SAME_POINT

_FURTHEST = 2 * math.sin(math.radians(30))
_FAIRING = 15.0
_STEPS = 12


@kind("shift-shoulder")
class ShiftShoulder(ByAmount):
    """Bring the shoulder seam forward at the shoulder point; a negative amount takes it back.

    The seam is turned about the neck point until the front's shoulder point has moved by the
    amount. The wedge that the front loses, with its bit of armhole, is laid over the closed seam
    onto the back; a dart in the shoulder is closed meanwhile and opened again with its apex and
    angle. The crown notch of the sleeve moves along with the seam.

    Exact: both shoulder lengths, the cloth area of front and back together, and the angle at which
    armhole and neck line run on across the seam. The sewn armhole follows its old line but for a
    trifle: a seam turned about one end keeps to a circle, from which the armhole strays, and the
    armhole is drawn to its new end and the area evened out over its whole length. Its length
    changes by no more than that trifle, well under 1 mm for the usual 6 to 10 mm. Nothing is taken
    in or let out.
    """

    about = "shoulder"
    finished = False
    phrases = ("bring the shoulder seam forward", "take the shoulder seam back")

    by: float = length(
        "how far forward the seam moves at the shoulder", low=-80, high=80, zero=False
    )

    def made(self, draft: Draft, by: float) -> Draft:
        front, back = draft.piece(FRONT), draft.piece(BACK)
        giver, taker = (front, back) if by > 0 else (back, front)
        radians = self._angle(front, by)
        new_giver, bit = self._taken(giver, radians)
        new_taker = self._given(taker, giver, bit, radians)
        changed = _evened(new_giver, new_taker, front.area + back.area)
        if changed is None:
            raise DoesNotFit(said("armholes-uneven"), piece=giver.name, edge="armhole")
        return _with_crown(draft.with_pieces(*changed), math.copysign(bit.length, by))

    def _angle(self, front: Piece, by: float) -> float:
        line = closed(front.edge("shoulder")).chain
        reach = abs(line.end - line.start)
        if abs(by) > reach * _FURTHEST:
            raise DoesNotFit(said("seam-on-end"), piece=FRONT)
        return 2 * math.asin(abs(by) / (2 * reach))

    def _taken(self, giver: Piece, radians: float) -> tuple[Piece, Chain]:
        """Return the piece that loses the wedge, and the bit of armhole that goes with it."""
        shoulder, _ = turned_about_start(giver.edge("shoulder"), radians * _clockwise(giver))
        armhole = giver.edge("armhole")
        bit, rest = self._split(giver, shoulder)
        short = replace(armhole, parts=(rest, *armhole.parts[1:]))
        return _put_up(giver, shoulder, short), bit

    def _split(self, giver: Piece, shoulder: Edge) -> tuple[Chain, Chain]:
        """Return the armhole's first part, cut where the turned seam runs out over it."""
        first = giver.edge("armhole").parts[0]
        line = closed(shoulder)
        out = line.motions[-1].inverse()
        origin, ray = out(line.chain.start), out.rotation * (line.chain.end - line.chain.start)
        found = [
            at
            for at in first.crossings(origin, ray)
            if SAME_POINT < at < first.length - SAME_POINT
            and dot(first.point_at(at) - origin, ray) > 0
        ]
        if not found:
            raise DoesNotFit(said("seam-past-armhole"), piece=giver.name, edge="armhole")
        return first.split_at(found[0])

    def _given(self, taker: Piece, giver: Piece, bit: Chain, radians: float) -> Piece:
        """Return the piece that gains the wedge, the bit of armhole laid on over the seam."""
        here, there = closed(giver.edge("shoulder")), closed(taker.edge("shoulder"))
        over = _over_the_seam(here.chain, there.chain)
        laid_on = there.motions[-1].inverse().after(over).after(here.motions[-1])
        armhole = taker.edge("armhole")
        added = bit.moved(laid_on).reversed()
        first = _faired(added.ending_at(armhole.start), armhole.parts[0])
        shoulder, _ = turned_about_start(taker.edge("shoulder"), -radians * _clockwise(taker))
        return _put_up(taker, shoulder, replace(armhole, parts=(first, *armhole.parts[1:])))

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{FRONT}.shoulder-drop", f"{BACK}.shoulder-drop")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{FRONT}.armhole", f"{BACK}.armhole", CAP_EASE)


def _clockwise(piece: Piece) -> float:
    """Return the sign of the turn about the neck point that takes the shoulder into the piece."""
    return piece.inward.imag


def _over_the_seam(giver: Chain, taker: Chain) -> Motion:
    """Return the motion that lays one piece beside the other, sewn along the closed shoulder."""
    rotation = unit(taker.end - taker.start) / unit(giver.end - giver.start)
    return Motion(rotation, taker.end - rotation * giver.end)


def _put_up(piece: Piece, shoulder: Edge, armhole: Edge) -> Piece:
    """Return the piece with its armhole drawn up to the end of its turned shoulder."""
    move = Motion(shift=shoulder.end - armhole.start)
    return piece.with_edges(shoulder, start_carried(armhole, move, shoulder.end))


def _faired(added: Chain, first: Chain) -> Chain:
    """Return two pieces of armhole as one line, a kink where they meet drawn fair."""
    line = Chain.joining([added, first])
    if degrees_between(added.end_tangent, first.start_tangent) < SAME_DIRECTION:
        return line
    reach = min(_FAIRING, added.length / 2, first.length / 2)
    return smoothed_at(line, added.length, reach)


def _evened(giver: Piece, taker: Piece, area: float) -> tuple[Piece, Piece] | None:
    """Return both pieces with their armholes moved alike until the two have an area together.

    Secant steps on the amount, mm; the area is all but proportional to it. None when they do not
    get there.
    """

    def moved(amount: float) -> tuple[Piece, Piece]:
        return _swollen(giver, amount), _swollen(taker, amount)

    def excess(pieces: tuple[Piece, Piece]) -> float:
        return pieces[0].area + pieces[1].area - area

    before, amount = 0.1, 0.0
    at_before, pieces = excess(moved(before)), (giver, taker)
    for _ in range(_STEPS):
        at_amount = excess(pieces)
        if abs(at_amount) < SAME_AREA:
            return pieces
        if at_amount == at_before:
            break
        slope = (at_amount - at_before) / (amount - before)
        before, at_before, amount = amount, at_amount, amount - at_amount / slope
        pieces = moved(amount)
    return None


def _swollen(piece: Piece, amount: float) -> Piece:
    """Return the piece with its armhole moved outwards by an amount, to nothing at its ends."""
    armhole = piece.edge("armhole")

    def redraw(line: Chain) -> Chain:
        middle = line.length / 2
        outward = -line.tangent_at(middle) * piece.inward
        line = line.cut_at([line.length * k / 8 for k in range(1, 8)])
        return fade.shifted(line, outward * amount, fade.swelling(0.0, middle, line.length))

    return piece.with_edges(reshaped(armhole, redraw))


def _with_crown(draft: Draft, forward: float) -> Draft:
    """Return the draft with the notch that meets the shoulder seam moved along the cap."""
    for seam in draft.seams:
        for run in seam.side:
            if run.edge == "cap" and draft.has_piece(run.piece):
                piece = draft.piece(run.piece)
                notches = tuple(_notch_moved(piece, notch, forward) for notch in piece.notches)
                return draft.with_pieces(replace(piece, notches=notches))
    return draft


def _notch_moved(piece: Piece, notch: Notch, forward: float) -> Notch:
    if (notch.name, notch.edge) != ("crown", "cap"):
        return notch
    cap = piece.edge("cap")
    at = min(max(notch.at.along(cap) - forward, 0.0), cap.length)
    from_corner = at if notch.at.corner == cap.starts_at else cap.length - at
    if notch.at.share is not None:
        return replace(notch, at=Position(notch.at.corner, share=from_corner / cap.length))
    return replace(notch, at=Position(notch.at.corner, distance=from_corner))
