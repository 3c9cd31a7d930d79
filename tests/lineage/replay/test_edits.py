import pytest

from tests.lineage.making import BODY, TODAY, block, change, child, state, step
from trueup.geometry.errors import BadLength, NoSuchName
from trueup.lineage.errors import (
    BadName,
    CannotStep,
    NameTaken,
    NoSuchConflict,
    NoSuchNode,
    NoSuchStep,
    NothingToChange,
)
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.replay import edits

NECK = step("b1", "lower-neck", piece="front", by="20mm")
STORE = state(block(), child("blouse", NECK))
HEAD = "1" * 40


def add(*changes, node="blouse", role=Role.CORRECTION):
    return edits.add_steps(STORE, HEAD, node, changes, role, "it binds", TODAY)


def test_a_new_node_has_a_name_nobody_has():
    draft = BlockDraft("bust-proportion", BODY)
    assert edits.new_block(STORE, "second", draft).nodes[0].draft == draft
    assert edits.new_child(STORE, "new", [ParentRecord("blouse")], True).nodes[0].is_block
    with pytest.raises(NameTaken, match="blouse"):
        edits.new_block(STORE, "blouse", draft)
    for name in ("Blouse", "a b", "../a", "", "x" * 61):
        with pytest.raises(BadName):
            edits.new_block(STORE, name, draft)
    with pytest.raises(NoSuchNode):
        edits.new_child(STORE, "new", [ParentRecord("nobody")], False)
    with pytest.raises(CannotStep):
        edits.new_child(STORE, "new", [], False)


def test_steps_stand_at_the_end_and_those_made_together_say_so():
    scoop, neck = change("scoop-armhole", piece="front", by="2mm"), change("widen-neck", by="1mm")
    (alone,) = add(scoop).steps
    assert alone.fitting is None
    assert (alone.role, alone.why, alone.date) == (Role.CORRECTION, "it binds", TODAY)
    together = add(scoop, neck)
    assert together.nodes[0].steps == (NECK, *together.steps)
    assert len({each.fitting for each in together.steps}) == 1
    assert together.subject == "Correct blouse: scoop-armhole, widen-neck"


def test_the_same_change_twice_in_a_fitting_makes_two_steps():
    scoop = change("scoop-armhole", piece="front", by="2mm")
    assert len({each.id for each in add(scoop, scoop).steps}) == 2


def test_an_id_that_is_taken_is_not_given_again():
    scoop = change("scoop-armhole", piece="front", by="2mm")
    (first,) = add(scoop).steps
    there = STORE.with_nodes([child("blouse", first)])
    (second,) = edits.add_steps(there, HEAD, "blouse", [scoop], Role.STYLE, "", TODAY).steps
    assert second.id != first.id


def test_an_amended_step_keeps_its_id_place_and_reason():
    edit = edits.amend_step(STORE, "blouse", "b1", {"by": "25mm"}, "")
    (new,) = edit.steps
    assert (new.id, new.values) == ("b1", {"piece": "front", "by": "25mm"})
    with pytest.raises(NothingToChange):
        edits.amend_step(STORE, "blouse", "b1", {"by": "2cm"}, "")
    with pytest.raises(NoSuchName, match="depth"):
        edits.amend_step(STORE, "blouse", "b1", {"depth": "2cm"}, "")
    with pytest.raises(BadLength, match="wide"):
        edits.amend_step(STORE, "blouse", "b1", {"by": "wide"}, "")
    with pytest.raises(NoSuchStep, match="b1"):
        edits.amend_step(STORE, "blouse", "nothing", {"by": "2cm"}, "")


def test_an_amount_may_be_exchanged_for_a_target():
    deeper = step("d1", "deepen-dart", dart="front.bust", by="4mm")
    there = state(block(), child("blouse", deeper))
    (new,) = edits.amend_step(there, "blouse", "d1", {"by": None, "to": "30mm"}, "").steps
    assert new.values == {"dart": "front.bust", "to": "30mm"}


def test_a_dropped_step_leaves_the_others():
    edit = edits.drop_step(STORE, "blouse", "b1", "")
    assert edit.nodes[0].steps == ()
    assert edit.steps == (NECK,)


def test_what_was_made_for_looks_alone_is_style():
    scoop = change("scoop-armhole", piece="front", by="2mm")
    assert add(scoop, role=Role.STYLE).is_style
    assert not add(scoop).is_style
    assert not edits.new_child(STORE, "new", [ParentRecord("blouse")], False).is_style


def test_a_conflict_nobody_has_cannot_be_decided():
    with pytest.raises(NoSuchConflict):
        edits.decide(STORE, HEAD, "seam-1", "accept", "", TODAY)
