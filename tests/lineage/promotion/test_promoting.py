"""Moving a correction up: where it goes, who gains it, and what cannot be moved."""

import pytest

from tests.lineage.making import Bench, block, child, state, step
from tests.lineage.promotion.families import (
    ASKED_NOTHING,
    SCALED,
    correction,
    family,
    moved,
    of,
    scoop,
    verdicts,
)
from tests.refusals import refusing
from trueup.geometry.units import Unit
from trueup.lineage.errors import CannotStep, NoSuchNode, NoSuchStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import ParentRecord, Role, replace
from trueup.lineage.files.state import State
from trueup.lineage.promotion.amounts import Wish
from trueup.lineage.promotion.errors import CannotPromote, ComesOutDifferent
from trueup.lineage.promotion.promoting import promote
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import replay
from trueup.lineage.replay.verdicts import Verdict

# --- where it goes, and who gains it ----------------------------------------------------------


def test_a_correction_goes_to_the_node_that_last_shaped_its_place() -> None:
    result, after, _ = moved(family(scoop()), "scoop")
    assert (result.ancestor, result.is_exact) == ("village", True)
    assert result.difference.is_none
    assert [s.id for s in after.state.node("village").steps] == ["scoop"]
    assert after.state.node("blouse").steps == ()
    shaped = (correction("wide", "shorten-shoulder", by="-5mm"),)
    assert moved(family(scoop(), easy=shaped), "scoop")[0].ancestor == "easy"


def test_the_pattern_keeps_its_fingerprint_and_its_siblings_gain_the_correction() -> None:
    start = family(scoop())
    _, after, found = moved(start, "scoop", "village")
    before = Evaluator(start)
    assert after.summary("blouse").fingerprint == before.summary("blouse").fingerprint
    assert set(verdicts(found).values()) == {"carried"}
    assert of(found, "blouse").note == "comes out as it was"
    for name in ("village", "easy", "smock", "vest"):
        was, now = (e.summary(name).measures["front.chest-width"] for e in (before, after))
        assert now < was - 7


def test_a_sibling_that_has_it_already_is_doubled_and_the_pattern_itself_is_not() -> None:
    start = family(scoop())
    smock = replace(start.node("smock"), steps=(scoop("same", "7mm"),))
    _, _, found = moved(start.with_nodes([smock]), "scoop", "village")
    assert verdicts(found)["smock"] == "doubled"
    assert verdicts(found)["blouse"] == "carried"
    assert not of(found, "blouse").conflicts


