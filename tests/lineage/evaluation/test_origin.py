import pytest

from tests.lineage.making import block, child, state, step
from trueup.geometry.errors import NoSuchName
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.origin import Origin, origin, origins
from trueup.lineage.files.records import ParentRecord

BOTH = [ParentRecord("easy", ("front", "back")), ParentRecord("puff", ("sleeve",))]
SCOOP = step("e1", "scoop-armhole", piece="front", by="5mm")
RAISE = step("p1", "raise-cap", by="10mm")
TURN = step("b1", "rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm")
STORE = state(
    block(),
    child("easy", SCOOP),
    child("puff", RAISE),
    child("blouse", TURN, of=BOTH),
)


def test_a_line_comes_from_the_last_change_that_shaped_it():
    of = Evaluator(STORE)
    assert origin(of, "easy", "front", "armhole") == Origin("easy", SCOOP)
    assert origin(of, "blouse", "sleeve", "cap") == Origin("puff", RAISE)
    assert origin(of, "blouse", "front", "side") == Origin("blouse", TURN)
    assert origin(of, "blouse", "back", "neck") == Origin("village", None)


def test_turning_a_line_bodily_does_not_shape_it():
    # Closing the bust dart turns shoulder and neck about the apex; their shape is the block's.
    found = origin(Evaluator(STORE), "blouse", "front", "shoulder")
    assert found == Origin("village", None)


def test_every_edge_has_an_origin():
    of = Evaluator(STORE)
    found = origins(of, "blouse")
    assert set(found) == set(of.draft("blouse").edge_names)
    nodes = {each.node for each in found.values()}
    assert {"village", "puff", "blouse"} <= nodes <= set(STORE.nodes)


def test_a_correction_of_the_block_becomes_the_origin_below():
    corrected = step("v1", "scoop-armhole", piece="back", by="2mm")
    of = Evaluator(STORE.with_nodes([block("village", corrected)]))
    assert origin(of, "blouse", "back", "armhole") == Origin("village", corrected)


def test_the_origin_of_a_held_pattern_lies_in_the_version_it_stays_on():
    later = step("e2", "lower-neck", piece="front", by="20mm")
    held = child("blouse", of=[ParentRecord("easy", hold="then")])
    now = state(block(), child("easy", SCOOP, later), held)
    of = Evaluator(now, earlier=lambda commit: {"then": Evaluator(STORE)}[commit])
    assert origin(of, "blouse", "front", "neck") == Origin("village", None)
    assert origin(of, "easy", "front", "neck") == Origin("easy", later)
    assert origin(of, "blouse", "front", "armhole") == Origin("easy", SCOOP)


def test_an_edge_that_is_not_there_is_named():
    with pytest.raises(NoSuchName, match="armhole"):
        origin(Evaluator(STORE), "easy", "front", "armhol")


def test_what_shaped_both_sides_is_the_origin_of_each_once_they_differ():
    other = step("w2", "lower-neck", piece="front", by="20mm", side="left")
    of = Evaluator(state(block(), child("wrap", SCOOP, other)))
    assert origin(of, "wrap", "left-front", "armhole") == Origin("wrap", SCOOP)
    assert origin(of, "wrap", "right-front", "armhole") == Origin("wrap", SCOOP)
    assert origin(of, "wrap", "left-front", "neck") == Origin("wrap", other)
    assert origin(of, "wrap", "right-front", "neck") == Origin("village", None)
