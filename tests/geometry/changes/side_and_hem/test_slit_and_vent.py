import json

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from tests.builders import block
from tests.fair import closed_points
from tests.geometry.changes.skirts import PIECES, skirt, skirt_node, skirts
from tests.geometry.changes.tape_measure import sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.side_and_hem.add_vent import AddVent
from trueup.geometry.changes.side_and_hem.slit import Slit
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import BadPosition, CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.laid_open import as_cut, laid_open
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict

HIGH = st.integers(60, 200).map(float)
WIDE = st.integers(15, 60).map(float)


def up(edge: str, high: float) -> dict[str, object]:
    """Return what says that an edge is open from so far above the hem."""
    return {"edge": edge, "at": Position(f"hem-{edge.partition('.')[2]}", distance=high)}


def mark_on(piece: Piece, edge: str, name: str) -> tuple[float, float]:
    """Return how far from the start of an edge a notch lies, and how long the edge is."""
    notch = next(n for n in piece.notches if (n.edge, n.name) == (edge, name))
    own = piece.edge(edge)
    return notch.at.along(own), sewn_length(own)


# --- a slit ---------------------------------------------------------------------------------------


@given(skirts(), HIGH)
@settings(max_examples=30, deadline=None)
def test_a_seam_is_sewn_down_to_the_slit_and_open_below_it(before: Draft, high: float) -> None:
    after = Slit(**up("skirt-front.side", high)).apply(before)
    assert check(after) == check(before)
    sewn = []
    for piece in PIECES:
        assert after.piece(piece).edges == before.piece(piece).edges
        at, long = mark_on(after.piece(piece), "side", "slit")
        sewn.append(at)
        assert long - at == pytest.approx(high, abs=0.05)
    assert sewn[0] == pytest.approx(sewn[1], abs=1e-6)
    told = measures(after)
    assert told["skirt-side-seam.open"] == pytest.approx(high, abs=0.05)
    assert told["skirt-side-seam.sewn"] == pytest.approx(sewn[0])
    # A back that hangs longer is meant now, and a seam uneven above the slit is found.
    longer = change("shape-hem", longer="35mm", piece="skirt-back").apply(after)
    assert check(longer) == check(before)
    assert longer.seam("skirt-side-seam").allowed == before.seam("skirt-side-seam").allowed
    assert walk(longer, longer.seam("skirt-side-seam")).ease == pytest.approx(0, abs=1e-6)
    assert measures(longer)["skirt-side-seam.open"] == pytest.approx(high, abs=0.05)


def test_what_was_meant_to_be_uneven_below_it_asks_for_nothing_above() -> None:
    long = kind_named("lengthen")(by=320.0).apply(block())
    uneven = kind_named("shape-hem")(longer=40.0, piece="back").apply(long)
    assert check(uneven) == ()
    after = kind_named("slit")(edge="front.side", at=Position("hem-side", distance=150.0)).apply(
        uneven
    )
    assert check(after) == ()
    assert walk(after, after.seam("side-seam")).ease == pytest.approx(0.0, abs=0.1)


def test_what_is_uneven_above_it_is_still_found_and_said() -> None:
    after = Slit(**up("skirt-back.side", 150.0)).apply(skirt())
    off = change("redraw-edge", edge="skirt-back.waist", through="50%:6mm").apply(after)
    assert not [each for each in check(off) if each.code == "seam"]
    # The waist rises by 8 mm at the side of the back alone, and with it all that is sewn.
    moved = change("true-line", edge="skirt-back.side", at="waist-side", by="8mm").apply(after)
    notch = next(n for n in moved.piece("skirt-back").notches if n.name == "slit")
    assert notch.at.corner == "waist-side"
    assert not [each for each in check(moved) if each.code == "seam"]
    assert measures(moved)["skirt-side-seam.open"] == pytest.approx(150, abs=0.1)


def test_a_style_seam_that_begins_at_the_hem_is_told_from_its_upper_end() -> None:
    parts = change(
        "cut-apart", piece="skirt-back", begins="hem", ends="waist", line="panel",
        at="40% from hem-side", through="waist",
    ).apply(skirt())  # fmt: skip
    after = change("slit", edge="skirt-back-side.panel", at="120mm from panel-hem").apply(parts)
    assert check(after) == check(parts)
    walked = walk(after, after.seam("skirt-back-panel"))
    long = sewn_length(parts.edge("skirt-back-side", "panel"))
    assert walked.side == pytest.approx(long - 120, abs=0.2)
    assert walked.mate == pytest.approx(walked.side, abs=0.2)


def test_an_edge_that_no_seam_sews_is_notched_alone() -> None:
    after = Slit(**up("skirt-back.centre", 180.0)).apply(skirt())
    assert after.seams == skirt().seams
    at, _ = mark_on(after.piece("skirt-back"), "centre", "slit")
    assert at == pytest.approx(180)
    notch = next(n for n in after.piece("skirt-back").notches if n.name == "slit")
    assert notch.at == Position("waist-centre", distance=420.0)


