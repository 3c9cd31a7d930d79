import numpy as np
import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import sampled, smallest_radius, turns
from tests.geometry.changes.sleeve.beneath import corrected_beneath
from tests.lineage.making import change
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

READY = (
    ("release-dart", {"dart": "front.waist-side"}),
    ("release-dart", {"dart": "back.waist-side"}),
    ("release-dart", {"dart": "back.shoulder", "eased": True}),
    ("lengthen", {"by": "180mm"}),
    ("rotate-dart", {"dart": "front.bust", "edge": "front.side", "at": "60% from underarm"}),
    ("taper-sleeve", {"to": "250mm"}),
)
SIDES = ("front", "back")


def ready(draft: Draft) -> Draft:
    for kind, values in READY:
        draft = change(kind, **values).apply(draft)
    return draft


def in_one(draft: Draft, **values: object) -> Draft:
    return change("cut-in-one-sleeve", **values).apply(ready(draft))


def points(edge: Edge) -> np.ndarray:
    return np.concatenate([sampled(part) for part in edge.parts])


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


# --- what holds always ----------------------------------------------------------------------------


@given(drafts(), amounts(0, 15), amounts(45, 80))
@settings(max_examples=10, deadline=None)
def test_both_seams_are_sewn_even_and_the_sleeve_keeps_its_length_and_wrist(
    draft: Draft, slope: float, rounded: float
) -> None:
    before, after = ready(draft), in_one(draft, slope=slope, rounded=rounded)
    assert_sound(after)
    assert check(after) == ()
    assert "sleeve" not in after.piece_names
    old = points(before.edge("sleeve", "cap"))
    hem = points(before.edge("sleeve", "hem"))
    rise = max(p.imag for p in old) - min(p.imag for p in old)
    seam = before.piece("sleeve")
    down = abs(seam.corner("hem-front") - seam.corner("front-underarm"))
    for name in ("overarm", "underarm", "side"):
        one, other = (length(after.edge(side, name)) for side in SIDES)
        assert one == pytest.approx(other, abs=0.1)
    assert length(after.edge("front", "overarm")) == pytest.approx(rise + down, abs=0.6)
    wrists = sum(
        abs(after.piece(side).corner("wrist-over") - after.piece(side).corner("wrist-under"))
        for side in SIDES
    )
    assert wrists == pytest.approx(float(np.abs(np.diff(hem)).sum()), abs=0.1)


@given(drafts(), amounts(0, 15))
@settings(max_examples=10, deadline=None)
def test_the_lines_run_on_fair_and_all_else_stays(draft: Draft, slope: float) -> None:
    before, after = ready(draft), in_one(draft, slope=slope)
    for side in SIDES:
        piece = after.piece(side)
        for edge in ("neck", "shoulder", "hem", "centre"):
            assert after.edge(side, edge) == before.edge(side, edge)
        assert corner_degrees(piece, "shoulder-point") == pytest.approx(180, abs=0.05)
        assert corner_degrees(piece, "underarm") == pytest.approx(180, abs=0.05)
        for corner in ("wrist-over", "wrist-under"):
            assert corner_degrees(piece, corner) == pytest.approx(90, abs=0.05)
        assert smallest_radius(points(after.edge(side, "underarm"))) > 14.5
        # The wrist is square to both, and waves by a degree or two for it.
        for line, most in (("overarm", 1), ("underarm", 1), ("wrist", 2)):
            assert len(turns(sampled(after.edge(side, line).parts[0]))) <= most
        # The side is cut at the new underarm, 30 mm lower and rounded over 60 mm more.
        cut = length(before.edge(side, "side")) - length(after.edge(side, "side"))
        assert cut == pytest.approx(90, abs=0.1)


@given(drafts(), amounts(0, 15))
@settings(max_examples=6, deadline=None)
def test_the_overarm_slopes_in_front_as_it_is_told(draft: Draft, slope: float) -> None:
    after = in_one(draft, slope=slope)
    shoulder, over = (points(after.edge("front", name)) for name in ("shoulder", "overarm"))
    way, down = shoulder[-1] - shoulder[-2], over[-1] - over[-2]
    turned = abs(np.degrees(np.angle(down / way)))
    assert turned == pytest.approx(slope, abs=0.2)


