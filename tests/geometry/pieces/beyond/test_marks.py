"""A mark whose line became too short is kept, found by name, and lies on its line again later."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.geometry.changing import changed
from tests.strategies import drafts
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.beyond.aside import set_aside
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form

STRAIGHT = {"edge": "front.neck", "through": "50%:0mm"}


def neck(draft: Draft) -> float:
    return draft.edge("front", "neck").length


def notched(draft: Draft, share: float) -> tuple[Draft, float]:
    at = round(neck(draft) * share, 2)
    notch = {"edge": "front.neck", "at": f"{at}mm from neck-point", "name": "mid"}
    return changed(draft, "mark-notch", **notch), at


def beyond(draft: Draft) -> list[tuple[str, str, str]]:
    found = (each for each in check(draft) if each.code.startswith("beyond-end"))
    return [(each.code, each.piece, each.edge) for each in found]


@given(drafts(), st.floats(0.05, 0.98))
@settings(max_examples=25, deadline=None)
def test_it_is_found_just_where_its_line_became_too_short(draft: Draft, share: float) -> None:
    marked, at = notched(draft, share)
    after = changed(marked, "redraw-edge", **STRAIGHT)
    found = [each for each in check(after) if each.code.startswith("beyond-end")]
    assert bool(found) == (at > neck(after) + 1e-3)
    for each in found:
        assert (each.code, each.piece, each.edge) == ("beyond-end:mid", "front", "neck")
        assert (each.measured, each.high) == pytest.approx((at, neck(after)))
        assert each.excess == pytest.approx(at - neck(after))
    assert after.piece("front").notches[-1].at == Position("neck-point", distance=at)


CHANGES = (
    ("lower-neck", {"piece": "front", "by": "10mm"}),
    ("widen-neck", {"by": "6mm"}),
    ("shorten-shoulder", {"by": "6mm"}),
    ("rotate-dart", {"dart": "front.bust", "edge": "front.side", "at": "50mm from underarm"}),
    ("rotate-dart", {"dart": "front.bust", "edge": "front.neck", "at": "50% from neck-centre"}),
    ("lengthen", {"by": "80mm"}),
    ("lengthen", {"by": "-8mm"}),
    ("add-ease", {"by": "20mm"}),
    ("draft-facing", {"edge": "front.neck", "width": "40mm"}),
    ("open-fold", {"piece": "front"}),
    ("cut-apart", {"piece": "front", "begins": "armhole", "ends": "hem",
                   "through": "bust waist", "line": "princess"}),
    ("lower-neck", {"piece": "front", "by": "10mm", "side": "left"}),
    ("overlap-front", {"piece": "front", "at": "20mm from neck-centre", "by": "60mm"}),
    ("change-bust", {"dart": "front.bust", "by": "10mm"}),
    ("rename-piece", {"piece": "front", "to": "forepart"}),
)  # fmt: skip


@pytest.mark.parametrize(("kind", "values"), CHANGES)
def test_every_other_change_is_carried_out_as_without_it_and_leaves_it(
    kind: str, values: dict[str, str]
) -> None:
    straight = changed(notched(block(), 0.97)[0], "redraw-edge", **STRAIGHT)
    bare = set_aside(straight)
    assert beyond(straight)
    assert not beyond(bare)
    try:
        plain = changed(bare, kind, **values)
    except CannotChange as refused:
        with pytest.raises(type(refused)):
            changed(straight, kind, **values)
        return
    after = changed(straight, kind, **values)
    assert fingerprint(set_aside(after)) == fingerprint(set_aside(plain))
    assert measures(after) == measures(plain)
    kept = [p for p in (*after.pieces, *after.wholes) if any(n.name == "mid" for n in p.notches)]
    assert kept or "neck" not in {e for p in after.pieces for e in p.edge_names}


def test_cut_apart_it_is_told_of_by_the_whole() -> None:
    straight = changed(notched(block(), 0.97)[0], "redraw-edge", **STRAIGHT)
    cut = changed(straight, CHANGES[10][0], **CHANGES[10][1])
    assert ("beyond-end:mid", "front", "neck") in beyond(cut)


def test_once_the_line_is_long_enough_it_lies_on_it_again() -> None:
    straight = changed(notched(block(), 0.97)[0], "redraw-edge", **STRAIGHT)
    deeper = changed(straight, "redraw-edge", edge="front.neck", through="50%:25mm")
    assert neck(deeper) > neck(block()) * 0.97
    assert beyond(deeper) == []
    assert deeper.piece("front").notches == notched(block(), 0.97)[0].piece("front").notches


def test_its_cloth_is_cut_and_drawn_without_it() -> None:
    straight = changed(notched(block(), 0.97)[0], "redraw-edge", **STRAIGHT)
    assert "mid" not in {n.name for p in as_cut(straight).pieces for n in p.notches}
    assert as_cut(block()) is block()


def test_it_is_kept_in_a_drawing() -> None:
    straight = changed(notched(block(), 0.97)[0], "redraw-edge", **STRAIGHT)
    back = read_form(json.dumps(draft_form(straight)), "x.svg")
    assert fingerprint(back) == fingerprint(straight)
    assert beyond(back) == beyond(straight)


MARKS = (("mark-hole", {"by": "10mm"}), ("mark-slit", {"deep": "30mm"}))


@pytest.mark.parametrize(("kind", "values"), MARKS)
def test_whatever_is_measured_along_a_line_is_found_so(kind: str, values: dict[str, str]) -> None:
    at = f"{round(neck(block()) * 0.97, 1)}mm from neck-point"
    marked = changed(block(), kind, edge="front.neck", at=at, name="mark", **values)
    after = changed(marked, "redraw-edge", **STRAIGHT)
    assert beyond(after) == [("beyond-end:mark", "front", "neck")]
    later = changed(after, "add-ease", by="20mm")
    assert [m.name for m in later.piece("front").marks] == ["mark"]
    assert "mark" not in {m.name for p in as_cut(after).pieces for m in p.marks}


def test_a_mark_goes_with_the_cloth_that_is_cut_off() -> None:
    long = changed(block(), "lengthen", by="200mm")
    at = f"{round(long.edge('front', 'side').length - 30, 1)}mm from underarm"
    hole = changed(long, "mark-hole", edge="front.side", at=at, name="low")
    short = changed(hole, "lengthen", by="-60mm")
    assert short.piece("front").marks == ()
    assert beyond(short) == []


def test_a_seam_left_open_from_a_notch_that_is_beyond_is_walked_to_its_end() -> None:
    slit = changed(block(), "slit", edge="front.side", at="20mm from hem-side")
    assert slit.seam("side-seam").open_from is not None
    front = slit.piece("front")
    far = Position("underarm", distance=front.edge("side").length + 5)
    lost = slit.with_pieces(replace(front, notches=(*(
        replace(n, at=far) if n.edge == "side" else n for n in front.notches
    ),)))  # fmt: skip
    walked = walk(lost, lost.seam("side-seam"))
    assert walked.side == pytest.approx(front.edge("side").length)
    assert [code for code, *_ in beyond(lost)] == ["beyond-end:slit"]
