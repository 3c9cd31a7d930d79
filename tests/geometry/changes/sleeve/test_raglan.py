from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import across_the_sleeve_seam, amounts, corner_degrees
from tests.fair import closed_points, sampled, smallest_radius, turns
from tests.geometry.changes.sleeve.beneath import corrected_beneath
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.changes.sleeve.raglan import RaglanSleeve
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadPosition, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

BUST = {"dart": "front.bust", "edge": "front.side", "at": "30% from underarm"}
SHOULDER = {"dart": "back.shoulder", "eased": True}
SIDES = ("front", "back")


def ready(draft: Draft) -> Draft:
    """A draft with no dart on what goes over to the sleeve."""
    turned = change("rotate-dart", **BUST).apply(draft)
    if "back.shoulder" not in turned.dart_names:
        return turned
    return change("release-dart", **SHOULDER).apply(turned)


def raglan(draft: Draft, **values: object) -> Draft:
    return RaglanSleeve(**values).apply(ready(draft))


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def sewn(draft: Draft, *edges: str) -> float:
    return sum(length(draft.edge(*edge.split("."))) for edge in edges)


def as_shape(line: Chain, *, backwards: bool = False) -> np.ndarray:
    """Return points along a line as seen from its start, its way to its end being ahead."""
    points = sampled(line)[::-1] if backwards else sampled(line)
    return (points - points[0]) / ((points[-1] - points[0]) / abs(points[-1] - points[0]))


# --- what holds always ----------------------------------------------------------------------------


@given(drafts(), amounts(15, 50), amounts(15, 40), amounts(-5, 8))
@settings(max_examples=20, deadline=None)
def test_both_seams_are_sewn_even_as_far_as_the_line_and_along_it(
    draft: Draft, front: float, back: float, rise: float
) -> None:
    after = raglan(draft, front_neck=front, back_neck=back, rise=rise)
    assert_sound(after)
    assert check(after) == ()
    for side in SIDES:
        for sleeve, piece in ((f"cap-{side}", "armhole"), (f"raglan-{side}", "raglan")):
            assert sewn(after, f"sleeve.{sleeve}") == pytest.approx(
                sewn(after, f"{side}.{piece}"), abs=0.05
            )
    assert not after.has_seam("shoulder-seam")
    assert not after.has_seam("armhole-seam")


@given(drafts(), amounts(15, 50), amounts(15, 40))
@settings(max_examples=15, deadline=None)
def test_what_goes_over_lies_on_the_sleeve_as_it_was(
    draft: Draft, front: float, back: float
) -> None:
    before, after = ready(draft), raglan(draft, front_neck=front, back_neck=back)
    for side, from_neck in zip(SIDES, (front, back), strict=True):
        line, copy = after.edge(side, "raglan").parts[0], after.edge("sleeve", f"raglan-{side}")
        # On front and back it runs down from the neck, on the sleeve from front to back.
        one = as_shape(line, backwards=side == "front")
        assert np.abs(one - as_shape(copy.parts[0])).max() < 1e-6
        neck = length(before.edge(side, "neck")) - length(after.edge(side, "neck"))
        assert neck == pytest.approx(from_neck, abs=0.05)
        # The corner at the neck, and the way to the neck point, go along rigidly.
        corners = corner_degrees(after.piece("sleeve"), f"{side}-neck")
        corners += corner_degrees(after.piece(side), "raglan-neck")
        assert corners == pytest.approx(180, abs=0.05)
        old = before.piece(side)
        far = abs(old.corner("neck-point") - after.edge(side, "raglan").parts[0].start)
        mouth = after.piece("sleeve").mouth("shoulder")
        point = mouth.first if side == "front" else mouth.second
        on_sleeve = abs(point - after.piece("sleeve").corner(f"{side}-neck"))
        assert on_sleeve == pytest.approx(far, abs=0.3)


