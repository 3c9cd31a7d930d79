import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changes.tape_measure import angle, angles, assert_same_lengths, cloth_area
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.sound import assert_sound, largest_shift
from tests.strategies import drafts
from trueup.geometry.changes.base import kind_named
from trueup.geometry.changes.cut_and_join.cut_apart import CutApart
from trueup.geometry.changes.darts.join_darts import JoinDarts
from trueup.geometry.changes.darts.move_apex import MoveApex
from trueup.geometry.changes.darts.rotate_dart import RotateDart
from trueup.geometry.changes.darts.split_dart import SplitDart
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict

PLACES = {
    "front.bust": ("neck", "shoulder", "armhole", "side", "hem"),
    "back.shoulder": ("neck", "armhole", "centre"),
}
SHARES = st.integers(5, 95).map(lambda hundredths: hundredths / 100)


def split(dart: str, edge: str, at: float, share: float, draft: Draft) -> Draft:
    piece = dart.partition(".")[0]
    corner = draft.edge(piece, edge).starts_at
    place = Position(corner, share=at)
    return SplitDart(dart=dart, edge=f"{piece}.{edge}", at=place, share=share).apply(draft)


@st.composite
def splits(draw: st.DrawFn) -> tuple[Draft, Draft, str, float]:
    """Draw a draft, the same with a dart split on it, the dart, and the share of the second."""
    dart = draw(st.sampled_from(sorted(PLACES)))
    edge, at, share = draw(st.sampled_from(PLACES[dart])), draw(st.floats(0.03, 0.97)), draw(SHARES)
    before = draw(drafts())
    for k in range(20):
        try:
            return before, split(dart, edge, (at + k / 20) % 1, share, before), dart, share
        except CannotChange:
            continue
    raise AssertionError(f"{dart} finds no place on {edge}")


