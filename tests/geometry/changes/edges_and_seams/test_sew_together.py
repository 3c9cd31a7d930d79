from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.refusals import refusing
from trueup.geometry.changes import kind_named
from trueup.geometry.drafting import draft_block
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

SKIRT = {"waist": 640.0, "hip": 900.0, "hip-depth": 200.0, "skirt-length": 600.0}
WAIST = {
    "line": "skirt-front.waist skirt-back.waist", "to": "front.hem back.hem", "name": "waist-seam",
}  # fmt: skip


def dress() -> Draft:
    skirt, bodice = draft_block("straight-skirt", SKIRT), block()
    return replace(
        bodice,
        pieces=(*bodice.pieces, *skirt.pieces),
        seams=(*bodice.seams, *skirt.seams),
        joins=(*bodice.joins, *skirt.joins),
    )


def sewn(draft: Draft, **values: object) -> Draft:
    return kind_named("sew-together")(**{**WAIST, **values}).apply(draft)


def length(draft: Draft, *lines: str) -> float:
    edges = [draft.edge(*line.split(".")) for line in lines]
    return sum(float(np.abs(np.diff(sampled(p))).sum()) for e in edges for p in e.parts)


@given(amounts(2, 30))
@settings(max_examples=20, deadline=None)
def test_a_seam_of_two_pieces_to_two_is_walked_from_the_centre(by: float) -> None:
    deeper = kind_named("deepen-dart")(dart="front.waist", by=by).apply(sewn(dress(), high=20.0))
    walked = walk(deeper, deeper.seam("waist-seam"))
    skirt = length(deeper, "skirt-front.waist", "skirt-back.waist")
    bodice = length(deeper, "front.hem", "back.hem")
    assert walked.ease == pytest.approx(skirt - bodice, abs=0.05)
    assert [(run.edge, run.backwards) for run in walked.seam.side] == [
        ("waist", draft_way(deeper, "skirt-front")),
        ("waist", not draft_way(deeper, "skirt-front")),
    ]


def draft_way(draft: Draft, piece: str) -> bool:
    return draft.edge(piece, "waist").starts_at != "waist-centre"


def test_no_line_moves_and_a_correction_of_one_side_is_told() -> None:
    before, ease = dress(), 0.0
    plain = sewn(before)
    assert all(a is b for a, b in zip(plain.pieces, before.pieces, strict=True))
    ease = walk(plain, plain.seam("waist-seam")).ease
    fits = sewn(before, low=ease, high=ease)
    assert check(fits) == check(before)
    deeper = kind_named("deepen-dart")(dart="front.waist", by=8.0).apply(fits)
    (found,) = [each for each in check(deeper) if each.code == "seam"]
    assert found.measured == pytest.approx(ease + 8.0, abs=0.3)


def test_sewn_before_a_piece_is_cut_apart_it_goes_on_across_the_parts() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    whole = sewn(dress())
    cut = kind_named("cut-apart")(**princess).apply(whole)
    seam = cut.seam("waist-seam")
    assert [run.piece for run in seam.mate] == ["front-centre", "front-side", "back"]
    assert walk(cut, seam).ease == pytest.approx(
        walk(whole, whole.seam("waist-seam")).ease, abs=0.02
    )


def test_what_cannot_be_sewn_so_is_refused() -> None:
    with refusing(CannotChange, match="taken"):
        sewn(dress(), name="side-seam")
    with refusing(CannotChange, match="order"):
        sewn(dress(), line="skirt-front.waist skirt-back.hem")
    with pytest.raises(NoSuchName, match="skirt-front"):
        sewn(dress(), line="skirt-front.top")
    with refusing(BadParameter, match="itself"):
        sewn(dress(), to="skirt-front.waist")
    with refusing(BadParameter, match="low"):
        sewn(dress(), low=3.0, high=1.0)


def test_it_says_what_is_sewn_to_what() -> None:
    change = kind_named("sew-together")(**WAIST)
    assert change.in_words(Unit.MILLIMETRE) == (
        "sew skirt-front.waist and skirt-back.waist to front.hem and back.hem (waist-seam)"
    )