@given(drafts(), amounts(15, 50), amounts(15, 40))
@settings(max_examples=15, deadline=None)
def test_the_neck_as_sewn_is_as_long_as_it_was_and_runs_on_fair(
    draft: Draft, front: float, back: float
) -> None:
    before, after = ready(draft), raglan(draft, front_neck=front, back_neck=back)
    was = sewn(before, "front.neck", "back.neck")
    now = sewn(after, "front.neck", "sleeve.neck", "back.neck")
    assert now == pytest.approx(was, abs=0.05)
    assert smallest_radius(closed_points(after.edge("sleeve", "neck"))) > 15


@given(drafts(), amounts(-5, 8))
@settings(max_examples=15, deadline=None)
def test_the_shoulder_points_lie_on_the_legs_of_the_dart_as_high_as_the_crown(
    draft: Draft, rise: float
) -> None:
    before, after = ready(draft), raglan(draft, rise=rise)
    old, sleeve = before.piece("sleeve"), after.piece("sleeve")
    mouth = sleeve.mouth("shoulder")
    assert mouth.legs[0] == pytest.approx(mouth.legs[1], abs=1e-6)
    # The cap line of a drafted sleeve lies level.
    crown = min(point.imag for point in closed_points(old.edge("cap")))
    heights = []
    for side, point in zip(SIDES, (mouth.first, mouth.second), strict=True):
        piece = before.piece(side)
        long = abs(piece.corner("neck-point") - piece.corner("shoulder-point"))
        way = (mouth.dart.apex - point) / abs(mouth.dart.apex - point)
        assert long + 4.5 < mouth.legs[0]
        heights.append(crown - (point + way * long).imag)
    # Where the neck is drawn fair across the dart, the neck points move by a hair's breadth.
    assert sum(heights) / 2 == pytest.approx(rise, abs=0.5)


@given(drafts(), amounts(15, 50), amounts(15, 40))
@settings(max_examples=15, deadline=None)
def test_the_line_runs_on_smoothly_and_the_rest_stays(
    draft: Draft, front: float, back: float
) -> None:
    before, after = ready(draft), raglan(draft, front_neck=front, back_neck=back)
    sleeve, old = after.piece("sleeve"), before.piece("sleeve")
    for side in SIDES:
        assert corner_degrees(after.piece(side), "raglan-armhole") == pytest.approx(180, abs=0.05)
        assert corner_degrees(sleeve, f"{side}-raglan") == pytest.approx(180, abs=0.05)
        for line in (f"cap-{side}", f"raglan-{side}"):
            assert smallest_radius(closed_points(sleeve.edge(line))) > 14.5
            assert len(turns(closed_points(sleeve.edge(line)))) <= 2
        rest = ("side", "hem", "centre")
        assert all(after.edge(side, edge) == before.edge(side, edge) for edge in rest)
        assert after.piece(side).grainline == before.piece(side).grainline
    assert across_the_sleeve_seam(after) == pytest.approx(across_the_sleeve_seam(before), abs=0.01)
    seams = ("front-seam", "back-seam", "hem")
    assert all(sleeve.edge(edge) == old.edge(edge) for edge in seams)
    assert (sleeve.grainline, sleeve.levels) == (old.grainline, old.levels)


def marked(piece: Piece, edge: str) -> list[float]:
    """Return how far from its end at the underarm an edge is notched, in order."""
    line = piece.edge(edge)
    lengths = [n.at.along(line) for n in piece.notches if n.edge == edge]
    if "underarm" not in line.starts_at:
        lengths = [line.length - each for each in lengths]
    return sorted(lengths)


@given(drafts())
@settings(max_examples=8, deadline=None)
def test_it_is_notched_alike_on_both_sides_and_where_the_line_begins(draft: Draft) -> None:
    after = raglan(draft)
    for side in SIDES:
        own = marked(after.piece(side), "armhole")
        assert marked(after.piece("sleeve"), f"cap-{side}") == pytest.approx(own, abs=1e-5)
        # A notch of the armhole that lies so near to the end of the line is not doubled.
        assert own[-1] == pytest.approx(after.edge(side, "armhole").length, abs=1.0)
        for piece, line in ((side, "raglan"), ("sleeve", f"raglan-{side}")):
            assert [n.edge for n in after.piece(piece).notches].count(line) == 1


