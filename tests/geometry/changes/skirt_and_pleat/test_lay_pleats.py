import json

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import cloth_area, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from tests.sound import assert_sound
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.exporting.dxf import draft_dxf
from trueup.cli.sheet.cut_list import cut_list
from trueup.geometry.changes.skirt_and_pleat.lay_pleats import LayPleats
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece, Pleat, PleatStyle
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.creases import Crease, CreaseKind, LaidOpen
from trueup.geometry.pleats.laid_open import as_cut, laid_open
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.garments.cutting import cloth_of
from trueup.lineage.replay.verdicts import Verdict

DEPTH = st.integers(8, 24).map(float)


def pleated(
    draft: Draft, piece: str, at: float, depth: float, style: PleatStyle, towards: str | None = None
) -> Draft:
    place = Position("waist-centre", distance=at)
    how = {"depth": depth, "style": style, "towards": towards}
    return LayPleats(edge=f"{piece}.waist", at=place, **how).apply(draft)


@st.composite
def laid(draw: st.DrawFn) -> tuple[Draft, Draft, str]:
    """Draw a skirt, the same with one pleat before its dart, and the piece that has it."""
    before, piece = draw(skirts()), draw(st.sampled_from(PIECES))
    depth, style = draw(DEPTH), draw(st.sampled_from([*PleatStyle]))
    looks = [None, "waist-side", "waist-centre"] if style is PleatStyle.KNIFE else [None]
    towards = draw(st.sampled_from(looks))
    room = before.edge(piece, "waist").parts[0].length
    at = draw(st.floats(depth + 1, max(room - depth - 1, depth + 2)))
    return before, pleated(before, piece, at, depth, style, towards), piece


def points(edge: Edge) -> np.ndarray:
    return np.concatenate([sampled(part) for part in edge.parts])


def folded(cloth: np.ndarray, line: float, outward: float, pleat: Pleat) -> np.ndarray:
    """Return points of cloth after the upright pleat at x = `line` was folded by hand.

    Layer after layer, outwards from the centre: under what lies before the line, under what lies
    behind it, or under both.
    """
    c, d = (cloth.real - line) * outward, pleat.depth
    if pleat.style is not PleatStyle.KNIFE:
        lies = np.select(
            [c < 0, c < d, c < 3 * d, c < 4 * d], [c, -c, c - 2 * d, 4 * d - c], c - 4 * d
        )
    elif pleat.towards == "waist-side":
        lies = np.select([c < 0, c < d], [c, -c], c - 2 * d)
    else:
        lies = np.select([c < d, c < 2 * d], [c, 2 * d - c], c - 2 * d)
    return line + outward * lies + 1j * cloth.imag


def crease_lines(piece: Piece, what: CreaseKind) -> list[Crease]:
    assert isinstance(piece, LaidOpen)
    return [each for each in piece.creases if each.what is what]


@given(laid())
@settings(max_examples=60, deadline=None)
def test_a_pleat_that_is_folded_has_the_rims_of_the_cloth_it_lies_on(
    made: tuple[Draft, Draft, str],
) -> None:
    before, after, piece = made
    now = laid_open(after.piece(piece))
    (pleat,) = after.piece(piece).pleats
    waist = before.edge(piece, "waist")
    line = waist.point_at(pleat.at.along(waist)).real
    outward = np.sign(waist.end.real - waist.start.real)
    for edge in ("waist", "hem"):
        original = shapely.MultiLineString(
            [
                np.column_stack((p.real, p.imag))
                for p in map(sampled, before.edge(piece, edge).parts)
            ]
        ).buffer(0.03)
        lying = folded(points(now.edge(edge)), line, outward, pleat)
        assert shapely.covers(original, shapely.points(lying.real, lying.imag)).all()
    assert now.area == pytest.approx(cloth_area(now), rel=1e-4)
    # Every layer of the pleat has the length of the piece there.
    extra = cloth_area(now) - cloth_area(before.piece(piece))
    sides = 1 if pleat.style is PleatStyle.KNIFE else 2
    long = before.piece(piece).corner("hem-centre").imag
    assert extra == pytest.approx(2 * sides * pleat.depth * long, rel=0.04)


