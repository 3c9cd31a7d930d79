"""Marks stay at their places, and each part of a cut piece has those that lie on it."""

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geometry import Point as Spot

from tests.builders import block
from tests.corners import amounts
from tests.fair import sampled
from tests.lineage.families import corrections
from tests.lineage.making import change
from tests.strategies import drafts
from trueup.geometry.changes import Change
from trueup.geometry.comparing.difference import difference
from trueup.geometry.cuts.sewing import relaid
from trueup.geometry.errors import GeometryError
from trueup.geometry.marking.places import runs_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.marks.mark import (
    AtLevel,
    AtMouth,
    AtTip,
    BesideEdge,
    InnerMark,
    OnEdge,
    Purpose,
)
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side
from trueup.geometry.sides.parting import of_both, worn_on
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.plain import read_draft, to_bytes

IN_DART = InnerMark("in-dart", Purpose.HOLE, AtTip("bust"), ((10 + 0j,),))
BESIDE_SIDE = InnerMark(
    "beside-side", Purpose.HOLE, OnEdge("side", Position("hem-side", distance=60.0)), ((20j,),)
)
AT_BUST = InnerMark("at-bust", Purpose.HOLE, AtLevel("centre", "bust"), ((15 + 40j,),))
SQUARE = InnerMark(
    "square",
    Purpose.PLACEMENT,
    AtLevel("centre", "bust"),
    ((-60 + 20j, -110 + 20j, -110 + 70j, -60 + 70j, -60 + 20j),),
)
OPENING = InnerMark("opening", Purpose.FOLD, BesideEdge("centre", -20.0))
MOUTH = InnerMark("mouth", Purpose.NOTCH, AtMouth("bust", second=True))
ALL = (IN_DART, BESIDE_SIDE, AT_BUST, SQUARE, OPENING, MOUTH)

PRINCESS = change(
    "cut-apart", piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
)
ACROSS = change(
    "cut-apart", piece="front", begins="centre", at="34% from neck-centre", ends="armhole",
    ends_at="60% from underarm", line="yoke",
)  # fmt: skip


def marked(draft: Draft, *marks: InnerMark) -> Draft:
    return draft.with_pieces(draft.piece("front").with_marks(*(marks or ALL)))


def lying(piece: Piece, name: str) -> list[complex]:
    mark = next(each for each in piece.marks if each.name == name)
    return [point for run in runs_of(piece, mark) for point in run]


def changed(draft: Draft, *changes: Change) -> Draft:
    for each in changes:
        try:
            draft = each.apply(draft)
        except GeometryError:
            continue
    return draft


@given(drafts(), st.lists(corrections, max_size=3))
@settings(max_examples=40)
def test_marks_lie_at_their_places_whatever_is_done(draft: Draft, done: list[Change]) -> None:
    front = changed(marked(draft), *done).piece("front")
    (mouth,) = [m for edge in front.edges for m in edge.mouths if m.dart.name == "bust"]
    # The hole in the dart: 10 mm from its tip, as far from one leg as from the other.
    (hole,) = lying(front, "in-dart")
    assert abs(hole - mouth.tip) == pytest.approx(10, abs=1e-6)
    legs = [LineString([(p.real, p.imag), (mouth.tip.real, mouth.tip.imag)])
            for p in (mouth.first, mouth.second)]  # fmt: skip
    away = [Spot(hole.real, hole.imag).distance(leg) for leg in legs]
    assert away[0] == pytest.approx(away[1], abs=1e-6)
    assert lying(front, "mouth") == [mouth.second]
    # Beside the side seam: 20 mm square to it, 60 mm up from the hem along it.
    (beside,) = lying(front, "beside-side")
    side = np.concatenate([sampled(part) for part in front.edge("side").parts])
    line, there = LineString([(p.real, p.imag) for p in side]), Spot(beside.real, beside.imag)
    assert line.distance(there) == pytest.approx(20, abs=0.01)
    assert line.length - line.project(there) == pytest.approx(60, abs=0.5)
    # At the bust level: 15 mm below it, 40 mm from the centre, which is upright.
    (at_bust,) = lying(front, "at-bust")
    assert at_bust.imag == pytest.approx(front.level("bust").y + 15, abs=1e-6)
    assert at_bust.real == pytest.approx(front.edge("centre").start.real - 40, abs=1e-6)
    assert all(
        point.real == pytest.approx(front.edge("centre").start.real + 20, abs=1e-6)
        for point in lying(front, "opening")
    )


