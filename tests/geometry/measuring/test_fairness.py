from dataclasses import replace

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, smallest_radius
from tests.geometry.measuring.test_checks import only, ring, square_with_dart
from tests.sound import outcome
from tests.strategies import drafts, side_dart_blocks
from trueup.geometry.changes import kind_named
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.measuring.checks import check, piece_findings
from trueup.geometry.measuring.finding import Finding, Severity
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

CODES = {"wave", "radius", "cloth-left", "narrow"}


def unfair(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(each.code, each.edge) for each in findings if each.code in CODES]


@given(drafts())
@settings(max_examples=40)
def test_a_drafted_block_is_drawn_fair(draft: Draft) -> None:
    assert unfair(check(draft)) == []


@pytest.mark.parametrize("bust", [740, 800, 880, 960, 1040, 1120, 1180])
@pytest.mark.parametrize("waist", [120, 180, 240])
def test_so_are_the_smallest_and_the_largest(bust: int, waist: int) -> None:
    assert unfair(check(block(float(bust), float(bust - waist), 400.0))) == []


@given(side_dart_blocks(), st.sampled_from([-8.0, 15.0]))
@settings(max_examples=20)
def test_a_hook_below_a_dart_is_a_wave(draft: Draft, by: float) -> None:
    """As steps of the first version of deepen-dart still have it."""
    made = [
        outcome(
            lambda v=version: kind_named("deepen-dart", v)(dart="front.bust", by=by).apply(draft)
        )
        for version in (1, 2)
    ]
    assume(all(made))
    waves = [[code for code in unfair(check(each)) if code[0] == "wave"] for each in made if each]
    assert waves[0] == [("wave", "side")] or by < 0
    assert waves[1] == []


def with_edge(line: Chain, edge: str = "a") -> Piece:
    """Return a piece of 100 mm by 100 whose upper edge is a line from 0 to 100."""
    square = ring("square", 0j, 100 + 0j, 100 + 100j, 100j)
    first = replace(square.edges[0], name=edge, parts=(line,))
    return replace(square, edges=(first, *square.edges[1:]))


def swelling(out: float, low: float, high: float) -> Chain:
    """Return a straight line with a swelling in it that stands out so far, mm."""
    middle, reach = (low + high) / 2, (high - low) / 6
    top = complex(middle, -out)
    return Chain(
        (
            Cubic.line(0j, complex(low)),
            Cubic(complex(low), complex(low) + reach, top - reach, top),
            Cubic(top, top + reach, complex(high) - reach, complex(high)),
            Cubic.line(complex(high), 100 + 0j),
        )
    )


@pytest.mark.parametrize("edge", ["armhole", "side"])
def test_a_bump_in_a_line_is_a_wave_with_its_size_and_place(edge: str) -> None:
    found = only(piece_findings(with_edge(swelling(3.0, 30, 70), edge)), "wave")
    assert found.severity is Severity.WARNING
    assert (found.low, found.high) == (0.0, 0.5)
    assert found.measured > 0.5
    assert found.says.facts["corner"] == "corner a"
    assert found.edges == (("square", edge),)


def test_what_stands_out_less_than_a_seam_can_show_is_no_wave() -> None:
    assert unfair(piece_findings(with_edge(swelling(0.4, 30, 70), "armhole"))) == []


def test_one_easy_way_in_and_out_is_how_a_side_seam_runs() -> None:
    hip = Chain((Cubic(0j, 33 + 3j, 67 - 3j, 100 + 0j),))
    assert unfair(piece_findings(with_edge(hip, "side"))) == []
    assert unfair(piece_findings(with_edge(hip, "neck"))) == [("wave", "neck")]


def test_a_meant_corner_is_neither_a_wave_nor_a_tight_bend() -> None:
    square_neck = Chain.line(0j, 50j * 0.4, 50 + 20j, 50 + 0j, 100 + 0j)
    assert unfair(piece_findings(with_edge(square_neck, "neck"))) == []


@given(st.floats(5, 40))
@example(15.75)
@settings(max_examples=30)
def test_a_bend_is_told_by_the_radius_it_has(radius: float) -> None:
    k = radius * 4 / 3 * (2**0.5 - 1)
    start, end = complex(50 - radius), complex(50, -radius)
    bend = Cubic(start, start + k, end + 1j * k, end)
    line = Chain((Cubic.line(0j, start), bend, Cubic.line(end, 50 - 60j)))
    piece = ring("square", 0j, 50 - 60j, 100 + 100j, 100j)
    piece = piece.with_edges(replace(piece.edge("a"), parts=(line,)))
    sampled = smallest_radius(closed_points(piece.edge("a")))
    found = [each for each in piece_findings(piece) if each.code == "radius"]
    assert bool(found) == (sampled < 15) or abs(sampled - 15) < 0.5
    for each in found:
        assert each.measured == pytest.approx(sampled, rel=0.05)
        assert each.low == 15


@pytest.mark.parametrize(("apex", "left"), [(50 + 60j, None), (50 + 96j, 4.0), (3 + 60j, 3.0)])
def test_a_dart_leaves_cloth_up_to_the_next_line(apex: complex, left: float | None) -> None:
    found = [each for each in piece_findings(square_with_dart(apex)) if each.code == "cloth-left"]
    assert [each.edge for each in found] == ([] if left is None else ["dart"])
    if left is not None:
        assert found[0].measured == pytest.approx(left, abs=0.01)
        assert found[0].low == 5


def test_so_does_a_dart_inside_the_piece_and_one_beside_it() -> None:
    piece = square_with_dart(50 + 40j)
    inner = InnerDart("inner", 50 + 43j, 50 + 97j, 45 + 70j, 55 + 70j)
    found = piece_findings(replace(piece, inner_darts=(inner,)))
    left = [(each.edge, round(each.measured, 1)) for each in found if each.code == "cloth-left"]
    assert left == [("dart", 3.0), ("inner", 3.0)]


def test_two_edges_that_do_not_meet_leave_cloth_between_them() -> None:
    found = piece_findings(ring("strip", 0j, 100 + 0j, 100 + 4j, 4j))
    assert [(each.code, each.edge, each.measured) for each in found] == [
        ("narrow", "a", 4.0),
        ("narrow", "c", 4.0),
    ]
