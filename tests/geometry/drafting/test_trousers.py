"""The trouser block over many bodies, read by sampling, and what is made on it."""

import contextlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.fair import closed_points, headings, sampled, smallest_radius
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.drafting.bodies import TROUSERS, trouser_bodies
from tests.geometry.drafting.truth import assert_true, corner_angle
from tests.lineage.making import change
from tests.refusals import refusing
from trueup.geometry.drafting import draft_block, system_named
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

FRONT, BACK = "trouser-front", "trouser-back"
BOTH = (FRONT, BACK)


def trousers(**body: float) -> Draft:
    return draft_block(
        "trousers", {**TROUSERS, **{n.replace("_", "-"): v for n, v in body.items()}}
    )


def crossings(piece: Piece, y: float) -> list[float]:
    """Return where the outline of a piece crosses a level, from left to right, by sampling."""
    points = np.concatenate([sampled(part) for edge in piece.edges for part in edge.parts])
    above = points.imag < y
    at = np.flatnonzero(above[1:] != above[:-1])
    low, high = points[at], points[at + 1]
    share = (y - low.imag) / (high.imag - low.imag)
    return sorted(map(float, low.real + share * (high.real - low.real)))


@given(trouser_bodies())
@settings(max_examples=25)
def test_every_body_is_drafted_true(body: dict[str, float]) -> None:
    draft = draft_block("trousers", body)
    assert_true(draft)
    assert check(draft) == ()


@given(trouser_bodies())
@settings(max_examples=15)
def test_it_has_the_girths_and_lengths_of_the_body(body: dict[str, float]) -> None:
    draft = draft_block("trousers", body)
    around = 2 * sum(sewn_length(draft.edge(name, "waist")) for name in BOTH)
    assert around == pytest.approx(body["waist"] + 20, abs=0.05)
    hem = sum(sewn_length(draft.edge(name, "hem")) for name in BOTH)
    assert hem == pytest.approx(body["trouser-hem"], abs=1.5)
    for name in BOTH:
        corner = draft.piece(name).corner("hem-side")
        assert corner.imag == pytest.approx(body["body-rise"] + body["inside-leg"], abs=1e-6)
    fork = draft.piece(FRONT).corner("fork")
    assert fork.imag == pytest.approx(body["body-rise"] + 10, abs=1e-6)


@given(trouser_bodies())
@settings(max_examples=15)
def test_inseams_and_sides_are_alike_and_the_back_fork_lies_a_little_lower(
    body: dict[str, float],
) -> None:
    draft = draft_block("trousers", body)
    for edge in ("inseam", "side"):
        lengths = [sewn_length(draft.edge(name, edge)) for name in BOTH]
        assert lengths[0] == pytest.approx(lengths[1], abs=0.01)
    drop = draft.piece(BACK).corner("fork").imag - draft.piece(FRONT).corner("fork").imag
    assert 0 < drop < 30


@given(trouser_bodies())
@settings(max_examples=30)
def test_the_leg_lies_evenly_about_its_crease(body: dict[str, float]) -> None:
    draft = draft_block("trousers", body)
    for name in BOTH:
        piece = draft.piece(name)
        grain = piece.grainline
        assert grain is not None
        assert grain.start.real == grain.end.real == 0.0
        knee = piece.level("knee").y
        for y in (knee, knee + 100, piece.corner("hem-side").imag - 20):
            left, right = crossings(piece, y)
            assert left + right == pytest.approx(0.0, abs=0.1)


@given(trouser_bodies())
@settings(max_examples=30)
def test_the_crotch_runs_on_across_the_inseam_and_bends_one_way(body: dict[str, float]) -> None:
    draft = draft_block("trousers", body)
    assert sum(corner_angle(draft.piece(name), "fork") for name in BOTH) == pytest.approx(180)
    for name in BOTH:
        line = closed_points(draft.edge(name, "crotch"))
        turned = np.diff(headings(line, 1.0))
        assert min(turned.max(), -turned.min()) < 0.05
        assert smallest_radius(line) > 15


@given(trouser_bodies())
@settings(max_examples=30)
def test_the_waist_is_square_to_centre_and_side(body: dict[str, float]) -> None:
    draft = draft_block("trousers", body)
    for name in BOTH:
        for corner in ("waist-centre", "waist-side"):
            assert corner_angle(draft.piece(name), corner) == pytest.approx(90, abs=1e-3)


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ({"waist": 940.0}, r"^waist cannot be 940 mm: with the hip at 960"),
        ({"waist": 490.0}, r"^waist cannot be 490 mm: with the hip at 960"),
        ({"hip_depth": 260.0}, r"^body-rise cannot be 275 mm: with the hip-depth at 260"),
        ({"body_rise": 201.0, "hip_depth": 150.0}, r"^body-rise cannot be 201 mm: with the hip at"),
        ({"inside_leg": 560.0}, r"^inside-leg cannot be 560 mm: with the hip at 960"),
        ({"trouser_hem": 700.0}, r"^trouser-hem cannot be 700 mm: with the hip at 960"),
        ({"trouser_hem": 230.0}, r"^trouser-hem cannot be 230 mm: with the hip at 960"),
    ],
)  # fmt: skip
def test_measurements_that_contradict_one_another_are_refused(
    body: dict[str, float], told: str
) -> None:
    with refusing(BadParameter, match=told):
        trousers(**body)


@given(
    st.fixed_dictionaries(
        {e.name: st.floats(e.low, e.high) for e in system_named("trousers").measurements}
    )
)
@settings(max_examples=40)
def test_within_the_sane_ranges_there_is_a_true_draft_or_a_refusal(wild: dict[str, float]) -> None:
    with contextlib.suppress(BadParameter):
        assert check(draft_block("trousers", wild)) == ()


# --- what is made on it ---------------------------------------------------------------------------


@pytest.mark.parametrize("by", [-120, -25, 40, 200])
def test_a_leg_is_lengthened_along_its_seams(by: int) -> None:
    before = trousers()
    after = change("lengthen", by=f"{by}mm").apply(before)
    assert check(after) == ()
    for name in BOTH:
        old, new = before.piece(name), after.piece(name)
        lower = new.corner("hem-side").imag - old.corner("hem-side").imag
        assert lower == pytest.approx(by, abs=0.01)
        for edge in ("side", "inseam"):
            grown = sewn_length(new.edge(edge)) - sewn_length(old.edge(edge))
            assert abs(grown) == pytest.approx(abs(by), rel=0.01)
            assert grown * by > 0
        assert new.edge("crotch") is old.edge("crotch")
        assert new.level("hem").y == pytest.approx(new.corner("hem-side").imag)


def test_a_side_is_let_out_and_a_waistband_follows() -> None:
    wider = change("add-ease", by="20mm").apply(trousers())
    assert check(wider) == ()
    for name in BOTH:
        for level in ("hip-width", "knee-width"):
            grown = measure(wider, f"{name}.{level}") - measure(trousers(), f"{name}.{level}")
            assert grown == pytest.approx(5, abs=0.05)
    to = f"{BACK}.waist {FRONT}.waist"
    band = change("draft-band", to=to, name="waistband", height="40mm").apply(wider)
    around = sum(sewn_length(wider.edge(name, "waist")) for name in BOTH)
    assert sewn_length(band.edge("waistband", "sewn-edge")) == pytest.approx(around, abs=0.01)