@given(laid())
@settings(max_examples=60, deadline=None)
def test_as_sewn_nothing_moves_and_as_cut_both_edges_have_the_cloth_of_the_pleat(
    made: tuple[Draft, Draft, str],
) -> None:
    before, after, piece = made
    assert_sound(after)
    was, now = before.piece(piece), after.piece(piece)
    assert now.edges == was.edges
    assert check(after) == check(before)
    assert measures(after).items() >= measures(before).items()
    (pleat,) = now.pleats
    take_up = pleat.depth * (2 if pleat.style is PleatStyle.KNIFE else 4)
    assert measures(after)[f"{piece}.pleat.intake"] == pytest.approx(take_up)
    cut = laid_open(now)
    assert cut.is_simple
    for edge in ("waist", "hem"):
        grown = sewn_length(cut.edge(edge)) - sewn_length(was.edge(edge))
        assert grown == pytest.approx(take_up, rel=0.05)
        assert measures(after)[f"{piece}.{edge}.laid-open"] == pytest.approx(
            sewn_length(cut.edge(edge)), abs=0.02
        )
    assert cut.edge("centre") is was.edge("centre")
    assert sewn_length(cut.edge("side")) == pytest.approx(sewn_length(was.edge("side")), abs=1e-6)
    for one, other in zip(was.edge("waist").mouths, cut.edge("waist").mouths, strict=True):
        assert other.intake == pytest.approx(one.intake, abs=1e-9)
        assert abs(other.first - one.first) == pytest.approx(take_up, abs=1e-6)
    other = PIECES[1 - PIECES.index(piece)]
    assert after.piece(other) is before.piece(other)


@given(laid())
@settings(max_examples=20, deadline=None)
def test_a_notch_stays_on_the_cloth_it_marks(made: tuple[Draft, Draft, str]) -> None:
    before, after, piece = made
    notched = change("mark-notch", edge=f"{piece}.hem", at="8mm from hem-side").apply(after)
    cut = laid_open(notched.piece(piece))
    (notch,) = (each for each in cut.notches if each.name == "notch")
    hem = cut.edge("hem")
    where = hem.point_at(notch.at.along(hem))
    assert abs(where - cut.corner("hem-side")) == pytest.approx(8, abs=0.01)
    hip = next(each for each in cut.notches if each.name == "hip")
    assert hip in before.piece(piece).notches


def test_an_inverted_pleat_of_the_centre_takes_half_its_cloth_on_the_fold() -> None:
    for style in (PleatStyle.INVERTED, PleatStyle.BOX):
        after = pleated(skirt(), "skirt-front", 0.0, 40.0, style)
        cut = laid_open(after.piece("skirt-front"))
        assert cut.edge("centre") is skirt().edge("skirt-front", "centre")
        assert sewn_length(cut.edge("hem")) == pytest.approx(245 + 80, abs=0.05)
        assert after.piece("skirt-front").area == skirt().piece("skirt-front").area
        (fold,) = crease_lines(cut, CreaseKind.FOLD)
        (placed,) = crease_lines(cut, CreaseKind.PLACEMENT)
        away = [505 - each.start.real for each in (fold, placed)]
        assert away == pytest.approx([80, 0] if style is PleatStyle.INVERTED else [40, 120])


def test_several_pleats_lie_one_beside_the_other_and_are_stitched_down() -> None:
    many = change(
        "lay-pleats", edge="skirt-back.waist", at="20mm from waist-centre", depth="10mm",
        count=3, spacing="25mm", stitched="120mm",
    )  # fmt: skip
    after = many.apply(skirt())
    assert [each.name for each in after.piece("skirt-back").pleats] == [
        "pleat-1", "pleat-2", "pleat-3",
    ]  # fmt: skip
    cut = laid_open(after.piece("skirt-back"))
    folds = crease_lines(cut, CreaseKind.FOLD)
    assert [each.start.real for each in folds] == pytest.approx([20, 65, 110], abs=0.1)
    sewn = crease_lines(cut, CreaseKind.STITCHED)
    assert [abs(each.end - each.start) for each in sewn] == pytest.approx([120] * 6)


# --- what is done with it -------------------------------------------------------------------------


