"""The bust-proportion system: a close-fitting bodice and its set-in sleeve, mostly from the bust.

Every width and depth is a share of the bust girth plus a constant, so that four measurements are
enough. The bodice comes with a bust dart from the armhole, a shoulder dart and waist darts; the
sleeve is a straight one-piece sleeve whose cap follows from the drafted armhole.

Source: Bunka Fashion Series, Fundamentals of Garment Design (bodice block of 2000), from memory;
the worked size, bust 83, waist 64, back length 38 cm, as on the Yuzu & Pear page on drafting it.
The draft is trued beyond the book: dart legs are made equal, and armhole, neck and waist are drawn
to run smoothly across the seams and closed darts, within the book's own lengths.

The front chest is the rule's width, B/8 + 62 mm to a half, up to a bust of about 85 cm. Beyond it
is narrower: by 4.9 mm a half at 96, by 15.6 mm at 118. The rules themselves bring the upper end of
the bust dart inside the front-width line there, by 1.2 mm and by 10.8 mm, and the armhole must pass
through it as it is sewn. A line held out on the width until just above the dart would turn back by
about 3 degrees at 96 and by 12 at 118, which no maker would cut; so the width gives way instead.
Widen the chest of a large size by a negative scoop, or let out the dart.
"""

from collections.abc import Mapping

from trueup.geometry.drafting.base import DraftingSystem
from trueup.geometry.drafting.bodice.sewn import JOINS, SEAMS
from trueup.geometry.drafting.bust_proportion.bodice import draw_back, draw_front
from trueup.geometry.drafting.bust_proportion.frame import Frame
from trueup.geometry.drafting.bust_proportion.sleeve import draw_sleeve
from trueup.geometry.drafting.measurements import BACK_LENGTH, BUST, SLEEVE_LENGTH, WAIST
from trueup.geometry.pieces.draft import Draft


def _draw(body: Mapping[str, float]) -> Draft:
    frame = Frame(body["bust"], body["waist"], body["back-length"])
    front, back = draw_front(frame), draw_back(frame)
    sleeve = draw_sleeve(frame, front.edge("armhole"), back.edge("armhole"), body["sleeve-length"])
    return Draft((front, back, sleeve), SEAMS, JOINS)


BUST_PROPORTION = DraftingSystem(
    "bust-proportion",
    "close-fitting bodice with bust, shoulder and waist darts, and a straight set-in sleeve",
    (
        BUST,
        WAIST,
        BACK_LENGTH,
        SLEEVE_LENGTH,
    ),
    _draw,
)