def test_it_survives_a_file_and_one_side_may_have_it() -> None:
    after = Slit(**up("skirt-front.side", 90.0)).apply(skirt())
    assert read_draft(to_bytes(after)) == after
    assert read_form(json.dumps(draft_form(after)), "x.svg").seams == after.seams
    assert fingerprint(after) != fingerprint(skirt())
    left = Slit(**up("skirt-front.side", 90.0), side="left").apply(skirt())
    assert left.seam("left-skirt-side-seam").open_from == ("slit", "slit")
    assert left.seam("right-skirt-side-seam").open_from is None
    assert "left-skirt-side-seam.open" in measures(left)


def test_a_slit_on_a_fold_one_too_many_and_a_place_off_the_edge_are_refused() -> None:
    with refusing(CannotChange, match="lies on the fold of the cloth; name another edge"):
        Slit(**up("skirt-front.centre", 90.0)).apply(skirt())
    once = Slit(**up("skirt-front.side", 90.0)).apply(skirt())
    with refusing(CannotChange, match="is left open already, from slit; name an edge of another"):
        Slit(**up("skirt-back.side", 60.0), name="other").apply(once)
    with pytest.raises(BadPosition):
        Slit(**up("skirt-front.side", 900.0)).apply(skirt())


# --- a vent ---------------------------------------------------------------------------------------


def outline(piece: Piece) -> Polygon:
    points = np.concatenate([closed_points(edge) for edge in piece.edges if not edge.darts])
    return Polygon(np.column_stack((points.real, points.imag)))


def bare(draft: Draft) -> Draft:
    for piece in PIECES:
        draft = change("dart-to-flare", dart=f"{piece}.waist").apply(draft)
    return draft


@given(skirts(), st.sampled_from(["skirt-back.centre", "skirt-back.side"]), HIGH, WIDE)
@settings(max_examples=40, deadline=None)
def test_the_extension_that_is_turned_in_lies_on_the_cloth_beside_the_fold(
    draft: Draft, edge: str, high: float, wide: float
) -> None:
    """The test turns the extension over the fold itself, and lays it on the piece."""
    before = bare(draft)
    after = AddVent(**up(edge, high), width=wide, slope=15.0).apply(before)
    piece, name = edge.split(".")
    was, cut = before.piece(piece), laid_open(after.piece(piece))
    assert after.piece(piece).edges == was.edges
    assert check(after) == check(before)
    whole, small = outline(cut), outline(was)
    extension = whole.difference(small.buffer(0.01))
    assert extension.area == pytest.approx(wide * high - wide * 15 / 2, rel=0.12)
    own = was.edge(name)
    corner = own.end if own.ends_at.startswith("hem") else own.start
    down = own.parts[-1].end_tangent if corner == own.end else own.parts[0].start_tangent
    points = shapely.get_coordinates(extension)
    lying = points[:, 0] + 1j * points[:, 1]
    turned = corner + down**2 * np.conj(lying - corner)
    laid = Polygon(np.column_stack((turned.real, turned.imag))).buffer(0)
    assert laid.difference(small.buffer(0.1)).area < 0.01 * extension.area
    # Its lower end lies along the hem.
    hem = shapely.LineString([(p.real, p.imag) for p in closed_points(was.edge("hem"))])
    (low,) = (each for each in cut.edges if each.name == "hem")
    gained = sewn_length(low) - sewn_length(was.edge("hem"))
    assert gained == pytest.approx(wide, rel=0.05)
    along = laid.exterior.intersection(hem.buffer(0.05))
    assert along.length > 0.9 * wide


def test_both_pieces_of_a_seam_get_theirs_and_an_underlap_may_be_wider() -> None:
    after = AddVent(**up("skirt-front.side", 150.0), width=30.0, underlap=50.0).apply(skirt())
    widths = [after.piece(piece).vents[0].width for piece in PIECES]
    assert widths == [30.0, 50.0]
    assert after.seam("skirt-side-seam").open_from == ("vent", "vent")
    assert measures(after)["skirt-back.vent.width"] == 50.0
    cut = as_cut(after)
    for piece, wide in zip(PIECES, widths, strict=True):
        across = [p.real for p in cut.piece(piece).outline_points]
        was = [p.real for p in skirt().piece(piece).outline_points]
        assert (max(across) - min(across)) - (max(was) - min(was)) == pytest.approx(wide, abs=0.1)


def test_the_free_side_has_an_allowance_of_its_own_and_notches_stay() -> None:
    draft = change("seam-allowance", piece="skirt-back", by="15mm").apply(skirt())
    draft = change("hem-allowance", piece="skirt-back", by="40mm").apply(draft)
    draft = change("mark-notch", edge="skirt-back.hem", at="30mm from hem-centre").apply(draft)
    after = AddVent(**up("skirt-back.centre", 200.0), allowance=8.0).apply(draft)
    cut = laid_open(after.piece("skirt-back"))
    assert cut.allowance("vent") == 8.0
    assert cut.allowance("vent-top") == 15.0
    assert cut.allowance("centre") == 15.0
    notch = next(n for n in cut.notches if n.name == "notch")
    place = cut.edge("hem").point_at(notch.at.along(cut.edge("hem")))
    assert abs(place - (30 + 600j)) < 1e-6
    left, *_ = cutting_line(cut).bounds
    assert left == pytest.approx(-48, abs=0.01)
    assert "skirt-back.pleat.vent" in svg_text(draft_picture(after, "skirt"))


