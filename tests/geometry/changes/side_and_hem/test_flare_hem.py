import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.corners import amounts, corner_degrees
from tests.fair import closed_points, smallest_radius
from tests.geometry.changes.tape_measure import (
    angles,
    assert_same_lengths,
    cloth_area,
    sewn_length,
)
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.changes.side_and_hem.flare_hem import FlareHem
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

AMOUNTS = amounts(2, 150)
COUNTS = st.integers(1, 6)
SACK = (
    {
        "kind": "rotate-dart",
        "dart": "front.bust",
        "edge": "front.neck",
        "at": "60% from neck-point",
    },
    *(
        {"kind": "release-dart", "dart": f"{piece}.{dart}"}
        for piece in ("front", "back")
        for dart in ("waist", "waist-side")
    ),
    {"kind": "lengthen", "by": "450mm", "flare": "10mm"},
    # The released darts leave the hem waving by almost as much as a line may.
    *({"kind": "smooth-edge", "edge": f"{piece}.hem"} for piece in ("front", "back")),
)


def sack(draft: Draft) -> Draft:
    """Return a draft as a dress without darts at the waist, its bust dart in the neck."""
    for values in SACK:
        draft = change(**values).apply(draft)
    return draft


@st.composite
def flares(draw: st.DrawFn) -> tuple[Draft, Draft, str, float]:
    """Draw a draft, the same with the hem of a piece flared, the piece and the amount."""
    piece = draw(st.sampled_from(["sleeve", "front", "back"]))
    before = draw(drafts())
    before = before if piece == "sleeve" else sack(before)
    by, count = draw(AMOUNTS), draw(COUNTS)
    for slashes in (count, *range(1, 7)):
        try:
            after = FlareHem(by=by, slashes=float(slashes), piece=piece).apply(before)
        except CannotChange:
            continue
        return before, after, piece, by
    raise AssertionError(f"{piece} takes no slashes")