# --- other blocks, other places -------------------------------------------------------------------


def test_it_is_cut_on_the_block_of_the_other_system_too() -> None:
    body = {"bust": 780.0, "waist": 660.0, "back-length": 340.0, "sleeve-length": 500.0,
            "neck": 330.0, "shoulder": 110.0, "back-width": 310.0, "chest-width": 300.0,
            "armscye-depth": 190.0}  # fmt: skip
    after = raglan(draft_block("direct-measure", body))
    assert_sound(after)
    assert check(after) == ()


def loose(draft: Draft) -> Draft:
    """A block for shirts: a dropped shoulder, a wide sleeve with a low cap."""
    for each in (
        change("rotate-dart", **BUST),
        change(
            "rotate-dart", dart="back.shoulder", edge="back.armhole", at="40% from shoulder-point"
        ),
        change("shorten-shoulder", by="-20mm"),
        change("lower-armhole", by="25mm"),
        change("add-ease", by="60mm"),
        change("raise-cap", by="-40mm"),
        change("refit-cap", to="28mm", how="width"),
        change("release-dart", **SHOULDER),
    ):
        draft = each.apply(draft)
    return draft


def test_a_loose_block_with_a_low_cap_takes_one() -> None:
    after = change("raglan").apply(loose(block(920.0, 720.0, 395.0, 570.0)))
    assert_sound(after)
    assert check(after) == ()


def test_the_line_ends_where_it_is_told_to_and_stands_out_by_as_much() -> None:
    at = {"front_at": Position("underarm", distance=80.0)}
    after = raglan(block(), **at, front_curve=12.0, back_curve=20.0)
    assert length(after.edge("front", "armhole")) == pytest.approx(80, abs=0.05)
    for side, out in zip(SIDES, (12.0, 20.0), strict=True):
        points = as_shape(after.edge(side, "raglan").parts[0])
        assert np.abs(points.imag).max() == pytest.approx(out, abs=0.02)


def test_a_band_is_drafted_to_the_neck_across_both_lines() -> None:
    lines = "back.neck sleeve.neck front.neck"
    after = change("draft-band", to=lines, height="30mm", fold=True).apply(raglan(block()))
    assert check(after) == ()
    necks = sewn(after, *lines.split())
    assert length(after.edge("band", "sewn-edge")) == pytest.approx(necks, abs=0.05)


def test_allowances_go_along() -> None:
    draft = ready(block())
    for piece, by in (("front", "12mm"), ("back", "12mm"), ("sleeve", "15mm")):
        draft = change("seam-allowance", piece=piece, by=by).apply(draft)
    sleeve = change("raglan").apply(draft).piece("sleeve")
    assert sleeve.allowance("cap-front") == 15
    assert sleeve.allowance("raglan-back") == 12
    assert sleeve.allowance("neck") == 12


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = raglan(block(), side="right")
    assert "cap" in after.piece("left-sleeve").edge_names
    assert "raglan-front" in after.piece("right-sleeve").edge_names


# --- what is marked on it, and what is made on it afterwards -------------------------------------


