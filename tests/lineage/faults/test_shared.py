"""Who shares a fault, where it would be corrected, and whom that would not mend."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any

import pytest

from tests.lineage.making import block, child, state, step
from trueup.lineage.errors import UnknownRevision
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.faults.causes import causes
from trueup.lineage.faults.inquiry import Inquiry, NoOpenNote
from trueup.lineage.faults.shared import NotMended, SharedFault, fault_of_place, faults_of_garment
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.records import NodeRecord, ParentRecord, Role, StepRecord, replace
from trueup.lineage.files.state import State

DAY = date(2025, 3, 1)


@dataclass
class Shop:
    """A small wardrobe with its versions, in memory: nodes are put in, garments are cut."""

    states: list[State]
    garments: dict[str, GarmentRecord] = field(default_factory=dict)

    def put(self, *nodes: NodeRecord) -> None:
        self.states.append(self.states[-1].with_nodes(nodes))

    def add(self, node: str, *steps: StepRecord) -> None:
        record = self.states[-1].node(node)
        self.put(replace(record, steps=(*record.steps, *steps)))

    def cut(self, name: str, pattern: str, *notes: FitNote, **more: Any) -> None:
        self.garments[name] = GarmentRecord(name, pattern, self.head, DAY, notes=notes, **more)

    @property
    def head(self) -> str:
        return f"{len(self.states) - 1:040x}"

    def at(self, commit: str) -> Evaluator:
        if int(commit, 16) >= len(self.states):
            raise UnknownRevision(commit[:8])
        return Evaluator(self.states[int(commit, 16)], earlier=self.at)

    @property
    def inquiry(self) -> Inquiry:
        now = replace_garments(self.states[-1], self.garments)
        return Inquiry(Evaluator(now, earlier=self.at))

    def of(self, garment: str) -> SharedFault:
        (found,) = faults_of_garment(self.inquiry, garment)
        return found


def replace_garments(nodes: State, garments: dict[str, GarmentRecord]) -> State:
    return State(nodes.settings, nodes.nodes, garments)


def scoop(name: str, by: str = "8mm") -> StepRecord:
    return step(name, "scoop-armhole", Role.CORRECTION, piece="front", by=by)


def note(name: str, place: str = "front.armhole", symptom: str = "gapes", **more: Any) -> FitNote:
    return FitNote(name, symptom, place, DAY, **more)


@pytest.fixture
def shop() -> Shop:
    """A village block with a hollowed armhole, an easier block of it, and patterns of both."""
    return Shop(
        [
            state(
                block("village", scoop("deep")),
                replace(child("easy", step("wide", "lower-neck", by="5mm", piece="front")),
                        is_block=True),
                child("blouse", of="easy"),
                child("smock", of="easy"),
                child("vest", of=[ParentRecord("village", ("front", "back"))]),
                child("own", scoop("again", "3mm")),
                child("cape", of=[ParentRecord("village", ("back",))]),
            )
        ]
    )  # fmt: skip


def reasons(found: SharedFault) -> dict[str, NotMended]:
    return {each.name: each.reason for each in found.unmended}


def test_everyone_below_who_did_not_redraw_the_place_shares_the_fault(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    for garment, pattern in (("bert", "smock"), ("cora", "vest"), ("dora", "own")):
        shop.cut(garment, pattern)
    found = shop.of("anna")
    assert (found.node, found.step.id if found.step else "") == ("village", "deep")
    assert found.patterns == ("blouse", "smock", "vest")
    assert found.blocks == ("village", "easy")
    assert [each.garment for each in found.garments] == ["anna", "bert", "cora"]


def test_nodes_are_ranked_from_the_pattern_up_by_the_garments_they_would_mend(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock")
    shop.cut("cora", "vest")
    found = shop.of("anna")
    assert [(rank.node, rank.garments) for rank in found.ranks] == [
        ("blouse", ("anna",)),
        ("easy", ("anna", "bert")),
        ("village", ("anna", "bert", "cora")),
    ]
    assert found.best
    assert found.best.node == "village"


def test_of_equals_the_highest_node_is_recommended(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    found = shop.of("anna")
    assert found.best
    assert found.best.node == "village"


def test_own_steps_and_other_pieces_keep_a_correction_out(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("cora", "vest")
    found = shop.of("anna")
    assert reasons(found) == {"own": NotMended.OWN_STEP, "cape": NotMended.ELSEWHERE}
    says = {each.name: each.says for each in found.unmended}
    assert "own's own scoop-armhole (again)" in says["own"]
    assert "takes no front.armhole from village" in says["cape"]


def test_a_piece_taken_by_another_way_keeps_a_correction_out(shop: Shop) -> None:
    other = child("graft", of=[ParentRecord("easy", ("back",)), ParentRecord("own", ("front",))])
    shop.put(other)
    shop.cut("anna", "blouse", note("a", "front.neck"))
    shop.cut("bert", "smock")
    found = shop.of("anna")
    assert found.best
    assert found.best.node == "easy"
    assert reasons(found)["graft"] is NotMended.ELSEWHERE


def test_a_held_pattern_shares_the_fault_and_is_not_mended_from_above(shop: Shop) -> None:
    held = replace(shop.states[-1].node("vest"), parents=(
        ParentRecord("village", ("front", "back"), shop.head),))  # fmt: skip
    shop.put(held)
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock")
    shop.cut("cora", "vest", note("c"))
    found = shop.of("anna")
    assert [each.garment for each in found.garments] == ["anna", "bert", "cora"]
    assert {rank.node: rank.garments for rank in found.ranks}["village"] == ("anna", "bert")
    at_village = fault_of_place(shop.inquiry, "village", "front.armhole")
    assert reasons(at_village)["vest"] is NotMended.HELD
    assert "vest follows an earlier version of village" in {
        each.says for each in at_village.unmended
    }
    own = shop.of("cora")
    assert {rank.node: rank.garments for rank in own.ranks} == {
        "vest": ("cora",),
        "village": ("anna", "bert"),
    }


def test_a_garment_cut_before_the_step_does_not_share_its_fault(shop: Shop) -> None:
    shop.cut("early", "blouse")
    shop.add("village", scoop("deeper", "4mm"))
    shop.cut("late", "blouse", note("l"))
    found = shop.of("late")
    assert [each.garment for each in found.garments] == ["late"]
    assert reasons(found)["early"] is NotMended.OLDER


def test_a_garment_whose_pattern_was_corrected_since_still_has_the_fault_in_its_cloth(
    shop: Shop,
) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock")
    shop.add("smock", scoop("mend", "-5mm"))
    found = shop.of("anna")
    assert {each.garment: each.corrected for each in found.garments} == {
        "anna": False,
        "bert": True,
    }
    village = {rank.node: rank.garments for rank in found.ranks}["village"]
    assert village == ("anna",)
    assert reasons(found)["bert"] is NotMended.CORRECTED
    seen_from_above = reasons(fault_of_place(shop.inquiry, "easy", "front.armhole"))
    assert seen_from_above["smock"] is NotMended.CORRECTED


def test_once_the_block_is_corrected_nothing_is_left_to_correct(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.add("village", scoop("mend", "-5mm"))
    found = shop.of("anna")
    assert found.best is None
    assert found.now_step is not None
    assert (found.now_node, found.now_step.id) == ("village", "mend")
    assert not found.patterns
    assert reasons(found)["anna"] is NotMended.CORRECTED


def test_an_amended_step_is_another_shape_though_its_id_stays(shop: Shop) -> None:
    shop.cut("old", "blouse", note("o"))
    shop.put(replace(shop.states[-1].node("village"), steps=(scoop("deep", "11mm"),)))
    shop.cut("new", "blouse", note("n"))
    assert [each.garment for each in shop.of("new").garments] == ["new"]
    assert [each.garment for each in shop.of("old").garments] == ["old"]


def test_alike_is_not_the_same(shop: Shop) -> None:
    shop.put(child("twin", scoop("made-alike", "3mm")))
    shop.cut("anna", "own", note("a"))
    shop.cut("bert", "twin", note("b"))
    assert [each.garment for each in shop.of("anna").garments] == ["anna"]
    assert [cause.is_common for cause in causes(shop.inquiry).causes] == [False, False]


def test_a_step_moved_up_since_or_joined_with_another_makers_is_the_same_step(shop: Shop) -> None:
    shop.cut("anna", "own", note("a"))
    record = shop.states[-1].node("own")
    village = shop.states[-1].node("village")
    joined = replace(scoop("again", "3mm"), id="theirs", same_as=("again",))
    shop.put(replace(record, steps=()), replace(village, steps=(*village.steps, joined)))
    shop.cut("bert", "own", note("b"))
    found = shop.of("anna")
    assert [each.garment for each in found.garments] == ["anna", "bert"]
    assert found.node == "village"
    assert not any(each.corrected for each in found.garments)


def test_a_retired_garment_shares_the_fault_and_is_not_counted(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("old", "blouse", status=Status.RETIRED)
    found = shop.of("anna")
    assert [each.garment for each in found.garments] == ["anna", "old"]
    assert found.best
    assert found.best.garments == ("anna",)
    assert reasons(found)["old"] is NotMended.RETIRED


def test_a_garment_of_a_pattern_that_is_gone_still_shares_the_fault(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock", note("b"))
    nodes = {name: node for name, node in shop.states[-1].nodes.items() if name != "smock"}
    shop.states.append(State(shop.states[-1].settings, nodes))
    found = shop.of("anna")
    assert [each.garment for each in found.garments] == ["anna", "bert"]
    assert reasons(found)["bert"] is NotMended.DELETED
    assert shop.of("bert").best is not None


def test_a_garment_whose_version_is_gone_is_named_and_holds_nothing_up(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.garments["lost"] = GarmentRecord("lost", "smock", "f" * 40, DAY, notes=(note("x"),))
    inquiry = shop.inquiry
    (found,) = faults_of_garment(inquiry, "anna")
    assert [each.garment for each in found.garments] == ["anna"]
    assert list(inquiry.unknown) == ["lost"]
    assert [each.seen.garment.name for each in causes(inquiry).unplaced] == ["lost"]


def test_a_level_is_shared_only_where_all_its_lines_are(shop: Shop) -> None:
    shop.cut("anna", "vest", note("a", "bust"))
    shop.cut("bert", "smock")
    shop.cut("dora", "own")
    found = shop.of("anna")
    assert found.lines == ("back.armhole", "back.side", "front.armhole", "front.side")
    assert [each.garment for each in found.garments] == ["anna", "bert"]
    assert reasons(found)["own"] is NotMended.OWN_STEP


def test_a_dart_inside_a_piece_has_an_origin_of_its_own(shop: Shop) -> None:
    deeper = step("deeper", "deepen-dart", dart="front.waist", by="4mm")
    shop.add("village", step("long", "lengthen", by="200mm"))
    shop.add("easy", deeper)
    shop.cut("anna", "vest", note("a", "front.waist"))
    shop.cut("bert", "smock", note("b", "front.waist"))
    assert (shop.of("anna").node, shop.of("bert").node) == ("village", "easy")
    assert [each.garment for each in shop.of("bert").garments] == ["bert"]


# --- all open notes by common cause -----------------------------------------------------------


def test_notes_of_one_kind_from_one_line_have_a_common_cause(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock", note("b"))
    shop.cut("cora", "vest")
    shop.cut("dora", "own", note("d"))
    found = causes(shop.inquiry)
    (cause,) = found.common
    assert (cause.node, cause.place) == ("village", "front.armhole")
    assert [seen.note.id for seen in cause.notes] == ["a", "b"]
    assert cause.garments == ("anna", "bert", "cora")
    assert cause.patterns == ("blouse", "smock", "vest")
    assert [seen.note.id for each in found.single for seen in each.notes] == ["d"]


def test_other_symptoms_places_and_mended_notes_have_no_part_in_a_cause(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"))
    shop.cut("bert", "smock", note("b", symptom="binds"))
    shop.cut("cora", "vest", note("c", "back.armhole"))
    shop.cut("emma", "vest", note("e", resolved_by=("mended",)))
    found = causes(shop.inquiry)
    assert found.common == ()
    assert [seen.note.id for each in found.single for seen in each.notes] == ["c", "b", "a"]


def test_what_no_word_of_the_vocabulary_says_is_told_apart_by_its_words(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a", symptom="other", words="It itches"))
    shop.cut("bert", "smock", note("b", symptom="other", words="it  ITCHES"))
    shop.cut("cora", "vest", note("c", symptom="other", words="it squeaks"))
    (cause,) = causes(shop.inquiry).common
    assert [seen.note.id for seen in cause.notes] == ["a", "b"]


def test_two_notes_on_one_garment_are_no_common_cause(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a"), note("b"))
    assert causes(shop.inquiry).common == ()


def test_a_garment_without_an_open_note_is_refused_in_a_sentence(shop: Shop) -> None:
    shop.cut("anna", "blouse", note("a", resolved_by=("mended",)))
    with pytest.raises(NoOpenNote, match="anna has no open fit note; name a node"):
        faults_of_garment(shop.inquiry, "anna")
    with pytest.raises(NoOpenNote, match='"zz" is no fit note of anna; it has a'):
        faults_of_garment(shop.inquiry, "anna", "zz")
    assert faults_of_garment(shop.inquiry, "anna", "a")
