"""What can be measured anew, and what is refused in one sentence."""

import pytest

from tests.lineage.making import BODY, block, child, state, step
from trueup.geometry.errors import BadLength, BadParameter, NoSuchName
from trueup.lineage.errors import NoSuchNode, NotDrafted, NothingToChange
from trueup.lineage.files.records import NodeRecord, ParentRecord, TracedDraft
from trueup.lineage.replay.drafted_anew.edit import remeasure

SCOOPED = block("village", step("s", "scoop-armhole", piece="front", by="4mm"))


def test_a_block_keeps_its_steps_and_the_measurements_not_taken():
    edit = remeasure(state(SCOOPED), "village", {"bust": "930", "waist": "68cm"}, "grown")
    (node,) = edit.nodes
    assert node.draft is not None
    assert node.draft.body == {**BODY, "bust": "930mm"}
    assert node.steps == SCOOPED.steps
    assert (edit.steps, edit.why) == ((), "grown")
    assert edit.subject == "Re-measure village: bust 88cm -> 930mm"


def test_the_same_measurements_change_nothing():
    with pytest.raises(NothingToChange, match="drafted from these measurements already"):
        remeasure(state(block()), "village", {"bust": "880mm", "waist": "68 cm"}, "")


@pytest.mark.parametrize(
    ("body", "error"),
    [
        ({"bust": "930cm"}, BadParameter),  # no body has it
        ({"waist": "125cm"}, BadParameter),  # at odds with the bust
        ({"hip": "98cm"}, NoSuchName),  # not of this system
        ({"bust": "broad"}, BadLength),
    ],
)
def test_what_no_block_can_be_drafted_from_is_refused(body, error):
    with pytest.raises(error):
        remeasure(state(block()), "village", body, "")


def test_a_derived_node_names_the_blocks_it_comes_from():
    two = child(
        "gown", of=[ParentRecord("village", ("front",)), ParentRecord("other", ("sleeve",))]
    )
    nodes = (block(), block("other"), child("blouse"), child("short", of="blouse"), two)
    with pytest.raises(NotDrafted) as refused:
        remeasure(state(*nodes), "short", {"bust": "93cm"}, "")
    assert refused.value.blocks == ("village",)
    assert str(refused.value) == (
        "short is not drafted from measurements itself; re-measure what it derives from: village."
    )
    with pytest.raises(NotDrafted) as refused:
        remeasure(state(*nodes), "gown", {"bust": "93cm"}, "")
    assert set(refused.value.blocks) == {"village", "other"}


def test_a_traced_block_has_no_measurements():
    traced = NodeRecord("drawn", True, traced=TracedDraft("drawn.svg"))
    for name in ("drawn", "vest"):
        with pytest.raises(NotDrafted, match="it came as a drawing; correct it instead"):
            remeasure(state(traced, child("vest", of="drawn")), name, {"bust": "93cm"}, "")


def test_a_node_that_is_not_there_is_not_there():
    with pytest.raises(NoSuchNode):
        remeasure(state(block()), "vilage", {"bust": "93cm"}, "")