def test_both_seams_are_notched_at_the_elbow_as_far_from_the_wrist() -> None:
    before, after = ready(block()), in_one(block())
    sleeve = before.piece("sleeve")
    up = sleeve.corner("hem-front").imag - sleeve.level("elbow").y
    found = {
        (side, notch.edge): notch.at.distance
        for side in SIDES
        for notch in after.piece(side).notches
        if notch.name == "elbow"
    }
    assert {*found} == {(side, edge) for side in SIDES for edge in ("overarm", "underarm")}
    assert {round(each or 0.0, 6) for each in found.values()} == {round(up, 6)}


def test_it_is_cut_on_the_block_of_the_other_system_too() -> None:
    body = {"bust": 780.0, "waist": 660.0, "back-length": 340.0, "sleeve-length": 500.0,
            "neck": 330.0, "shoulder": 110.0, "back-width": 310.0, "chest-width": 300.0,
            "armscye-depth": 190.0}  # fmt: skip
    draft = draft_block("direct-measure", body)
    for dart in ("front.bust", "back.shoulder"):
        if dart in draft.dart_names:
            draft = change("release-dart", dart=dart).apply(draft)
    draft = change("taper-sleeve", to="230mm").apply(draft)
    after = change("cut-in-one-sleeve", slope=10, low="20mm").apply(draft)
    assert_sound(after)
    assert not [found for found in check(after) if found.edge in ("overarm", "underarm", "wrist")]


# --- the gusset -----------------------------------------------------------------------------------


@given(drafts(), amounts(12, 24), amounts(60, 110), amounts(40, 100))
@settings(max_examples=10, deadline=None)
def test_the_sides_of_the_gusset_are_as_long_as_the_legs_of_both_slashes(
    draft: Draft, slope: float, by: float, wide: float
) -> None:
    plain = in_one(draft, slope=slope, rounded="0mm")
    after = change("insert-gusset", by=f"{by}mm", wide=f"{wide}mm").apply(plain)
    assert_sound(after)
    assert check(after) == ()
    diamond = after.piece("gusset")
    for side in SIDES:
        for leg in ("upper", "lower"):
            told = length(after.edge(side, f"gusset-{leg}"))
            assert told == pytest.approx(by, abs=1e-6)
            assert length(diamond.edge(f"{side}-{leg}")) == pytest.approx(by, abs=1e-6)
        # The slash halves what is cloth beside the corner: both legs leave underarm and side alike.
        piece, was = after.piece(side), plain.piece(side)
        corner, tip = was.corner("underarm"), piece.corner("gusset-point")
        ways = [piece.corner(name) - corner for name in ("gusset-arm", "underarm")]
        angles = [abs(np.angle((tip - corner) / way)) for way in ways]
        assert angles[0] == pytest.approx(angles[1], abs=0.02)
        assert min(angles) > np.pi / 2
        assert abs(ways[0] - ways[1]) > 2 * 5 - 0.2
    assert abs(diamond.corner("arm") - diamond.corner("side")) == pytest.approx(wide, abs=1e-9)
    names = [seam.name for seam in after.seams if "gusset" in seam.pieces]
    assert len(names) == 4


def test_the_bust_is_measured_under_the_arm_with_a_gusset_and_without() -> None:
    loose = change("release-dart", dart="back.waist").apply(block())
    plain = in_one(loose, slope=20, rounded="0mm")
    for draft in (plain, change("insert-gusset").apply(plain)):
        # In front the tape crosses the dart at the side.
        back = draft.piece("back")
        under = back.corner("underarm")
        centre = min(points(back.edge("centre")), key=lambda p: abs(p.imag - under.imag))
        told = measures(draft)["back.bust-width"]
        assert told == pytest.approx(abs(centre.real - under.real), abs=0.7)


