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
