import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, sampled, smallest_radius
from tests.geometry.changes.side_and_hem.test_flare_hem import sack
from tests.geometry.changes.tape_measure import assert_same_lengths, cloth_area, sewn_length
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.changes.edges_and_seams.gather_edge import GatherEdge
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

AMOUNTS = amounts(5, 150)
COUNTS = st.integers(1, 8)
YOKE = {"at": "60% from shoulder-point", "ends_at": "35% from neck-centre", "line": "yoke"}


def gather(draft: Draft, edge: str, by: float, slashes: int = 5, **more: object) -> Draft:
    return GatherEdge(edge=edge, by=by, slashes=float(slashes), **more).apply(draft)


def with_yoke(draft: Draft) -> Draft:
    return change("cut-apart", piece="back", begins="armhole", ends="centre", **YOKE).apply(draft)


def gain(before: Draft, after: Draft, edge: str) -> float:
    piece, _, name = edge.partition(".")
    return sewn_length(after.edge(piece, name)) - sewn_length(before.edge(piece, name))


def cap_distance(piece: Piece, notch: str) -> float:
    (found,) = [each for each in piece.notches if (each.edge, each.name) == ("cap", notch)]
    return found.at.along(piece.edge("cap"))


@given(drafts(), st.sampled_from(["sleeve.cap", "sleeve.hem"]), AMOUNTS, COUNTS)
@settings(max_examples=60, deadline=None)
def test_the_edge_gains_the_amount_and_all_others_keep_their_length(
    draft: Draft, edge: str, by: float, slashes: int
) -> None:
    after = gather(draft, edge, by, slashes)
    assert_sound(after)
    assert gain(draft, after, edge) == pytest.approx(by, abs=0.05)
    assert_same_lengths(draft, after, edge, within=0.2)
    was, now = draft.piece("sleeve"), after.piece("sleeve")
    for each in was.edges:
        corner = each.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=1e-3)
    assert cloth_area(now) > cloth_area(was)
    ways = [piece.corner("back-underarm") - piece.corner("front-underarm") for piece in (was, now)]
    if edge == "sleeve.cap":
        assert np.angle(ways[1] / ways[0]) == pytest.approx(0, abs=1e-9)
    assert smallest_radius(closed_points(now.edge("cap"))) > 15
    assert check(after) == ()


@given(drafts(), AMOUNTS, st.floats(0.3, 1.0), st.floats(1.0, 2.0))
@settings(max_examples=40, deadline=None)
def test_the_seam_asks_for_the_gathers_in_all_and_in_each_half(
    draft: Draft, by: float, least: float, most: float
) -> None:
    after = gather(draft, "sleeve.cap", by, least=least * by, most=most * by)
    was, now = (walk(each, each.seam("armhole-seam")) for each in (draft, after))
    assert now.seam.allowed.low - was.seam.allowed.low == pytest.approx(least * by)
    assert now.seam.allowed.high - was.seam.allowed.high == pytest.approx(most * by)
    assert now.ease - was.ease == pytest.approx(by, abs=0.05)
    assert now.mate == was.mate
    lows = [
        b.section.allowed.low - a.section.allowed.low
        for a, b in zip(was.sections, now.sections, strict=True)
    ]
    gained = [b.ease - a.ease for a, b in zip(was.sections, now.sections, strict=True)]
    assert lows == pytest.approx([least * each for each in gained], abs=0.05)


@given(drafts(), amounts(5, 70), st.integers(15, 30), st.integers(15, 30))
@settings(max_examples=40, deadline=None)
def test_a_stretch_is_gathered_and_the_rest_goes_along_as_it_was(
    draft: Draft, by: float, low: int, high: int
) -> None:
    begins, stops = (
        Position("front-underarm", share=low / 100),
        Position("back-underarm", share=high / 100),
    )
    after = gather(draft, "sleeve.cap", by, begins=begins, stops=stops)
    assert gain(draft, after, "sleeve.cap") == pytest.approx(by, abs=0.05)
    was, now = (sampled(each.edge("sleeve", "cap").parts[0]) for each in (draft, after))
    length = draft.edge("sleeve", "cap").length
    for share, backwards in ((low, False), (high, True)):
        one, other = (points[::-1] if backwards else points for points in (was, now))
        reach = share / 100 * length * 0.98
        # Sampled: beyond the stretch each point lies as far from the corner as it did.
        for along in np.linspace(0.1, 1, 7) * reach:
            places = []
            for points in (one, other):
                run = np.concatenate([[0], np.cumsum(np.abs(np.diff(points)))])
                places.append(abs(np.interp(along, run, points) - points[0]))
            assert places[0] == pytest.approx(places[1], abs=0.02)


