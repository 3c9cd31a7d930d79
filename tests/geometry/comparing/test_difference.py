"""Where two drafts differ, edge by edge."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.strategies import drafts
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.comparing.difference import difference
from trueup.geometry.comparing.distance import farthest
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit


def changed(draft: Draft, kind: str, **values: str) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def test_a_draft_does_not_differ_from_itself_or_from_the_same_drawn_again() -> None:
    assert difference(block(), block()).is_none
    again = replace(block(), pieces=tuple(replace(p) for p in block().pieces))
    assert difference(block(), again).is_none


@settings(max_examples=30)
@given(drafts(), st.integers(2, 25))
def test_a_scooped_armhole_moves_by_the_scoop_and_nothing_else_does(draft: Draft, by: int) -> None:
    found = difference(draft, changed(draft, "scoop-armhole", piece="back", by=f"{by / 5}mm"))
    (edge,) = found.edges
    assert edge.edge == "back.armhole"
    assert edge.moved == pytest.approx(by / 5, abs=0.15)
    assert edge.before == draft.edge("back", "armhole").length
    assert not found.darts


def test_lengths_before_and_after_are_the_sewn_lengths() -> None:
    after = changed(block(), "shorten-shoulder", by="7mm")
    found = {each.edge: each for each in difference(block(), after).edges}
    assert {"front.shoulder", "back.shoulder", "front.armhole", "back.armhole"} == set(found)
    shoulder = found["front.shoulder"]
    assert (shoulder.before or 0) - (shoulder.after or 0) == pytest.approx(7, abs=1e-6)
    assert shoulder.moved == pytest.approx(7, abs=1e-6)


def test_a_deeper_dart_is_told_with_its_intake() -> None:
    found = difference(block(), changed(block(), "deepen-dart", dart="front.waist", by="6mm"))
    # The hem is trued over its whole run, so the mouth of its other dart moves a little as well.
    (dart,) = [each for each in found.darts if each.dart == "front.waist"]
    assert all(each.moved < 1.5 for each in found.darts if each is not dart)
    assert (dart.after or 0) - (dart.before or 0) == pytest.approx(6, abs=1e-6)
    assert dart.moved == pytest.approx(6, abs=0.2)


def test_a_dart_that_is_gone_has_no_length_after() -> None:
    after = changed(block(), "release-dart", dart="back.shoulder")
    found = difference(block(), after)
    assert [(each.dart, each.after) for each in found.darts] == [("back.shoulder", None)]


def test_a_piece_that_is_gone_takes_its_edges_along() -> None:
    found = difference(block(), block().only(("front", "back")))
    assert {each.edge for each in found.edges} == {
        f"sleeve.{edge}" for edge in block().piece("sleeve").edge_names
    }
    assert all(each.moved is None and each.after is None for each in found.edges)


def test_what_has_no_length_is_told_in_words() -> None:
    seam = replace(block().seam("armhole-seam"), allowed=Band(25.0, 60.0))
    assert difference(block(), block().with_seam(seam)).others == (
        "the seams or the ease they allow",
    )
    front = replace(block().piece("front"), fold=None)
    assert difference(block(), block().with_pieces(front)).others == ("the fold of front",)


def test_lines_apart_by_a_known_distance() -> None:
    edge = block().edge("front", "centre")
    aside = replace(edge, parts=tuple(p.moved(Motion(1 + 0j, 3 + 0j)) for p in edge.parts))
    assert farthest(edge, aside).distance == pytest.approx(3, abs=1e-9)
    shorter = replace(edge, parts=(edge.parts[0].between(0, edge.length - 20),))
    assert farthest(edge, shorter).distance == pytest.approx(20, abs=1e-9)


@settings(max_examples=30)
@given(drafts(), st.integers(1, 40))
def test_there_is_a_difference_exactly_where_fingerprints_differ(draft: Draft, by: int) -> None:
    after = changed(draft, "lower-neck", piece="front", by=f"{by}mm")
    assert fingerprint(after) != fingerprint(draft)
    assert not difference(draft, after).is_none
    assert difference(after, after).is_none


@pytest.mark.parametrize(("by", "noise"), [("0.002mm", True), ("0.02mm", False)])
def test_what_no_scissors_could_follow_is_noise(by: str, noise: bool) -> None:
    found = difference(block(), changed(block(), "scoop-armhole", piece="front", by=by))
    assert not found.is_none
    assert found.is_noise is noise
