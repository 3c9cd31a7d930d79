import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from shapely.geometry import LinearRing, Point, Polygon

from tests.builders import block
from tests.fair import closed_points, sampled, turns
from tests.geometry.drafting.truth import assert_true, corner_angle, seam_differences
from tests.strategies import bodies, drafts, side_dart_blocks
from trueup.geometry.drafting.bust_proportion.frame import Frame
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.measuring.measures import measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft

RINGS = {
    "front": ("neck", "shoulder", "armhole", "side", "hem", "centre"),
    "back": ("neck", "shoulder", "armhole", "side", "hem", "centre"),
    "sleeve": ("cap", "back-seam", "hem", "front-seam"),
}
DARTS = (
    "front.bust",
    "front.waist-side",
    "front.waist",
    "back.shoulder",
    "back.waist-side",
    "back.waist",
)


def notch_station(draft: Draft, piece: str, name: str) -> float:
    """Return how far along its edge, in ring order, a notch lies, mm."""
    owner = draft.piece(piece)
    notch = next(notch for notch in owner.notches if notch.name == name)
    return notch.at.along(owner.edge(notch.edge))


def bends(cubics: tuple[Cubic, ...]) -> list[int]:
    """Return the sides to which a line bends, one entry a run: [1, -1] has one turning point."""
    sides: list[int] = []
    for a, b, c, d in cubics:
        for k in range(21):
            t = k / 20
            velocity = (1 - t) ** 2 * (b - a) + 2 * t * (1 - t) * (c - b) + t**2 * (d - c)
            change = (1 - t) * (c - 2 * b + a) + t * (d - 2 * c + b)
            bend = (velocity.conjugate() * change).imag / abs(velocity) ** 3
            side = 0 if abs(bend) < 1e-6 else int(math.copysign(1, bend))
            if side and sides[-1:] != [side]:
                sides.append(side)
    return sides


def test_the_pieces_have_the_edges_of_the_trade_in_ring_order():
    assert {piece.name: piece.edge_names for piece in block().pieces} == RINGS


def test_the_block_has_its_six_darts():
    assert block().dart_names == DARTS


def test_the_front_lies_on_the_fold_and_the_back_has_a_seam():
    assert block().piece("front").fold == "centre"
    assert block().piece("back").fold is None


@given(drafts())
@settings(max_examples=60)
def test_every_draft_comes_out_true(draft: Draft):
    assert_true(draft)


@given(side_dart_blocks())
@settings(max_examples=30)
def test_every_draft_stays_true_with_its_bust_dart_in_the_side(draft: Draft):
    """Common practice, no source: turning a dart about its apex changes no seam."""
    assert draft.edge("front", "side").darts
    assert not draft.edge("front", "armhole").darts
    assert_true(draft)


@given(drafts())
@settings(max_examples=40)
def test_the_rings_close_and_the_outlines_are_simple(draft: Draft):
    for piece in draft.pieces:
        for before, after in pairwise((*piece.edges, piece.edges[0])):
            assert before.end == after.start
        ring = [(p.real, p.imag) for e in piece.edges for p in e.outline.flattened(0.1)[:-1]]
        assert LinearRing(ring).is_simple
        assert Polygon(ring).area == pytest.approx(piece.area, rel=1e-3)
        assert piece.area > 50_000


@given(drafts())
@settings(max_examples=40)
def test_every_dart_lies_inside_its_piece(draft: Draft):
    for name in draft.dart_names:
        piece, edge, dart = draft.find_dart(name)
        tip = piece.mouth(dart.name).tip
        ring = Polygon(
            [(p.real, p.imag) for e in piece.edges for part in e.parts for p in part.flattened(0.1)]
        )
        assert ring.contains(Point(tip.real, tip.imag)), name
        assert ring.exterior.distance(Point(tip.real, tip.imag)) > 5, name
        assert edge.darts


@given(drafts())
@settings(max_examples=40)
def test_the_cap_has_its_ease_above_the_notches_and_none_below(draft: Draft):
    seam = draft.seam("armhole-seam")
    assert walk(draft, seam).matches
    assert seam.allowed.low <= seam_differences(draft)["armhole-seam"] <= seam.allowed.high
    front, back = draft.edge("front", "armhole"), draft.edge("back", "armhole")
    cap = draft.edge("sleeve", "cap")
    crown = notch_station(draft, "sleeve", "crown")
    on_front = front.length - notch_station(draft, "front", "front")
    assert notch_station(draft, "sleeve", "front") == pytest.approx(on_front)
    assert 5 < crown - front.length < 25
    for name in ("back-lower", "back-upper"):
        on_back = back.length - notch_station(draft, "back", name)
        assert cap.length - notch_station(draft, "sleeve", name) == pytest.approx(on_back)
    assert 10 < cap.length - crown - back.length < 35