@given(splits())
@settings(max_examples=100)
def test_the_angles_add_up_and_edges_apex_and_cloth_stay(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, dart, share = made
    piece, _, name = dart.partition(".")
    whole = angle(before.mouth(dart))
    assert_sound(after)
    was, now = angles(before.piece(piece)), angles(after.piece(piece))
    assert now.pop(f"{name}-2") == pytest.approx(share * whole, abs=1e-9)
    assert now.pop(name) == pytest.approx((1 - share) * whole, abs=1e-9)
    assert now == pytest.approx({k: v for k, v in was.items() if k != name}, abs=1e-9)
    assert_same_lengths(before, after)
    area = cloth_area(before.piece(piece))
    assert cloth_area(after.piece(piece)) == pytest.approx(area, abs=1.0)
    apex = before.mouth(dart).dart.apex
    assert {after.mouth(each).dart.apex for each in (dart, f"{dart}-2")} == {apex}


@given(splits())
@settings(max_examples=60)
def test_nothing_that_held_before_is_found_after_it(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, _, _ = made
    was = {(each.code, each.piece, each.edge) for each in check(before)}
    assert {(each.code, each.piece, each.edge) for each in check(after)} <= was


@given(splits())
@settings(max_examples=60)
def test_a_split_dart_that_is_joined_gives_the_draft_back(
    made: tuple[Draft, Draft, str, float],
) -> None:
    before, after, dart, _ = made
    name = dart.partition(".")[0]
    lengths = [part.length for part in after.edge(name, "centre").parts]
    # Where the centre is cut in halves, either may stay on the table: there and back can differ.
    assume(len(lengths) < 2 or abs(lengths[0] - lengths[1]) > 1e-6)
    back = JoinDarts(dart=dart, other=f"{dart}-2").apply(after).piece(name)
    assert back.dart_names == before.piece(name).dart_names
    assert largest_shift(back, before.piece(name)) < 1e-6
    assert back.mouth(dart.partition(".")[2]).dart == before.mouth(dart).dart


@given(splits())
@settings(max_examples=40)
def test_the_second_tip_stands_off_the_first(made: tuple[Draft, Draft, str, float]) -> None:
    before, after, dart, _ = made
    assert after.mouth(dart).dart == before.mouth(dart).dart
    second = after.mouth(f"{dart}-2")
    assert abs(second.tip - second.dart.apex) == pytest.approx(15)
    assert abs(second.tip - after.mouth(dart).tip) > 5


def test_half_of_the_bust_dart_at_the_side_is_a_turn_by_half() -> None:
    # Plane geometry: a mouth is the chord 2 L sin(θ/2) of its legs, measured to the apex.
    after = split("front.bust", "side", 0.3, 0.5, block())
    second = after.mouth("front.bust-2")
    leg = abs(second.first - second.dart.apex)
    half = angle(block().mouth("front.bust")) / 2
    assert second.intake == pytest.approx(2 * leg * math.sin(half / 2), abs=1e-9)


def test_what_is_not_between_the_mouths_stays_as_it_is() -> None:
    after = split("front.bust", "shoulder", 0.5, 0.5, block())
    same = {e.name for e in block().piece("front").edges if after.edge("front", e.name) is e}
    assert same == {"neck", "side", "hem", "centre"}
    assert after.piece("back") is block().piece("back")


def test_a_dart_can_be_split_again_and_again() -> None:
    once = split("front.bust", "side", 0.3, 0.5, block())
    place = Position("neck-point", share=0.5)
    twice = SplitDart(
        dart="front.bust", edge="front.shoulder", at=place, share=0.5, name="pleat"
    ).apply(once)
    assert_sound(twice)
    whole = angle(block().mouth("front.bust"))
    shares = [angle(twice.mouth(f"front.{name}")) / whole for name in ("bust", "bust-2", "pleat")]
    assert shares == pytest.approx([0.25, 0.5, 0.25])
    assert len({twice.mouth(f"front.{n}").dart.apex for n in ("bust", "bust-2", "pleat")}) == 1


# --- on one side, and on what is cut apart --------------------------------------------------------


def test_on_one_side_of_the_body_the_other_stays_whole() -> None:
    place = Position("underarm", share=0.3)
    after = SplitDart(dart="front.bust", edge="front.side", at=place, side="left").apply(block())
    assert "left-front.bust-2" in after.dart_names
    assert "right-front.bust-2" not in after.dart_names


def test_on_a_piece_that_is_cut_apart_it_comes_to_its_part() -> None:
    yoke = CutApart(
        piece="back",
        begins="armhole",
        at=Position("shoulder-point", share=0.6),
        ends="centre",
        ends_at=Position("neck-centre", share=0.35),
        line="yoke",
    )
    parts = yoke.apply(block())
    change = SplitDart(
        dart="back.shoulder", edge="back.neck", at=Position("neck-point", share=0.5), share=0.4
    )
    after = change.apply(parts)
    uncut = change.apply(block())
    assert {"back-upper.shoulder", "back-upper.shoulder-2"} <= set(after.dart_names)
    for name in ("shoulder", "shoulder-2"):
        now = angle(after.mouth(f"back-upper.{name}"))
        assert now == pytest.approx(angle(uncut.mouth(f"back.{name}")), abs=1e-6)
        assert now == pytest.approx(angle(after.mouth(f"back.{name}")), abs=1e-6)


# --- what is refused ------------------------------------------------------------------------------


def test_a_name_that_is_taken_is_refused() -> None:
    for name in ("waist", "side"):
        change = SplitDart(
            dart="front.bust",
            edge="front.side",
            at=Position("underarm", share=0.3),
            name=name,
        )
        with refusing(CannotChange, match=f"the name {name} is taken; choose another name"):
            change.apply(block())


def test_a_name_is_written_as_names_are() -> None:
    with refusing(BadParameter, match="small letters, digits and hyphens"):
        SplitDart(
            dart="front.bust", edge="front.side", at=Position("underarm", share=0.3), name="A b"
        )


def test_a_place_too_near_to_the_apex_is_refused() -> None:
    moved = RotateDart(
        dart="front.bust", edge="front.shoulder", at=Position("neck-point", share=0.5)
    ).apply(block())
    backed = MoveApex(dart="front.bust", by=150).apply(moved)
    with refusing(CannotChange, match=r"150 mm short of its pivot.*move-apex"):
        split("front.bust", "armhole", 0.55, 0.5, backed)


def test_no_room_beside_the_first_mouth_is_refused() -> None:
    station = block().edge("front", "armhole").parts[0].length
    change = SplitDart(
        dart="front.bust",
        edge="front.armhole",
        at=Position("shoulder-point", distance=station - 3),
        share=0.05,
    )
    with refusing(CannotChange, match=r"cloth would be left between the dart .*bust"):
        change.apply(block())


def test_places_that_rotate_dart_refuses_are_refused() -> None:
    with refusing(CannotChange, match="fold"):
        split("front.bust", "centre", 0.5, 0.5, block())
    with refusing(CannotChange, match="corner"):
        split("front.bust", "side", 0.0, 0.5, block())
    with pytest.raises(NoSuchName):
        SplitDart(dart="front.bust", edge="back.side", at=Position("underarm", share=0.3)).apply(
            block()
        )


# --- in words, and in a wardrobe ------------------------------------------------------------------


def test_it_is_told_in_words() -> None:
    told = change(
        "split-dart",
        dart="front.bust",
        edge="front.side",
        at="30% from underarm",
        share=0.4,
        name="french",
    ).in_words(Unit.MILLIMETRE)
    assert told == (
        "split the dart front.bust to front.side at 30% of the way from the underarm with share "
        "0.4 and name "
        "french"
    )


SPLIT = {"dart": "front.bust", "edge": "front.side", "at": "30% from underarm", "share": 0.4}


def test_a_deeper_dart_of_the_block_arrives_in_both_mouths() -> None:
    bench = Bench(state(block_node(), child("blouse", step("s1", "split-dart", **SPLIT))))
    was = angles(bench.evaluator.draft("blouse").piece("front"))
    of_block = angles(bench.evaluator.draft("village").piece("front"))["bust"]
    found = bench.correct("village", change("deepen-dart", dart="front.bust", by="8mm"))
    assert pattern(found, "blouse").verdict is Verdict.CARRIED
    deeper = angles(bench.evaluator.draft("village").piece("front"))["bust"] - of_block
    now = angles(bench.evaluator.draft("blouse").piece("front"))
    assert deeper > 0.05
    assert now["bust"] - was["bust"] == pytest.approx(0.6 * deeper, abs=1e-6)
    assert now["bust-2"] - was["bust-2"] == pytest.approx(0.4 * deeper, abs=1e-6)
    assert not bench.open_at("blouse")


def test_a_dart_split_on_the_block_is_split_in_its_patterns() -> None:
    low = step("b1", "lower-neck", piece="front", by="20mm")
    own = step("d1", "deepen-dart", dart="front.bust", by="6mm")
    bench = Bench(state(block_node(), child("blouse", low), child("shift", own)))
    found = bench.correct("village", change("split-dart", **SPLIT))
    assert pattern(found, "blouse").verdict is Verdict.CARRIED
    assert "front.bust-2.intake" in bench.evaluator.summary("shift").measures


def test_it_is_offered_at_its_first_version() -> None:
    assert kind_named("split-dart").version == 1
