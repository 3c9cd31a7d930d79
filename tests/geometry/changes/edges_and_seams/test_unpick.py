import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.unstated import unsewn_lines, unsewn_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


def changed(draft: Draft, kind: str, **values: object) -> Draft:
    return kind_named(kind)(**values).apply(draft)


@given(drafts(), st.sampled_from(["side-seam", "shoulder-seam", "armhole-seam", "sleeve-seam"]))
@settings(max_examples=15, deadline=None)
def test_the_seam_is_gone_no_line_moves_and_its_lines_are_told_of(draft: Draft, seam: str) -> None:
    after = changed(draft, "unpick", seam=seam)
    assert {s.name for s in draft.seams} - {s.name for s in after.seams} == {seam}
    assert all(a is b for a, b in zip(after.pieces, draft.pieces, strict=True))
    assert {*unsewn_lines(after)} == {str(run) for run in draft.seam(seam).runs}
    assert unsewn_pieces(after) == ()
    was, now = measures(draft), measures(after)
    assert now.items() <= was.items()
    assert not {*was} - {*now} & {*draft.edge_names}


def test_a_seam_stated_wrongly_is_sewn_otherwise() -> None:
    wrong = changed(
        changed(block(), "unpick", seam="sleeve-seam"),
        "sew-together", line="sleeve.front-seam", to="front.side", name="odd-seam",
        low=-500.0, high=500.0,
    )  # fmt: skip
    right = changed(
        changed(wrong, "unpick", seam="odd-seam"),
        "sew-together", line="sleeve.back-seam", to="sleeve.front-seam", name="sleeve-seam",
    )  # fmt: skip
    assert unsewn_lines(right) == ()


def test_what_a_fold_was_opened_into_by_mistake_is_taken_back() -> None:
    opened = changed(block(), "open-fold", piece="front")
    picked = changed(opened, "unpick", seam="front-centre")
    assert unsewn_lines(picked) == ()
    assert changed(picked, "close-fold", edge="front.centre").piece("front").fold == "centre"


def test_a_seam_that_a_cut_made_or_that_a_piece_follows_by_stays() -> None:
    princess = {"piece": "front", "begins": "armhole", "ends": "hem",
                "through": "bust waist", "line": "princess"}  # fmt: skip
    cut = changed(block(), "cut-apart", **princess)
    with refusing(CannotChange, match="cut apart; join the parts again"):
        changed(cut, "unpick", seam="front-princess")
    assert "front.side" in unsewn_lines(changed(cut, "unpick", seam="side-seam"))
    faced = changed(block(), "draft-facing", edge="front.neck", width=50.0)
    (seam,) = {s.name for s in faced.seams} - {s.name for s in block().seams}
    with refusing(CannotChange, match="drafted to.*drop-piece first"):
        changed(faced, "unpick", seam=seam)
    with pytest.raises(NoSuchName, match="sleeve-seam"):
        changed(block(), "unpick", seam="waist-seam")


def test_it_says_which_seam() -> None:
    change = kind_named("unpick")(seam="side-seam")
    assert change.in_words(Unit.MILLIMETRE) == "unpick the side-seam"
