"""A pleated piece is cut apart: every pleat goes with the part in which it lies, with its cloth."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.geometry.changes.skirts import skirt, skirts
from tests.geometry.changing import made
from tests.refusals import refusing
from trueup.geometry.changes.base import Change
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position as At
from trueup.geometry.pleats.laid_open import as_cut, laid_open


def cut_at(share: float) -> Change:
    return made(
        "cut-apart", piece="skirt-front", begins="waist", at=At("waist-centre", share=share),
        ends="hem", ends_at=At("hem-centre", share=share), line="panel",
        parts="centre-panel side-panel",
    )  # fmt: skip


def pleated(draft: Draft, at: float, style: str = "knife", depth: float = 12.0) -> Draft:
    place = At("waist-centre", distance=at)
    lay = made("lay-pleats", edge="skirt-front.waist", at=place, depth=depth, style=style)
    return lay.apply(draft)


def area(piece: object) -> float:
    return shapely.Polygon([(p.real, p.imag) for p in piece.outline_points]).area  # type: ignore[attr-defined]


@given(skirts(), st.sampled_from(["knife", "box", "inverted"]), st.floats(8.0, 14.0))
@settings(max_examples=20)
def test_the_cloth_laid_open_is_that_of_the_piece(draft: Draft, style: str, depth: float) -> None:
    before = pleated(draft, 35.0, style, depth)
    try:
        after = cut_at(0.8).apply(before)
    except CannotChange as refusal:
        assert "no-room" in str(refusal)  # noqa: PT017
        return
    whole = laid_open(before.piece("skirt-front"))
    parts = [piece for piece in as_cut(after).pieces if piece.name.endswith("-panel")]
    assert sum(area(part) for part in parts) > area(before.piece("skirt-front"))
    assert abs(sum(map(area, parts)) - area(whole)) < 1.0
    assert [p.name for p in after.piece("centre-panel").pleats] == ["pleat"]
    assert after.piece("side-panel").pleats == ()
    assert {f.code for f in check(after)} <= {f.code for f in check(before)}
    read, was = measures(after), measures(before)
    for name in ("skirt-front.waist", "skirt-front.hem", "skirt-front.pleat.intake"):
        assert abs(read[name] - was[name]) < 1e-6, name
    # What is told of the whole, or of the part, still finds both.
    longer = made("lengthen", by=30.0, piece="skirt-front").apply(after)
    assert longer.piece("centre-panel").pleats == after.piece("centre-panel").pleats
    again = made("join-parts", piece="skirt-front").apply(after)
    assert again.piece("skirt-front").pleats == before.piece("skirt-front").pleats
    assert abs(area(laid_open(again.piece("skirt-front"))) - area(whole)) < 1.0


def test_a_pleat_beyond_the_line_is_told_from_its_part() -> None:
    before = pleated(skirt(), 70.0, "box", 10.0)
    after = cut_at(0.15).apply(before)
    assert after.piece("centre-panel").pleats == ()
    (pleat,) = after.piece("side-panel").pleats
    edge = after.edge("side-panel", "waist")
    lies = edge.place_at(pleat.at.along(edge))[0]
    (was,) = before.piece("skirt-front").pleats
    waist = before.edge("skirt-front", "waist")
    assert abs(lies - waist.place_at(was.at.along(waist))[0]) < 0.01


def test_a_line_through_a_pleat_is_refused() -> None:
    before = pleated(skirt(), 70.0)
    with refusing(CannotChange, match="the line would run through the pleat pleat; choose another"):
        made(
            "cut-apart", piece="skirt-front", begins="side", at=At("waist-side", share=0.2),
            ends="centre", ends_at=At("waist-centre", share=0.3), line="yoke",
        ).apply(before)  # fmt: skip
