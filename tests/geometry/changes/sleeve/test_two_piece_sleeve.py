import json

import numpy as np
import pytest
from hypothesis import given, settings
from shapely import Polygon
from shapely.geometry import LineString

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import sampled, smallest_radius, turns
from tests.geometry.changes.sleeve.beneath import corrected_beneath
from tests.lineage.making import Bench, change, child, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.cuts.sewing import relaid
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict

UPPER, UNDER = "upper-sleeve", "under-sleeve"


def points(edge: Edge) -> np.ndarray:
    return np.concatenate([sampled(part) for part in edge.parts])


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def width_at(piece: Piece, y: float) -> float:
    """Return how wide the cloth of a piece is on a level, by shapely."""
    outline = np.concatenate([points(edge) for edge in piece.edges])
    cloth = Polygon([(p.real, p.imag) for p in outline]).buffer(0)
    return float(cloth.intersection(LineString([(-1e4, y), (1e4, y)])).length)


def area(piece: Piece) -> float:
    outline = np.concatenate([points(edge) for edge in piece.edges])
    return float(Polygon([(p.real, p.imag) for p in outline]).buffer(0).area)


def cut(draft: Draft, **values: object) -> Draft:
    return change("two-piece-sleeve", **values).apply(draft)


def fit(draft: Draft) -> Draft:
    return change("taper-sleeve", to="290mm").apply(draft)


# --- what holds always ----------------------------------------------------------------------------


@given(drafts(), amounts(10, 25), amounts(10, 25), amounts(0, 22))
@settings(max_examples=8, deadline=None)
def test_both_pieces_are_as_wide_and_large_as_the_sleeve_was(
    draft: Draft, front: float, back: float, bend: float
) -> None:
    after = cut(draft, front=front, back=back, bend=bend)
    sleeve, upper, under = (
        draft.piece("sleeve"),
        after.piece(UPPER),
        after.piece(UNDER),
    )
    assert_sound(after)
    assert check(after) == ()
    for y in (20.0, sleeve.level("elbow").y, 220.0, 300.0):
        found = width_at(upper, y) + width_at(under, y)
        assert found == pytest.approx(width_at(sleeve, y), abs=1.0)
    assert area(upper) + area(under) == pytest.approx(area(sleeve), rel=1e-3)
    for name in ("cap", "hem"):
        ring = [edge for piece in (upper, under) for edge in piece.edges if name in edge.name[:4]]
        parts = sum(length(edge) for edge in ring if edge.name.split("-")[0] == name)
        assert parts == pytest.approx(length(sleeve.edge(name)), abs=0.02)


@given(drafts(), amounts(10, 25), amounts(5, 22))
@settings(max_examples=8, deadline=None)
def test_both_seams_are_sewn_even_but_for_the_ease_at_the_elbow(
    draft: Draft, aside: float, bend: float
) -> None:
    after = cut(fit(draft), front=aside, back=aside, bend=bend)
    upper, under = after.piece(UPPER), after.piece(UNDER)
    assert length(upper.edge("fore-arm")) == pytest.approx(length(under.edge("fore-arm")), abs=0.05)
    ease = length(upper.edge("hind-arm")) - length(under.edge("hind-arm"))
    assert 0 < ease < 8
    at = {
        (piece.name, notch.name): notch.at.distance
        for piece in (upper, under)
        for notch in piece.notches
        if notch.edge == "hind-arm"
    }
    # As far from the cap above, and from the hem below: all of the ease lies between the two.
    for name in ("above-elbow", "below-elbow"):
        assert at[UPPER, name] == at[UNDER, name]
    seam = after.seam("sleeve-hind-arm")
    assert [each.name for each in seam.sections] == ["above-elbow", "elbow", "below-elbow"]
    assert seam.sections[1].allowed.low == 0
    assert seam.sections[1].allowed.high == pytest.approx(2 * ease, abs=0.05)


