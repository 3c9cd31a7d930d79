"""Hypothesis strategies for bodies and the drafts made for them."""

from hypothesis import strategies as st

from geometry.changes import read_change
from geometry.changes.base import kind_named
from geometry.draft import Draft
from geometry.units import Unit
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


@st.composite
def side_dart_blocks(draw: st.DrawFn) -> Draft:
    """Draw drafted blocks whose bust dart has been turned into the side seam.

    The waist dart that stands in its way is shortened first.
    """
    share = draw(st.integers(20, 45))
    shorten = {"dart": "front.waist-side", "by": "70mm"}
    turn = {"dart": "front.bust", "edge": "front.side", "at": f"{share}% from underarm"}
    draft = draw(drafts())
    for kind, values in (("move-apex", shorten), ("rotate-dart", turn)):
        draft = read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)
    return draft
