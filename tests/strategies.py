"""Hypothesis strategies for bodies and the drafts made for them."""

from hypothesis import strategies as st

from tests.builders import block, body
from trueup.geometry.changes import read_change
from trueup.geometry.changes.base import kind_named
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


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


@st.composite
def side_dart_blocks(draw: st.DrawFn) -> Draft:
    """Draw drafted blocks whose bust dart has been turned into the side seam."""
    share = draw(st.integers(20, 45))
    turn = {"dart": "front.bust", "edge": "front.side", "at": f"{share}% from underarm"}
    return read_change(kind_named("rotate-dart"), turn, Unit.MILLIMETRE).apply(draw(drafts()))