@given(drafts())
@settings(max_examples=20)
def test_notches_lie_a_third_up_the_front_armhole_and_three_eighths_up_the_back(draft: Draft):
    """Counted from the underarm; the pair behind is 10 mm apart. Common practice, no source."""
    front, back = draft.edge("front", "armhole"), draft.edge("back", "armhole")
    up = front.length - notch_station(draft, "front", "front")
    assert up == pytest.approx(front.length / 3)
    lower, upper = (
        back.length - notch_station(draft, "back", name) for name in ("back-lower", "back-upper")
    )
    assert lower == pytest.approx(back.length * 3 / 8)
    assert upper - lower == pytest.approx(10.0)


@given(drafts())
@settings(max_examples=40)
def test_notches_keep_clear_of_darts_and_corners(draft: Draft):
    front = draft.edge("front", "armhole")
    dart = front.parts[0].length
    assert notch_station(draft, "front", "front") > dart + 8
    back = draft.edge("back", "armhole")
    stations = [notch_station(draft, "back", name) for name in ("back-upper", "back-lower")]
    assert back.length / 3 < stations[0] < stations[1] < back.length - 40


@pytest.mark.parametrize("bust", range(740, 1181, 8))
def test_armholes_are_one_hollow_at_every_size(bust: int):
    draft = block(float(bust), bust - 180.0, 410.0)
    for piece in ("front", "back"):
        assert len(bends(closed(draft.edge(piece, "armhole")).chain.cubics)) == 1, piece


@given(drafts())
@settings(max_examples=40)
def test_armholes_are_one_hollow_without_bumps(draft: Draft):
    for piece in ("front", "back"):
        assert len(bends(closed(draft.edge(piece, "armhole")).chain.cubics)) == 1, piece


@given(drafts())
@settings(max_examples=40)
def test_necks_are_one_hollow(draft: Draft):
    for piece in ("front", "back"):
        assert len(bends(draft.edge(piece, "neck").parts[0].cubics)) == 1, piece


@given(drafts())
@settings(max_examples=40)
def test_the_cap_is_a_bell(draft: Draft):
    cap = draft.edge("sleeve", "cap").parts[0]
    assert len(bends(cap.cubics)) == 3
    heights = [point.imag for point in cap.flattened()]
    top = heights.index(min(heights))
    assert heights[:top] == sorted(heights[:top], reverse=True)
    assert heights[top:] == sorted(heights[top:])
    assert abs(cap.start_tangent + 1) < 1e-9
    assert abs(cap.end_tangent + 1) < 1e-9


@given(drafts())
@settings(max_examples=40)
def test_the_cap_is_hollowed_deeper_in_front(draft: Draft):
    cap = draft.edge("sleeve", "cap").parts[0]
    crown = notch_station(draft, "sleeve", "crown")
    front, back = cap.split_at(crown)

    def hollow(half: list[complex], foot: complex) -> float:
        top = half[-1] if half[0] == foot else half[0]
        sides = [((p - foot) / (top - foot)).imag * abs(top - foot) for p in half]
        return min(max(sides), -min(sides))

    assert hollow(front.flattened(), cap.start) > hollow(back.flattened(), cap.end)


@given(drafts())
@settings(max_examples=40)
def test_the_waist_line_hardly_leaves_its_level(draft: Draft):
    for piece in ("front", "back"):
        hem = draft.edge(piece, "hem")
        strays = [abs(p.imag - hem.start.imag) for part in hem.parts for p in part.flattened()]
        assert max(strays) < 4


@given(drafts())
@settings(max_examples=40)
def test_centres_are_square_to_neck_and_waist(draft: Draft):
    for piece in ("front", "back"):
        for corner in ("neck-centre", "hem-centre"):
            assert corner_angle(draft.piece(piece), corner) == pytest.approx(90, abs=1e-6)


@given(drafts())
@settings(max_examples=40)
def test_armholes_are_square_to_the_shoulder(draft: Draft):
    for piece in ("front", "back"):
        assert corner_angle(draft.piece(piece), "shoulder-point") == pytest.approx(90, abs=1e-6)


@given(bodies())
@settings(max_examples=40)
def test_the_waist_is_the_body_with_its_ease(body: dict[str, float]):
    draft = block(body["bust"], body["waist"], body["back-length"], body["sleeve-length"])
    waist = measure(draft, "front.waist-width") + measure(draft, "back.waist-width")
    assert waist == pytest.approx(body["waist"] / 2 + 30, abs=1.5)


