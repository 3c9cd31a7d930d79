"""A seam left open for a zip: its allowance on both edges, and the stop notched on both."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.units import Unit
from trueup.lineage.replay.verdicts import Verdict


def stops(draft: Draft, name: str = "zip-stop") -> dict[str, Notch]:
    return {p.name: n for p in draft.pieces for n in p.notches if n.name == name}


def from_end(draft: Draft, piece: str, edge: str, *, top: bool = True) -> float:
    """Return how far the stop lies from the upper end of an edge, or the lower, by a tape."""
    line = np.concatenate([sampled(part) for part in draft.edge(piece, edge).parts])
    if (line[0].imag > line[-1].imag) == top:
        line = line[::-1]
    notch = stops(draft)[piece]
    at = draft.edge(piece, edge).point_at(notch.at.along(draft.edge(piece, edge)))
    return LineString([(p.real, p.imag) for p in line]).project(Point(at.real, at.imag))


@given(drafts(), amounts(40, 140), st.sampled_from(["front.side", "back.side"]), st.booleans())
@settings(max_examples=30)
def test_both_edges_of_the_seam_get_the_allowance_and_the_stop(
    draft: Draft, opening: float, edge: str, top: bool
) -> None:
    begins = {} if top else {"begins": "hem-side"}
    after = change("add-zip", edge=edge, opening=f"{opening}mm", **begins).apply(draft)
    for piece in ("front", "back"):
        assert after.piece(piece).allowance("side") == pytest.approx(19.05)
        assert from_end(after, piece, "side", top=top) == pytest.approx(opening, abs=0.01)
        assert after.piece(piece).edges is draft.piece(piece).edges
        beyond = cutting_line(after.piece(piece)).area - cutting_line(draft.piece(piece)).area
        assert beyond == pytest.approx(19.05 * draft.edge(piece, "side").length, rel=0.1)
    assert {f.key for f in check(after)} == {f.key for f in check(draft)}
    assert measures(draft).items() <= measures(after).items()


def test_a_centre_seam_is_one_edge_and_has_one_stop() -> None:
    after = change("add-zip", edge="back.centre", opening="180mm", allowance="2cm").apply(block())
    assert [*stops(after)] == ["back"]
    assert after.piece("back").allowance("centre") == 20
    assert from_end(after, "back", "centre") == pytest.approx(180, abs=0.01)


def test_what_cannot_be_left_open_is_refused_in_a_sentence() -> None:
    draft = block()
    with refusing(CannotChange, match="it lies on the fold of the cloth; open the piece first"):
        change("add-zip", edge="front.centre", opening="150mm").apply(draft)
    with refusing(CannotChange, match=r"front.side.*only .* mm long; use at most"):
        change("add-zip", edge="front.side", opening="400mm").apply(draft)
    with refusing(CannotChange, match="zip-stop"):
        once = change("add-zip", edge="front.side", opening="100mm")
        once.apply(once.apply(draft))
    with refusing(CannotChange, match="the seam armhole-seam joins several edges"):
        change("add-zip", edge="front.armhole", opening="100mm").apply(draft)
    with pytest.raises(NoSuchName):
        change("add-zip", edge="front.side", opening="100mm", begins="neck-point").apply(draft)


def test_it_is_told_in_words() -> None:
    told = change("add-zip", edge="front.side", opening="18cm", side="left")
    assert told.in_words(Unit.CENTIMETRE) == (
        "leave front.side open for a zip of 18 cm (zip-stop) on the left"
    )


def test_on_the_left_alone_the_right_seam_stays_as_it_is() -> None:
    after = change("add-zip", edge="front.side", opening="100mm", side="left").apply(block())
    assert {*stops(after)} == {"left-front", "left-back"}
    assert after.piece("right-front").allowances == ()


def test_a_corrected_block_comes_to_the_same_as_adding_it_afterwards() -> None:
    bench = Bench(state(block_node(), child("dress", step("z1", "add-zip", edge="front.side",
                                                           opening="110mm"))))  # fmt: skip
    lower = change("lower-armhole", by="9mm")
    found = bench.correct("village", lower)
    assert pattern(found, "dress").verdict is Verdict.CARRIED
    by_hand = lower.apply(Bench(state(block_node())).evaluator.draft("village"))
    by_hand = change("add-zip", edge="front.side", opening="110mm").apply(by_hand)
    here = bench.evaluator.draft("dress")
    for piece in ("front", "back"):
        places = [
            d.edge(piece, "side").point_at(stops(d)[piece].at.along(d.edge(piece, "side")))
            for d in (here, by_hand)
        ]
        assert abs(places[0] - places[1]) < 0.01


def test_a_zip_added_to_a_pattern_arrives_below_it() -> None:
    bench = Bench(state(block_node(), child("dress"), child("long", of="dress")))
    found = bench.correct("dress", change("add-zip", edge="back.centre", opening="200mm"))
    assert pattern(found, "long").verdict is Verdict.CARRIED
    assert bench.measure("long", "back.centre.allowance") == pytest.approx(19.05)