def test_what_a_gusset_cannot_be_is_refused_with_what_it_can() -> None:
    sharp = in_one(block(), slope=20, rounded="0mm")
    with refusing(CannotChange, match="cannot be 200 mm wide; it is narrower than 180 mm"):
        change("insert-gusset", wide="200mm").apply(sharp)
    with refusing(CannotChange, match="too near to one; .* most|as far as|can be"):
        high = in_one(block(780.0, 640.0, 370.0, 520.0), slope=20, rounded="0mm", low="0mm")
        change("insert-gusset", by="250mm", wide="100mm").apply(high)
    with refusing(CannotChange, match="no corner to slash; round nothing"):
        change("insert-gusset").apply(in_one(block()))
    with refusing(CannotChange, match="gusset is taken|already"):
        change("insert-gusset").apply(change("insert-gusset").apply(sharp))
    with pytest.raises(NoSuchName):
        change("insert-gusset").apply(block())
    with pytest.raises(BadParameter):
        change("insert-gusset", name="A gusset")


# --- what is refused ------------------------------------------------------------------------------


def test_darts_in_the_way_and_what_is_drafted_to_it_are_refused() -> None:
    with refusing(CannotChange, match="bust opens on the armhole; turn it .* rotate-dart"):
        change("cut-in-one-sleeve").apply(
            change("release-dart", dart="back.shoulder").apply(block())
        )
    cuffed = change("draft-cuff", to="sleeve.hem", name="cuff", width="60mm").apply(ready(block()))
    with refusing(CannotChange, match="drop-piece"):
        change("cut-in-one-sleeve").apply(cuffed)
    parted = change("cut-apart", piece="sleeve", begins="cap", at="30% from back-underarm",
                    ends="hem", ends_at="30% from hem-back").apply(ready(block()))  # fmt: skip
    with refusing(CannotChange, match="before the piece is cut apart"):
        change("cut-in-one-sleeve").apply(parted)
    with pytest.raises(NoSuchName):
        change("cut-in-one-sleeve").apply(in_one(block()))


def test_a_sleeve_that_would_lie_over_the_side_is_refused_with_the_slope_that_can_be() -> None:
    with refusing(CannotChange, match=r"over the side; it can slope by at most [0-9.]+ degrees"):
        in_one(block(), slope=58)
    with refusing(CannotChange, match="reach the dart bust|reaches|another"):
        in_one(block(), low="190mm")


def test_it_is_told_in_words() -> None:
    told = change("cut-in-one-sleeve", slope=20, side="left").in_words(Unit.CENTIMETRE)
    assert told == (
        "cut the sleeve in one with front and back, sloped by 20 degrees, its underarm 3 cm lower "
        "on the left"
    )
    told = change("insert-gusset").in_words(Unit.CENTIMETRE)
    assert told == "insert a gusset, its sides 9 cm long, 9 cm wide (gusset)"


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = in_one(block(), side="left")
    assert "right-sleeve" in after.piece_names
    assert "left-sleeve" not in after.piece_names
    assert "overarm" in after.piece("left-front").edge_names


# --- in a wardrobe --------------------------------------------------------------------------------

STEPS = (
    *READY,
    ("cut-in-one-sleeve", {"slope": 22, "rounded": "0mm"}),
    ("insert-gusset", {"by": "85mm"}),
)


@pytest.mark.parametrize(
    ("correction", "verdict"),
    [
        (change("lower-neck", piece="front", by="6mm"), Verdict.CARRIED),
        (change("slope-shoulder", by="5mm"), Verdict.CARRIED),
        (change("shorten-shoulder", by="5mm"), Verdict.CARRIED),
        (change("lower-armhole", by="8mm"), Verdict.CARRIED),
        (change("add-ease", by="20mm"), Verdict.CARRIED),
        (change("lengthen", by="20mm"), Verdict.CARRIED),
        (change("scoop-armhole", piece="front", at="55% from shoulder-point", by="5mm"),
         Verdict.LOST),
        (change("raise-cap", by="5mm"), Verdict.LOST),
        (change("lengthen", piece="sleeve", by="-15mm"), Verdict.LOST),
    ],
    ids=lambda each: each.kind if isinstance(each, Change) else each.value,
)  # fmt: skip
def test_a_correction_of_the_block_comes_to_it_as_if_it_was_made_first(
    correction: Change, verdict: Verdict
) -> None:
    found, came = corrected_beneath(STEPS, correction, (*SIDES, "gusset"))
    assert found is verdict
    assert not check(came)
