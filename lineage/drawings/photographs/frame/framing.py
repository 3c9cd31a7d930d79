"""The strips of the frame in a picture, and whether they are enough to measure by."""

from dataclasses import dataclass

import numpy as np

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.frame.finding import markers_in
from trueup.lineage.drawings.photographs.frame.strips import SIDE, strip_of
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import Places

FEWEST_STRIPS = 4
"""One for each side of a piece."""

FEWEST_MARKERS = 4
"""Of the six of a strip; of one with fewer too little is seen to measure by."""

SOFTEST = 1.6
"""Over so many mm the light may rise from a quarter to three at an edge."""

_LAY = "lay the frame round the pattern, nothing on it, and have all of it in the picture"


@dataclass(frozen=True)
class Framing:
    """The corners, in pixels, of each marker by its number, of each strip by its own.

    `soft` is over what share of a marker's side the light rises from a quarter to three at it.
    """

    strips: dict[int, dict[int, Places]]
    soft: float

    @property
    def whole(self) -> list[int]:
        """Return the strips of which enough is seen to measure by, in order."""
        return sorted(n for n, each in self.strips.items() if len(each) >= FEWEST_MARKERS)


def framing(picture: Picture) -> Framing:
    """Return the strips of the frame in a picture.

    Raises Unclear where they are too few, or one is there twice.
    """
    strips: dict[int, dict[int, Places]] = {}
    softness = []
    for each in markers_in(picture):
        strip = strip_of(each.number)
        if strip is None:
            continue
        markers = strips.setdefault(strip, {})
        if each.number in markers:
            raise Unclear(
                said("strip-twice", strip=str(strip)),
                "print the frame once, and lay each of its strips once",
            )
        markers[each.number] = np.array(each.corners)
        softness.append(each.spread / np.abs(np.diff(each.corners)).mean())
    if not strips:
        raise _none(picture)
    found = Framing(strips, float(np.median(softness)))
    if len(found.whole) < FEWEST_STRIPS:
        if found.soft * SIDE > SOFTEST:
            raise blurred(found.soft * SIDE)
        counted = said("few-strips", whole=str(len(found.whole)), least=str(FEWEST_STRIPS))
        raise Unclear(counted, _LAY)
    return found


def blurred(over: float) -> Unclear:
    """Return that a picture is blurred, over so many mm."""
    return Unclear(
        said("blurred", over=over, most=SOFTEST),
        "hold the camera still, in more light, and let it focus on the table",
    )


def _none(picture: Picture) -> Unclear:
    """Return why no marker is seen: that it is mirrored, or its colours are, or that none is."""
    if markers_in(Picture(np.ascontiguousarray(picture.pixels[:, ::-1]))):
        return Unclear(said("mirrored"), "turn it back, or save it as the camera took it")
    if markers_in(Picture(255 - picture.pixels)):
        return Unclear(said("negative"), "save it with its own colours")
    return Unclear(said("no-frame"), f"{_LAY}, sharp and large enough to read its squares")
