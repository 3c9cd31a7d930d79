"""What was drawn from a draft comes back as the same draft; what was redrawn comes back redrawn."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts, side_dart_blocks
from trueup.cli.drawing.svg import draft_svg
from trueup.geometry.changes.armhole.scoop_armhole import ScoopArmhole
from trueup.geometry.changes.cut_and_join.cut_apart import CutApart
from trueup.geometry.changes.edges_and_seams.redraw_edge import RedrawEdge
from trueup.geometry.changes.neck_and_shoulder.lower_neck import LowerNeck
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.lineage.drawings.tracing.drawing import describing, drawing_of
from trueup.lineage.drawings.tracing.trace import traced
from trueup.lineage.errors import BadRecord

CUT = CutApart(
    piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
).apply(block())
STYLED = {
    "cut apart": CUT,
    "parted": LowerNeck(piece="front", by=20.0, side="left").apply(block()),
    "cut apart and parted": RedrawEdge(
        edge="front-centre.neck", through="50%:9mm", side="left"
    ).apply(CUT),
    "block": block(),
    "scooped": ScoopArmhole(piece="front", by=14.0).apply(block()),
    "lowered neck": LowerNeck(piece="front", by=60.0).apply(block()),
    "without a sleeve": block().only(("front", "back")),
}


def exported(draft: Draft) -> bytes:
    return describing(draft_svg(draft, "a <b> & c"), draft).encode("utf-8")


def trimmed(draft: Draft) -> Draft:
    """Return a draft with allowances, a dart inside a piece, and a tip short of its apex."""
    back = allowed(draft.piece("back"), {"side": 15.0, "hem": 40.0})
    middle = complex(60, back.level("bust").y)
    fish = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    front = draft.piece("front")
    armhole = front.edge("armhole")
    short = tuple(replace(dart, setback=25.0, turned=True) for dart in armhole.darts)
    front = front.with_edges(replace(armhole, darts=short))
    return draft.with_pieces(replace(back, inner_darts=(fish,)), front)


@settings(max_examples=40)
@given(st.one_of(drafts(), side_dart_blocks()))
def test_an_export_comes_back_to_the_same_fingerprint(draft):
    found = traced(exported(draft), {}, "x.svg")
    assert found.unnamed == ()
    assert found.draft == draft
    assert fingerprint(found.draft) == fingerprint(draft)


@settings(max_examples=20)
@given(drafts())
def test_what_a_wardrobe_keeps_comes_back_to_the_same_fingerprint(draft):
    kept = drawing_of(trimmed(draft), "kept")
    assert traced(kept, {}, "x.svg").draft == trimmed(draft)


@pytest.mark.parametrize("draft", STYLED.values(), ids=STYLED)
def test_styled_drafts_come_back_the_same(draft):
    whole = "front" in draft.piece_names
    for changed in (draft, trimmed(draft)) if whole else (draft,):
        assert traced(exported(changed), {}, "x.svg").draft == changed


def moved_point(svg: bytes, name: str, by: float) -> bytes:
    """Return a drawing in which the first control point of a line is moved to the right."""
    text = svg.decode()
    found = re.search(rf'id="{re.escape(name)}" d="M [^C]* C ([-0-9.]+),', text)
    assert found
    place = f"{float(found[1]) + by:.6f}"
    return (text[: found.start(1)] + place + text[found.end(1) :]).encode()


def test_a_redrawn_edge_is_taken_as_drawn_and_the_rest_as_described():
    redrawn = traced(moved_point(exported(block()), "front.neck", 9.0), {}, "x.svg").draft
    assert redrawn is not None
    changed = [
        name
        for piece in block().piece_names
        for name in block().piece(piece).edge_names
        if redrawn.edge(piece, name) != block().edge(piece, name)
    ]
    assert changed == ["neck"]
    was, now = (d.edge("front", "neck").parts[0].cubics[0] for d in (block(), redrawn))
    assert abs(now.start_control - was.start_control - 9.0) < 1e-5
    assert redrawn.seams == block().seams
    assert redrawn.piece("front").levels == block().piece("front").levels


def test_a_piece_moved_about_the_page_is_the_same_piece():
    text = exported(block()).decode()
    moved = text.replace('<g id="sleeve">', '<g id="sleeve" transform="translate(40,-12.5)">')
    assert moved != text
    assert traced(moved.encode(), {}, "x.svg").draft == block()


def test_a_redrawn_dart_tip_moves_the_apex_and_keeps_how_far_the_tip_stops_short():
    draft = trimmed(block())
    tip = draft.mouth("front.bust").tip
    text = exported(draft).decode()
    path = re.search(r'id="front.dart.bust" d="M \S+ L ([-0-9.]+),([-0-9.]+) L', text)
    assert path
    moved = f"{float(path[1]) + 6:.6f}"
    text = text[: path.start(1)] + moved + text[path.end(1) :]
    found = traced(text.encode(), {}, "x.svg").draft
    assert found is not None
    mouth = found.mouth("front.bust")
    assert abs(mouth.tip - (tip + 6)) < 1e-5
    assert mouth.dart.setback == 25.0


def test_an_edge_pulled_off_its_corner_is_refused_with_the_gap():
    text = exported(block()).decode()
    path = re.search(r'id="front.side" d="M ([-0-9.]+),', text)
    assert path
    text = text[: path.start(1)] + f"{float(path[1]) + 7:.6f}" + text[path.end(1) :]
    with refusing(BadRecord, match=r"front\.armhole.*7 mm"):
        traced(text.encode(), {}, "x.svg")


def test_an_edge_that_is_gone_is_named():
    text = re.sub(r'<path id="back.side"[^>]*/>', "", exported(block()).decode())
    with refusing(BadRecord, match=r"back\.side.*not in the drawing"):
        traced(text.encode(), {}, "x.svg")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"form":1', '"form":2', "form 2"),
        ('"setback":0.0', '"setback":1e300', "lies beyond"),
        ('"corner":"underarm"', '"corner":"elbow"', "no corner"),
        ('"fold":"centre"', '"fold":"middle"', "middle"),
        ('"name":"bust"', '"name":"<img>"', "no plain word"),
        ('"tolerance":', '"tolerance":"much","x":', "cannot be read"),
    ],
)
def test_a_description_that_cannot_be_is_refused(old, new, told):
    says = exported(block()).decode()
    spoilt = says.replace(old, new.replace("<", "&lt;").replace(">", "&gt;"))
    assert spoilt != says
    with refusing(BadRecord, match=told):
        traced(spoilt.encode(), {}, "x.svg")
