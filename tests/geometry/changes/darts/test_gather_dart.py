import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.refusals import refusing
from tests.sound import assert_sound
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit


def gathered(draft: Draft, dart: str = "back.shoulder", **values: object) -> Draft:
    return kind_named("gather-dart")(dart=dart, **values).apply(draft)


def turned(draft: Draft, edge: str, at: Position) -> Draft:
    return kind_named("rotate-dart")(dart="front.bust", edge=edge, at=at).apply(draft)


def at_side(draft: Draft) -> Draft:
    return turned(draft, "front.side", Position("underarm", share=0.4))


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def held(draft: Draft, seam: str) -> dict[str, tuple[float, float, float]]:
    walked = walk(draft, draft.seam(seam))
    return {
        each.section.name: (each.ease, each.section.allowed.low, each.section.allowed.high)
        for each in walked.sections
    }


@given(drafts(), st.sampled_from(["back.shoulder", "front.bust"]))
@settings(max_examples=30, deadline=None)
def test_the_edge_gains_the_intake_and_the_seam_holds_just_that(draft: Draft, dart: str) -> None:
    before = at_side(draft) if dart == "front.bust" else draft
    piece, edge, _ = before.find_dart(dart)
    after = gathered(before, dart)
    assert_sound(after)
    assert dart not in after.dart_names
    gained = length(after.edge(piece.name, edge.name)) - length(edge)
    assert gained == pytest.approx(before.mouth(dart).intake, rel=0.12)
    for other in piece.edges:
        if other.name != edge.name:
            assert after.edge(piece.name, other.name) == other
    seam = "side-seam" if dart == "front.bust" else "shoulder-seam"
    sections = held(after, seam)
    ease, low, high = sections.pop("gathers")
    assert ease == pytest.approx(gained, abs=1e-3)
    assert low == high == pytest.approx(gained, abs=1e-3)
    for ease, low, high in sections.values():
        assert ease == pytest.approx(0.0, abs=1e-6)
        assert low == high == 0.0
    assert not check(after)


@given(st.floats(5, 35), st.floats(5, 60))
@settings(max_examples=30, deadline=None)
def test_the_gathers_lie_between_two_places_that_are_marked_on_both_edges(
    begins: float, ends: float
) -> None:
    after = gathered(
        block(),
        begins=Position("neck-point", distance=begins),
        ends=Position("shoulder-point", distance=ends),
    )
    for piece in ("front", "back"):
        edge = after.edge(piece, "shoulder")
        along = {
            n.name: n.at.along(edge) for n in after.piece(piece).notches if n.edge == edge.name
        }
        assert along["shoulder-from"] == pytest.approx(begins, abs=1e-6)
        assert edge.length - along["shoulder-to"] == pytest.approx(ends, abs=1e-6)
    # Beside the gathers the edge is drawn as it was.
    old, new = block().edge("back", "shoulder"), after.edge("back", "shoulder")
    near = min(begins, old.parts[0].length) - 1e-6
    assert new.point_at(near) == pytest.approx(old.point_at(near), abs=1e-6)
    far_old, far_new = old.length - ends + 1e-6, new.length - ends + 1e-6
    assert new.point_at(far_new) == pytest.approx(old.point_at(far_old), abs=1e-6)


def test_gathers_up_to_the_end_of_an_edge_want_one_mark_only() -> None:
    after = gathered(block(), ends=Position("shoulder-point", distance=0.0))
    assert {n.name for n in after.piece("front").notches} == {"front", "shoulder-from"}
    assert set(held(after, "shoulder-seam")) == {"before-gathers", "gathers"}
    assert not check(after)


def test_what_eats_the_gathers_is_found() -> None:
    after = gathered(block())
    eaten = kind_named("true-shoulder")(piece="back", by=-6.0).apply(after)
    (found,) = [each for each in check(eaten) if each.code == "seam"]
    assert (found.piece, found.edge) == ("back", "shoulder")
    assert found.excess == pytest.approx(6.0, abs=0.05)


