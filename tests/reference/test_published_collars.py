"""Collars by figures that are published, judged by lengths of points sampled along their lines.

Overlaps of front and back at the shoulder end: 10 mm to 15 mm for a flat Peter Pan collar 60 mm
wide, its front 7 mm below the neck line, 70 mm to 80 mm for a standing one (Müller & Sohn, Peter
Pan collar); 1/2 in, 1 in, 2 in for three heights of stand, the larger the higher
(patternstudio101.com). A shawl collar: stand 1 in, fall 1 3/4 in and 1/4 in more, spring 1/2 in (a
lesson on collars, Scribd 19653832).
"""

import numpy as np
import pytest

from tests.builders import block
from tests.fair import sampled
from trueup.geometry.changes import kind_named
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft

INCH = 25.4


def collar(overlap: float) -> Draft:
    return kind_named("draft-flat-collar")(
        width=60.0, overlap=overlap, lowered=7.0, rounded=40.0, fold=True
    ).apply(block())


def outer(overlap: float) -> float:
    line = sampled(collar(overlap).edge("collar", "outer-edge").parts[0])
    return float(np.abs(np.diff(line)).sum())


def test_a_larger_overlap_gives_a_shorter_outer_edge_and_so_a_higher_stand() -> None:
    lengths = [outer(share * INCH) for share in (0.0, 0.5, 1.0, 2.0)]
    assert lengths == sorted(lengths, reverse=True)
    assert min(-np.diff(lengths)) > 5


@pytest.mark.parametrize("overlap", [10.0, 15.0])
def test_a_flat_collar_is_nearly_as_long_outside_as_what_lies_beneath(overlap: float) -> None:
    assert outer(0.0) - outer(overlap) < 8.0


@pytest.mark.parametrize("overlap", [70.0, 80.0])
def test_a_standing_one_is_far_too_short_to_lie_flat(overlap: float) -> None:
    assert outer(0.0) - outer(overlap) > 30.0


@pytest.mark.parametrize("overlap", [10.0, 15.0, 70.0, 80.0])
def test_all_of_them_are_fair_and_fit_the_neck(overlap: float) -> None:
    assert check(collar(overlap)) == check(block())


def test_a_shawl_collar_by_published_figures_fits_and_is_fair() -> None:
    shawl = kind_named("draft-shawl")(opens=150.0, stand=INCH, fall=2 * INCH, spring=INCH / 2)
    after = shawl.apply(block())
    centre = sampled(after.edge("front", "collar-centre").parts[0])
    assert float(np.abs(np.diff(centre)).sum()) == pytest.approx(3 * INCH, abs=1e-6)
    assert check(after) == check(block())
