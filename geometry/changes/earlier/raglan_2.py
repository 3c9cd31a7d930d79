"""raglan, version 2: notches of the cap are measured from the underarm."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.raglan_1 import FirstRaglan


@kind("raglan", version=2)
class SecondRaglan(FirstRaglan):
    """Take the upper parts of front and back over to the sleeve, up to the neck: a raglan.

    On front and back a line runs from the neck to the armhole: it goes on smoothly as the armhole
    below and stands out a little towards the shoulder. What lies above it is laid on the sleeve as
    it is, its end at the length from the underarm that the armhole keeps, and turned until both
    shoulders run straight to one point on the arm, as far from both neck points. So the shoulder
    seam becomes a dart of the sleeve, `shoulder`, that opens on its neck. Its shoulder points come
    to lie as high as the crown of the cap was, one a little higher and the other lower, or by the
    `rise` above it: then the sleeve is wider over the shoulder, and the arm has more room.

    Front and back keep their names, and have the edge `raglan` between neck and armhole. The sleeve
    has the edges `cap-front` and `cap-back` of the same lengths as the armholes that are left,
    `raglan-front`, `raglan-back`, and `neck`. Its grainline, its seams and its hem stay. Shoulder
    seam and armhole seam are gone, and what a correction means there is lost on this pattern, and
    says so; the raglan seams are sewn even, without ease. A band is drafted to the neck as
    `back.neck sleeve.neck front.neck`.

    What is marked on the parts that go over, and notched on their neck, goes along, measured from
    the nearest line there. A step that moves only the underarm, the seam or the hem of the sleeve,
    such as `taper-sleeve`, `widen-sleeve` or `shorten-to`, is made on it as on any other.

    Darts on the shoulder, or on what goes over, are turned or released first, and neck, shoulder,
    armhole and the width and length of the sleeve are settled before. The line begins 25 mm to
    40 mm from the neck point (from memory).
    """

    takes_marks: ClassVar[bool] = True
    phrases = ("cut a raglan sleeve",)