@given(flares())
@settings(max_examples=80, deadline=None)
def test_the_hem_gains_the_amount_and_all_other_edges_keep_their_length(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, piece, by = made
    assert_sound(after)
    grown = sewn_length(after.edge(piece, "hem")) - sewn_length(before.edge(piece, "hem"))
    assert grown == pytest.approx(by, abs=0.05)
    assert_same_lengths(before, after, f"{piece}.hem", within=0.2)
    was, now = before.piece(piece), after.piece(piece)
    assert angles(now) == pytest.approx(angles(was), abs=1e-9)
    for edge in was.edges:
        corner = edge.starts_at
        assert corner_degrees(now, corner) == pytest.approx(corner_degrees(was, corner), abs=1e-3)
    assert cloth_area(now) > cloth_area(was)
    assert all(after.piece(p.name) is p for p in before.pieces if p.name != piece)


@given(flares())
@settings(max_examples=60, deadline=None)
def test_what_held_holds_and_the_held_strip_stays_on_the_table(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, piece, _ = made
    found = {(each.code, each.piece, each.edge) for each in check(before)}
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= found
    was, now = before.piece(piece), after.piece(piece)
    assert now.grainline == was.grainline
    if piece != "sleeve":
        assert now.edge("centre") is was.edge("centre")
    for edge in now.edges:
        old = smallest_radius(closed_points(was.edge(edge.name)))
        assert smallest_radius(closed_points(edge)) > min(old, 15.0) - 0.6


@given(drafts(), COUNTS, AMOUNTS)
@settings(max_examples=30, deadline=None)
def test_a_bell_opens_alike_at_every_slash(draft: Draft, count: int, by: float) -> None:
    after = FlareHem(by=by, slashes=float(count), piece="sleeve").apply(draft).piece("sleeve")
    seams = [after.edge(name) for name in ("back-seam", "front-seam")]
    # Both seams were upright: together they now stand apart by the sum of all turns.
    ways = [edge.end - edge.start for edge in seams]
    apart = abs(np.angle(-ways[0] / ways[1]))
    old = draft.piece("sleeve")
    hem = old.edge("hem")
    feet = [hem.start + (hem.end - hem.start) * k / (count + 1) for k in range(1, count + 1)]
    cap = closed_points(old.edge("cap"))
    opened = 0.0
    for foot in feet:
        order = np.argsort(cap.real)
        height = foot.imag - np.interp(foot.real, cap.real[order], cap.imag[order])
        opened += 2 * np.arcsin(by / count / (2 * height))
    assert apart == pytest.approx(opened, rel=0.05)


# --- a piece by hand ------------------------------------------------------------------------------


def panel(*inner: InnerDart, top: tuple[complex, ...] = (0j, 300 + 0j)) -> Draft:
    """Return a panel 300 mm wide and 400 high, its centre on the right."""
    edges = (
        Edge("centre", "hem-centre", "top-centre", (Chain.line(300 + 400j, top[-1]),)),
        Edge("top", "top-centre", "top-side", (Chain.line(*top[::-1]),)),
        Edge("side", "top-side", "hem-side", (Chain.line(top[0], 400j),)),
        Edge("hem", "hem-side", "hem-centre", (Chain.line(400j, 300 + 400j),)),
    )
    return Draft((Piece("panel", edges, inner),))


def flared(draft: Draft, by: float, slashes: int) -> Piece:
    return FlareHem(by=by, slashes=float(slashes), piece="panel").apply(draft).piece("panel")


def test_one_slash_in_a_square_panel_turns_its_side_by_what_opens() -> None:
    after = flared(panel(), 40.0, 1)
    # Plane geometry: the chord 2 L sin(θ/2) of a slash 400 mm long; the hem bends a little besides.
    turn = 2 * np.arcsin(40 / 800)
    side = after.edge("side")
    assert np.angle((side.end - side.start) / 1j) == pytest.approx(turn, rel=0.01)
    assert abs(side.end - side.start) == pytest.approx(400)
    assert after.edge("centre") == panel().edge("panel", "centre")
    assert sewn_length(after.edge("hem")) == pytest.approx(340, abs=0.02)
    assert sewn_length(after.edge("top")) == pytest.approx(300, abs=0.05)


def test_a_dart_in_a_strip_goes_along_with_it() -> None:
    dart = InnerDart("small", 50 + 100j, 50 + 180j, 45 + 140j, 55 + 140j)
    held = InnerDart("held", 250 + 100j, 250 + 180j, 245 + 140j, 255 + 140j)
    moved, stayed = flared(panel(dart, held), 40.0, 1).inner_darts
    assert stayed == held
    pivot = 150 + 0j
    assert moved.upper != dart.upper
    for name in ("upper", "lower", "left", "right"):
        assert abs(getattr(moved, name) - pivot) == pytest.approx(abs(getattr(dart, name) - pivot))


# --- on one side, and on what is cut apart --------------------------------------------------------


def test_on_one_side_of_the_body_the_other_stays() -> None:
    after = FlareHem(by=60.0, slashes=2.0, piece="sleeve", side="left").apply(block())
    hems = [sewn_length(after.edge(f"{side}-sleeve", "hem")) for side in ("left", "right")]
    assert hems[0] - hems[1] == pytest.approx(60, abs=0.05)


def test_the_lower_part_of_a_piece_that_was_cut_is_flared_alone() -> None:
    yoke = {"at": "60% from shoulder-point", "ends_at": "35% from neck-centre", "line": "yoke"}
    cut = change("cut-apart", piece="back", begins="armhole", ends="centre", **yoke)
    parts = cut.apply(sack(block()))
    after = FlareHem(by=90.0, slashes=2.0, piece="back-lower").apply(parts)
    assert after.piece("back-upper") is parts.piece("back-upper")
    assert_same_lengths(parts, after, "back-lower.hem", within=0.2)
    grown = sewn_length(after.edge("back", "hem")) - sewn_length(parts.edge("back", "hem"))
    assert grown == pytest.approx(90, abs=0.1)
    assert not {each.code for each in check(after)} - {each.code for each in check(parts)}


def test_a_piece_that_was_cut_down_to_its_hem_is_flared_part_by_part() -> None:
    lines = {"at": "30% from neck-point", "ends_at": "50% from hem-side", "line": "gore"}
    parts = change("cut-apart", piece="back", begins="neck", ends="hem", **lines).apply(
        sack(block())
    )
    with refusing(CannotChange, match="opens on the hem"):
        FlareHem(by=40.0, slashes=1.0, piece="back").apply(parts)
    turned = {"edge": "back-side.gore", "at": "20% from gore-neck"}
    parts = change("rotate-dart", dart="back-side.shoulder", **turned).apply(parts)
    after = FlareHem(by=40.0, slashes=1.0, piece="back-side").apply(parts)
    hems = [sewn_length(each.edge("back-side", "hem")) for each in (after, parts)]
    assert hems[0] - hems[1] == pytest.approx(40, abs=0.1)


def test_told_of_the_whole_it_comes_to_both_parts() -> None:
    corner = {
        "at": "12% from front-underarm",
        "ends_at": "20% from front-underarm",
        "line": "gusset",
    }
    cut = change("cut-apart", piece="sleeve", begins="cap", ends="front-seam", **corner)
    parts = cut.apply(block())
    change_ = FlareHem(by=50.0, slashes=2.0, piece="sleeve")
    after, uncut = change_.apply(parts), change_.apply(block())
    for edge in ("hem", "cap", "back-seam"):
        assert sewn_length(after.edge("sleeve", edge)) == pytest.approx(
            sewn_length(uncut.edge("sleeve", edge)), abs=0.1
        )


# --- what is refused ------------------------------------------------------------------------------


def test_darts_in_the_way_are_named() -> None:
    with refusing(CannotChange, match=r"dart waist-side opens on the hem; lengthen"):
        FlareHem(by=40.0, piece="back").apply(block())
    long = change("lengthen", by="400mm").apply(block())
    with refusing(CannotChange, match=r"run through the dart bust; turn, release or shorten"):
        FlareHem(by=40.0, piece="front").apply(long)
    inner = InnerDart("low", 150 + 100j, 150 + 180j, 145 + 140j, 155 + 140j)
    with refusing(CannotChange, match=r"slash 150 mm along the hem would run through the dart low"):
        flared(panel(inner), 40.0, 1)


def test_a_slash_that_meets_the_side_or_a_corner_is_refused() -> None:
    narrow = panel(top=(120 + 0j, 300 + 0j))
    with refusing(CannotChange, match="60 mm along the hem would run out at the side; use fewer"):
        flared(narrow, 40.0, 4)
    cornered = panel(top=(103 + 0j, 300 + 0j))
    with refusing(CannotChange, match=r"would run out at the side|end at a corner of the top"):
        flared(cornered, 40.0, 2)
    near = panel(top=(98 + 0j, 300 + 0j))
    with refusing(CannotChange, match="100 mm along the hem would end at a corner of the top"):
        flared(near, 40.0, 2)


def test_too_much_is_refused_with_the_largest_that_fits() -> None:
    with refusing(CannotChange, match="its amount can go as far as") as refused:
        FlareHem(by=1900.0, slashes=1.0, piece="sleeve").apply(block())
    largest = refused.value.largest
    assert largest is not None
    assert largest > 100
    assert_sound(FlareHem(by=largest, slashes=1.0, piece="sleeve").apply(block()))


def test_half_a_slash_and_a_piece_that_is_not_there_are_refused() -> None:
    with refusing(BadParameter, match="whole number"):
        FlareHem(by=40.0, slashes=2.5)
    with pytest.raises(NoSuchName):
        FlareHem(by=40.0, piece="peplum").apply(block())


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change("flare-hem", by="60mm", slashes=4, piece="sleeve", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "flare the hem of the sleeve by 6 cm over 4 slashes on the left"
    )
    assert change("flare-hem", by="6mm", slashes=1).in_words(Unit.MILLIMETRE) == (
        "flare the hem of front and back by 6 mm over 1 slash"
    )


def test_a_higher_cap_and_a_wider_hem_of_the_block_arrive_through_it() -> None:
    bell = step("f1", "flare-hem", by="80mm", slashes=3, piece="sleeve")
    bench = Bench(state(block_node(), child("bell", bell)))
    was = sewn_length(bench.evaluator.draft("bell").edge("sleeve", "hem"))
    found = bench.correct("village", change("flare-hem", by="12mm", slashes=1, piece="sleeve"))
    assert pattern(found, "bell").verdict is Verdict.CARRIED
    now = sewn_length(bench.evaluator.draft("bell").edge("sleeve", "hem"))
    assert now - was == pytest.approx(12, abs=0.1)
    found = bench.correct("village", change("lengthen", by="15mm", piece="sleeve"))
    assert pattern(found, "bell").verdict is Verdict.CARRIED


@given(drafts(), amounts(20, 150))
@settings(max_examples=8, deadline=None)
def test_the_biceps_level_of_a_bell_goes_along_with_the_underarm(draft: Draft, by: float) -> None:
    bell = change("flare-hem", by=f"{by}mm", slashes=3, piece="sleeve").apply(draft)
    sleeve = bell.piece("sleeve")
    corners = [sleeve.corner(name) for name in ("front-underarm", "back-underarm")]
    assert sleeve.level("biceps").y == pytest.approx(max(c.imag for c in corners), abs=1e-9)
    first = kind_named("flare-hem", 1)(by=by, slashes=3, piece="sleeve").apply(draft)
    assert first.piece("sleeve").level("biceps") == draft.piece("sleeve").level("biceps")
    assert first.piece("sleeve").edges == sleeve.edges
