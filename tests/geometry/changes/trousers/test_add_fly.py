import json

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.fair import closed_points
from tests.geometry.changes.tape_measure import sewn_length
from tests.geometry.changes.trousers.cases import BACK, FRONT, bench, trouser_drafts, trousers
from tests.lineage.making import change, pattern
from tests.refusals import refusing
from tests.sound import largest_shift
from trueup.geometry.changes.trousers.add_fly import AddFly
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.laid_open import laid_open
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict

SEAM = "trouser-front-crotch"


@given(trouser_drafts(), st.integers(80, 130), st.integers(25, 50))
@settings(max_examples=30, deadline=None)
def test_the_crotch_is_open_from_the_stop_and_the_front_cut_with_a_facing(
    before: Draft, long: int, wide: int
) -> None:
    waist, crotch = (before.edge(FRONT, name) for name in ("waist", "crotch"))
    beside = next(p for p in waist.parts if {p.start, p.end} & {crotch.start, crotch.end})
    # What comes too near the waist dart of a very small body is refused.
    assume(abs(beside.end - beside.start) > wide + 6)
    after = AddFly(long=float(long), width=float(wide), stitched=25.0).apply(before)
    assert check(after) == check(before)
    assert after.piece(BACK) is before.piece(BACK)
    front, was = after.piece(FRONT), before.piece(FRONT)
    assert front.edges == was.edges
    whole = sewn_length(was.edge("crotch"))
    walked = walk(after, after.seam(SEAM))
    assert walked.side == walked.mate == pytest.approx(whole - long, abs=0.05)
    assert measures(after)[f"{SEAM}.open"] == pytest.approx(long, abs=0.05)
    cut = laid_open(front)
    assert cut.is_simple
    extension = cut.cloth.difference(was.cloth.buffer(0.01))
    assert extension.area == pytest.approx(wide * (long - 10), rel=0.12)
    # Turned in along the centre front, it lies on the front, its upper end along the waist.
    gained = sewn_length(cut.edge("waist")) - sewn_length(was.edge("waist"))
    assert gained == pytest.approx(wide, rel=0.03)
    # The stitches end at the stop, 25 mm beside the edge on their way down.
    (mark,) = front.marks
    (line,) = runs_of(front, mark)
    edge = closed_points(was.edge("crotch"))
    notch = next(n for n in front.notches if n.name == "fly")
    assert notch.at == Position("waist-centre", distance=float(long))
    assert np.abs(edge - line[-1]).min() < 2
    assert np.abs(edge - line[1]).min() == pytest.approx(25, abs=2)


def test_the_fly_keeps_its_length_whatever_becomes_of_the_crotch() -> None:
    after = AddFly(long=150.0).apply(trousers())
    for each in (
        change("deepen-crotch", by="15mm"),
        change("extend-crotch", by="8mm", piece=FRONT),
        change("seam-allowance", piece=FRONT, by="12mm"),
    ):
        after = each.apply(after)
        assert check(after) == ()
        assert measures(after)[f"{SEAM}.open"] == pytest.approx(150, abs=0.05)
        assert laid_open(after.piece(FRONT)).is_simple
    assert laid_open(after.piece(FRONT)).allowance("fly") == 10
    assert after.piece(FRONT).marks[0].purpose == "stitch"


def test_a_crotch_that_is_sewn_to_its_mirror_already_is_opened() -> None:
    once = AddFly().apply(trousers())
    assert read_draft(to_bytes(once)) == once
    assert read_form(json.dumps(draft_form(once)), "x.svg").pieces == once.pieces
    sewn = once.with_seam(type(once.seam(SEAM))(SEAM, once.seam(SEAM).side, once.seam(SEAM).mate))
    bare = trousers()
    stated = type(bare)(bare.pieces, sewn.seams, bare.joins)
    again = AddFly().apply(stated)
    assert again.seams == once.seams
    with refusing(CannotChange, match="is left open already, from fly; name an edge of another"):
        AddFly(name="other", stitched=0.0).apply(once)


def test_it_is_told_in_words() -> None:
    assert AddFly().in_words(Unit.CENTIMETRE) == (
        "add a fly to trouser-front.crotch, 16 cm long and 4 cm wide (fly)"
    )


def test_what_cannot_be_a_fly_is_refused() -> None:
    with refusing(CannotChange, match=r"a fly 300 mm long would run into the curve .* at most 1\d"):
        AddFly(long=300.0).apply(trousers())
    with refusing(CannotChange, match="an extension 120 mm wide would reach past the waist"):
        AddFly(width=120.0).apply(trousers())
    with refusing(
        CannotChange, match="the inseam does not come up to the waist; name another edge"
    ):
        AddFly(edge="trouser-front.inseam").apply(trousers())
    with refusing(
        CannotChange, match="it is sewn to another line, in the trouser-side-seam; name a"
    ):
        AddFly(edge="trouser-front.side", long=60.0, width=20.0, stitched=0.0).apply(trousers())
    with refusing(BadParameter, match="stitched cannot be 60 mm: it is at most 40 mm"):
        AddFly(stitched=60.0)
    with refusing(BadParameter, match="both fronts meet there, and are opened alike"):
        AddFly(side="left")


def test_corrections_of_the_block_arrive_under_a_fly() -> None:
    fly = AddFly(long=140.0)
    worn = bench(fly)
    core = trousers()
    for each in (change("deepen-crotch", by="9mm"), change("extend-crotch", by="5mm", piece=FRONT)):
        found = worn.correct("village", each)
        assert pattern(found, "pants").verdict is Verdict.CARRIED
        core = each.apply(core)
    by_hand, replayed = fly.apply(core), worn.evaluator.draft("pants")
    assert by_hand.seams == replayed.seams
    one, other = (laid_open(each.piece(FRONT)) for each in (by_hand, replayed))
    assert largest_shift(one, other) < 0.01
