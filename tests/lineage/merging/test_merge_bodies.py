"""Two makers measure one body: by the day and by the measurement, and nothing is lost."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.lineage.making import BODY, block
from trueup.geometry.units import Unit
from trueup.lineage.files.bodies.records import BodyRecord, MeasurementSet
from trueup.lineage.files.records import DraftedFor, Settings, replace
from trueup.lineage.files.state import State
from trueup.lineage.merging.bodies import merge_body
from trueup.lineage.merging.nodes import merge_node
from trueup.lineage.merging.states import merge_states
from trueup.lineage.merging.three_way import Sides
from trueup.lineage.replay.curing.choosing import chosen
from trueup.lineage.store.joins.merge_errors import CannotJoin

DAYS = [datetime.date(2025, month, 1) for month in (1, 4, 7)]
SIDES = Sides("Mina", "Marta")


def ada(*sets: MeasurementSet, wearer: str = "Ada") -> BodyRecord:
    return BodyRecord("ada", wearer, sets)


def on(day: int, words: str = "", **taken: str) -> MeasurementSet:
    return MeasurementSet(DAYS[day], taken, words=words)


def merged(base: BodyRecord | None, ours: BodyRecord, theirs: BodyRecord) -> BodyRecord:
    return merge_body(base, ours, theirs, SIDES, Unit.CENTIMETRE)[0]


def test_sets_of_both_are_taken_in_the_order_of_their_days() -> None:
    base = ada(on(0, bust="92cm"))
    ours, theirs = ada(*base.sets, on(2, bust="93cm")), ada(*base.sets, on(1, waist="70cm"))
    both, notes = merge_body(base, ours, theirs, SIDES, Unit.CENTIMETRE)
    assert both.sets == (on(0, bust="92cm"), on(1, waist="70cm"), on(2, bust="93cm"))
    assert [note.says for note in notes] == ["the set of 2025-04-01, of Marta"]


def test_one_day_measured_by_both_is_one_set() -> None:
    ours, theirs = ada(on(0, "tired", bust="92cm")), ada(on(0, "late", bust="920mm", hip="98cm"))
    assert merged(None, ours, theirs) == ada(on(0, "late; tired", bust="92cm", hip="98cm"))


def test_a_set_that_one_side_took_out_is_gone_unless_the_other_changed_it() -> None:
    base = ada(on(0, bust="92cm"), on(1, bust="93cm"))
    changed = ada(on(0, bust="92cm"), on(1, bust="94cm"))
    assert merged(base, ada(on(0, bust="92cm")), base) == ada(on(0, bust="92cm"))
    assert merged(base, ada(on(0, bust="92cm")), changed).sets[1] == on(1, bust="94cm")


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (ada(on(0, bust="92cm")), ada(on(0, bust="93cm"))),
        (ada(wearer="Ada"), ada(wearer="Adam")),
        (
            ada(MeasurementSet(DAYS[0], {}, age=8)),
            ada(MeasurementSet(DAYS[0], {}, age=9)),
        ),
    ],
)
def test_two_answers_to_one_question_are_refused_with_both(
    ours: BodyRecord, theirs: BodyRecord
) -> None:
    with pytest.raises(CannotJoin, match=r'bodies/ada.toml.*" for Mina and "'):
        merged(None, ours, theirs)


SETS = st.dictionaries(
    st.sampled_from(DAYS),
    st.dictionaries(st.sampled_from(["bust", "waist"]), st.sampled_from(["90cm", "91cm"])),
)


def of(sets: dict[datetime.date, dict[str, str]]) -> BodyRecord:
    return ada(*(MeasurementSet(day, sets[day]) for day in sorted(sets)))


@given(SETS, SETS, SETS)
def test_whoever_merges_the_same_comes_out_and_nothing_new_is_lost(
    base: dict[datetime.date, dict[str, str]],
    ours: dict[datetime.date, dict[str, str]],
    theirs: dict[datetime.date, dict[str, str]],
) -> None:
    try:
        both = merged(of(base), of(ours), of(theirs))
    except CannotJoin:
        with pytest.raises(CannotJoin):
            merged(of(base), of(theirs), of(ours))
        return
    other = merged(of(base), of(theirs), of(ours))
    assert {s.date: s.taken for s in other.sets} == {s.date: s.taken for s in both.sets}
    found = {(s.date, name): text for s in both.sets for name, text in s.taken.items()}
    for side in (ours, theirs):
        for day, taken in side.items():
            for name, text in taken.items():
                if base.get(day, {}).get(name) != text:
                    assert found[day, name] == text


def test_bodies_are_part_of_what_two_wardrobes_join() -> None:
    def world(**bodies: BodyRecord) -> State:
        return State(Settings("w"), {}, bodies=bodies)

    base = world(ada=ada(on(0, bust="92cm")))
    ours = world(ada=base.bodies["ada"])
    found = merge_states(base, ours, world(bert=BodyRecord("bert", "B")))
    assert list(found.state.bodies) == ["bert"]
    assert {(n.what, n.place) for n in found.notes} == {("dropped", "ada"), ("came-in", "bert")}


def test_a_block_is_for_whom_its_draft_is() -> None:
    def village(body: dict[str, str], day: int) -> object:
        made = block("village")
        drafted = replace(made.draft, body={**made.draft.body, **body})
        return replace(made, draft=drafted, drafted_for=DraftedFor("ada", DAYS[day]))

    base = village({}, 0)
    joined = merge_node(base, village({"bust": "93cm"}, 1), village({"waist": "70cm"}, 2), SIDES,
                        Unit.MILLIMETRE)  # fmt: skip
    assert joined.node.drafted_for == DraftedFor("ada", DAYS[2])
    assert joined.node.draft.body == {**BODY, "bust": "93cm", "waist": "70cm"}
    asked = merge_node(base, village({"bust": "93cm"}, 1), village({"bust": "94cm"}, 2), SIDES,
                       Unit.MILLIMETRE)  # fmt: skip
    assert asked.node.drafted_for == DraftedFor("ada", DAYS[1])
    (question,) = asked.questions
    theirs = next(each for each in question.remedies if each.name == "keep-theirs")
    node, _ = chosen(asked.node, question, theirs, Unit.MILLIMETRE)
    assert (node.draft.body["bust"], node.drafted_for) == ("94cm", DraftedFor("ada", DAYS[2]))
