import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from trueup.geometry.errors import BrokenOutline, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.dart import Dart, InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Piece

CORNERS = ("waist-left", "waist-right", "hem-right", "hem-left")
NAMES = ("waist", "side", "hem", "centre")


def edge(name: str, *points: complex) -> Edge:
    index = NAMES.index(name)
    return Edge(name, CORNERS[index], CORNERS[(index + 1) % 4], (Chain.line(*points),))


def skirt(width: float = 200.0, depth: float = 500.0) -> Piece:
    """Return a straight skirt panel with a waist dart, a double-pointed dart and two levels."""
    right, low = complex(width, 0), complex(0, depth)
    waist = replace(
        edge("waist", 0j, 90 + 0j),
        parts=(Chain.line(0j, 90 + 0j), Chain.line(110 + 0j, right)),
        darts=(Dart("waist", 100 + 120j),),
    )
    return Piece(
        "skirt",
        (
            waist,
            edge("side", right, right + low),
            edge("hem", right + low, low),
            edge("centre", low, 0j),
        ),
        (InnerDart("inner", 50 + 200j, 50 + 300j, 45 + 250j, 55 + 250j),),
        levels=(Level("waist", 0.0, along="waist"), Level("hip", 250.0)),
    )


def backwards(one: Edge) -> Edge:
    parts = tuple(part.reversed() for part in one.parts[::-1])
    return Edge(one.name, one.ends_at, one.starts_at, parts, one.darts[::-1])


# --- the ring -------------------------------------------------------------------------------------


def test_a_ring_that_does_not_close_is_refused() -> None:
    panel = skirt()
    with refusing(BrokenOutline, match="do not meet"):
        replace(panel, edges=panel.edges[:-1])
    with refusing(BrokenOutline, match="hem and centre of skirt"):
        panel.with_edges(replace(panel.edge("centre"), starts_at="elsewhere"))
    with refusing(BrokenOutline, match="side and hem of skirt"):
        panel.with_edges(edge("hem", 201 + 500j, 500j))


def test_a_name_may_not_stand_twice() -> None:
    panel = skirt()
    with refusing(BrokenOutline, match="name side stands twice"):
        replace(
            panel,
            edges=(*panel.edges[:2], replace(panel.edge("hem"), name="side"), panel.edges[3]),
        )
    with refusing(BrokenOutline, match="name waist stands twice"):
        replace(panel, inner_darts=(replace(panel.inner_darts[0], name="waist"),))


def test_every_dart_parts_its_edge_once_more() -> None:
    with refusing(BrokenOutline, match="1 parts and 1 darts"):
        replace(edge("hem", 0j, 9 + 0j), darts=(Dart("hem", 5j),))


def test_everything_is_found_by_name() -> None:
    panel = skirt()
    assert panel.edge("side").ends_at == "hem-right"
    assert panel.corner("hem-left") == 500j
    assert [e.name for e in panel.neighbours("waist")] == ["centre", "side"]
    assert panel.level("hip").y == 250
    assert panel.has_level("hip")
    assert not panel.has_level("knee")
    assert panel.edge_of_dart("waist").name == "waist"
    assert panel.dart_names == ("waist", "inner")


@pytest.mark.parametrize(
    ("look", "candidates"),
    [
        (lambda p: p.edge("sid"), NAMES),
        (lambda p: p.corner("knee"), CORNERS),
        (lambda p: p.level("knee"), ("waist", "hip")),
        (lambda p: p.mouth("inner"), ("waist",)),
        (lambda p: p.neighbours("sid"), NAMES),
        (lambda p: p.with_edges(replace(p.edge("side"), name="flank")), NAMES),
    ],
)
def test_a_name_that_is_not_there_is_refused_with_those_that_are(look, candidates) -> None:
    with pytest.raises(NoSuchName) as caught:
        look(skirt())
    assert caught.value.candidates == candidates


def test_with_edges_leaves_the_others_the_same_objects() -> None:
    panel = skirt()
    changed = panel.with_edges(edge("side", 200 + 0j, 190 + 250j, 200 + 500j))
    assert [changed.edge(n) is panel.edge(n) for n in NAMES] == [True, False, True, True]


# --- measuring ------------------------------------------------------------------------------------


def test_an_edge_is_as_long_as_it_is_sewn_and_points_skip_the_dart() -> None:
    waist = skirt().edge("waist")
    assert waist.length == pytest.approx(180)
    assert waist.point_at(90) == 90
    assert abs(waist.point_at(100) - 120) < 1e-9
    assert waist.point_at(180) == 200
    assert waist.point_at(1000) == 200


