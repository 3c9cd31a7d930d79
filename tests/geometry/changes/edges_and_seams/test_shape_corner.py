"""Corners of allowances: what lies on what once the seams are sewn and the hems turned."""

import cmath
import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import get_parts
from shapely.geometry import LineString, Point, Polygon

from tests.builders import block
from tests.corners import amounts
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.reference.test_allowance_corners import piece_of
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes.earlier.hem_allowance_1 import FirstHemAllowance
from trueup.geometry.cloth.cutting_line import cutting_edges, cutting_line
from trueup.geometry.comparing.difference import difference
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict

TURNS = st.floats(0, 6.28)


def leg(taper: float, turn: float, seams: float, hem: float, other: float = 0.0) -> Draft:
    """Return a piece like a trouser leg: its hem, e0, narrower or wider than what is above it."""
    points = [0j, 300 + 0j, complex(300 + taper, -400), complex(-taper - other, -400)]
    piece = piece_of([p * cmath.rect(1, turn) for p in points], seams)
    return Draft((allowed(piece, {"e0": hem}),))


def shaped(draft: Draft, how: str, **values: object) -> Piece:
    edge = values.pop("edge", "p.e0")
    return change("shape-corner", edge=edge, how=how, **values).apply(draft).piece("p")


def mirrored_over(shape: Polygon, start: complex, end: complex) -> Polygon:
    """Return a shape turned over about the line through two points."""
    way = (end - start) / abs(end - start)

    def over(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        there = start + way * ((x + 1j * y - start) / way).conj()
        return there.real, there.imag

    return Polygon(np.column_stack(over(*np.array(shape.exterior.coords).T)))


def half_plane(start: complex, end: complex, side: int) -> Polygon:
    way = (end - start) / abs(end - start)
    far = [start - way * 5e3, start + way * 5e3]
    out = way * 1j * side * 5e3
    return Polygon([(p.real, p.imag) for p in (*far, far[1] + out, far[0] + out)])


@given(amounts(-90, 90), TURNS, amounts(5, 25), amounts(20, 80), amounts(-40, 40))
@settings(max_examples=60)
def test_a_mirrored_hem_turned_up_lies_flat_on_what_is_above_it(
    taper: float, turn: float, seams: float, hem: float, other: float
) -> None:
    draft = leg(taper, turn, seams, hem, other)
    before, piece = draft.piece("p"), shaped(draft, "mirrored")
    start, end = piece.edge("e0").start, piece.edge("e0").end
    cut = cutting_line(piece)
    inner = piece.edge("e2").start - start
    inside = 1 if ((inner / (end - start)).imag > 0) else -1
    # What lies there of the line itself is no cloth.
    below = max(
        get_parts(cut.intersection(half_plane(start, end, -inside))), key=lambda part: part.area
    )
    above = cut.intersection(half_plane(start, end, inside))
    turned = mirrored_over(below, start, end)
    # As deep as the hem, all of it on the cloth above, and as wide as that: edge on edge.
    assert above.buffer(1e-6).covers(turned)
    band = half_plane(start, end, inside).difference(
        half_plane(start + 1j * inside * hem * (end - start) / abs(end - start),
                   end + 1j * inside * hem * (end - start) / abs(end - start), inside)
    )  # fmt: skip
    assert turned.area == pytest.approx(above.intersection(band).area, abs=0.01)
    assert piece.edges == before.edges
    if abs(taper) > 5 and abs(taper + other) > 5:
        assert cut.symmetric_difference(cutting_line(before)).area > 1


@given(amounts(-120, 120), TURNS, amounts(5, 30), amounts(5, 30))
@settings(max_examples=60)
def test_a_squared_allowance_ends_square_where_its_seam_meets_the_other_allowance(
    taper: float, turn: float, first: float, other: float
) -> None:
    piece = shaped(leg(taper, turn, other, first), "squared", corner="c1")
    seam, beside = piece.edge("e0"), piece.edge("e1")
    along = (seam.end - seam.start) / abs(seam.end - seam.start)
    ring = [complex(*xy) for xy in cutting_line(piece).exterior.coords[:-1]]
    near = sorted(ring, key=lambda p: abs(p - seam.end))[:4]
    on_seam = min(near, key=lambda p: abs(((p - seam.end) / along).imag))
    # One lies on the seam line drawn on, as far from the other seam as its allowance is wide.
    assert abs(((on_seam - seam.end) / along).imag) < 1e-6
    assert ((on_seam - seam.end) / along).real > 0
    way = (beside.end - beside.start) / abs(beside.end - beside.start)
    assert abs(((on_seam - seam.end) / way).imag) == pytest.approx(other, abs=1e-6)
    # The next lies square to the seam from there, on its own cutting line.
    (aside,) = [p for p in ring if p != on_seam and abs(((p - on_seam) / along).real) < 1e-6
                and abs(abs(((p - on_seam) / along).imag) - first) < 1e-6]  # fmt: skip
    assert cutting_line(piece).exterior.distance(
        Point(((on_seam + aside) / 2).real, ((on_seam + aside) / 2).imag)
    ) == pytest.approx(0, abs=1e-6)


@given(amounts(-100, 150), TURNS, amounts(15, 40), amounts(15, 60), amounts(3, 9))
@settings(max_examples=60)
def test_both_halves_of_a_folded_mitre_lie_on_each_other_once_both_hems_are_turned(
    taper: float, turn: float, side: float, hem: float, by: float
) -> None:
    piece = shaped(leg(taper, turn, side, hem), "folded", corner="c1", by=f"{by}mm")
    corner = piece.corner("c1")
    edges = [piece.edge("e0"), piece.edge("e1")]
    ways = [(e.end - e.start) / abs(e.end - e.start) for e in edges]
    # Where the turned hems meet inside: as deep as each of them.
    normal = [w * piece.inward for w in ways]
    matrix = [[n.real, n.imag] for n in normal]
    inside = corner + complex(*np.linalg.solve(matrix, [hem, side]))
    mitre = (inside - corner) / abs(inside - corner)
    ring = cutting_line(piece).exterior
    sides = []
    for way in ways:
        flat = corner + way * ((inside - corner) / way).conjugate()
        spoke = (flat - corner) / abs(flat - corner)
        cut = LineString(ring.coords).intersection(_strip(corner, flat, by))
        points = [complex(*xy) for xy in np.concatenate([np.array(g.coords) for g in _lines(cut)])]
        beside = [p for p in points if abs(abs(((p - corner) / spoke).imag) - by) < 1e-6
                  and ((p - corner) / spoke).real > 1]  # fmt: skip
        assert beside
        turned = [corner + way * ((p - corner) / way).conjugate() for p in beside]
        offs = [((p - corner) / mitre).imag for p in turned]
        assert all(abs(abs(off) - by) < 1e-6 for off in offs)
        sides.append(math.copysign(1, offs[0]))
    # Each half has its seam allowance beyond the mitre, on its own side of it.
    assert sides[0] != sides[1]
    assert cutting_line(piece).contains(Point(corner.real, corner.imag))


def _strip(start: complex, end: complex, by: float) -> Polygon:
    line = LineString([(start.real, start.imag), (end.real, end.imag)])
    return line.buffer(by + 1e-5, cap_style="flat")


def _lines(found):
    return [g for g in getattr(found, "geoms", [found]) if g.length > 0]


@given(drafts(), amounts(6, 25), amounts(0, 8))
@settings(max_examples=20)
def test_a_blunted_point_is_cut_straight_across_so_far_beyond_it(
    draft: Draft, seams: float, more: float
) -> None:
    by = seams + more
    piece = draft.piece("sleeve")
    wide = draft.with_pieces(allowed(piece, dict.fromkeys(piece.edge_names, seams)))
    blunt = change("shape-corner", edge="sleeve.cap", how="blunted", by=f"{by}mm").apply(wide)
    before, after = (cutting_line(d.piece("sleeve")) for d in (wide, blunt))
    assert before.buffer(1e-6).covers(after)
    for corner in ("front-underarm", "back-underarm"):
        at = piece.corner(corner)
        assert after.exterior.distance(Point(at.real, at.imag)) <= by + 1e-6
        # Square corners would reach to the square root of two times the allowance.
        if more < 0.3 * seams:
            assert before.area - after.area > 1
    assert after.buffer(1e-6).covers(Polygon([(p.real, p.imag) for p in piece.outline_points]))


# --- the kind -------------------------------------------------------------------------------------


def hemmed() -> Draft:
    """Return a block with allowances and nothing said of its corners."""
    draft = FirstHemAllowance(piece="front", by=40.0).apply(block())
    draft = change("seam-allowance", piece="front", by="12mm").apply(draft)
    return FirstHemAllowance(piece="sleeve", by=30.0).apply(draft)


def test_both_ends_are_cut_alike_but_for_one_on_the_fold_and_back_again() -> None:
    draft = hemmed()
    front = change("shape-corner", edge="front.hem", how="mirrored").apply(draft)
    assert [each.corner for each in front.piece("front").corners] == ["hem-side"]
    sleeve = change("shape-corner", edge="sleeve.hem", how="mirrored").apply(draft)
    assert {each.corner for each in sleeve.piece("sleeve").corners} == {"hem-back", "hem-front"}
    again = change("shape-corner", edge="front.hem", how="mitred").apply(front)
    assert again == draft
    assert cutting_edges(again.piece("front")) == cutting_edges(draft.piece("front"))
    other = change("shape-corner", edge="front.side", how="squared", corner="hem-side").apply(front)
    (only,) = other.piece("front").corners
    assert (only.edge, only.treatment) == ("side", "squared")


def test_what_cannot_be_cut_so_is_refused_in_a_sentence() -> None:
    draft = hemmed()
    with refusing(CannotChange, match="nothing is cut outside hem; give it an allowance first"):
        change("shape-corner", edge="back.hem", how="mirrored").apply(draft)
    with refusing(CannotChange, match="nothing is cut outside back-seam"):
        change("shape-corner", edge="sleeve.hem", how="folded").apply(draft)
    with refusing(CannotChange, match="on the fold"):
        change("shape-corner", edge="front.hem", corner="hem-centre", how="mirrored").apply(draft)
    with refusing(CannotChange, match="on the fold"):
        change("shape-corner", edge="front.centre", how="squared").apply(draft)
    with refusing(CannotChange, match="cut into at underarm; use at least 12 mm"):
        change("shape-corner", edge="front.side", corner="underarm", how="blunted", by="5mm").apply(
            draft
        )
    with refusing(CannotChange, match="a fold 45 mm outside it would lie beyond its allowance of"):
        change("shape-corner", edge="front.hem", how="mirrored", by="45mm").apply(draft)
    flat = leg(1500.0, 0.0, 10.0, 30.0)
    with refusing(
        CannotChange, match=r"the corner c1 opens by 1.*; it can be cut so where it opens"
    ):
        shaped(flat, "mirrored", corner="c1")
    with pytest.raises(NoSuchName):
        change("shape-corner", edge="front.hem", corner="neck-point", how="mirrored").apply(draft)


def test_it_is_kept_by_every_form_and_comes_to_the_parts() -> None:
    draft = change("shape-corner", edge="front.hem", how="mirrored").apply(hemmed())
    assert read_draft(to_bytes(draft)) == draft
    assert read_form(json.dumps(draft_form(draft)), "x.svg").pieces == draft.pieces
    assert fingerprint(draft) != fingerprint(hemmed())
    assert difference(hemmed(), draft).others == ("how corners are cut of front",)
    princess = change("cut-apart", piece="front", begins="armhole", ends="hem",
                      through="bust waist", line="princess")  # fmt: skip
    parts = princess.apply(draft)
    assert [each.corner for each in parts.piece("front-side").corners] == ["hem-side"]
    assert parts.piece("front-centre").corners == ()
    own = change("shape-corner", edge="front-side.princess", how="squared").apply(parts)
    later = change("lower-armhole", by="6mm").apply(own)
    assert later.piece("front-side").corners == own.piece("front-side").corners
    back = change("shape-corner", edge="front.hem", how="mitred").apply(own)
    assert {each.edge for each in back.piece("front-side").corners} == {"princess"}


def test_a_tapered_leg_is_wider_below_its_hem_than_at_it_and_a_flared_one_narrower() -> None:
    for taper, wider in ((40.0, True), (-40.0, False)):
        piece = shaped(leg(taper, 0.0, 10.0, 50.0), "mirrored")
        line = cutting_line(piece)
        rows = [line.intersection(LineString([(-999, y), (999, y)])).length for y in (0.5, 49.5)]
        assert (rows[1] > rows[0] + 5) is wider
        assert abs(rows[1] - rows[0]) == pytest.approx(2 * 49 * 40 / 400, abs=0.1)


def test_it_is_told_in_words() -> None:
    told = change("shape-corner", edge="sleeve.hem", how="mirrored", side="left")
    assert told.in_words(Unit.MILLIMETRE) == "cut the corners of sleeve.hem mirrored on the left"


def test_a_corrected_block_comes_to_the_same_as_shaping_afterwards() -> None:
    steps = (
        step("h1", "hem-allowance", piece="front", by="40mm"),
        step("h2", "shape-corner", edge="front.hem", how="mirrored"),
    )
    bench = Bench(state(block_node(), child("shirt", *steps)))
    taper = change("taper-side", by="8mm", level="hem", piece="front")
    found = bench.correct("village", taper)
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    draft = taper.apply(Bench(state(block_node())).evaluator.draft("village"))
    draft = change("hem-allowance", piece="front", by="40mm").apply(draft)
    draft = change("shape-corner", edge="front.hem", how="mirrored").apply(draft)
    lines = [cutting_line(d.piece("front")) for d in (bench.evaluator.draft("shirt"), draft)]
    assert lines[0].exterior.hausdorff_distance(lines[1].exterior) < 0.01


def test_a_corner_shaped_on_a_pattern_arrives_below() -> None:
    bench = Bench(state(block_node(), child("shirt", step("h1", "hem-allowance", piece="front",
                                                           by="40mm")),
                        child("long", of="shirt")))  # fmt: skip
    found = bench.correct("shirt", change("shape-corner", edge="front.hem", how="mirrored"))
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert bench.evaluator.draft("long").piece("front").corners