def test_a_vent_beside_pleats_and_one_in_a_file() -> None:
    draft = change(
        "lay-pleats", edge="skirt-back.waist", at="60mm from waist-centre", depth="15mm"
    ).apply(skirt())
    after = AddVent(**up("skirt-back.centre", 160.0)).apply(draft)
    cut = laid_open(after.piece("skirt-back"))
    assert cut.is_simple
    assert sewn_length(cut.edge("hem")) == pytest.approx(260 + 30 + 40, abs=0.05)
    assert read_draft(to_bytes(after)) == after
    assert read_form(json.dumps(draft_form(after)), "x.svg").pieces == after.pieces
    assert fingerprint(after) != fingerprint(draft)


def test_vents_without_room_are_refused() -> None:
    with refusing(CannotChange, match="would begin too near an end of the edge"):
        AddVent(**up("skirt-back.centre", 10.0)).apply(skirt())
    with refusing(CannotChange, match="the hem is too narrow for the vent vent, 280 mm wide"):
        AddVent(**up("skirt-back.centre", 200.0), width=280.0).apply(skirt())
    turned = change(
        "rotate-dart", dart="front.bust", edge="front.side", at="40% from underarm"
    ).apply(block())
    with refusing(CannotChange, match="would begin above the dart bust; choose a place below"):
        change("add-vent", edge="front.side", at="10% from underarm").apply(turned)
    vented = AddVent(**up("skirt-back.centre", 200.0)).apply(skirt())
    with refusing(CannotChange, match="it has the vent vent; cut it apart before the vent"):
        change(
            "cut-apart", piece="skirt-back", begins="side", ends="centre", line="yoke",
            at="130mm from waist-side", ends_at="130mm from waist-centre",
        ).apply(vented)  # fmt: skip


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_they_are_told_in_words() -> None:
    slit = change("slit", edge="front.side", at="15cm from hem-side", side="left")
    assert slit.in_words(Unit.CENTIMETRE) == (
        "leave front.side open as a slit, beginning 15 cm from the hem side (slit) on the left"
    )
    vent = change("add-vent", edge="skirt-back.centre", at="20cm from hem-centre")
    assert vent.in_words(Unit.CENTIMETRE) == (
        "leave skirt-back.centre open for a vent 4 cm wide, beginning 20 cm from the hem centre "
        "(vent)"
    )


def test_corrections_of_the_block_arrive_under_a_vent() -> None:
    vent = {"edge": "skirt-front.side", "at": "150mm from hem-side", "width": "35mm"}
    bench = Bench(state(skirt_node(), child("vented", step("v", "add-vent", **vent), of="skirt")))
    core = skirt()
    for each in (change("lengthen", by="50mm"), change("add-ease", by="24mm")):
        found = bench.correct("skirt", each)
        assert pattern(found, "vented").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand, replayed = change("add-vent", **vent).apply(core), bench.evaluator.draft("vented")
    for piece in PIECES:
        one, other = (laid_open(each.piece(piece)) for each in (by_hand, replayed))
        assert one.edge_names == other.edge_names
        for edge in one.edges:
            assert _apart(edge, other.edge(edge.name)) < 0.01
    assert by_hand.seams == replayed.seams


def _apart(one: Edge, other: Edge) -> float:
    return float(np.abs(closed_points(one) - closed_points(other)).max())


@pytest.mark.parametrize("kind", ["slit", "add-vent"])
def test_made_on_the_block_it_arrives_in_a_longer_skirt(kind: str) -> None:
    bench = Bench(state(skirt_node(), child("long", step("l", "lengthen", by="80mm"), of="skirt")))
    made = change(kind, edge="skirt-back.side", at="150mm from hem-side")
    found = bench.correct("skirt", made)
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert bench.measure("long", "skirt-side-seam.open") == pytest.approx(230, abs=0.1)


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        ("slit", {"at": Position("hem-centre", distance=150.0)}),
        ("add-vent", {"at": Position("hem-centre", distance=150.0)}),
        ("add-zip", {"opening": 120.0}),
    ],
)
def test_a_seam_that_joins_left_to_right_is_open_on_both_or_on_neither(
    kind: str, values: dict[str, object]
) -> None:
    long = kind_named("lengthen")(by=320.0).apply(block())
    draft = kind_named("open-fold")(piece="front").apply(long)
    after = kind_named(kind)(edge="front.centre", **values).apply(draft)
    (marked,) = (n for n in after.piece("front").notches if n.edge == "centre")
    assert after.seam("front-centre").open_from in ((marked.name, marked.name), None)
    assert check(after) == check(draft)
    with refusing(CannotChange, match="on both sides"):
        kind_named(kind)(edge="front.centre", side="left", **values).apply(draft)
