"""The pieces that lie on the table: each a rough outline, and the notches cut into it. In mm."""

from collections.abc import Iterator
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.frame.strips import HEIGHT, LENGTH
from trueup.lineage.drawings.photographs.outlines.ground import BEYOND, GRAIN, Ground
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import Places

SMALLEST = 400.0
"""mm²; what is smaller is a pin, a thread, a crumb, and is passed over."""

TOUCHES = 5.0
"""A piece that comes so near to a strip may cover it."""

_NOTCH_WIDE = 8.0
_NOTCH_DEEP = 14.0
_NOTCH_SHALLOW = 2.4
_NOTCH_AREA = (4.0, 60.0)  # mm²
"""A slit or a small triangle cut into the edge is a notch (usual sizes from memory)."""

_THIN = (5, 5)
"""What is no wider than so many pixels is a line of the table, or a thread."""

_BLURRED = 1.5
"""So far beyond its mouth a notch still spoils the edge."""

_MOUTH = 10.0
_HALF = 0.4
"""Round the mouth of a notch almost half of all is table; in the tip of a dart much less is."""

_NEAR_A_STRIP = 0.06
"""What is as large as a strip, by so much, is one that could not be read."""


@dataclass(frozen=True)
class Snip:
    """A narrow cut into an edge: the middle of its mouth, and how far round that it reaches."""

    at: complex
    reach: float


@dataclass(frozen=True)
class Rough:
    """A piece on the table: its outline, to about a pixel, clockwise, and its notches."""

    outline: Places
    notches: tuple[Snip, ...]


def pieces_on(ground: Ground) -> list[Rough]:
    """Return the pieces on a table, from left to right.

    Raises Unclear where there is none, or one is not wholly to be seen.
    """
    covered, count = _whole(ground)
    found = []
    for number in range(1, count):
        piece = covered == number
        if piece.sum() * GRAIN**2 < SMALLEST or not (piece & ground.drawn(ground.within)).any():
            continue
        _require_seen(piece, ground)
        found.append(_rough(piece, ground))
    if not found:
        raise Unclear(
            said("nothing-on-table"),
            "lay the pattern on a table of another colour and photograph it in even light",
        )
    return sorted(found, key=lambda each: float(each.outline.real.min()))


def _whole(ground: Ground) -> tuple[NDArray[np.int32], int]:
    """Return the number of the piece that each pixel belongs to, nought for none."""
    small = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, _THIN)
    covered = cv2.morphologyEx(ground.covered.astype(np.uint8), cv2.MORPH_OPEN, small)
    outlines, _ = cv2.findContours(covered, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    filled = np.zeros(covered.shape, np.uint8)  # what lies on a piece is no hole in it
    large = [each for each in outlines if cv2.contourArea(each) * GRAIN**2 > SMALLEST / 2]
    cv2.drawContours(filled, large, -1, 1, cv2.FILLED)
    count, numbers = cv2.connectedComponents(filled, connectivity=4)
    return np.asarray(numbers, dtype=np.int32), int(count)


def _require_seen(piece: NDArray[np.bool_], ground: Ground) -> None:
    """Raise Unclear for a piece that is cut off, beyond the frame or at a strip, or is a strip."""
    reach = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (5, 5))
    around = cv2.dilate(piece.astype(np.uint8), reach).astype(np.bool_)
    place = _middle(piece, ground)
    if (around & ~ground.known).any():
        raise Unclear(
            said("cut-off"),
            "take a picture that has the whole pattern and all strips in it",
            at=place,
        )
    near = [
        number
        for number, strip in ground.strips.items()
        if (around & ground.drawn(strip.buffer(TOUCHES))).any()
    ]
    if near:
        raise Unclear(
            said("touches-strip", strip=str(near[0])),
            "lay the strips 2 cm or more from the pattern, so that nothing covers them",
        )
    inside = ground.drawn(ground.within.buffer(BEYOND - 2 * GRAIN)) & ground.known
    if (around & ~inside).any():
        raise Unclear(
            said("beyond-frame"),
            "lay strips round all of the pattern, two at each of its corners",
            at=place,
        )
    (_, (wide, high), _) = cv2.minAreaRect(np.argwhere(piece)[:, ::-1].astype(np.float32))
    long, short = max(wide, high) * GRAIN, min(wide, high) * GRAIN
    if abs(long / LENGTH - 1) < _NEAR_A_STRIP and abs(short / HEIGHT - 1) < 2 * _NEAR_A_STRIP:
        raise Unclear(
            said("unread-strip"),
            "let nothing cover or glare on its squares, or take it away",
            at=place,
        )