def test_a_dart_of_the_armhole_is_held_by_its_half_of_the_cap_seam() -> None:
    after = gathered(block(), "front.bust")
    gained = after.edge("front", "armhole").length - block().edge("front", "armhole").length
    old, new = held(block(), "armhole-seam"), held(after, "armhole-seam")
    assert new["back"] == pytest.approx(old["back"])
    assert new["front"] == pytest.approx([each - gained for each in old["front"]], abs=1e-6)
    assert not [each for each in check(after) if each.code == "seam"]
    (mark, other) = [n for n in after.piece("front").notches if n.name.startswith("bust-")]
    assert (mark.name, other.name) == ("bust-from", "bust-to")


def test_gathers_of_both_edges_of_a_seam_are_held_together() -> None:
    draft = turned(block(), "front.shoulder", Position("neck-point", share=0.5))
    after = gathered(gathered(draft, "front.bust"))
    assert not [each for each in check(after) if each.code == "seam"]
    ease, low, high = held(after, "shoulder-seam")["gathers"]
    assert ease == pytest.approx(low) == pytest.approx(high)


def test_a_dart_of_the_waist_that_is_sewn_to_nothing_is_marked() -> None:
    after = gathered(block(), "front.waist")
    assert after.seams == block().seams
    assert {n.name for n in after.piece("front").notches} >= {"waist-from", "waist-to"}


def test_a_notch_across_the_dart_stays_on_its_paper() -> None:
    marked = kind_named("mark-notch")(
        edge="back.shoulder", at=Position("neck-point", share=0.9), name="far"
    ).apply(block())
    near = kind_named("mark-notch")(
        edge="back.shoulder", at=Position("neck-point", distance=3.0), name="near"
    ).apply(marked)
    after = gathered(near)
    edge = after.edge("back", "shoulder")
    along = {n.name: n.at.along(edge) for n in after.piece("back").notches if n.edge == "shoulder"}
    old = block().edge("back", "shoulder").length
    assert edge.length - along["far"] == pytest.approx(0.1 * old, abs=1e-6)
    assert along["near"] == pytest.approx(3.0)


def test_it_is_refused_with_what_would_be_possible() -> None:
    with refusing(
        CannotChange, match="beside the dart shoulder, which opens .* from the neck point"
    ):
        gathered(block(), begins=Position("neck-point", distance=80.0))
    with refusing(CannotChange, match="lies inside the piece"):
        gathered(kind_named("lengthen")(by=200.0).apply(block()), "front.waist")
    with refusing(CannotChange, match="the name shoulder-from is taken"):
        marked = kind_named("mark-notch")(
            edge="back.shoulder", at=Position("neck-point", share=0.9), name="shoulder-from"
        )
        gathered(marked.apply(block()))
    with pytest.raises(NoSuchName):
        gathered(block(), "back.bust")


def test_it_is_told_as_a_maker_would_say_it() -> None:
    told = kind_named("gather-dart")(
        dart="back.shoulder", begins=Position("neck-point", distance=20.0)
    )
    assert (
        told.in_words(Unit.CENTIMETRE)
        == "gather the dart back.shoulder beginning 2 cm from the neck point"
    )


@pytest.mark.parametrize("kind", ["draft-band", "draft-cuff"])
def test_a_band_it_is_gathered_into_stays_as_long_as_it_was(kind: str) -> None:
    wide = {"height": 25.0} if kind == "draft-band" else {"width": 25.0}
    neck = turned(block(), "front.neck", Position("neck-centre", share=0.45))
    band = kind_named(kind)(to="back.neck front.neck", name="neck-band", **wide).apply(neck)
    after = gathered(band, "front.bust")
    old, new = (each.edge("neck-band", "sewn-edge") for each in (band, after))
    assert length(new) == pytest.approx(length(old), abs=0.01)
    seam = walk(after, after.seam("neck-band-seam"))
    assert seam.matches
    assert seam.ease == pytest.approx(
        length(after.edge("front", "neck")) - length(band.edge("front", "neck")), abs=0.05
    )


def test_what_would_grow_with_the_gathers_has_to_be_left_out_first() -> None:
    neck = turned(block(), "front.neck", Position("neck-centre", share=0.45))
    facing = kind_named("draft-facing")(edge="front.neck", width=50.0).apply(neck)
    with refusing(CannotChange, match="drop-piece"):
        gathered(facing, "front.bust")
