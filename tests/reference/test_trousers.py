"""The front of the trouser block against a published draft, figure by figure.

Source, mark P: the plain front draft on the Bespoke Cutter's page "Basic trouser draft"
(movsd.com/BespokeCutter, topic 56): outside leg 102, inside leg 76, waist 84, seat 100, knee 52,
bottoms 44 cm. The page draws with seams of a centimetre in the leg, which are taken off here (C).
It has no darts and says no more of the back than that its leg is 2 cm wider on either side. The
waist of its man is too large for our shares, so the figures are read of the leg and the fork.

The seat line a twelfth of the seat above the crotch, the knee 2 in above the middle of the inside
leg, and a quarter of the seat for the front stand also on "Trousers" at trantanphat.com (P).
"""

import pytest

from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.piece import Piece

EXACT, SEAM = 0.02, 1.0
SEAT = 100.0
BODY = {
    "waist": 840.0,
    "hip": 1000.0,
    "hip-depth": 187.0,
    "body-rise": 260.0,
    "inside-leg": 760.0,
    "trouser-hem": 440.0,
}


@pytest.fixture(scope="module")
def front() -> Piece:
    return draft_block("trousers", BODY).piece("trouser-front")


def test_the_fork_is_a_twelfth_of_the_seat_from_a_centre_as_far_from_the_crease(
    front: Piece,
) -> None:
    """P: 5 from 2 a sixth of the seat, 7 half way."""
    assert front.corner("fork").real / 10 == pytest.approx(SEAT / 6, abs=EXACT)
    waist = front.corner("waist-centre")
    rising = front.edge("crotch").parts[0].end_tangent
    at = waist + rising * ((187.0 - waist.imag) / rising.imag)
    assert at.real / 10 == pytest.approx(SEAT / 12, abs=EXACT)


def test_a_quarter_of_the_seat_lies_from_the_centre_to_the_side(front: Piece) -> None:
    """P: 12 a quarter of the seat from 11; ours has 5 mm of ease besides."""
    side, *_ = front.edge("side").parts[0].meetings(complex(0, 187.0), 1)
    assert SEAT / 12 - side.real / 10 == pytest.approx(SEAT / 4 + 0.5, abs=EXACT)


def test_the_curve_stays_off_its_corner_as_far_as_the_page_says(front: Piece) -> None:
    """P: 13 is 4.5 from 7 at 45 degrees."""
    corner = complex(SEAT / 12 * 10, 270.0)
    met = front.edge("crotch").parts[0].meetings(corner, 1 - 1j)
    assert min(abs(point - corner) for point in met) / 10 == pytest.approx(4.5, abs=0.3)


def test_the_knee_lies_five_above_the_middle_of_the_inside_leg(front: Piece) -> None:
    """P: 4 from 3, which is the hem, is half the leg and 5."""
    hem = front.corner("hem-side").imag
    assert (hem - front.level("knee").y) / 10 == pytest.approx(76 / 2 + 5)


def test_knee_and_hem_are_as_wide_as_the_page_draws_them_without_seams(front: Piece) -> None:
    """P: half of knee 52 and bottoms 44 in front, evenly about the crease, and 2 more on either
    side behind, seams included; C: 24 and 20 in front, 28 and 24 behind, sewn."""
    back = draft_block("trousers", BODY).piece("trouser-back")
    for piece, more in ((front, 0.0), (back, 2.0)):
        knee = piece.level("knee").y
        for y, girth in ((knee, 52.0), (piece.corner("hem-side").imag, 44.0)):
            met = [piece.edge(e).parts[0].meetings(complex(0, y), 1)[0] for e in ("side", "inseam")]
            wide = abs(met[0].real - met[1].real) / 10
            assert wide == pytest.approx(girth / 2 - 2 * SEAM + 2 * more, abs=EXACT)
