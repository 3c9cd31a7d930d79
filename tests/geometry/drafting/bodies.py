"""Bodies for the drafting systems, as tests draw them: measured lengths in mm."""

from hypothesis import strategies as st

DIRECT = {
    "bust": 880.0,
    "waist": 720.0,
    "back-length": 410.0,
    "neck": 370.0,
    "shoulder": 122.5,
    "back-width": 344.0,
    "chest-width": 324.0,
    "armscye-depth": 210.0,
    "sleeve-length": 585.0,
}
"""The worked size of the direct-measure system, from memory."""


@st.composite
def direct_bodies(draw: st.DrawFn) -> dict[str, float]:
    """Draw bodies by direct measurements, about the proportions of the worked size."""
    larger = draw(st.integers(-90, 220))

    def about(usual: float, share: float, stray: int) -> float:
        return round(usual * (1 + share * larger / 880)) + draw(st.integers(-stray, stray))

    return {
        "bust": 880.0 + larger,
        "waist": 880.0 + larger - draw(st.integers(100, 220)),
        "back-length": float(draw(st.integers(385, 440))),
        "neck": about(370, 0.45, 12),
        "shoulder": about(125, 0.3, 3),
        "back-width": about(344, 0.6, 8),
        "chest-width": about(324, 0.6, 8),
        "armscye-depth": about(210, 0.4, 8),
        "sleeve-length": float(draw(st.integers(530, 630))),
    }


TROUSERS = {
    "waist": 720.0,
    "hip": 960.0,
    "hip-depth": 206.0,
    "body-rise": 275.0,
    "inside-leg": 760.0,
    "trouser-hem": 440.0,
}


@st.composite
def trouser_bodies(draw: st.DrawFn) -> dict[str, float]:
    """Draw bodies for trousers, all of which can be drafted."""
    hip = draw(st.integers(820, 1350))
    depth = draw(st.integers(170, 230))
    return {
        "hip": float(hip),
        "waist": float(min(hip - draw(st.integers(60, 340)), 1250)),
        "hip-depth": float(depth),
        "body-rise": float(max(depth + 40, round(0.22 * hip)) + draw(st.integers(0, 50))),
        "inside-leg": float(max(round(0.62 * hip), 560) + draw(st.integers(0, 120))),
        "trouser-hem": float(min(round(hip * draw(st.integers(29, 68)) / 100), 900)),
    }
