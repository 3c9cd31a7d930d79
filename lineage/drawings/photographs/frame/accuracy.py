"""How true a picture is, measured on the frame itself, and what is too untrue to be used.

Each strip is measured by a view of the table that knows nothing of that strip: what its length
comes out longer or shorter than it is, is what any line of the pattern may be off by.
"""

from collections.abc import Mapping

import numpy as np

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.frame.framing import SOFTEST, Framing, blurred
from trueup.lineage.drawings.photographs.frame.solving import Solved, corners_of, without
from trueup.lineage.drawings.photographs.frame.strips import SIDE
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import Places

LARGEST_ERROR = 0.005
"""As a share of a length: five parts in a thousand, 2 mm on a side seam of 40 cm."""

COARSEST = 0.8
"""A pixel may see so many mm of the table."""

FARTHEST = 0.4
"""Corners of markers may lie so far, mm, from where flat strips have them, as is usual."""

_ROUNDS = 4
_STRAYS = 2.5
"""A corner that is off by so many times as much as is usual strays."""

_FLAT = (
    "lay all strips flat on the table, print all of them at 100 %, photograph from straight above, "
    "and give the whole picture as the camera took it"
)
_NEARER = "take it from nearer, or with more pixels"


def scale_errors(found: Solved, frame: Framing, scale: float) -> Mapping[int, float]:
    """Return by what share of its length each strip comes out too long, told by the others."""
    errors = {}
    for strip in frame.whole:
        view = without(found, frame.strips, strip, scale).view
        markers = frame.strips[strip]
        true = corners_of(strip, tuple(markers), scale, found.spread).ravel()
        laid = view.laid(np.array(list(markers.values())).ravel())
        errors[strip] = _longer(true, laid)
    return errors


def _longer(true: Places, laid: Places) -> float:
    """Return by what share places lie too far apart; one that strays, as if covered, tells less."""
    weight = np.ones(len(true))
    for _ in range(_ROUNDS):
        here, there = (each - (weight * each).sum() / weight.sum() for each in (true, laid))
        scale = (weight * there * here.conj()).sum() / (weight * abs(here) ** 2).sum()
        off = np.abs(there - scale * here)
        weight = 1 / (1 + (off / (_STRAYS * np.median(off) + 1e-9)) ** 4)
    return float(abs(scale)) - 1


def pixel_of(found: Solved, frame: Framing) -> float:
    """Return how many mm of the table a pixel sees, at the strip that is farthest away."""
    sizes = []
    for markers in frame.strips.values():
        corners = np.array(list(markers.values()))
        sides = np.abs(np.roll(corners, -1, axis=1) - corners)
        table = found.view.laid(corners)
        sizes.append(float(np.median(np.abs(np.roll(table, -1, axis=1) - table) / sides)))
    return max(sizes)


def require_sharp(found: Solved, frame: Framing) -> None:
    """Raise Unclear for a picture that is too coarse, or too blurred, to be measured."""
    pixel = pixel_of(found, frame)
    if pixel > COARSEST:
        raise Unclear(said("too-coarse", pixel=pixel, most=COARSEST), _NEARER)
    if frame.soft * SIDE > SOFTEST:
        raise blurred(frame.soft * SIDE)


def require_true(found: Solved, frame: Framing, errors: Mapping[int, float]) -> None:
    """Raise Unclear where the frame does not come out as it was printed."""
    strip, error = max(errors.items(), key=lambda each: abs(each[1]))
    if abs(error) > LARGEST_ERROR:
        way = "long" if error > 0 else "short"
        share = f"{100 * abs(error):.1f}"
        raise Unclear(said("strip-off", strip=str(strip), share=share, way=way), _FLAT)
    off = found.off * pixel_of(found, frame)
    if off > FARTHEST:
        raise Unclear(said("not-flat", off=off), _FLAT)