@given(drafts(), st.sampled_from([PRINCESS, ACROSS]), st.lists(corrections, max_size=2))
@settings(max_examples=40)
def test_each_part_has_what_lies_on_it_and_all_is_there(
    draft: Draft, cut: Change, done: list[Change]
) -> None:
    first = marked(draft, BESIDE_SIDE, AT_BUST, SQUARE)
    after = changed(cut.apply(first), *done)
    whole = after.piece("front")
    parts = [after.piece(name) for each in after.cuts for name in each.parts]
    assert {mark.name for mark in whole.marks} == {"beside-side", "at-bust", "square"}
    for name in ("beside-side", "at-bust"):
        found = [p for part in parts if name in {m.name for m in part.marks}
                 for p in lying(part, name)]  # fmt: skip
        assert len(found) == 1
        assert abs(found[0] - lying(whole, name)[0]) < 0.25
    lengths = [
        length
        for part in parts
        for mark in part.marks
        if mark.name == "square"
        for run in runs_of(part, mark)
        for length in np.abs(np.diff(run))
    ]
    assert sum(lengths) == pytest.approx(200, abs=0.01)
    assert relaid(after) == after
    for part in parts:
        ground = Polygon([(p.real, p.imag) for p in part.outline_points]).buffer(0.3)
        points = [p for mark in part.marks for run in runs_of(part, mark) for p in run]
        assert ground.covers(MultiPoint([(p.real, p.imag) for p in points]))


def test_a_part_keeps_its_own_marks_and_the_whole_has_them() -> None:
    draft = PRINCESS.apply(block())
    hole = change("mark-hole", edge="front-side.side", at="30% from underarm", by="15mm")
    own = change("mark-hole", edge="front-side.princess", at="50% from princess-hem", name="seam")
    after = own.apply(hole.apply(draft))
    for name in ("hole", "seam"):
        there = lying(after.piece("front-side"), name)
        assert abs(lying(after.piece("front"), name)[0] - there[0]) < 1e-6
    lower = change("lower-armhole", by="12mm").apply(after)
    assert {m.name for m in lower.piece("front-side").marks} == {"hole", "seam"}
    side = lower.edge("front-side", "side")
    place = side.point_at(0.3 * side.length)
    assert abs(lying(lower.piece("front-side"), "hole")[0] - place) == pytest.approx(15, abs=0.01)
    whole = change("join-parts", piece="front").apply(lower)
    assert {mark.name for mark in whole.piece("front").marks} == {"hole", "seam"}


def test_a_mark_turns_with_the_cloth_it_lies_on_and_goes_with_its_dart() -> None:
    draft = marked(block())
    turned = change(
        "rotate-dart", dart="front.bust", edge="front.shoulder", at="50% from neck-point"
    ).apply(draft)
    mouth = turned.mouth("front.bust")
    assert lying(turned.piece("front"), "mouth") == [mouth.second]
    assert abs(lying(turned.piece("front"), "in-dart")[0] - mouth.tip) == pytest.approx(10)
    released = change("release-dart", dart="front.bust").apply(draft)
    names = {mark.name for mark in released.piece("front").marks}
    assert names == {"beside-side", "at-bust", "square", "opening"}


def test_marks_are_kept_by_every_form_and_seen_when_they_differ() -> None:
    plain = block()
    draft = marked(plain)
    assert read_draft(to_bytes(draft)) == draft
    assert read_form(json.dumps(draft_form(draft)), "x.svg").pieces == draft.pieces
    assert "marks" not in json.dumps(draft_form(plain))
    assert fingerprint(draft) != fingerprint(plain)
    assert difference(plain, draft).others == ("the marks of front",)
    moved = InnerMark("in-dart", Purpose.HOLE, AtTip("bust"), ((11 + 0j,),))
    assert fingerprint(marked(plain, moved)) != fingerprint(marked(plain, IN_DART))


def test_left_and_right_have_marks_of_their_own() -> None:
    hole = change("mark-hole", dart="front.bust", side="left")
    after = hole.apply(block())
    assert [m.name for m in after.piece("left-front").marks] == ["bust-hole"]
    assert after.piece("right-front").marks == ()
    assert of_both(*(worn_on(after, side) for side in Side)) == after
    both = hole.__class__(dart="front.bust", side="right").apply(after)
    assert both == change("mark-hole", dart="front.bust").apply(block())


def test_a_drawing_that_names_a_place_which_is_not_there_is_refused() -> None:
    form = draft_form(marked(block(), IN_DART))
    form["pieces"][0]["marks"][0]["place"]["dart"] = "elbow"

    with pytest.raises(BadRecord):
        read_form(json.dumps(form), "x.svg")


@given(amounts(1, 60), st.sampled_from(["underarm", "hem-side"]))
@settings(max_examples=20)
def test_a_hole_is_as_far_inside_as_it_is_told_from_either_end(by: float, corner: str) -> None:
    hole = change("mark-hole", edge="front.side", at=f"40% from {corner}", by=f"{by}mm")
    front = hole.apply(block()).piece("front")
    (there,) = lying(front, "hole")
    side = front.edge("side")
    share = 0.4 if corner == side.starts_at else 0.6
    assert abs(there - side.point_at(share * side.length)) == pytest.approx(by)
    assert Polygon([(p.real, p.imag) for p in front.outline_points]).covers(
        Spot(there.real, there.imag)
    )