def _middle(piece: NDArray[np.bool_], ground: Ground) -> complex:
    rows, columns = np.nonzero(piece)
    return complex(ground.on_table(np.array(complex(columns.mean(), rows.mean()))))


def _rough(piece: NDArray[np.bool_], ground: Ground) -> Rough:
    notches = []
    whole = piece.astype(np.uint8)
    for gap, mouth, reach in _gaps(whole):
        whole |= gap
        notches.append(Snip(complex(ground.on_table(np.array(mouth))), reach))
    outlines, _ = cv2.findContours(whole, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    largest = max(outlines, key=cv2.contourArea)[:, 0, :].astype(np.float64)
    places = ground.on_table(largest[:, 0] + 1j * largest[:, 1])
    # The outline of pixels goes through their middles: counter-clockwise as OpenCV leads it.
    clockwise = places if _swept(places) > 0 else places[::-1]
    return Rough(clockwise, tuple(notches))


def _swept(places: Places) -> float:
    return float((np.conj(places) * np.roll(places, -1)).imag.sum()) / 2


def _gaps(piece: NDArray[np.uint8]) -> Iterator[tuple[NDArray[np.uint8], complex, float]]:
    """Yield the narrow cuts into the edge of a piece, the middle of each mouth, and its reach.

    The mouth is told in pixels, its reach in mm.
    """
    wide = 2 * round(_NOTCH_WIDE / GRAIN / 2) + 1
    room = 2 * wide
    padded = cv2.copyMakeBorder(piece, room, room, room, room, cv2.BORDER_CONSTANT)
    closing = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (wide, wide))
    closed = cv2.morphologyEx(padded, cv2.MORPH_CLOSE, closing)
    gaps = ((closed > 0) & (padded == 0)).astype(np.uint8)
    count, numbers, about, _ = cv2.connectedComponentsWithStats(gaps, connectivity=8)
    for number in range(1, count):
        left, top, across, down, size = (int(each) for each in about[number])
        deep = max(across, down) * GRAIN
        if not (
            _NOTCH_AREA[0] < size * GRAIN**2 < _NOTCH_AREA[1]
            and _NOTCH_SHALLOW < deep < _NOTCH_DEEP
        ):
            continue
        margin = round(_MOUTH / GRAIN) + 2
        rows = slice(max(top - margin, 0), top + down + margin)
        columns = slice(max(left - margin, 0), left + across + margin)
        gap = (numbers[rows, columns] == number).astype(np.uint8)
        outside = (closed[rows, columns] == 0).astype(np.uint8)
        touched = cv2.dilate(outside, np.ones((3, 3), np.uint8)) & gap
        if not touched.any():
            continue
        y, x = (float(each.mean()) for each in np.nonzero(touched))
        near = np.hypot(*(np.indices(gap.shape) - np.array([y, x])[:, None, None])) < margin - 2
        if outside[near].mean() < _HALF:
            continue
        whole = np.zeros(padded.shape, np.uint8)
        whole[rows, columns] = gap
        mouth = complex(x + columns.start - room, y + rows.start - room)
        ys, xs = np.nonzero(touched)
        reach = float(np.hypot(ys - y, xs - x).max()) * GRAIN + _BLURRED
        yield whole[room:-room, room:-room], mouth, reach
