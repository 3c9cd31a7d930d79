from dataclasses import replace

import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.errors import NoSuchName
from trueup.geometry.measuring.measures import (
    CAP_EASE,
    measure,
    measures,
    piece_measures,
    seam_measure,
)
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft, Run, Seam


@given(drafts())
@settings(max_examples=20)
def test_every_edge_dart_level_and_seam_has_a_measure(draft):
    found = measures(draft)
    for piece in draft.pieces:
        for edge in piece.edges:
            assert found[f"{piece.name}.{edge.name}"] == edge.length
            for mouth in edge.mouths:
                assert found[f"{piece.name}.{mouth.dart.name}.intake"] == mouth.intake
                assert found[f"{piece.name}.{mouth.dart.name}.leg"] == mouth.legs[0]
        for level in piece.levels:
            assert found[f"{piece.name}.{level.name}-width"] > 0
    for seam in draft.seams:
        assert found[seam_measure(seam.name)] == walk(draft, seam).ease
    assert all(isinstance(mm, float) for mm in found.values())


def test_cap_ease_is_the_cap_less_the_armhole():
    draft = block()
    assert measure(draft, CAP_EASE) == pytest.approx(
        measure(draft, "sleeve.cap")
        - measure(draft, "front.armhole")
        - measure(draft, "back.armhole")
    )


def test_any_other_seam_is_measured_by_its_own_name():
    assert measure(block(), "side-seam.ease") == pytest.approx(0, abs=1e-6)


def test_the_waist_is_measured_along_the_hem_with_its_darts_closed():
    front = block().piece("front")
    assert piece_measures(front)["front.waist-width"] == front.edge("hem").length


def test_a_width_is_measured_from_centre_to_side():
    """On the bust line the front has no dart in the way, so its width is a plain difference."""
    front = block().piece("front")
    y = front.level("bust").y
    side = front.edge("side").parts[0].crossings(complex(0, y), 1 + 0j)
    across = abs(front.corner("hem-centre").real - front.edge("side").point_at(side[0]).real)
    assert piece_measures(front)["front.bust-width"] == pytest.approx(across, abs=0.05)


def test_a_dart_inside_a_piece_takes_its_intake_out_of_the_width():
    back = block().piece("back")
    y = back.level("bust").y
    middle = complex(back.edge("centre").start.real + 60, y)
    dart = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    before, after = (piece_measures(p) for p in (back, replace(back, inner_darts=(dart,))))
    assert after["back.fish.intake"] == pytest.approx(16)
    assert after["back.bust-width"] == pytest.approx(before["back.bust-width"] - 16)


def test_an_unknown_measure_is_refused_with_the_nearest():
    with pytest.raises(NoSuchName) as refused:
        measure(block(), "front.sholder")
    assert refused.value.nearest[0] == "front.shoulder"


def test_a_sleeveless_pattern_has_no_measures_of_a_sleeve():
    found = measures(block().only(["front", "back"]))
    assert not any(name.startswith("sleeve") for name in found)


def test_a_seam_to_a_missing_piece_is_refused():
    seam = Seam("odd", (Run("front", "side"),), (Run("skirt", "side"),))
    with pytest.raises(NoSuchName, match="skirt"):
        measures(Draft(block().pieces, (seam,)))


def test_unchanged_pieces_are_not_measured_again():
    piece_measures(block().piece("front"))
    hits = piece_measures.cache_info().hits
    measures(block())
    assert piece_measures.cache_info().hits > hits