def test_notches_go_along_with_the_cloth_they_mark() -> None:
    notches = ("front", "crown", "back-upper")
    before = block()
    after = gather(before, "sleeve.cap", 80, slashes=6)
    was, now = ([cap_distance(d.piece("sleeve"), n) for n in notches] for d in (before, after))
    assert [b - a > 5 for a, b in zip(was, now, strict=True)] == [True] * 3
    assert now == sorted(now)
    held = {
        "begins": Position("front-underarm", distance=90.0),
        "stops": Position("back-underarm", distance=100.0),
    }
    after = gather(before, "sleeve.cap", 80, **held)
    now = [cap_distance(after.piece("sleeve"), n) for n in notches]
    assert now[0] == was[0]
    assert now[2] - was[2] == pytest.approx(80, abs=0.01)


# --- what it is sewn to ---------------------------------------------------------------------------


@given(drafts(), amounts(10, 200))
@settings(max_examples=20, deadline=None)
def test_a_cuff_drafted_before_keeps_its_length_and_one_drafted_after_takes_what_it_is_told(
    draft: Draft, by: float
) -> None:
    cuff = change("draft-band", to="sleeve.hem", name="cuff", height="60mm")
    before = cuff.apply(draft)
    after = gather(before, "sleeve.hem", by)
    assert sewn_length(after.edge("cuff", "sewn-edge")) == pytest.approx(
        sewn_length(before.edge("cuff", "sewn-edge")), abs=0.02
    )
    (to,) = after.drafted
    assert isinstance(to, BandTo)
    assert to.gathers == by
    assert walk(after, after.seam("cuff-seam")).ease == pytest.approx(by, abs=0.02)
    assert check(after) == ()
    spread = gather(draft, "sleeve.hem", by)
    later = change("draft-band", to="sleeve.hem", name="cuff", height="60mm", gathers=f"{by}mm")
    sewn = later.apply(spread)
    assert sewn_length(sewn.edge("cuff", "sewn-edge")) == pytest.approx(
        sewn_length(after.edge("cuff", "sewn-edge")), abs=0.02
    )


def test_a_gathered_hem_that_changes_again_still_has_its_cuff_follow() -> None:
    cuff = change("draft-band", to="sleeve.hem", name="cuff", height="60mm").apply(block())
    after = gather(cuff, "sleeve.hem", 100)
    wider = change("widen-sleeve", by="0mm", hem="20mm").apply(after)
    assert sewn_length(wider.edge("cuff", "sewn-edge")) == pytest.approx(
        gain(after, wider, "sleeve.hem") + sewn_length(after.edge("cuff", "sewn-edge")), abs=0.02
    )
    assert check(wider) == ()


def test_a_yoke_holds_gathers_between_notches() -> None:
    cut = with_yoke(sack(block()))
    stretch = {
        "begins": Position("yoke-centre", distance=20.0),
        "stops": Position("yoke-centre", distance=80.0),
    }
    after = gather(cut, "back-lower.yoke", 50, 4, **stretch)
    assert check(after) == check(cut)
    sewn = walk(after, after.seam("back-yoke"))
    assert [part.section.name for part in sewn.sections] == [
        "before-gathers",
        "gathers",
        "after-gathers",
    ]
    assert sorted(round(part.ease, 2) for part in sewn.sections) == [0, 0, 50]
    for piece in ("back-lower", "back-upper"):
        edge = after.edge(piece, "yoke")
        at = sorted(
            abs(edge.point_at(n.at.along(edge)) - after.piece(piece).corner("yoke-centre"))
            for n in after.piece(piece).notches
            if n.name.startswith("yoke-gathers")
        )
        assert at[0] == pytest.approx(20, abs=0.1)


def test_the_second_side_of_a_seam_may_be_gathered_as_well_as_the_first() -> None:
    before = sack(block())
    after = gather(before, "back.side", 24, 3, to="centre")
    seam = after.seam("side-seam")
    assert (seam.allowed.low, seam.allowed.high) == pytest.approx((-26.4, -21.6))
    assert walk(after, seam).ease == pytest.approx(-24, abs=0.05)
    assert {f.code for f in check(after)} <= {f.code for f in check(before)}


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = gather(block(), "sleeve.cap", 60, side="left")
    caps = [sewn_length(after.edge(f"{side}-sleeve", "cap")) for side in ("left", "right")]
    assert caps[0] - caps[1] == pytest.approx(60, abs=0.05)
    seams = [walk(after, after.seam(f"{side}-armhole-seam")) for side in ("left", "right")]
    assert seams[0].seam.allowed.low - seams[1].seam.allowed.low == pytest.approx(54)
    assert check(after) == ()


# --- what is refused ------------------------------------------------------------------------------