def test_what_is_marked_on_what_goes_over_goes_along() -> None:
    draft = ready(block())
    tack = change("mark-hole", edge="front.shoulder", at="40% from neck-point", by="14mm",
                  name="tack")  # fmt: skip
    sleeve_mark = change("mark-hole", edge="sleeve.cap", at="20% from back-underarm", by="30mm",
                         name="low")  # fmt: skip
    notch = change("mark-notch", edge="back.neck", at="10mm from neck-point", name="collar")
    draft = notch.apply(sleeve_mark.apply(tack.apply(draft)))
    front, old = draft.piece("front"), draft.piece("sleeve")
    spot, low = (runs_of(piece, piece.marks[0])[0][0] for piece in (front, old))
    after = change("raglan").apply(draft)
    sleeve = after.piece("sleeve")
    assert after.piece("front").marks == ()
    found = {mark.name: runs_of(sleeve, mark)[0][0] for mark in sleeve.marks}
    assert {*found} == {"tack", "low"}
    # It lies as far from both ends of the raglan line as it did on the front.
    for corner, place in (("raglan-neck", "front-neck"), ("raglan-armhole", "front-raglan")):
        was = abs(after.piece("front").corner(corner) - spot)
        assert abs(sleeve.corner(place) - found["tack"]) == pytest.approx(was, abs=0.01)
    assert abs(found["low"] - low) < 0.01
    (collar,) = (each for each in sleeve.notches if each.name == "collar")
    neck = sleeve.edge("neck")
    assert neck.length - collar.at.along(neck) == pytest.approx(15, abs=0.05)


def underarms(sleeve: Piece) -> tuple[complex, complex]:
    return sleeve.corner("front-underarm"), sleeve.corner("back-underarm")


@given(drafts(), amounts(1, 25))
@settings(max_examples=8, deadline=None)
def test_its_hem_is_tapered_and_its_biceps_widened(draft: Draft, by: float) -> None:
    plain = raglan(draft)
    tapered = change("taper-sleeve", to="270mm").apply(plain)
    assert_sound(tapered)
    # The cap gives a millimetre or two, as it is said of the step; where that is much, it is told.
    assert all(f.section in ("", "underarm") and abs(f.measured) < 2 for f in check(tapered))
    for side in SIDES:
        was, now = (length(each.edge("sleeve", f"cap-{side}")) for each in (plain, tapered))
        assert abs(now - was) < 2
    assert length(tapered.edge("sleeve", "hem")) == pytest.approx(270, abs=0.05)
    for line in ("raglan-front", "neck", "raglan-back"):
        assert tapered.edge("sleeve", line) == plain.edge("sleeve", line)
    wider = change("widen-sleeve", by=f"{by}mm").apply(plain)
    was, now = (underarms(each.piece("sleeve")) for each in (plain, wider))
    assert abs(now[0] - now[1]) - abs(was[0] - was[1]) == pytest.approx(by, abs=1e-6)
    assert_sound(wider)
    # The front is on the right of the sleeve, and moves out by half; the raglan lines stay.
    assert (now[0] - was[0]).real == pytest.approx(by / 2, abs=0.01)
    assert wider.edge("sleeve", "raglan-back") == plain.edge("sleeve", "raglan-back")
    assert across_the_sleeve_seam(wider) == pytest.approx(180, abs=4)


def from_line(draft: Draft, piece: str, edge: str, corner: str) -> dict[str, float]:
    """How far below the raglan line the notches of an edge lie, by their names."""
    line = draft.edge(piece, edge)
    along = {n.name: n.at.along(line) for n in draft.piece(piece).notches if n.edge == edge}
    ends = 0.0 if line.starts_at == corner else line.length
    return {name.removesuffix(f"-{edge[4:]}"): abs(at - ends) for name, at in along.items()}


@pytest.mark.parametrize("body", [(1000, 820, 410, 590), (920, 700, 400, 600)])
def test_notches_of_cap_and_armhole_meet_after_both_are_widened(body: tuple[float, ...]) -> None:
    wide = change("widen-sleeve", by="10mm").apply(
        change("add-ease", by="20mm").apply(raglan(block(*body)))
    )
    for side in SIDES:
        cap = from_line(wide, "sleeve", f"cap-{side}", f"{side}-raglan")
        armhole = from_line(wide, side, "armhole", "raglan-armhole")
        assert cap == pytest.approx(armhole, abs=0.01)


def test_a_notch_all_but_on_the_end_of_the_line_stays_when_the_hem_is_tapered() -> None:
    plain = raglan(block(864, 744, 360, 500))
    tapered = change("taper-sleeve", to="270mm").apply(plain)
    assert from_line(tapered, "sleeve", "cap-front", "front-raglan")["front"] == pytest.approx(
        from_line(plain, "front", "armhole", "raglan-armhole")["front"], abs=0.01
    )


