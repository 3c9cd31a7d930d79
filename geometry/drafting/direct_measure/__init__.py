"""The direct-measure system: a close-fitting bodice and its set-in sleeve by direct measurements.

What a tape reads is taken as it is: neck, shoulder, back and chest width, depth of the armscye. The
bust dart alone follows from the bust. The bodice comes with a bust dart and a shoulder dart, both
in the middle of the shoulder, and waist darts; the sleeve is a straight one-piece sleeve whose cap
follows from the drafted armhole and holds 35 mm of ease, two fifths of it in front.

Source: a published system of direct measurements for a close-fitting bodice, from memory, and so
is its worked size. Trued beyond it: the bust dart, which it has at the neck point, is turned about
the bust point to the middle of the shoulder; the neck is as long as the neck was measured; each
armhole is one curve, square to the shoulder; the legs of every dart are equal. How the waist is
shared out between darts and seams follows the bust-proportion system.
"""

from collections.abc import Mapping

from trueup.geometry.drafting.base import BodyMeasurement, DraftingSystem
from trueup.geometry.drafting.bodice.sewn import JOINS, SEAMS
from trueup.geometry.drafting.bodice.sleeve import SetInSleeve, height_of_cap
from trueup.geometry.drafting.direct_measure.back import draw_back
from trueup.geometry.drafting.direct_measure.frame import MeasuredFrame
from trueup.geometry.drafting.direct_measure.front import draw_front
from trueup.geometry.drafting.measurements import BACK_LENGTH, BUST, SLEEVE_LENGTH, WAIST
from trueup.geometry.pieces.draft import Draft

CAP_EASE, FRONT_SHARE = 35.0, 2 / 5

_COPIED_OF_HEIGHT = 0.27
"""So much of its height in from the underarm the cap copies the armhole, or a third of its width.
One that copied more of a wide armhole would bend tightly above it (common practice, no source)."""


def _draw(body: Mapping[str, float]) -> Draft:
    frame = MeasuredFrame(
        bust=body["bust"],
        waist=body["waist"],
        back_length=body["back-length"],
        neck=body["neck"],
        shoulder=body["shoulder"],
        back_width=body["back-width"],
        chest_width=body["chest-width"],
        armscye_depth=body["armscye-depth"],
    )
    front, back = draw_front(frame), draw_back(frame)
    heights = [frame.bust_line - piece.corner("shoulder-point").imag for piece in (front, back)]
    height = height_of_cap(sum(heights) / 2)
    sleeve = SetInSleeve(
        front.edge("armhole"),
        back.edge("armhole"),
        frame.underarm,
        height,
        frame.bust_line - frame.chest_level,
        min(frame.armhole_width / 3, _COPIED_OF_HEIGHT * height),
    ).with_ease(CAP_EASE, FRONT_SHARE, body["sleeve-length"])
    return Draft((front, back, sleeve), SEAMS, JOINS)


DIRECT_MEASURE = DraftingSystem(
    "direct-measure",
    "close-fitting bodice by direct measurements, with bust, shoulder and waist darts, and a "
    "straight set-in sleeve",
    (
        BUST,
        WAIST,
        BACK_LENGTH,
        BodyMeasurement(
            "neck", "girth of the neck at its base", 300, 480, standard="neck-base girth"
        ),
        BodyMeasurement(
            "shoulder",
            "length from neck point to shoulder point",
            90,
            170,
            standard="shoulder length",
        ),
        BodyMeasurement(
            "back-width",
            "width of the back from arm to arm, half way down the armscye",
            270,
            480,
            standard="back width",
        ),
        BodyMeasurement(
            "chest-width", "width of the chest from arm to arm, above the bust", 260, 460
        ),
        BodyMeasurement(
            "armscye-depth",
            "length from nape down to the level of the underarm",
            160,
            290,
            standard="scye depth",
        ),
        SLEEVE_LENGTH,
    ),
    _draw,
)