def test_what_is_in_the_way_is_named() -> None:
    with refusing(CannotChange, match="dart bust opens on the armhole; turn or release"):
        gather(block(), "front.armhole", 30)
    with refusing(CannotChange, match=r"on front\.centre: it lies on the fold"):
        gather(block(), "front.centre", 30)
    with refusing(CannotChange, match="the side meets the hem and cannot stay whole"):
        gather(sack(block()), "back.hem", 30, to="side")
    with refusing(CannotChange, match="along the side would end at the centre, which lies on the"):
        gather(sack(block()), "front.side", 30, 2, to="centre")
    with refusing(CannotChange, match="would run through the dart bust; turn, release or shorten"):
        gather(change("lengthen", by="400mm").apply(block()), "front.hem", 30)
    with pytest.raises(NoSuchName):
        gather(block(), "sleeve.elbow", 30)


def test_a_stretch_needs_two_places_apart() -> None:
    place = Position("front-underarm", distance=90.0)
    with refusing(BadParameter, match="where the gathers begin and where they stop"):
        GatherEdge(edge="sleeve.cap", by=30.0, begins=place)
    near = Position("front-underarm", distance=100.0)
    with refusing(
        CannotChange, match="stretch of 10 mm of the cap would be gathered; choose places"
    ):
        gather(block(), "sleeve.cap", 30, begins=place, stops=near)


def test_too_much_is_refused_with_the_largest_that_fits() -> None:
    with refusing(CannotChange, match="its amount can go as far as") as refused:
        gather(block(), "sleeve.cap", 1900, 1)
    largest = refused.value.largest
    assert largest is not None
    assert largest > 60
    assert_sound(gather(block(), "sleeve.cap", largest, 1))


def test_amounts_that_contradict_one_another_are_refused() -> None:
    with refusing(BadParameter, match="least cannot be 60 mm: it is at most 50 mm"):
        GatherEdge(edge="sleeve.cap", by=50.0, least=60.0)
    with refusing(BadParameter, match="most cannot be 40 mm: it is at least 50 mm"):
        GatherEdge(edge="sleeve.cap", by=50.0, most=40.0)
    with refusing(BadParameter, match="whole number"):
        GatherEdge(edge="sleeve.cap", by=50.0, slashes=2.5)


def test_a_collar_or_a_facing_that_would_grow_with_it_is_named() -> None:
    faced = change("draft-facing", edge="back.neck", width="50mm").apply(block())
    with refusing(CannotChange, match="back-neck-facing is drafted to it and would grow"):
        gather(faced, "back.neck", 20, 2, to="hem")


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("gather-edge", edge="front.neck", by="40mm", to="hem", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "gather front.neck by 4 cm towards the hem on the left"
    )
    told = change(
        "gather-edge", edge="sleeve.cap", by="40mm",
        begins="90mm from front-underarm", stops="100mm from back-underarm",
    )  # fmt: skip
    assert told.in_words(Unit.MILLIMETRE) == (
        "gather sleeve.cap by 40 mm between 90 mm from the front underarm and 100 mm from the "
        "back underarm"
    )


GATHERED = step("g1", "gather-edge", edge="sleeve.cap", by="60mm", least="45mm")


def corrected(correction: Change, by_hand: Draft) -> tuple[Bench, Verdict]:
    """Return a bench after a correction of the block, whose puff is as if made by hand after it."""
    bench = Bench(state(block_node(), child("puff", GATHERED)))
    found = bench.correct("village", correction)
    after = change("gather-edge", edge="sleeve.cap", by="60mm", least="45mm").apply(
        correction.apply(by_hand)
    )
    assert (
        largest_shift(bench.evaluator.draft("puff").piece("sleeve"), after.piece("sleeve")) < 0.01
    )
    return bench, pattern(found, "puff").verdict


def test_a_correction_of_the_block_arrives_through_the_gathers() -> None:
    village = Bench(state(block_node())).evaluator.draft("village")
    for correction in (
        change("lengthen", piece="sleeve", by="20mm"),
        change("scoop-armhole", piece="front", by="3mm"),
        change("raise-cap", by="6mm"),
    ):
        bench, verdict = corrected(correction, village)
        assert verdict is Verdict.CARRIED
        assert not bench.open_at("puff")


def test_a_wider_sleeve_is_spread_less_for_the_same_gathers_and_that_is_told() -> None:
    village = Bench(state(block_node())).evaluator.draft("village")
    bench, verdict = corrected(change("widen-sleeve", by="10mm"), village)
    assert verdict is Verdict.PARTLY
    (conflict,) = bench.open_at("puff")
    assert conflict.kind == "both-shaped"


def test_a_correction_that_eats_up_the_gathers_is_a_conflict_and_can_be_cured() -> None:
    bench = Bench(state(block_node(), child("puff", GATHERED)))
    bench.correct("puff", change("raise-cap", by="-20mm"))
    conflict = bench.conflict_at("puff")
    assert (conflict.kind, conflict.edge, conflict.section) == ("seam", "cap", "front")
    assert conflict.remedies[0].kind == "refit-cap"
    bench.decide(conflict, "refit-cap-height")
    assert not bench.open_at("puff")
    assert check(bench.evaluator.draft("puff")) == ()