def test_cloth_sheets_pictures_and_files_have_the_pleats_open() -> None:
    after = pleated(skirt(), "skirt-back", 60.0, 20.0, PleatStyle.BOX)
    wide = cutting_line(after.piece("skirt-back")).area
    cut = cloth_of(after)["skirt-back"].area
    assert cut - wide == pytest.approx(80 * 600, rel=0.02)
    (listed,) = (each for each in cut_list(after).pieces if each.name == "skirt-back")
    assert listed.area == pytest.approx(cut, rel=1e-6)
    drawn = svg_text(draft_picture(after, "skirt"))
    assert drawn.count("skirt-back.pleat.pleat") >= 2
    assert len(draft_dxf(after, "skirt")) > len(draft_dxf(skirt(), "skirt")) + 200
    assert as_cut(skirt()) is skirt()


def test_it_survives_a_file_and_changes_the_fingerprint() -> None:
    after = pleated(skirt(), "skirt-front", 50.0, 15.0, PleatStyle.KNIFE)
    assert read_draft(to_bytes(after)) == after
    assert read_form(json.dumps(draft_form(after)), "x.svg").pieces == after.pieces
    assert fingerprint(after) != fingerprint(skirt())


def test_later_changes_are_made_on_the_piece_as_it_is_sewn() -> None:
    lower, wider = change("lengthen", by="70mm"), change("flare-hem", by="60mm", slashes=1)
    draft = change("dart-to-flare", dart="skirt-back.waist").apply(skirt())
    draft = change("dart-to-flare", dart="skirt-front.waist").apply(draft)
    after = pleated(draft, "skirt-back", 40.0, 20.0, PleatStyle.INVERTED)
    for each in (lower, wider):
        after, draft = each.apply(after), each.apply(draft)
    assert after.piece("skirt-back").edges == draft.piece("skirt-back").edges
    cut = laid_open(after.piece("skirt-back"))
    assert cut.is_simple
    grown = sewn_length(cut.edge("hem")) - sewn_length(draft.edge("skirt-back", "hem"))
    assert grown == pytest.approx(80, rel=0.03)


def test_on_one_side_of_the_body() -> None:
    one = LayPleats(
        edge="skirt-front.waist",
        at=Position("waist-centre", distance=60.0),
        depth=15.0,
        side="left",
    )
    after = one.apply(skirt())
    assert len(after.piece("left-skirt-front").pleats) == 1
    assert after.piece("right-skirt-front").pleats == ()


# --- what is refused ------------------------------------------------------------------------------


def test_a_dart_in_the_way_and_no_room_are_refused() -> None:
    with refusing(CannotChange, match="would lie over the dart waist; turn, release or shorten"):
        pleated(skirt(), "skirt-front", 88.0, 20.0, PleatStyle.KNIFE, "waist-centre")
    with refusing(CannotChange, match="20 mm deep, would run out of the cloth at the waist; use a"):
        pleated(skirt(), "skirt-back", 10.0, 20.0, PleatStyle.KNIFE)
    with refusing(CannotChange, match="would run out of the cloth at the waist"):
        pleated(skirt(), "skirt-back", 0.0, 20.0, PleatStyle.INVERTED)
    with refusing(CannotChange, match="would run out of the cloth at the waist"):
        change("lay-pleats", edge="skirt-back.waist", at="6mm from waist-side", depth="20mm").apply(
            skirt()
        )


def test_pleats_that_cross_or_run_elsewhere_are_refused() -> None:
    once = change(
        "lay-pleats", edge="skirt-back.waist", at="40mm from waist-centre", depth="10mm"
    ).apply(skirt())
    again = {"edge": "skirt-back.waist", "depth": "10mm", "name": "other"}
    with refusing(CannotChange, match="would cross the pleat"):
        change(
            "lay-pleats", at="70mm from waist-centre", ends_at="10mm from hem-centre", **again
        ).apply(once)
    with refusing(CannotChange, match="pleat of this piece runs from its waist to its hem; lay"):
        change(
            "lay-pleats", edge="skirt-back.centre", ends="side", at="200mm from waist-centre",
            ends_at="300mm from waist-side", depth="10mm", name="other",
        ).apply(once)  # fmt: skip
    with refusing(CannotChange, match="the name pleat is taken; choose another name"):
        change("lay-pleats", **{**again, "name": "pleat"}, at="70mm from waist-centre").apply(once)


def test_what_would_leave_a_pleat_without_room_is_refused() -> None:
    after = change(
        "lay-pleats", edge="skirt-back.waist", at="25mm from waist-side", depth="20mm"
    ).apply(skirt())
    with refusing(CannotChange, match="would run out of the cloth"):
        change("redraw-edge", edge="skirt-back.side", through="50%:60mm").apply(after)