@given(bodies())
@settings(max_examples=40)
def test_a_larger_bust_gives_a_larger_block(body: dict[str, float]):
    smaller = block(body["bust"], body["waist"], 390, 560)
    larger = block(body["bust"] + 10, body["waist"], 390, 560)
    for name in (
        "front.armhole",
        "back.armhole",
        "sleeve.cap",
        "sleeve.cap-height",
        "sleeve.biceps-width",
        "front.shoulder",
        "front.neck",
        "back.neck",
        "front.chest-width",
        "back.chest-width",
        "front.bust.intake",
        "back.shoulder.intake",
    ):
        assert measure(larger, name) > measure(smaller, name), name


@given(bodies())
@settings(max_examples=40)
def test_a_smaller_waist_is_taken_in_by_darts_and_side(body: dict[str, float]):
    wider = block(body["bust"], body["waist"], 390, 560)
    slimmer = block(body["bust"], body["waist"] - 10, 390, 560)
    for name in ("front.waist", "front.waist-side", "back.waist", "back.waist-side"):
        assert measure(slimmer, f"{name}.intake") > measure(wider, f"{name}.intake")
    assert measure(slimmer, "front.shoulder") == measure(wider, "front.shoulder")
    assert measure(slimmer, "front.neck") == measure(wider, "front.neck")


def test_a_longer_back_lengthens_only_what_hangs_below_the_bust():
    short, long = block(back_length=380), block(back_length=400)
    grown = measure(long, "front.side") - measure(short, "front.side")
    assert grown == pytest.approx(20, abs=0.1)
    assert measure(long, "back.shoulder") == measure(short, "back.shoulder")
    assert measure(long, "front.armhole") == pytest.approx(measure(short, "front.armhole"), abs=0.1)


def test_a_longer_sleeve_keeps_its_cap():
    short, long = block(sleeve_length=540), block(sleeve_length=560)
    assert long.edge("sleeve", "cap") == short.edge("sleeve", "cap")
    assert measure(long, "sleeve.back-seam") == pytest.approx(
        measure(short, "sleeve.back-seam") + 20
    )


def test_the_waist_dart_below_the_bust_pivots_on_the_bust_point_and_stops_short_of_it():
    front = block().piece("front")
    bust, waist = front.mouth("bust"), front.mouth("waist")
    assert waist.dart.apex == bust.dart.apex
    assert 20 <= waist.tip.imag - waist.dart.apex.imag <= 30


def test_grainlines_are_upright_and_inside():
    for piece in block().pieces:
        line = piece.grainline
        assert line is not None
        assert line.start.real == line.end.real
        ends = [Point(p.real, p.imag) for p in (line.start, line.end)]
        assert all(piece.cloth.contains(end) for end in ends)


def test_levels_read_as_widths():
    draft = block()
    assert measure(draft, "front.bust-width") + measure(draft, "back.bust-width") < 475
    assert measure(draft, "sleeve.wrist-width") == pytest.approx(
        measure(draft, "sleeve.biceps-width")
    )
    for piece in ("front", "back"):
        assert measure(draft, f"{piece}.waist-width") == measure(draft, f"{piece}.hem")


@pytest.mark.parametrize(
    ("bust", "narrower"), [(800, 0.97), (830, 1.37), (960, 4.88), (1180, 15.59)]
)
def test_the_front_chest_gives_way_where_the_bust_dart_ends_inside_it(
    bust: int, narrower: float
) -> None:
    """How far the sampled armhole comes inside the rule of width, as the system says of itself."""
    draft = block(float(bust), float(bust - 180), 400.0)
    frame = Frame(float(bust), float(bust - 180), 400.0)
    upper, _ = draft.edge("front", "armhole").parts
    inside = sampled(upper).real.max() - frame.front_width
    assert inside == pytest.approx(narrower, abs=0.05)
    dart_end = upper.end.real - frame.front_width
    assert dart_end < inside
    assert (dart_end > 0) == (bust > 930)


@pytest.mark.parametrize(("bust", "turns_back"), [(960, 2.5), (1180, 12.0)])
def test_held_out_on_the_width_the_armhole_would_wave(bust: int, turns_back: float) -> None:
    frame = Frame(float(bust), float(bust - 180), 400.0)
    draft = block(float(bust), float(bust - 180), 400.0)
    shoulder, raised = frame.front_shoulder_point, frame.bust_dart_opened
    closed_line = closed_points(draft.edge("front", "armhole"))
    meeting = raised(frame.bust_dart_lower)
    held_out = complex(frame.front_width - 1, (2 * meeting.imag + shoulder.imag) / 3)
    foot = frame.front_armhole_foot - (1 + 1j) / 2**0.5 * (frame.armhole_sixth + 5)
    line = smooth_line(
        [shoulder, held_out, meeting, raised(foot), complex(closed_line[-1])],
        complex(closed_line[1] - closed_line[0]),
        complex(closed_line[-1] - closed_line[-2]),
    )
    assert max(turns(sampled(line), 1.0)) > 100
    assert min(turns(sampled(line), 1.0)) < -turns_back