@given(drafts(), amounts(5, 22))
@settings(max_examples=8, deadline=None)
def test_the_seams_lie_beside_the_folds_and_bend_back_at_the_elbow(
    draft: Draft, bend: float
) -> None:
    plain, after = cut(draft, bend=0, ease=0), cut(draft, bend=bend)
    sleeve = draft.piece("sleeve")
    crown = min(points(sleeve.edge("cap")), key=lambda p: p.imag).real
    y = sleeve.level("elbow").y

    def at(piece: str, edge: str, of: Draft) -> float:
        line = points(of.edge(piece, edge))
        return float(line[np.abs(line.imag - y).argmin()].real)

    # The block's sleeve hangs straight: its folds lie half way from each seam to the crown.
    fold = (sleeve.corner("front-underarm").real + crown) / 2
    assert at(UPPER, "fore-arm", plain) == pytest.approx(fold + 20, abs=0.6)
    back = (sleeve.corner("back-underarm").real + crown) / 2
    assert at(UPPER, "hind-arm", plain) == pytest.approx(back - 20, abs=0.6)
    backwards = -1  # the upper sleeve lies with its back to the left, the under sleeve to the right
    for piece, sign in ((UPPER, backwards), (UNDER, -backwards)):
        hollow = sign * (at(piece, "fore-arm", after) - at(piece, "fore-arm", plain))
        full = sign * (at(piece, "hind-arm", after) - at(piece, "hind-arm", plain))
        assert hollow == pytest.approx(bend, abs=0.2)
        assert full == pytest.approx(bend * (1.5 if piece == UPPER else 0.5), abs=0.2)
        for edge in ("fore-arm", "hind-arm"):
            line = after.edge(piece, edge).parts[0]
            assert smallest_radius(points(after.edge(piece, edge))) > 100
            assert len(turns(sampled(line))) <= 3


@given(drafts(), amounts(-15, 0))
@settings(max_examples=8, deadline=None)
def test_a_sleeve_that_is_shaped_under_the_arm_is_as_wide_in_two_pieces(
    draft: Draft, elbow: float
) -> None:
    elbow += 300.0
    shaped = change("taper-sleeve", to="270mm", elbow=f"{elbow}mm").apply(draft)
    after = cut(shaped)
    upper, under = after.piece(UPPER), after.piece(UNDER)
    found = sum(width_at(piece, piece.level("elbow").y) for piece in (upper, under))
    # Cap and hem run on fair where the seam was.
    assert corner_degrees(under, "underarm") == pytest.approx(180, abs=0.6)
    for edge in ("hem", "cap-front", "cap-back"):
        assert smallest_radius(points(under.edge(edge))) > 14
    # The stretches of the under sleeve lie turned by as much as the seam slanted.
    assert found == pytest.approx(elbow, abs=0.01 * elbow)
    assert check(after) == ()
    assert_sound(after)


@given(drafts())
@settings(max_examples=6, deadline=None)
def test_the_sleeve_is_told_of_as_it_was(draft: Draft) -> None:
    after = cut(draft)
    now = measures(after)
    for name, value in measures(draft).items():
        if name != "sleeve-seam.ease":
            assert now[name] == pytest.approx(value, abs=1e-6), name
    assert not after.has_seam("sleeve-seam")
    assert relaid(after) == after
    assert read_draft(to_bytes(after)) == after
    form = read_form(json.dumps(draft_form(after)), "x.svg")
    assert (form.pieces, form.cuts) == (after.pieces, after.cuts)


def test_the_cap_is_notched_and_walked_across_both_pieces() -> None:
    after = cut(block())
    caps = [(run.piece, run.edge) for run in after.seam("armhole-seam").side]
    assert caps == [(UNDER, "cap-front"), (UPPER, "cap"), (UNDER, "cap-back")]
    low = change("lower-armhole", by="14mm").apply(after)
    (found,) = check(low)
    assert found.piece == UNDER
    assert check(change("refit-cap", to="36mm").apply(low)) == ()


# --- steps made after it --------------------------------------------------------------------------


@pytest.mark.parametrize(
    "later",
    [
        change("refit-cap", to="30mm"),
        change("widen-sleeve", by="14mm", hem="10mm"),
        change("taper-sleeve", to="270mm", elbow="330mm"),
        change("raise-cap", by="-6mm"),
        change("lengthen", piece="sleeve", by="-25mm"),
        change("full-arm", by="16mm"),
        change("pitch-sleeve", by="6mm"),
        change("hem-allowance", piece="sleeve", by="40mm"),
    ],
    ids=lambda each: each.kind,
)
def test_a_step_told_of_the_sleeve_does_on_both_what_it_does_on_one(later: Change) -> None:
    draft = fit(block())
    one, two = later.apply(draft), later.apply(cut(draft))
    now = measures(two)
    for name, value in measures(one).items():
        if name != "sleeve-seam.ease":
            # Where the sleeve's seam was shaped, the cap is drawn fair across it once more.
            assert now[name] == pytest.approx(value, abs=0.2 if "cap-ease" in name else 0.05), name
    y = draft.piece("sleeve").level("elbow").y
    wide = width_at(two.piece(UPPER), y) + width_at(two.piece(UNDER), y)
    assert wide == pytest.approx(width_at(one.piece("sleeve"), y), abs=1.0)
    assert relaid(two) == two
    for name in ("cap", "hem"):
        parts = sum(
            length(edge)
            for piece in (UPPER, UNDER)
            for edge in two.piece(piece).edges
            if edge.name.split("-")[0] == name
        )
        assert parts == pytest.approx(length(one.edge("sleeve", name)), abs=0.2)
    assert not [found for found in check(two) if found.edge in ("fore-arm", "hind-arm")]


