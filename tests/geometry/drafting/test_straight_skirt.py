"""The straight skirt against its published worked size, read by sampling, and over many bodies."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import Position
from trueup.geometry.sides.assembling import assembled

PUBLISHED = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
"""WikiEducator, skirt block: waist 72, hip 96, waist to hip 20.6 cm."""


def skirt(**body: float) -> Draft:
    return draft_block("straight-skirt", {**PUBLISHED, **body})


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


@st.composite
def bodies(draw: st.DrawFn) -> dict[str, float]:
    hip = draw(st.integers(800, 1300))
    return {
        "hip": float(hip),
        "waist": float(hip - draw(st.integers(180, 300))),
        "hip-depth": float(draw(st.integers(170, 240))),
        "skirt-length": float(draw(st.integers(400, 900))),
    }


def test_the_worked_size_is_as_published() -> None:
    """WikiEducator prints: width 50.5, back 26.0, front 24.5; waist 21.2 and 20.0 with its darts of
    2 cm, 12 and 10 cm long; finished 74.4 at the waist and 101 at the hip."""
    draft = skirt()
    front, back = draft.piece("skirt-front"), draft.piece("skirt-back")
    assert length(back.edge("hem")) == pytest.approx(260.0, abs=0.2)
    assert length(front.edge("hem")) == pytest.approx(245.0, abs=0.2)
    assert length(back.edge("waist")) == pytest.approx(212.0 - 20, abs=0.2)
    assert length(front.edge("waist")) == pytest.approx(200.0 - 20, abs=0.2)
    assert 2 * (length(back.edge("waist")) + length(front.edge("waist"))) == pytest.approx(
        744.0, abs=1.0
    )
    for piece, long in ((front, 100.0), (back, 120.0)):
        (mouth,) = piece.edge("waist").mouths
        assert abs(mouth.second - mouth.first) == pytest.approx(20.0, abs=0.3)
        assert abs(mouth.first - mouth.dart.apex) == pytest.approx(long, abs=1.0)
        assert abs(mouth.second - mouth.dart.apex) == pytest.approx(
            abs(mouth.first - mouth.dart.apex), abs=0.01
        )
    assert back.edge("waist").end.imag == pytest.approx(-10.0)


@given(bodies())
@settings(max_examples=50)
def test_it_comes_out_true_for_every_body(body: dict[str, float]) -> None:
    draft = draft_block("straight-skirt", body)
    assert check(draft) == ()
    front, back = draft.piece("skirt-front"), draft.piece("skirt-back")
    assert length(front.edge("side")) == pytest.approx(length(back.edge("side")), abs=0.05)
    around = 2 * (length(front.edge("hem")) + length(back.edge("hem")))
    assert around == pytest.approx(body["hip"] + 50.0, abs=0.5)
    waist = 2 * (length(front.edge("waist")) + length(back.edge("waist")))
    assert waist == pytest.approx(body["waist"] + 24.0, abs=0.5)
    assert front.fold == "centre"
    assert back.fold is None


@given(bodies())
@settings(max_examples=20)
def test_its_waist_is_square_to_centre_and_side_with_the_dart_closed(
    body: dict[str, float],
) -> None:
    for piece in draft_block("straight-skirt", body).pieces:
        line = closed_points(piece.edge("waist"))
        first = line[1] - line[0]
        assert abs(first.imag) < 0.02 * abs(first)
        side, waist = piece.edge("side").parts[0], piece.edge("waist").parts[-1]
        square = side.start_tangent.conjugate() * waist.end_tangent
        assert square.real == pytest.approx(0.0, abs=0.02)


@pytest.mark.parametrize(
    "body", [{"waist": 950.0}, {"skirt-length": 300.0, "hip-depth": 280.0}, {"hip": 20.0}]
)
def test_a_body_that_is_none_is_refused(body: dict[str, float]) -> None:
    with pytest.raises(BadParameter):
        skirt(**body)


def test_a_waistband_follows_it_and_it_is_cut_into_gores() -> None:
    band = kind_named("draft-band")(
        to="skirt-back.waist skirt-front.waist", name="waistband", height=40.0, extension=30.0
    )
    draft = band.apply(skirt())
    around = length(draft.edge("skirt-back", "waist")) + length(draft.edge("skirt-front", "waist"))
    assert length(draft.edge("waistband", "sewn-edge")) == pytest.approx(around, abs=0.01)
    deeper = kind_named("deepen-dart")(dart="skirt-front.waist", by=6.0).apply(draft)
    around = length(deeper.edge("skirt-back", "waist")) + length(
        deeper.edge("skirt-front", "waist")
    )
    assert length(deeper.edge("waistband", "sewn-edge")) == pytest.approx(around, abs=0.01)
    gored = kind_named("cut-apart")(
        piece="skirt-front",
        begins="waist",
        ends="hem",
        through="waist",
        ends_at=Position("hem-side", share=0.5),
        line="gore",
    ).apply(deeper)
    assert {"skirt-front-centre", "skirt-front-side"} <= {*gored.piece_names}
    assert check(gored) == ()


def test_kinds_made_on_front_and_back_find_those_of_a_skirt() -> None:
    wider = kind_named("add-ease")(by=40.0).apply(skirt())
    for name in ("skirt-front", "skirt-back"):
        old, new = skirt().piece(name), wider.piece(name)
        assert length(new.edge("hem")) == pytest.approx(length(old.edge("hem")) + 10.0, abs=0.1)
        assert length(new.edge("side")) == pytest.approx(length(old.edge("side")), abs=1e-6)
    assert check(wider) == ()
    longer = kind_named("lengthen")(by=100.0, piece="skirt-back").apply(skirt())
    assert [finding.code for finding in check(longer)] == ["seam"]
    trued = kind_named("true-hem")(piece="skirt-front").apply(longer)
    sides = [length(trued.edge(name, "side")) for name in ("skirt-front", "skirt-back")]
    assert sides[0] == pytest.approx(sides[1], abs=0.05)


def test_a_dress_of_bodice_and_skirt_keeps_the_seams_of_both() -> None:
    dress = assembled([(block(), ("front", "back", "sleeve")), (skirt(), skirt().piece_names)])
    assert {"side-seam", "skirt-side-seam", "shoulder-seam"} <= {s.name for s in dress.seams}
    assert check(dress) == check(block())
    eased = kind_named("add-ease")(by=40.0).apply(dress)
    assert eased.piece("skirt-front") is dress.piece("skirt-front")
