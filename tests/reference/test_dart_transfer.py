"""Widths of a dart that is turned, and what a spread opens, against plane geometry.

A dart of angle θ is 2 L sin(θ/2) wide where its legs are L long (the chord of a circle; any
textbook of trigonometry): the table and the transfers of the worked size below are computed so by
hand (C). The worked size is that of `test_direct_measure.py`: its front shoulder dart has legs of
25.69 cm and a width of 7.00 cm, hence 15.66°. That a bell sleeve spreads 2.5 cm to 5 cm at each
slash, and a puffed cap 5 cm to 10 cm in all with a crown 2 cm to 4 cm higher, is common practice,
from memory (M), and checked as amounts that can be asked for. Centimetres.
"""

import numpy as np
import pytest

from tests.builders import block
from tests.fair import closed_points
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.drafting.bodies import DIRECT
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import CAP_EASE, measures
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position

TABLE = {
    10.0: (1.39, 1.74, 2.09, 2.61, 3.49, 4.36),
    12.0: (1.67, 2.09, 2.51, 3.14, 4.18, 5.23),
    15.0: (2.09, 2.61, 3.13, 3.92, 5.22, 6.53),
    18.25: (2.54, 3.17, 3.81, 4.76, 6.34, 7.93),
    20.0: (2.78, 3.47, 4.17, 5.21, 6.95, 8.68),
}
LEGS = (8.0, 10.0, 12.0, 15.0, 20.0, 25.0)

TRANSFERS = {
    "side": (Position("underarm", distance=50.0), 15.85, 4.32),
    "armhole": (Position("underarm", share=0.35), 12.55, 3.42),
    "neck": (Position("neck-centre", distance=12.0), 20.78, 5.66),
}


@pytest.mark.parametrize("degrees", TABLE)
def test_a_mouth_is_as_wide_as_the_table_has_it(degrees: float) -> None:
    for leg, width in zip(LEGS, TABLE[degrees], strict=True):
        turn = np.exp(1j * np.radians(degrees))
        mouth = Mouth(Dart("bust", 3 + 4j), 3 + 4j + leg, 3 + 4j + leg * complex(turn))
        assert mouth.intake == pytest.approx(width, abs=0.006)
        assert np.degrees(abs(mouth.angle)) == pytest.approx(degrees)


def worked_size() -> Draft:
    return draft_block("direct-measure", DIRECT)


def dart_of(draft: Draft) -> Mouth:
    return next(
        mouth
        for edge in draft.piece("front").edges
        for mouth in edge.mouths
        if mouth.dart.name == "bust"
    )


@pytest.mark.parametrize("edge", TRANSFERS)
def test_the_bust_dart_of_the_worked_size_turned_elsewhere(edge: str) -> None:
    place, leg, width = TRANSFERS[edge]
    before = worked_size()
    was = dart_of(before)
    # It opens in the middle of the shoulder here: as wide there as its shorter leg has it.
    assert was.intake / 10 == pytest.approx(7.0 * abs(was.first - was.dart.apex) / 256.9, abs=0.02)
    turned = kind_named("rotate-dart")(dart="front.bust", edge=f"front.{edge}", at=place)
    now = dart_of(turned.apply(before))
    assert np.degrees(abs(now.angle)) == pytest.approx(15.66, abs=0.03)
    reached = abs(now.first - now.dart.apex) / 10
    # The places of the page lie as far from the bust point to within a centimetre.
    assert reached == pytest.approx(leg, abs=1.0)
    chord = 2 * reached * np.sin(np.radians(15.66) / 2)
    assert now.intake / 10 == pytest.approx(chord, abs=0.02)
    assert chord / reached == pytest.approx(width / leg, abs=0.001)


@pytest.mark.parametrize("each_slash", [2.5, 5.0])
def test_a_bell_of_the_usual_spread(each_slash: float) -> None:
    before, slashes = block(), 4
    flared = kind_named("flare-hem")(
        piece="sleeve", by=each_slash * slashes * 10, slashes=float(slashes)
    ).apply(before)
    hems = [sewn_length(draft.edge("sleeve", "hem")) / 10 for draft in (before, flared)]
    assert hems[1] - hems[0] == pytest.approx(each_slash * slashes, abs=0.01)
    caps = [sewn_length(draft.edge("sleeve", "cap")) for draft in (before, flared)]
    assert caps[1] == pytest.approx(caps[0], abs=1.5)
    assert check(flared) == check(before)


@pytest.mark.parametrize(("wider", "higher"), [(5.0, 2.0), (10.0, 4.0)])
def test_a_puff_of_the_usual_spread(wider: float, higher: float) -> None:
    before = block()
    puffed = kind_named("puff-cap")(by=wider * 10, height=higher * 10).apply(before)
    crowns = [
        closed_points(draft.edge("sleeve", "cap")).imag.min() / 10 for draft in (before, puffed)
    ]
    assert crowns[0] - crowns[1] >= higher - 0.3
    gained = measures(puffed)[CAP_EASE] - measures(before)[CAP_EASE]
    # The cap gains at least what it is spread by; the higher crown adds to that.
    assert gained / 10 >= wider - 0.5
    assert not [each for each in check(puffed) if each.code == "seam"]
