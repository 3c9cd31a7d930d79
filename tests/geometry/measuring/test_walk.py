from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion
from trueup.geometry.measuring.walk import run_length, walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SEAM

EASED = Seam("seam", (Run("left", "side"),), (Run("right", "side"),), Band(25.0, 45.0, SEAM))


def panel(name: str, side: float, *darts: float) -> Piece:
    """Return a panel whose side is sewn `side` mm long, with darts of the given widths on it."""
    step = side / (len(darts) + 1)
    parts, at = [], 0.0
    for width in (*darts, 0.0):
        parts.append(Chain.line(complex(0, at), complex(0, at + step)))
        at += step + width
    apexes = tuple(
        Dart(f"dart-{k}", complex(40, (parts[k].end.imag + parts[k + 1].start.imag) / 2))
        for k in range(len(darts))
    )
    end = parts[-1].end
    return Piece(
        name,
        (
            Edge("side", "top", "bottom", tuple(parts), apexes),
            Edge("hem", "bottom", "corner", (Chain.line(end, end + 100),)),
            Edge("rest", "corner", "top", (Chain.line(end + 100, 100 + 0j, 0j),)),
        ),
    )


def sewn(side: float, mate: float, *darts: float) -> Draft:
    return Draft((panel("left", side, *darts), panel("right", mate)), (EASED,))


def test_a_walk_steps_over_darts():
    draft = sewn(200.0, 170.0, 12.0, 20.0)
    walked = walk(draft, EASED)
    assert walked.side == pytest.approx(200)
    assert walked.ease == pytest.approx(30)


def test_a_walk_adds_up_a_run_of_edges():
    draft = sewn(200.0, 170.0)
    runs = (Run("left", "side"), Run("left", "hem"), Run("right", "side", backwards=True))
    assert run_length(draft, runs) == pytest.approx(200 + 100 + 170)


@pytest.mark.parametrize(
    ("ease", "excess", "matches"),
    [
        (20.0, -5.0, False),
        (23.5, -1.5, True),
        (25.0, 0.0, True),
        (35.0, 0.0, True),
        (45.0, 0.0, True),
        (46.5, 1.5, True),
        (50.0, 5.0, False),
    ],
)
def test_ease_is_judged_by_its_range_and_tolerance(ease, excess, matches):
    walked = walk(sewn(200.0 + ease, 200.0), EASED)
    assert walked.excess == pytest.approx(excess)
    assert walked.matches == matches


def test_a_seam_to_a_piece_that_is_not_there_is_refused():
    with pytest.raises(NoSuchName, match="right"):
        walk(Draft((panel("left", 200.0),)), EASED)


@given(drafts())
@settings(max_examples=20)
def test_the_seams_of_a_drafted_block_walk_as_they_should(draft):
    for seam in draft.seams:
        assert walk(draft, seam).matches


@given(st.floats(-3, 3), st.floats(-500, 500))
@settings(max_examples=30)
def test_a_walk_does_not_depend_on_where_the_paper_lies(radians, across):
    draft = block()
    motion = Motion.turn(complex(across, 50), radians)
    sleeve = draft.piece("sleeve")
    moved = tuple(replace(e, parts=tuple(p.moved(motion) for p in e.parts)) for e in sleeve.edges)
    turned = draft.with_pieces(replace(sleeve, edges=moved, notches=(), grainline=None, levels=()))
    seam = draft.seam("armhole-seam")
    assert walk(turned, seam).ease == pytest.approx(walk(draft, seam).ease, abs=1e-6)
