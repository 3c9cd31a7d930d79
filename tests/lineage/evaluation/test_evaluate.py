from collections.abc import Callable

import pytest

from tests.lineage.making import BODY, block, child, state, step
from tests.refusals import refusing
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.cache import NoCache
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import (
    BlockDraft,
    NodeRecord,
    ParentRecord,
    Role,
    StepRecord,
    replace,
)
from trueup.lineage.files.state import State

STORE = (
    block("village"),
    child("easy", step("e1", "add-ease", by="40mm")),
    child("blouse", step("b1", "lower-neck", piece="front", by="20mm"), of="easy"),
    child("tunic", step("t1", "lengthen", by="200mm"), of="easy"),
    block("other", step("o1", "widen-neck", by="5mm")),
    child("smock", step("s1", "lengthen", by="400mm"), of="other"),
)


class Shelf(NoCache):
    """A cache in memory."""

    def __init__(self) -> None:
        self.kept: dict[str, tuple[Summary, Draft | None]] = {}

    def summary(self, key: str) -> Summary | None:
        return self.kept[key][0] if key in self.kept else None

    def draft(self, key: str) -> Draft | None:
        return self.kept[key][1] if key in self.kept else None

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        self.kept[key] = (summary, draft)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf()


@pytest.fixture
def ran(shelf: Shelf) -> Callable[[State], list[str]]:
    """Evaluate all of a state; return what really was evaluated."""

    def all_of(of: State) -> list[str]:
        evaluator = Evaluator(of, shelf)
        for name in of.nodes:
            evaluator.summary(name)
        return sorted(evaluator.ran)

    return all_of


def test_a_second_look_at_the_same_wardrobe_evaluates_nothing(ran):
    assert ran(state(*STORE)) == sorted(node.name for node in STORE)
    assert ran(state(*STORE)) == []


def test_one_changed_leaf_runs_alone(ran):
    ran(state(*STORE))
    blouse = replace(STORE[2], steps=(step("b1", "lower-neck", piece="front", by="25mm"),))
    assert ran(state(*STORE).with_nodes([blouse])) == ["blouse"]


def test_a_changed_block_runs_all_below_it_and_nothing_beside_it(ran):
    ran(state(*STORE))
    village = block("village", step("v1", "scoop-armhole", piece="front", by="5mm"))
    assert ran(state(*STORE).with_nodes([village])) == ["blouse", "easy", "tunic", "village"]


def test_an_equal_outcome_stops_the_wave(ran):
    ran(state(*STORE))
    there = step("v1", "scoop-armhole", piece="front", by="5mm")
    hem_is_true = block("village", step("v1", "true-hem", piece="front"))
    assert ran(state(*STORE).with_nodes([hem_is_true])) == ["village"]
    cannot_be_done = block("village", StepRecord("v2", Role.STYLE, "embroider"))
    assert ran(state(*STORE).with_nodes([cannot_be_done])) == ["village"]
    assert ran(state(*STORE).with_nodes([block("village", there)])) != []


def test_why_and_when_a_step_was_made_evaluate_nothing(ran):
    ran(state(*STORE))
    blouse = replace(STORE[2], steps=(replace(STORE[2].steps[0], why="for the second act"),))
    assert ran(state(*STORE).with_nodes([blouse])) == []


def test_patterns_made_alike_are_evaluated_once(ran):
    twins = [child(name, step(f"{name}1", "lengthen", by="9mm")) for name in ("ann", "bea")]
    alike = [replace(twin, steps=(replace(twin.steps[0], id="x"),)) for twin in twins]
    assert ran(state(block(), *alike)) == ["ann", "village"]
    assert ran(state(block(), *twins)) == ["ann", "bea"]  # their steps are told apart by their ids


def test_the_unit_of_the_wardrobe_is_part_of_what_goes_in(ran):
    bare = replace(
        STORE[2], steps=(replace(STORE[2].steps[0], values={"piece": "front", "by": 2}),)
    )
    in_mm = state(*STORE).with_nodes([bare])
    in_cm = State(replace(in_mm.settings, unit="cm"), in_mm.nodes)
    first, second = Evaluator(in_mm), Evaluator(in_cm)
    drop = "front.neck-depth"
    parent = first.summary("easy").measures[drop]
    assert first.summary("blouse").measures[drop] == pytest.approx(parent + 2)
    assert second.summary("blouse").measures[drop] == pytest.approx(parent + 20)


def test_a_draft_asked_for_again_is_not_drafted_again(shelf):
    Evaluator(state(*STORE[:2]), shelf).summary("easy")
    grown = state(*STORE[:3])
    second = Evaluator(grown, shelf)
    second.summary("blouse")
    assert second.ran == ["blouse", "easy"]  # a leaf's geometry was not kept
    third = Evaluator(grown.with_nodes([replace(STORE[2], steps=())]), shelf)
    third.summary("blouse")
    third.draft("easy")
    assert third.ran == ["blouse"]


def test_what_is_summed_up_is_what_the_draft_holds():
    evaluator = Evaluator(state(*STORE))
    for node in STORE:
        assert evaluator.summary(node.name).measures == measures(evaluator.draft(node.name))
    assert evaluator.summary("blouse").shaped == {
        "front.neck": "b1",
        "front.centre": "b1",
    }


