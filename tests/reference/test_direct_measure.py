"""The direct-measure block against the figures of its worked size.

The formulas, the chart of the worked size (bust 88, waist 72, nape to waist 41, neck 37, shoulder
12.25, back width 34.4, chest 32.4, armscye depth 21, sleeve 58.5, dart 7) and its dart step of 0.6
a size of 4 cm are those of Aldrich, Metric Pattern Cutting for Women's Wear, close-fitting bodice,
from memory (M). The figures are computed from them by hand and with a curve rule of their own (C);
none comes out of the code under test. Centimetres.

Tolerances, cm: 0.02 on straight seams and points, 0.15 on necklines, 0.4 on either armhole half and
0.8 on the whole.
"""

import math

import pytest

from tests.geometry.drafting.bodies import DIRECT
from tests.geometry.drafting.truth import polyline_length
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft

EXACT, NECKLINE, ARMHOLE_HALF, ARMHOLE = 0.02, 0.15, 0.4, 0.8
TOP = 1.5
"""The nape lies so far below the top line, from which the book counts down."""


@pytest.fixture(scope="module")
def draft() -> Draft:
    return draft_block("direct-measure", DIRECT)


def length(draft: Draft, piece: str, edge: str) -> float:
    return polyline_length(draft, piece, edge) / 10


# C from M: x from the centre back, y from the top line.
POINTS = {
    "back neck point 9": ("back", "neck-point", (7.2, 0.0)),
    "back shoulder point 11": ("back", "shoulder-point", (19.47, 5.0)),
    "underarm 29": ("back", "underarm", (23.5, 23.0)),
    "front neck point 17": ("front", "neck-point", (42.3, 0.0)),
    "front neck at the centre 18": ("front", "neck-centre", (49.0, 7.2)),
    "front shoulder point 27": ("front", "shoulder-point", (24.86, 6.5)),
    "waist at the centre front": ("front", "hem-centre", (49.0, 42.5)),
}


@pytest.mark.parametrize("name", POINTS)
def test_the_worked_size_has_its_points(draft: Draft, name: str) -> None:
    piece, corner, (x, y) = POINTS[name]
    found = draft.piece(piece).corner(corner) / 10
    assert (found.real, found.imag + TOP) == pytest.approx((x, y), abs=EXACT)


def test_the_bust_dart_has_its_pivot_its_angle_and_its_leg(draft: Draft) -> None:
    """C: bust point (39.15, 25.5); 15.66 degrees; 25.69 from there to the neck point."""
    (mouth,) = draft.edge("front", "shoulder").mouths
    apex = mouth.dart.apex
    assert (apex.real / 10, apex.imag / 10 + TOP) == pytest.approx((39.15, 25.5), abs=EXACT)
    one, other = mouth.first - apex, mouth.second - apex
    angle = math.degrees(math.acos((one.conjugate() * other).real / abs(one) / abs(other)))
    assert angle == pytest.approx(15.66, abs=0.01)
    neck = abs(draft.piece("front").corner("neck-point") - apex) / 10
    assert neck == pytest.approx(25.69, abs=EXACT)
    assert abs(one) == pytest.approx(abs(other), abs=1e-6)


@pytest.mark.parametrize(("bust", "dart"), [(80, 5.8), (84, 6.4), (88, 7.0), (92, 7.6), (96, 8.2)])
def test_the_dart_grows_by_six_millimetres_a_size(bust: int, dart: float) -> None:
    """M: 5.8, 6.4, 7.0, 7.6, 8.2 at the neck point."""
    body = {**DIRECT, "bust": bust * 10.0, "waist": bust * 10.0 - 160.0}
    front = draft_block("direct-measure", body).piece("front")
    (mouth,) = front.edge("shoulder").mouths
    leg = abs(front.corner("neck-point") - mouth.dart.apex)
    half = abs(mouth.second - mouth.first) / 2 / abs(mouth.first - mouth.dart.apex)
    assert 2 * half * leg / 10 == pytest.approx(dart, abs=EXACT)


def test_shoulders_and_side_seams(draft: Draft) -> None:
    """C: both shoulders 12.25 sewn; side seam 19.5 to the waist, a little more as it slants."""
    for piece in ("front", "back"):
        assert length(draft, piece, "shoulder") == pytest.approx(12.25, abs=EXACT)
        assert length(draft, piece, "side") == pytest.approx(math.hypot(19.5, 0.55), abs=EXACT)


def test_the_armhole_is_as_long_as_the_figures_say(draft: Draft) -> None:
    """C: back 21.4, front 21.2, together 42.6."""
    front, back = length(draft, "front", "armhole"), length(draft, "back", "armhole")
    assert front == pytest.approx(21.2, abs=ARMHOLE_HALF)
    assert back == pytest.approx(21.4, abs=ARMHOLE_HALF)
    assert front + back == pytest.approx(42.6, abs=ARMHOLE)


def test_the_neckline_is_half_the_neck(draft: Draft) -> None:
    """C: back 7.80 and front 10.69 are 18.49, against 18.50 for half the neck."""
    front, back = length(draft, "front", "neck"), length(draft, "back", "neck")
    assert back == pytest.approx(7.80, abs=NECKLINE)
    assert front == pytest.approx(10.69, abs=NECKLINE)
    assert front + back == pytest.approx(18.49, abs=0.02)


def test_armholes_pass_near_their_guides(draft: Draft) -> None:
    """M: 2.5 and 2.0 from the corners at 14 and 19; no narrower than the widths there."""
    for piece, corner, out in (("back", 17.7 + 23.0j, 2.5), ("front", 29.3 + 23.0j, 2.0)):
        line = draft.edge(piece, "armhole").parts[0]
        away = corner * 10 - TOP * 10j
        way = (1 if piece == "back" else -1) - 1j
        (at,) = (p for p in line.meetings(away, way) if abs(p - away) < 60)
        assert abs(at - away) / 10 == pytest.approx(out, abs=EXACT)
        xs = [p.real / 10 for p in line.flattened()]
        nearest = min(xs) if piece == "back" else max(xs)
        assert nearest == pytest.approx(corner.real, abs=0.15)


def test_what_is_taken_from_bust_to_waist(draft: Draft) -> None:
    """C: 49 - (72/2 + 3) = 10.0 of half the block, at darts, side and centre back."""
    waist = length(draft, "front", "hem") + length(draft, "back", "hem")
    assert 49.0 - waist == pytest.approx(10.0, abs=0.15)


def test_the_cap_is_a_third_of_the_armhole_high(draft: Draft) -> None:
    """M: the sleeve head is a third of the armhole, 14.2 (C); ours is by the shoulder points."""
    cap = draft.edge("sleeve", "cap").parts[0]
    height = (cap.start.imag - min(p.imag for p in cap.flattened())) / 10
    assert height == pytest.approx(14.2, abs=0.25)