def test_cloth_leaves_out_what_the_darts_take() -> None:
    panel = skirt()
    assert panel.area == pytest.approx(200 * 500 - 20 * 120 / 2 - 10 * 100 / 2)
    assert panel.cloth.area == pytest.approx(panel.area)
    assert panel.width_at(60) == pytest.approx(200 - 10)
    assert panel.width_at(250) == pytest.approx(200 - 10)
    assert panel.width_at(400) == pytest.approx(200)
    assert panel.width_at(900) == 0


def test_inwards_points_inwards_whichever_way_the_ring_runs() -> None:
    panel = skirt()
    mirrored = Piece("mirrored", tuple(backwards(e) for e in panel.edges[::-1]))
    for piece in (panel, mirrored):
        side = piece.edge("side").parts[0]
        inside = side.point_at(100) + side.tangent_at(100) * piece.inward
        assert inside.real == pytest.approx(199)
    assert mirrored.area == pytest.approx(panel.area + 500)


def test_an_outline_that_crosses_or_touches_itself_is_not_simple() -> None:
    panel = skirt()
    assert panel.is_simple
    assert not panel.with_edges(edge("side", 200 + 0j, -50 + 250j, 200 + 500j)).is_simple
    assert not panel.with_edges(edge("side", 200 + 0j, 250j, 200 + 500j)).is_simple
    deep = replace(panel.edge("waist"), darts=(Dart("waist", 100 + 501j),))
    assert not panel.with_edges(deep).is_simple
    assert all(piece.is_simple for piece in block().pieces)


# --- darts ----------------------------------------------------------------------------------------

# Plane geometry: a mouth is the chord 2 L sin(θ/2) of its legs. Degrees, then leg and width in cm,
# computed by hand.
WIDTHS = [
    (10, 8, 1.39), (10, 15, 2.61), (12, 10, 2.09), (12, 25, 5.23), (15, 12, 3.13),
    (15.66, 10, 2.72), (15.66, 25, 6.81), (18.25, 8, 2.54), (18.25, 15, 4.76), (18.25, 25, 7.93),
    (20, 20, 6.95), (20, 25, 8.68),
]  # fmt: skip

# The same, for one dart turned about the bust point of two drafts whose rules are from memory: to
# the waist, the side, the neck and the armhole of a size 12, then to the armhole, the waist and the
# side of a bodice for a bust of 83 cm.
TRANSFERS = [
    (15.66, 25.69, 7.00), (15.66, 17.00, 4.63), (15.66, 15.85, 4.32), (15.66, 20.78, 5.66),
    (15.66, 12.55, 3.42), (18.25, 11.72, 3.72), (18.25, 17.38, 5.51), (18.25, 17.41, 5.52),
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "leg", "width"), WIDTHS + TRANSFERS)
def test_the_width_of_a_dart_grows_with_its_legs(degrees: float, leg: float, width: float) -> None:
    second = cmath.rect(leg * 10, math.radians(degrees))
    mouth = Mouth(Dart("bust", 0j), complex(leg * 10), second)
    assert mouth.intake / 10 == pytest.approx(width, abs=0.006)
    assert math.degrees(abs(mouth.angle)) == pytest.approx(degrees)


@given(st.floats(1, 90), st.floats(20, 300), st.floats(0, 0.9), st.sampled_from([1, -1]))
def test_a_tip_set_back_stays_on_the_centre_line(
    degrees: float, leg: float, share: float, hand: int
) -> None:
    setback = share * leg * math.cos(math.radians(degrees) / 2)
    second = cmath.rect(leg, hand * math.radians(degrees))
    mouth = Mouth(Dart("bust", 0j, setback), complex(leg), second)
    assert abs(mouth.tip) == pytest.approx(setback, abs=1e-9)
    assert mouth.legs[0] == pytest.approx(mouth.legs[1])
    assert mouth.intake == pytest.approx(2 * leg * math.sin(math.radians(degrees) / 2))
    assert mouth.angle == pytest.approx(-hand * math.radians(degrees))


def test_the_mouth_stands_in_ring_order() -> None:
    mouth = skirt().mouth("waist")
    assert (mouth.first, mouth.second, mouth.intake) == (90, 110, 20)
    assert skirt().inner_darts[0].intake == 10