def test_a_vent_is_laid_behind_and_stays_with_later_steps() -> None:
    at = "100mm from hind-arm-hem"
    vented = change("add-vent", edge=f"{UNDER}.hind-arm", at=at, width="30mm", name="vent")
    after = vented.apply(cut(fit(block())))
    assert check(after) == ()
    for piece in (UPPER, UNDER):
        notch = next(n for n in after.piece(piece).notches if n.name == "vent")
        line = after.edge(piece, "hind-arm")
        along = notch.at.along(line)
        from_hem = along if line.starts_at == "hind-arm-hem" else line.length - along
        assert from_hem == pytest.approx(100, abs=0.05)
    later = change("refit-cap", to="32mm").apply(after)
    assert [vent.name for vent in later.piece(UNDER).vents] == ["vent"]
    assert check(later) == ()


def test_allowances_come_along_and_the_lines_have_that_of_the_old_seam() -> None:
    draft = block()
    for kind, by in (("seam-allowance", "15mm"), ("hem-allowance", "40mm")):
        draft = change(kind, piece="sleeve", by=by).apply(draft)
    after = cut(draft)
    for piece in (UPPER, UNDER):
        for edge in ("fore-arm", "hind-arm"):
            assert after.piece(piece).allowance(edge) == 15
        assert after.piece(piece).allowance("hem") == 40
    assert after.piece(UNDER).allowance("cap-back") == 15


def test_a_mark_under_the_arm_comes_to_the_under_sleeve() -> None:
    mark = change("mark-hole", edge="sleeve.back-seam", at="120mm from back-underarm",
                  by="20mm", name="tack")  # fmt: skip
    after = cut(mark.apply(block()))
    assert [each.name for each in after.piece(UNDER).marks] == ["tack"]
    assert after.piece(UPPER).marks == ()


def test_a_cuff_and_a_lining_follow_both_pieces() -> None:
    cuffed = change("draft-cuff", to="sleeve.hem", name="cuff", width="60mm").apply(
        cut(fit(block()))
    )
    runs = [str(run) for run in cuffed.seam("cuff-seam").side]
    assert runs == [f"{UPPER}.hem", f"{UNDER}.hem"]
    narrower = change("taper-sleeve", to="260mm").apply(cuffed)
    assert length(narrower.edge("cuff", "sewn-edge")) == pytest.approx(260, abs=0.1)
    assert check(narrower) == ()
    lined = cut(fit(block()))
    for piece in (UPPER, UNDER):
        lined = change("draft-lining", piece=piece, shorter="15mm").apply(lined)
    eased = change("refit-cap", to="32mm").apply(lined)
    assert check(eased) == ()
    for piece in (UPPER, UNDER):
        assert eased.piece(f"{piece}-lining") != lined.piece(f"{piece}-lining")


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = cut(block(), side="left")
    assert {f"left-{UPPER}", f"left-{UNDER}", "right-sleeve"} <= {*after.piece_names}
    assert check(after) == ()
    wider = change("widen-sleeve", by="3mm").apply(after)
    assert wider.piece("left-sleeve").edge("cap").length == pytest.approx(
        wider.piece("right-sleeve").edge("cap").length, abs=0.02
    )


def test_it_is_cut_on_the_block_of_the_other_system_too() -> None:
    body = {"bust": 780.0, "waist": 660.0, "back-length": 340.0, "sleeve-length": 500.0,
            "neck": 330.0, "shoulder": 110.0, "back-width": 310.0, "chest-width": 300.0,
            "armscye-depth": 190.0}  # fmt: skip
    after = cut(draft_block("direct-measure", body), front=12, back=12)
    assert_sound(after)
    assert check(after) == ()


# --- what is refused ------------------------------------------------------------------------------


def test_without_a_sleeve_there_is_none() -> None:
    with pytest.raises(NoSuchName):
        cut(block().only(["front", "back"]))
    with pytest.raises(BadParameter):
        change("two-piece-sleeve", parts="one")


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"front": 79}, "the fore-arm seam would leave .* at most"),
        ({"back": 79}, "the hind-arm seam would leave .* at most"),
        ({"bend": 10, "ease": 12}, r"cannot be eased by 12 mm .* by at most [0-9.]+ mm"),
        ({"parts": "front other"}, "the name front is taken|already"),
    ],
)
def test_amounts_that_cannot_be_are_refused_with_what_can(
    values: dict[str, object], says: str
) -> None:
    with refusing(CannotChange, match=says):
        cut(block(), **values)