def test_what_is_cut_is_pleated_part_by_part_and_no_pleat_is_cut_across() -> None:
    yoke = change(
        "cut-apart", piece="skirt-back", begins="side", ends="centre", line="yoke",
        at="130mm from waist-side", ends_at="130mm from waist-centre",
    )  # fmt: skip
    parts = yoke.apply(skirt())
    with refusing(CannotChange, match="is cut apart into .*; name one of these"):
        pleated(parts, "skirt-back", 40.0, 10.0, PleatStyle.KNIFE)
    lower = change(
        "lay-pleats", edge="skirt-back-lower.yoke", at="60mm from yoke-centre", depth="20mm"
    ).apply(parts)
    assert laid_open(lower.piece("skirt-back-lower")).is_simple
    longer = change("lengthen", by="40mm").apply(lower)
    assert len(longer.piece("skirt-back-lower").pleats) == 1
    with refusing(CannotChange, match="its part skirt-back-lower is laid in pleats"):
        change("join-parts", piece="skirt-back").apply(lower)
    pleat = pleated(skirt(), "skirt-back", 40.0, 10.0, PleatStyle.KNIFE)
    with refusing(CannotChange, match="would run through the pleat pleat; choose another line"):
        yoke.apply(pleat)


def test_parameters_that_contradict_are_refused() -> None:
    place = Position("waist-centre", distance=40.0)
    with refusing(BadParameter, match="several pleats need to know how far apart"):
        LayPleats(edge="skirt-back.waist", at=place, depth=10.0, count=3)
    with refusing(BadParameter, match="only a knife pleat looks to one side"):
        pleated(skirt(), "skirt-back", 40.0, 10.0, PleatStyle.BOX, "waist-side")
    with pytest.raises(NoSuchName):
        pleated(skirt(), "skirt-back", 40.0, 10.0, PleatStyle.KNIFE, "hem-side")
    with refusing(CannotChange, match="lies on the fold"):
        change(
            "lay-pleats", edge="skirt-front.centre", at="40mm from waist-centre", depth="10mm",
            ends="side",
        ).apply(skirt())  # fmt: skip
    with refusing(CannotChange, match=r"begin and end on one edge|lie over|would come"):
        change("lay-pleats", edge="back.hem", at="40mm from hem-side", depth="9mm").apply(block())


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change(
        "lay-pleats", edge="skirt-back.waist", at="20mm from waist-centre", depth="15mm",
        count=3, spacing="30mm", stitched="10cm", style="inverted", side="left",
    )  # fmt: skip
    assert told.in_words(Unit.MILLIMETRE) == (
        "lay 3 inverted pleats, 15 mm deep, in skirt-back.waist, 20 mm from the waist centre, 30 "
        "mm "
        "apart, to the hem, stitched down 100 mm on the left"
    )


def test_corrections_of_the_block_arrive_under_pleats() -> None:
    pleat = {"edge": "skirt-back.waist", "at": "40mm from waist-centre", "depth": "15mm"}
    bench = Bench(state(skirt_node(), child("kilt", step("k", "lay-pleats", **pleat), of="skirt")))
    corrections = (
        change("lengthen", by="50mm"),
        change("deepen-dart", dart="skirt-back.waist", by="5mm"),
        change("taper-side", by="8mm", level="hem"),
    )
    core = skirt()
    for each in corrections:
        found = bench.correct("skirt", each)
        assert pattern(found, "kilt").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand = change("lay-pleats", **pleat).apply(core)
    replayed = bench.evaluator.draft("kilt")
    for piece in PIECES:
        one, other = (laid_open(each.piece(piece)) for each in (by_hand, replayed))
        for edge in one.edges:
            away = closed_points(edge) - closed_points(other.edge(edge.name))
            assert np.abs(away).max() < 0.01
    assert by_hand.piece("skirt-back").pleats == replayed.piece("skirt-back").pleats


def test_a_pleat_laid_in_the_block_arrives_and_is_judged_by_its_cloth() -> None:
    bench = Bench(state(skirt_node(), child("long", step("l", "lengthen", by="80mm"), of="skirt")))
    pleat = change("lay-pleats", edge="skirt-back.waist", at="40mm from waist-centre", depth="15mm")
    found = bench.correct("skirt", pleat)
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert bench.measure("long", "skirt-back.pleat.intake") == pytest.approx(30)
