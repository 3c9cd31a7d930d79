"""Hypothesis strategies for bodies and the drafts made for them."""

from hypothesis import strategies as st

from geometry.draft import Draft
from tests.builders import block, body


@st.composite
def bodies(draw: st.DrawFn) -> dict[str, float]:
    """Draw realistic women's measurements, whole mm, under the drafting system's names."""
    bust = draw(st.integers(770, 1040))
    return body(
        bust=float(bust),
        waist=float(bust - draw(st.integers(120, 240))),
        back_length=float(draw(st.integers(360, 420))),
        sleeve_length=float(draw(st.integers(500, 600))),
    )


def drafts() -> st.SearchStrategy[Draft]:
    """Draw drafted blocks; the same body gives the same object."""
    return bodies().map(
        lambda of: block(of["bust"], of["waist"], of["back-length"], of["sleeve-length"])
    )