def test_an_elbow_dart_a_pleat_a_cuff_and_a_cut_are_refused() -> None:
    bent = change("add-elbow-dart", by="12mm").apply(fit(block()))
    with refusing(CannotChange, match="elbow opens on the back-seam; .* bent by its seams"):
        cut(bent)
    cuffed = change("draft-cuff", to="sleeve.hem", name="cuff", width="60mm").apply(block())
    with refusing(CannotChange, match="drop-piece"):
        cut(cuffed)
    with refusing(CannotChange, match="was cut|is cut"):
        cut(cut(block()))
    with refusing(CannotChange, match="elbow"):
        short = change("shorten-to", below="120mm").apply(block())
        cut(short)


def test_an_elbow_dart_is_not_put_into_a_seam_that_is_none_any_more() -> None:
    with refusing(CannotChange, match="bent by its seams"):
        change("add-elbow-dart", by="12mm").apply(cut(fit(block())))


def test_it_is_not_joined_again_and_is_cut_further_by_its_pieces() -> None:
    after = cut(fit(block()))
    with refusing(CannotChange, match="along two lines"):
        change("join-parts", piece="sleeve").apply(after)
    again = change("cut-apart", piece=UPPER, begins="hind-arm", at="40% from hind-arm-cap",
                   ends="fore-arm", ends_at="40% from fore-arm-cap", line="elbow")  # fmt: skip
    cut_again = again.apply(after)
    assert check(cut_again) == ()
    assert relaid(cut_again) == cut_again
    assert cut_again.piece("sleeve").edges == after.piece("sleeve").edges
    assert check(change("hem-allowance", piece="sleeve", by="30mm").apply(cut_again)) == ()


def test_it_is_told_in_words() -> None:
    told = change("two-piece-sleeve", front="25mm", side="left").in_words(Unit.CENTIMETRE)
    assert told == (
        "cut a two-piece sleeve, its seams 2.5 cm in front and 2 cm behind from the folds "
        "on the left"
    )


# --- in a wardrobe --------------------------------------------------------------------------------

STEPS = (("taper-sleeve", {"to": "290mm"}), ("two-piece-sleeve", {"bend": "18mm"}))


@pytest.mark.parametrize(
    ("correction", "verdict", "is_true"),
    [
        (change("scoop-armhole", piece="front", at="55% from shoulder-point", by="5mm"),
         Verdict.CARRIED, True),
        (change("lower-armhole", by="4mm"), Verdict.CARRIED, True),
        (change("lower-armhole", by="14mm"), Verdict.CONFLICT, False),
        (change("refit-cap", to="30mm"), Verdict.CARRIED, True),
        (change("widen-sleeve", by="4mm"), Verdict.CARRIED, True),
        (change("taper-sleeve", to="320mm"), Verdict.LOST, True),
        (change("lengthen", piece="sleeve", by="-15mm"), Verdict.CARRIED, True),
        (change("raise-cap", by="3mm"), Verdict.CARRIED, True),
    ],
    ids=lambda each: each.kind if isinstance(each, Change) else str(each),
)  # fmt: skip
def test_a_correction_of_the_block_comes_to_it_as_if_it_was_made_first(
    correction: Change, verdict: Verdict, is_true: bool
) -> None:
    found, came = corrected_beneath(STEPS, correction, ("front", "back", UPPER, UNDER))
    assert found is verdict
    assert (check(came) == ()) is is_true


@pytest.mark.parametrize("kind", ["two-piece-sleeve", "cut-apart"])
def test_a_cap_that_became_too_short_can_be_refitted_across_its_pieces(kind: str) -> None:
    across = {"piece": "sleeve", "begins": "cap", "at": "30% from back-underarm",
              "ends": "hem", "ends_at": "30% from hem-back"}  # fmt: skip
    values = across if kind == "cut-apart" else {}
    steps = (step("p0", "taper-sleeve", to="290mm"), step("p1", kind, **values))
    bench = Bench(state(block_node(), child("coat", *steps)))
    bench.correct("village", change("lower-armhole", by="14mm"))
    (conflict,) = bench.open_at("coat")
    offered = [remedy.name for remedy in conflict.remedies]
    assert offered[:2] == ["refit-cap", "refit-cap-height"]
    bench.decide(conflict, "refit-cap")
    assert check(bench.evaluator.draft("coat")) == ()
    assert not bench.open_at("coat")