def test_a_sibling_that_drew_the_line_anew_loses_it() -> None:
    start = family(scoop())
    own = step("own", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")
    _, _, found = moved(start.with_nodes([replace(start.node("vest"), steps=(own,))]), "scoop")
    assert verdicts(found)["vest"] == "lost"
    assert of(found, "vest").conflicts[0].kind == "both-shaped"


def test_what_was_decided_below_about_a_correction_still_holds() -> None:
    bench = Bench(family())
    smaller = child("small", scoop("mine", "6mm"), of="blouse")
    bench.state = bench.state.with_nodes([smaller])
    bench.correct("blouse", change_of(scoop(), Unit.MILLIMETRE))
    doubled = next(c for c in bench.open_at("small") if c.kind == "doubled")
    bench.decide(doubled, "accept")
    (made,) = bench.state.node("blouse").steps
    edit = promote(bench.evaluator, "blouse", made.id, "village")
    after = bench.evaluator.beside(*edit.nodes)
    base = bench.evaluator.beside(*edit.judged_from)
    found = replay(bench.evaluator, after, Cause("village", edit.steps, "0"), judged_from=base)
    assert verdicts(found)["small"] == "carried"
    records = {n.name: n for n in (*after.state.nodes.values(), *found.changed)}
    (kept,) = (c for c in records["small"].conflicts if c.kind == "doubled")
    assert (kept.state, kept.corrected, kept.id) == ("accepted", "village", doubled.id)


def test_a_pattern_below_comes_out_as_it_was_too() -> None:
    start = family(scoop()).with_nodes(
        [child("long", step("l", "lengthen", by="90mm"), of="blouse")]
    )
    _, _, found = moved(start, "scoop", "village")
    assert of(found, "long").verdict is Verdict.CARRIED
    assert of(found, "long").note == "comes out as it was"


def test_a_fitting_moves_whole_or_one_by_one() -> None:
    steps = (
        replace(scoop("one"), fitting="fitting-one"),
        replace(correction("two", "refit-cap"), fitting="fitting-one"),
    )
    result, after, _ = moved(family(*steps), "fitting-one", "village")
    assert result.is_exact
    assert [s.fitting for s in after.state.node("village").steps] == ["fitting-one"] * 2
    _, after, _ = moved(family(*steps), "one", "village")
    assert [(s.id, s.fitting) for s in after.state.node("village").steps] == [("one", None)]


def test_where_the_order_matters_the_difference_is_told_edge_by_edge() -> None:
    wide = correction("wide", "shorten-shoulder", by="12mm")
    result, _, _ = moved(family(scoop(), easy=(wide,)), "scoop", "village")
    assert not result.is_exact
    assert {each.edge for each in result.difference.edges} == {"front.armhole"}
    with refusing(ComesOutDifferent, match=r"front.armhole moves by up to \d(\.\d+)? mm"):
        result.require_as_drawn()


# --- what cannot be moved ---------------------------------------------------------------------


def refused(start: State, step_id: str, to: str | None = None, wish: Wish = ASKED_NOTHING) -> str:
    with pytest.raises(CannotPromote) as why:
        promote(Evaluator(start), "blouse", step_id, to, wish)
    return str(why.value)


def test_only_corrections_are_moved() -> None:
    style = step("style", "lower-neck", piece="front", by="9mm")
    assert "lower-neck (style) was made for looks" in refused(family(style), "style")
    decided = replace(scoop(), role=Role.DECISION)
    assert "was made to settle a conflict" in refused(family(decided), "scoop")


def test_a_step_that_is_not_there() -> None:
    with pytest.raises(NoSuchStep, match='"zz" is no step of blouse; it has scoop'):
        promote(Evaluator(family(scoop())), "blouse", "zz")
    with pytest.raises(NoSuchNode):
        promote(Evaluator(family(scoop())), "nobody", "scoop")
    with pytest.raises(NoSuchNode):
        promote(Evaluator(family(scoop())), "blouse", "scoop", "nobody")


def test_only_to_an_ancestor() -> None:
    start = family(scoop()).with_nodes([child("small", of="blouse")])
    assert "smock is none of its ancestors; name one of village, easy" in refused(
        start, "scoop", "smock"
    )
    assert "go round in a circle" in refused(start, "scoop", "small")
    assert "it stands there already" in refused(start, "scoop", "blouse")
    with refusing(CannotPromote, match="nowhere to move it to"):
        promote(Evaluator(state(block("village", scoop()))), "village", "scoop")


def test_not_past_a_change_of_its_own_unless_the_ancestor_is_named() -> None:
    own = step("own", "redraw-edge", edge="front.armhole", through="30%:20mm 70%:40mm")
    says = refused(family(own, scoop()), "scoop")
    assert "its own redraw-edge (own) shaped front.armhole before" in says
    assert "--to" in says
    assert moved(family(own, scoop()), "scoop", "village")[0].is_exact is False


def test_not_where_the_piece_comes_from_elsewhere_or_is_not_there() -> None:
    start = family(scoop())
    graft = child("blouse", scoop(), of=[
        ParentRecord("easy", ("back", "sleeve")), ParentRecord("vest", ("front",))])  # fmt: skip
    says = refused(start.with_nodes([graft]), "scoop", "easy")
    assert "its front comes from village, not by way of easy" in says
    assert moved(start.with_nodes([graft]), "scoop", "vest")[0].is_exact


def test_not_past_a_parent_that_is_held() -> None:
    start = family(scoop())
    held = replace(start.node("blouse"), parents=(ParentRecord("easy", hold="1" * 40),))
    start = start.with_nodes([held])
    past = Evaluator(family(scoop()))
    with pytest.raises(CannotPromote) as why:
        promote(Evaluator(start, earlier=lambda _: past), "blouse", "scoop", "village")
    assert "blouse stays on an earlier version of easy" in str(why.value)


def test_not_what_the_ancestor_does_not_have() -> None:
    longer = (step("l", "lengthen", by="200mm"),)
    start = family(correction("mark", "redraw-edge", edge="front.armhole", through="50%:30mm"))
    assert moved(start, "mark", "village")[0].is_exact
    own = child("blouse", *longer, correction("f", "raise-cap", by="4mm"), of="vest")
    with refusing(CannotPromote, match="left out"):
        promote(Evaluator(start.with_nodes([own])), "blouse", "f", "village")


def test_not_more_than_the_ancestor_can_take() -> None:
    start = family(scoop("scoop", "2mm"))
    with refusing(CannotStep, match="On village: scoop-armhole cannot be done"):
        promote(Evaluator(start), "blouse", "scoop", "village", Wish(by=1000.0))


def test_amounts_are_only_for_what_has_one() -> None:
    start = family(correction("cap", "refit-cap"))
    assert "so give none" in refused(start, "cap", "village", Wish(by=3.0))
    assert "no amount to scale" in refused(start, "cap", "village", SCALED)
    assert "made on no dart" in refused(
        family(scoop()), "scoop", "village", Wish(as_is=True, dart="front.waist")
    )


def test_what_no_scissors_could_follow_stands_in_no_way() -> None:
    turned = step("t", "rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm")
    result, _, _ = moved(family(turned, scoop("made", "1mm")), "made", "village")
    assert not result.is_exact
    assert result.is_as_drawn
    result.require_as_drawn()