def test_a_step_that_cannot_be_carried_out_is_left_out_and_said():
    steps = (
        step("s1", "deepen-dart", dart="front.nowhere", by="5mm"),
        step("s2", "shorten-shoulder", by="150mm"),
        StepRecord("s3", Role.STYLE, "embroider", values={"edge": "front.hem"}),
        step("s4", "lower-neck", piece="front", by="20mm"),
    )
    evaluator = Evaluator(state(block(), child("blouse", *steps)))
    summary = evaluator.summary("blouse")
    assert [(p.step, p.code, p.piece, p.edge) for p in summary.problems] == [
        ("s1", "missing", "front", "nowhere"),
        ("s2", "impossible", "front", "shoulder"),
        ("s3", "missing", "front", "hem"),
    ]
    assert 0 < summary.problems[1].largest_mm < 150
    depth = evaluator.summary("village").measures["front.neck-depth"]
    assert summary.measures["front.neck-depth"] == pytest.approx(depth + 20)


# --- several parents, and older ones ----------------------------------------------------------


def test_a_pattern_takes_pieces_from_two_parents_and_keeps_the_armhole_seam():
    puffed = child("puff", step("p1", "raise-cap", by="20mm", gathers="60mm"))
    hollow = child("hollow", step("h1", "scoop-armhole", piece="front", by="8mm"))
    both = [ParentRecord("hollow", ("front", "back")), ParentRecord("puff", ("sleeve",))]
    evaluator = Evaluator(state(block(), puffed, hollow, child("blouse", of=both)))
    blouse, puff = evaluator.summary("blouse"), evaluator.summary("puff")
    assert set(blouse.pieces) == {"front", "back", "sleeve"}
    walked = blouse.seams["armhole-seam"]
    assert walked.side == puff.measures["sleeve.cap"]
    body = evaluator.summary("hollow").measures
    assert walked.mate == pytest.approx(body["front.armhole"] + body["back.armhole"])
    assert (walked.low, walked.high) == (
        puff.seams["armhole-seam"].low,
        puff.seams["armhole-seam"].high,
    )
    giver = evaluator.giver("blouse", "sleeve")
    assert giver is not None
    assert giver[1] == "puff"


def test_a_piece_from_two_parents_at_once_is_refused():
    both = [ParentRecord("village"), ParentRecord("other", ("sleeve",))]
    evaluator = Evaluator(state(block(), block("other"), child("blouse", of=both)))
    with refusing(BadRecord, match="sleeve comes from two parents"):
        evaluator.summary("blouse")


@pytest.mark.parametrize(
    ("draft", "said"),
    [
        (BlockDraft("by-eye", BODY), "by-eye"),
        (BlockDraft("bust-proportion", {**BODY, "bust": "8ft"}), "8ft"),
        (BlockDraft("bust-proportion", {**BODY, "bust": "8mm"}), "bust"),
        (BlockDraft("bust-proportion", {"bust": "88cm"}), "waist"),
        (BlockDraft("bust-proportion", {**BODY, "tail": "88cm"}), "tail"),
    ],
)
def test_a_block_that_cannot_be_drafted_names_its_file(draft: BlockDraft, said: str):
    with refusing(BadRecord, match=said) as caught:
        Evaluator(state(NodeRecord("village", True, draft=draft))).summary("village")
    assert caught.value.place == "blocks/village.toml"


def test_a_pattern_that_names_a_piece_its_parent_lost_names_its_file():
    lone = child("vest", of=[ParentRecord("village", ("front", "back"))])
    evaluator = Evaluator(
        state(block(), lone, child("blouse", of=[ParentRecord("vest", ("sleeve",))]))
    )
    with refusing(BadRecord, match="sleeve") as caught:
        evaluator.summary("blouse")
    assert caught.value.place == "patterns/blouse.toml"


def test_a_held_pattern_is_as_its_parent_was():
    then = state(block(), child("blouse"))
    scooped = block("village", step("v1", "scoop-armhole", piece="front", by="9mm"))
    held = child("blouse", of=[ParentRecord("village", hold="then")])
    now = Evaluator(state(scooped, held), earlier=lambda commit: {"then": Evaluator(then)}[commit])
    assert now.summary("blouse").fingerprint == Evaluator(then).summary("blouse").fingerprint
    assert now.summary("village").fingerprint != Evaluator(then).summary("village").fingerprint
    assert now.parent_summaries("blouse")[0].measures == Evaluator(then).summary("village").measures


def test_a_family_a_hundred_deep_can_be_evaluated():
    names = ["village", *(f"p{number}" for number in range(100))]
    nodes = [child(name, of=names[index]) for index, name in enumerate(names[1:])]
    evaluator = Evaluator(state(block(), *nodes))
    assert evaluator.summary("p99").fingerprint == evaluator.summary("village").fingerprint


def test_versions_that_stay_on_versions_are_followed_to_an_end():
    def version(staying: str, on: str) -> State:
        parent = ParentRecord(on, hold="0" * 40)
        return state(child(staying, of=[parent]), block(on))

    way: list[str] = []
    one, other = version("aa", "bb"), version("bb", "aa")

    def of(here: State, there: State) -> Evaluator:
        return Evaluator(here, earlier=lambda _: of(there, here), way=way)

    with refusing(BadRecord, match="with the versions that are stayed on"):
        of(one, other).summary("aa")
    assert way == []
