"""Circle skirts against plane geometry, read by sampling."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from tests.fair import closed_points, sampled
from tests.refusals import refusing
from tests.sound import assert_sound
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge

SHARES = {
    "circle-skirt": 1.0,
    "three-quarter-circle-skirt": 0.75,
    "half-circle-skirt": 0.5,
    "quarter-circle-skirt": 0.25,
}
PIECES = ("skirt-front", "skirt-back")


def skirt(system: str, waist: float = 720.0, length: float = 600.0) -> Draft:
    return draft_block(system, {"waist": waist, "skirt-length": length})


def length(edge: Edge) -> float:
    return float(np.abs(np.diff(sampled(edge.parts[0]))).sum())


def middle_of(draft: Draft, piece: str, radius: float) -> complex:
    """Return the point about which a piece is drawn: a radius above its waist at the centre."""
    return draft.piece(piece).corner("waist-centre") - radius * 1j


@pytest.mark.parametrize(
    ("system", "radius"),
    [
        ("circle-skirt", 114.6),
        ("three-quarter-circle-skirt", 152.8),
        ("half-circle-skirt", 229.2),
        ("quarter-circle-skirt", 458.4),
    ],
)
def test_a_waist_of_72_has_the_radius_that_follows_from_the_circle(
    system: str, radius: float
) -> None:
    """Computed: 72 cm / (2 pi) divided by the share is 11.46, 15.28, 22.92 and 45.84 cm."""
    draft = skirt(system)
    for piece in PIECES:
        waist = closed_points(draft.edge(piece, "waist"))
        away = np.abs(waist - middle_of(draft, piece, radius))
        assert np.abs(away - radius).max() < 0.1


@given(
    st.sampled_from(sorted(SHARES)),
    st.integers(500, 1200).map(float),
    st.integers(300, 1100).map(float),
)
@settings(max_examples=60, deadline=None)
def test_waist_and_hem_are_arcs_of_the_share_and_the_seams_sew_together(
    system: str, waist: float, long: float
) -> None:
    draft, share = skirt(system, waist, long), SHARES[system]
    assert_sound(draft)
    assert check(draft) == ()
    radius = waist / (2 * np.pi * share)
    for piece in PIECES:
        middle = middle_of(draft, piece, radius)
        for name, wanted in (("waist", radius), ("hem", radius + long)):
            edge = draft.edge(piece, name)
            # Four of these halves go round the body.
            assert 4 * length(edge) == pytest.approx(2 * np.pi * share * wanted, abs=0.05)
            assert np.abs(np.abs(closed_points(edge) - middle) - wanted).max() < 1e-3
        for name in ("side", "centre"):
            assert length(draft.edge(piece, name)) == pytest.approx(long, abs=1e-6)
        area = draft.piece(piece).area
        assert area == pytest.approx(
            share * np.pi / 4 * ((radius + long) ** 2 - radius**2), rel=1e-6
        )
        grain = draft.piece(piece).grainline
        assert grain is not None
        assert grain.start.real == grain.end.real
        assert draft.piece(piece).cloth.contains(_line(grain.start, grain.end))
    assert draft.piece("skirt-front").fold == "centre"
    assert draft.piece("skirt-back").fold is None


def _line(start: complex, end: complex) -> object:
    return LineString([(start.real, start.imag), (end.real, end.imag)])


def test_a_band_fits_its_waist_and_its_hem_is_let_down_along_its_edges() -> None:
    draft = skirt("half-circle-skirt")
    band = kind_named("draft-band")(
        to="skirt-back.waist skirt-front.waist", name="waistband", height=40.0
    )
    made = band.apply(draft)
    assert length(made.edge("waistband", "sewn-edge")) == pytest.approx(360, abs=0.01)
    longer = kind_named("shape-hem")(longer=50.0).apply(made)
    assert check(longer) == ()
    for piece in PIECES:
        radius = 720 / np.pi
        away = np.abs(closed_points(longer.edge(piece, "hem")) - middle_of(draft, piece, radius))
        assert np.abs(away - radius - 650).max() < 0.05


def test_an_absurd_length_is_refused() -> None:
    with refusing(BadParameter, match="skirt-length cannot be 50 mm: it lies between"):
        skirt("circle-skirt", length=50.0)
