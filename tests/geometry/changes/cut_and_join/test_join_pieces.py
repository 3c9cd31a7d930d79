"""Two pieces joined along a seam: no cloth is lost, and what is told of either arrives."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.geometry.changing import made
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes.base import Change
from trueup.geometry.cuts.joined.joining import all_apart
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position as At

TURN = made(
    "rotate-dart", dart="back.shoulder", edge="back.armhole", at=At("shoulder-point", share=0.45)
)
BACK = made(
    "cut-apart", piece="back", begins="armhole", ends="centre", through="shoulder",
    ends_at=At("neck-centre", share=0.25), line="back-line", parts="back-yoke back-lower",
)  # fmt: skip
FRONT = made(
    "cut-apart", piece="front", begins="neck", at=At("neck-point", share=0.4), ends="armhole",
    ends_at=At("shoulder-point", share=0.25), line="front-line", parts="front-yoke front-lower",
)  # fmt: skip
JOIN = made("join-pieces", edge="back-yoke.shoulder", to="front-yoke.shoulder", name="yoke")
SIDES = made("join-pieces", edge="front.side", to="back.side", name="body")
EARLIER = [
    made("scoop-armhole", piece="back", by=4.0),
    made("scoop-armhole", piece="front", by=4.0),
    made("shorten-shoulder", by=6.0),
    made("lower-neck", piece="front", by=7.0),
    made("lower-neck", piece="back", by=4.0),
    made("lower-armhole", by=6.0),
    made("add-ease", by=20.0),
    made("widen-neck", by=5.0),
    made("slope-shoulder", by=4.0),
    made("shift-shoulder", by=3.0),
    made("widen-sleeve", by=10.0),
    made("shorten-shoulder", by=6.0, side="left"),
    made("lower-neck", piece="front", by=7.0, side="right"),
    made("redraw-edge", edge="back-yoke.neck", through="50%:14mm"),
    made("mark-notch", edge="front-yoke.front-line", at=At("front-line-neck", share=0.3),
         name="n"),
    made("seam-allowance", piece="back-yoke", by=12.0),
]  # fmt: skip
OF_THE_YOKE = [
    made("redraw-edge", edge="yoke.neck", through="50%:24mm"),
    made("redraw-edge", edge="yoke.armhole", through="40%:5mm"),
    made("redraw-edge", edge="yoke.back-line", through="50%:4mm"),
    made("redraw-edge", edge="yoke.front-line", through="50%:-4mm"),
    made("seam-allowance", piece="yoke", by=12.0),
    made("mark-notch", edge="yoke.armhole", at=At("back-line-armhole", share=0.7), name="n"),
    made("mark-hole", edge="yoke.back-line", at=At("back-line-armhole", share=0.5), by=15.0),
    made("label-piece", piece="yoke", count=2.0),
    made("shape-corner", edge="yoke.back-line", how="squared"),
]


def cut(draft: Draft) -> Draft:
    for change in (TURN, BACK, FRONT):
        draft = change.apply(draft)
    return draft


def outline(piece: Piece) -> shapely.Polygon:
    points = np.concatenate([sampled(edge.outline) for edge in piece.edges])
    return shapely.Polygon(np.column_stack([points.real, points.imag]))


def far(one: Draft, other: Draft) -> float:
    assert {*one.piece_names} == {*other.piece_names}
    return max(
        outline(piece).exterior.hausdorff_distance(outline(other.piece(piece.name)).exterior)
        for piece in one.pieces
    )


@given(drafts())
@settings(max_examples=15)
def test_the_cloth_is_that_of_both_laid_at_each_other(draft: Draft) -> None:
    before = cut(draft)
    after = JOIN.apply(before)
    assert {*after.piece_names} == {*before.piece_names} - {"back-yoke", "front-yoke"} | {"yoke"}
    yoke = outline(after.piece("yoke"))
    parts = [outline(before.piece(name)) for name in ("back-yoke", "front-yoke")]
    assert yoke.is_valid
    assert yoke.area == pytest.approx(sum(part.area for part in parts), abs=1.0)
    # The one that stays lies in it as it lay; the seams and what is checked stay as they were.
    assert parts[0].difference(yoke.buffer(0.05)).area < 0.01
    assert check(after) == check(before)
    assert {seam.name for seam in after.seams} == {s.name for s in before.seams} - {"shoulder-seam"}
    read, was = measures(after), measures(before)
    for name in ("neck", "armhole"):
        both = was[f"back-yoke.{name}"] + was.get(f"front-yoke.{name}", 0.0)
        assert read[f"yoke.{name}"] == pytest.approx(both, abs=1e-6)
    for name, value in was.items():
        if name != "shoulder-seam.ease":
            assert read[name] == pytest.approx(value, abs=1e-6), name
    assert fingerprint(all_apart(after)) == fingerprint(before)


@given(drafts(), st.sampled_from(EARLIER))
@settings(max_examples=60)
def test_what_is_told_of_a_part_or_of_what_that_was_cut_from_comes_to_the_one(
    draft: Draft, change: Change
) -> None:
    before = cut(draft)
    try:
        wanted = JOIN.apply(change.apply(before))
    except CannotChange:
        return
    found = change.apply(JOIN.apply(before))
    assert far(found, wanted) < 0.01
    assert fingerprint(found) == fingerprint(wanted)


@given(drafts(), st.sampled_from(OF_THE_YOKE))
@settings(max_examples=40)
def test_what_is_told_of_the_one_stays_when_its_parts_are_changed_later(
    draft: Draft, change: Change
) -> None:
    joined = JOIN.apply(cut(draft))
    try:
        after = change.apply(joined)
    except CannotChange:
        return
    # A change elsewhere on the parts draws the one anew from them: what was made on it is there.
    again = made("lengthen", piece="sleeve", by=10.0).apply(after)
    yoke, now = after.piece("yoke"), again.piece("yoke")
    assert outline(yoke).exterior.hausdorff_distance(outline(now).exterior) < 0.01
    lowered = made("lower-armhole", by=4.0).apply(after)
    told = lowered.piece("yoke")
    assert dict(told.allowances) == dict(yoke.allowances)
    assert {n.name for n in told.notches} == {n.name for n in yoke.notches}
    assert {m.name for m in told.marks} == {m.name for m in yoke.marks}
    assert told.label == yoke.label
    assert {c.corner for c in told.corners} == {c.corner for c in yoke.corners}
    # What lies in the parts is what lies in the one.
    parts = all_apart(after)
    area = sum(outline(parts.piece(name)).area for name in ("back-yoke", "front-yoke"))
    assert outline(yoke).area == pytest.approx(area, abs=1.0)


@given(drafts())
@settings(max_examples=10)
def test_side_seams_that_are_straight_make_one_body(draft: Draft) -> None:
    after = SIDES.apply(draft)
    body = after.piece("body")
    area = outline(draft.piece("front")).area + outline(draft.piece("back")).area
    assert outline(body).area == pytest.approx(area, abs=2.0)
    assert {"armhole", "hem", "front-neck", "back-neck", "front-centre"} <= {*body.edge_names}
    assert check(after) == check(draft)
    for change in (made("lower-neck", piece="front", by=6.0), made("shorten-shoulder", by=5.0)):
        assert far(change.apply(after), SIDES.apply(change.apply(draft))) < 0.01


def test_lines_that_do_not_match_are_refused_with_the_amounts() -> None:
    # A back shoulder that is eased in, a side seam that is taken in at the waist.
    eased = made("release-dart", dart="back.shoulder", eased=True).apply(block())
    with refusing(CannotChange, match=r"is [\d.]+ mm long and that of back [\d.]+ mm, .* differ"):
        made("join-pieces", edge="front.shoulder", to="back.shoulder", name="x").apply(eased)
    tapered = made("taper-side", level="waist", by=18.0).apply(
        made("lengthen", by=150.0).apply(block())
    )
    with refusing(CannotChange, match=r"back lie up to [\d.]+ mm apart, .*; straighten both"):
        SIDES.apply(tapered)


def test_what_cannot_be_one_is_refused() -> None:
    draft = cut(block())
    cases = [
        ("front-lower.side", "sleeve.cap", "front-lower.side is not sewn to sleeve.cap alone"),
        ("front-lower.armhole", "sleeve.cap", "is not sewn to sleeve.cap alone by one seam"),
        ("sleeve.back-seam", "sleeve.front-seam", "is not sewn to .* alone by one seam"),
    ]
    for edge, to, why in cases:
        with refusing(CannotChange, match=why):
            made("join-pieces", edge=edge, to=to, name="x").apply(draft)
    with refusing(CannotChange, match="the dart shoulder opens on it; rotate the dart"):
        made("join-pieces", edge="front.shoulder", to="back.shoulder", name="x").apply(block())
    with refusing(CannotChange, match="the name sleeve is taken"):
        made(
            "join-pieces", edge="back-yoke.shoulder", to="front-yoke.shoulder", name="sleeve"
        ).apply(draft)
    with pytest.raises(NoSuchName):
        made("join-pieces", edge="front.hollow", to="back.side", name="x").apply(draft)
    joined = JOIN.apply(draft)
    with refusing(CannotChange, match="yoke was joined of two pieces; cut those before"):
        made(
            "cut-apart", piece="yoke", begins="back-line", at=At("back-line-centre", share=0.4),
            ends="neck", ends_at=At("neck-centre", share=0.3), line="x",
        ).apply(joined)  # fmt: skip
    with refusing(CannotChange, match="front is part of|front-yoke is part of yoke now"):
        made("drop-piece", piece="front").apply(joined)
    assert "yoke" not in made("drop-piece", piece="yoke").apply(joined).piece_names


def test_a_change_that_leaves_them_unlike_is_refused_then() -> None:
    joined = JOIN.apply(cut(block()))
    with refusing(CannotChange, match=r"lie up to [\d.]+ mm apart|differ by"):
        made("redraw-edge", edge="front-yoke.shoulder", through="50%:8mm").apply(joined)


def test_steps_after_one_another_leave_it_whole() -> None:
    after = JOIN.apply(cut(block()))
    for change in (*EARLIER[:8], *OF_THE_YOKE[4:8], made("rename-piece", piece="yoke", to="top"),
                   made("lower-armhole", by=3.0), made("mark-hole", edge="top.neck",
                   at=At("neck-centre", share=0.4), by=12.0, name="hole-2")):  # fmt: skip
        try:
            after = change.apply(after)
        except GeometryError:
            continue
        assert all(piece.is_simple for piece in after.pieces)
    assert "top" in after.piece_names
    assert measures(after)["top.neck"] == measures(after)["yoke.neck"]
