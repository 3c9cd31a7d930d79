import pytest
from hypothesis import given, settings

from tests.builders import block
from tests.geometry.changing import made
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import Said

PRINCESS = made(
    "cut-apart", piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
)
YOKE = made(
    "cut-apart",
    piece="back",
    begins="armhole",
    at=Position("shoulder-point", share=0.4),
    ends="centre",
    ends_at=Position("neck-centre", share=0.25),
    line="yoke",
)


@given(drafts())
@settings(max_examples=20)
def test_what_took_nothing_in_leaves_nothing(draft: Draft) -> None:
    after = made("join-parts", piece="back").apply(YOKE.apply(draft))
    assert after.piece_names == draft.piece_names
    assert after.cuts == ()
    assert [(s.name, s.side, s.mate) for s in after.seams] == [
        (s.name, s.side, s.mate) for s in draft.seams
    ]
    assert after.joins == draft.joins
    assert after.piece("back").dart_names == draft.piece("back").dart_names
    for name, value in measures(draft).items():
        assert measures(after)[name] == pytest.approx(value, abs=1e-6), name


def test_what_the_line_took_in_is_a_dart_again_and_steps_of_the_parts_stay() -> None:
    own = made("redraw-edge", edge="front-side.side", through="50%:3mm")
    cut = own.apply(PRINCESS.apply(block()))
    after = made("join-parts", piece="front").apply(cut)
    assert after.piece("front").dart_names == block().piece("front").dart_names
    assert after.edge("front", "side") == cut.edge("front-side", "side")
    for name in ("front.bust.intake", "front.waist.intake", "front.armhole", "front.hem"):
        assert measures(after)[name] == pytest.approx(measures(block())[name], abs=1e-6), name
    assert {f.code for f in check(after)} <= {f.code for f in check(cut)}
    made("rotate-dart", dart="front.bust", edge="front.shoulder",
         at=Position("neck-point", share=0.5)).apply(after)  # fmt: skip


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


def test_what_was_not_cut_or_is_cut_again_is_refused() -> None:
    again = made(
        "cut-apart",
        piece="front-centre",
        begins="princess",
        at=Position("princess-armhole", share=0.25),
        ends="centre",
        ends_at=Position("neck-centre", share=0.3),
        line="bib",
    ).apply(PRINCESS.apply(block()))
    for draft, reason in ((block(), "is-not-cut"), (again, "part-is-cut")):
        with pytest.raises(CannotChange) as refused:
            made("join-parts", piece="front").apply(draft)
        assert reason in reasons(refused.value.says)
    with pytest.raises(NoSuchName):
        made("join-parts", piece="collar").apply(block())


def flared() -> Draft:
    long = made("lengthen", by=200.0).apply(block())
    panels = made(
        "cut-apart", piece="back", begins="shoulder", ends="hem", through="shoulder waist",
        ends_at=Position("hem-centre", share=0.4), line="panel",
    ).apply(long)  # fmt: skip
    at = Position("panel-hem", distance=250.0)
    return made("flare-seam", edge="back-side.panel", at=at, by=60.0).apply(panels)


def test_parts_that_were_flared_are_not_put_together_over_each_other() -> None:
    with refusing(CannotChange, match=r"lie over each other, up to [\d.]+ mm wide; leave them"):
        made("join-parts", piece="back").apply(flared())


def test_nor_are_they_lined_as_one() -> None:
    with refusing(
        CannotChange,
        match="on back.hem: its parts, flared .*, lie over each other as one; line each",
    ):
        made("draft-lining", piece="back", shorter=15.0).apply(flared())
    made("draft-lining", piece="back-side", shorter=15.0).apply(flared())