def test_it_is_widened_after_the_bodice_until_both_match_again() -> None:
    loose = change("add-ease", by="20mm").apply(raglan(block()))
    assert {found.edge for found in check(loose)} == {"cap-front", "cap-back"}
    assert check(change("widen-sleeve", by="10mm").apply(loose)) == ()


def test_what_acts_on_a_cap_is_refused_on_it() -> None:
    after = raglan(block())
    with refusing(CannotChange, match="leave the gathers out"):
        change("widen-sleeve", by="20mm", gathers="20mm").apply(after)
    with refusing(CannotChange, match="lose at most"):
        change("widen-sleeve", hem="-280mm", by="0mm").apply(after)
    with pytest.raises(NoSuchName):
        change("raise-cap", by="5mm").apply(after)


# --- what is refused ------------------------------------------------------------------------------


def test_without_a_sleeve_or_its_cap_there_is_none() -> None:
    with pytest.raises(NoSuchName):
        change("raglan").apply(ready(block()).only(["front", "back"]))
    with pytest.raises(NoSuchName, match="cap"):
        change("raglan").apply(raglan(block()))


def test_darts_on_what_goes_over_are_turned_off_first() -> None:
    turned = change("rotate-dart", **BUST).apply(block())
    with refusing(CannotChange, match="shoulder opens on the shoulder; turn it .* rotate-dart"):
        change("raglan").apply(turned)
    armhole = {"edge": "back.armhole", "at": "40% from shoulder-point"}
    above = change("rotate-dart", dart="back.shoulder", **armhole).apply(turned)
    with refusing(CannotChange, match="shoulder opens on the armhole; turn it .* rotate-dart"):
        change("raglan").apply(above)
    with refusing(CannotChange, match="bust opens on the armhole; turn it .* rotate-dart"):
        change("raglan").apply(change("release-dart", **SHOULDER).apply(block()))


def test_places_that_are_not_there_are_refused() -> None:
    with pytest.raises(BadPosition):
        raglan(block(), front_at=Position("underarm", distance=400.0))
    with pytest.raises(BadPosition):
        raglan(block(), front_neck=180.0)
    with refusing(CannotChange, match="half the cap|cross the outline|bend to a radius"):
        raglan(block(), front_at=Position("shoulder-point", distance=3.0))
    bare = ready(block())
    front = bare.piece("front")
    unmarked = bare.with_pieces(type(front)(front.name, front.edges, fold=front.fold))
    with refusing(CannotChange, match="has no notch called front; say where"):
        change("raglan").apply(unmarked)


def test_a_line_across_a_dart_is_refused() -> None:
    added = change("add-dart", edge="front.neck", at="40% from neck-centre", by="8mm",
                   deep="90mm", aside="40mm", name="gape")  # fmt: skip
    with refusing(CannotChange, match="the line would cross the outline, or a dart"):
        change("raglan").apply(added.apply(ready(block())))


def test_a_dart_in_what_goes_over_is_refused() -> None:
    draft = ready(block())
    blade = InnerDart("blade", 150 + 20j, 150 + 60j, 148 + 40j, 152 + 40j)
    darted = draft.with_pieces(replace(draft.piece("back"), inner_darts=(blade,)))
    with refusing(CannotChange, match="the dart blade lies in what goes over to the sleeve"):
        change("raglan").apply(darted)


def test_upper_parts_that_cannot_be_laid_so_are_refused_with_what_can_be() -> None:
    with refusing(CannotChange, match=r"cannot come to lie 60 mm above .* they can rise by"):
        raglan(block(), rise=60.0)
    with refusing(
        CannotChange, match="not reach each other over the arm; narrow|too tightly .* narrow"
    ):
        change("raglan").apply(change("widen-sleeve", by="90mm").apply(ready(block())))


