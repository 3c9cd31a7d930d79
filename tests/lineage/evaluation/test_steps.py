import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.lineage.making import TODAY, change
from tests.refusals import refusing
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import amount_of, change_of, step_from, step_id
from trueup.lineage.files.records import Role, StepRecord

SCOOP = StepRecord("a1", Role.STYLE, "scoop-armhole", values={"piece": "front", "by": 2})


def test_a_bare_number_takes_the_unit_of_the_wardrobe():
    assert change_of(SCOOP, Unit.MILLIMETRE).by == 2.0
    assert change_of(SCOOP, Unit.CENTIMETRE).by == 20.0
    assert change_of(SCOOP, Unit.INCH).by == pytest.approx(50.8)
    assert amount_of(SCOOP, Unit.CENTIMETRE) == 20.0


def test_a_step_holds_its_change_in_full_units():
    made = change("scoop-armhole", piece="front", by="1/2in")
    step = step_from(made, Role.CORRECTION, "a1", why="binds", date=TODAY, fitting="f", settles="c")
    assert change_of(step, Unit.INCH) == made
    assert (step.why, step.date, step.fitting, step.settles) == ("binds", TODAY, "f", "c")
    assert step.version == made.version


def test_what_is_not_known_is_refused_by_name():
    with pytest.raises(NoSuchName, match="embroider"):
        change_of(StepRecord("a", Role.STYLE, "embroider"), Unit.MILLIMETRE)
    with pytest.raises(NoSuchName, match="99"):
        change_of(StepRecord("a", Role.STYLE, "scoop-armhole", version=99), Unit.MILLIMETRE)
    with refusing(BadParameter, match="by"):
        change_of(StepRecord("a", Role.STYLE, "add-ease"), Unit.MILLIMETRE)


def test_a_step_without_one_amount_has_none():
    bare = StepRecord("a", Role.STYLE, "shape-neck", values={"piece": "front", "shape": "v"})
    assert amount_of(bare, Unit.MILLIMETRE) is None
    assert amount_of(StepRecord("a", Role.STYLE, "embroider"), Unit.MILLIMETRE) is None


@given(st.text(max_size=5), st.text(max_size=5), st.integers(0, 3))
def test_an_id_is_the_same_for_the_same_step_made_on_the_same_version(head, node, taken):
    values = {"by": "2mm", "piece": "front"}
    turned = dict(reversed(values.items()))
    first = step_id(head, node, "scoop-armhole", values, taken)
    assert first == step_id(head, node, "scoop-armhole", turned, taken)
    others = {
        step_id(head + "1", node, "scoop-armhole", values, taken),
        step_id(head, node + "1", "scoop-armhole", values, taken),
        step_id(head, node, "add-ease", values, taken),
        step_id(head, node, "scoop-armhole", {**values, "by": "3mm"}, taken),
        step_id(head, node, "scoop-armhole", values, taken + 1),
    }
    assert first not in others
    assert len(others) == 5