def test_what_was_cut_apart_or_is_drafted_to_is_refused() -> None:
    panels = {"piece": "front", "begins": "side", "at": "70% from underarm", "ends": "centre"}
    cut = change("cut-apart", **panels, ends_at="20% from hem-centre", line="low")
    cleared = change("release-dart", dart="front.waist").apply(ready(block()))
    cleared = change("release-dart", dart="front.waist-side").apply(cleared)
    with refusing(CannotChange, match="before the piece is cut apart"):
        change("raglan").apply(cut.apply(cleared))
    faced = change("draft-facing", edge="front.neck", width="50mm").apply(ready(block()))
    with refusing(CannotChange, match="drop-piece"):
        change("raglan").apply(faced)


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("raglan", front_neck="40mm", side="left").in_words(Unit.CENTIMETRE)
    assert told == (
        "cut a raglan sleeve, its lines 4 cm in front and 2.5 cm behind from the neck point "
        "on the left"
    )


STEPS = (("rotate-dart", BUST), ("release-dart", SHOULDER), ("raglan", {}))


@pytest.mark.parametrize(
    ("correction", "verdict"),
    [
        (change("lower-neck", piece="front", by="6mm"), Verdict.CARRIED),
        (change("lower-armhole", by="8mm"), Verdict.CARRIED),
        (change("add-ease", by="20mm"), Verdict.CARRIED),
        (change("widen-sleeve", by="4mm"), Verdict.CARRIED),
        (change("taper-sleeve", to="300mm"), Verdict.CARRIED),
        (change("lengthen", piece="sleeve", by="-15mm"), Verdict.CARRIED),
        # There is no shoulder seam any more whose length could change.
        (change("shorten-shoulder", by="5mm"), Verdict.LOST),
        (change("raise-cap", by="5mm"), Verdict.LOST),
    ],
    ids=lambda each: each.kind if isinstance(each, Change) else each.value,
)
def test_a_correction_of_the_block_comes_to_it_as_if_it_was_made_first(
    correction: Change, verdict: Verdict
) -> None:
    found, came = corrected_beneath(STEPS, correction, (*SIDES, "sleeve"))
    assert found is verdict
    assert not check(came)


@pytest.mark.parametrize(
    "correction",
    [change("taper-sleeve", to="290mm"), change("widen-sleeve", by="8mm")],
    ids=lambda each: each.kind,
)
def test_a_correction_made_on_a_raglan_reaches_what_derives_from_it(correction: Change) -> None:
    steps = [step(f"p{k}", kind, **values) for k, (kind, values) in enumerate(STEPS)]
    lower = change("lower-neck", piece="front", by="5mm")
    bench = Bench(
        state(
            block_node(),
            child("top", *steps),
            child("low-top", step("s1", "lower-neck", piece="front", by="5mm"), of="top"),
        )
    )
    by_hand = correction.apply(bench.evaluator.draft("top"))
    by_hand = lower.apply(by_hand)
    found = bench.correct("top", correction)
    came = bench.evaluator.draft("low-top")
    assert largest_shift(came.piece("sleeve"), by_hand.piece("sleeve")) < 0.01
    # Wider than its armhole the sleeve is a question at the raglan itself.
    assert pattern(found, "low-top").verdict is Verdict.CARRIED


def test_a_bodice_that_was_widened_after_it_asks_for_a_wider_sleeve() -> None:
    steps = [step(f"p{k}", kind, **values) for k, (kind, values) in enumerate(STEPS)]
    bench = Bench(state(block_node(), child("top", *steps)))
    bench.correct("top", change("add-ease", by="20mm"))
    conflicts = bench.open_at("top")
    assert len(conflicts) == 2
    (offered, *_) = conflicts[0].remedies
    assert offered.name == "widen-sleeve"
    assert offered.amount_mm == pytest.approx(10, abs=3)
    bench.decide(conflicts[0], "widen-sleeve")
    assert check(bench.evaluator.draft("top")) == ()
    assert not bench.open_at("top")
