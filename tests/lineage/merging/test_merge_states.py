"""Merging two wardrobes from literals: nothing either maker did is lost, whoever merges."""

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import BODY, block, child, state, step
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, NotedSide, Status
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictKind,
    NodeRecord,
    ParentRecord,
    Role,
    Settings,
    StepRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.merging.states import Merged, merge_states
from trueup.lineage.merging.three_way import in_order
from trueup.lineage.store.joins.merge_errors import CannotJoin

CUT_ON = datetime.date(2025, 3, 1)


def scoop(step_id: str, by: str = "5mm", **more: str) -> StepRecord:
    return step(step_id, "scoop-armhole", Role.CORRECTION, piece="front", by=by, **more)


def longer(step_id: str, by: str = "20mm") -> StepRecord:
    return step(step_id, "lengthen", by=by)


def chain(merged: Merged, name: str = "village") -> list[str]:
    return [each.id for each in merged.state.node(name).steps]


def merged_chains(
    base: list[StepRecord], ours: list[StepRecord], theirs: list[StepRecord]
) -> Merged:
    return merge_states(*(state(block("village", *each)) for each in (base, ours, theirs)))


# --- order -------------------------------------------------------------------------------------


def test_base_comes_first_then_ours_then_theirs():
    merged = merged_chains(
        [longer("b")], [longer("b"), scoop("o")], [longer("b"), step("t", "raise-cap", by="5mm")]
    )
    assert chain(merged) == ["b", "o", "t"]


def test_a_step_put_in_the_middle_stays_in_the_middle():
    assert in_order("ab", "abo", "atb") == ("a", "t", "b", "o")


# --- the same ----------------------------------------------------------------------------------


def test_one_amount_written_in_two_units_is_one_change():
    merged = merged_chains(
        [], [scoop("o", "20mm")], [replace(scoop("t"), values={"piece": "front", "by": "2cm"})]
    )
    (one,) = merged.state.node("village").steps
    assert (one.id, one.same_as) == ("o", ("t",))
    assert merged.questions == ()
    assert [note.what for note in merged.notes] == ["same"]


def test_made_twice_by_each_it_stays_made_twice():
    ours, theirs = [longer("o1"), longer("o2")], [longer("t1"), longer("t2")]
    assert chain(merged_chains([], ours, theirs)) == ["o1", "o2"]


def test_what_was_joined_once_is_known_by_both_ids_ever_after():
    joined = replace(scoop("o", "20mm"), same_as=("t",))
    amended = merged_chains([scoop("t", "20mm")], [joined], [scoop("t", "25mm")])
    (one,) = amended.state.node("village").steps
    assert {one.id, *one.same_as} == {"o", "t"}
    assert one.values["by"] == "25mm"
    assert amended.questions == ()
    dropped = merged_chains([scoop("t", "20mm")], [joined], [])
    assert chain(dropped) == []


def test_of_a_style_and_a_correction_that_are_the_same_a_correction_stays():
    merged = merged_chains([], [replace(scoop("o"), role=Role.STYLE)], [scoop("t")])
    (one,) = merged.state.node("village").steps
    assert one.role is Role.CORRECTION


# --- contradictions ----------------------------------------------------------------------------


def test_the_question_is_the_same_whoever_merges():
    base, ours, theirs = [scoop("s")], [scoop("s", "15mm")], [scoop("s", "25mm")]
    (one,) = merged_chains(base, ours, theirs).questions
    (other,) = merged_chains(base, theirs, ours).questions
    assert one.id == other.id
    assert one.kind is ConflictKind.TWO_MAKERS


def test_a_truing_both_made_the_same_is_no_question():
    refit = [step("o", "refit-cap", to="30mm")], [step("t", "refit-cap", to="30mm")]
    assert merged_chains([], *refit).questions == ()
    other = [step("t", "refit-cap", to="35mm")]
    assert len(merged_chains([], refit[0], other).questions) == 1


def test_one_dart_moved_to_two_places_is_asked_about():
    ours = step("o", "rotate-dart", dart="front.bust", edge="front.side", at="50% from underarm")
    theirs = step(
        "t", "rotate-dart", dart="front.bust", edge="front.neck", at="9mm from neck-point"
    )
    assert len(merged_chains([], [ours], [theirs]).questions) == 1


def test_two_kinds_of_change_on_one_dart_both_stand_and_are_not_asked_about():
    deeper = step("o", "deepen-dart", dart="front.bust", by="4mm")
    moved = step("t", "move-apex", dart="front.bust", by="10mm")
    merged = merged_chains([], [deeper], [moved])
    assert merged.questions == ()
    assert chain(merged) == ["o", "t"]
    amended = step("o", "deepen-dart", dart="front.bust", by="6mm")
    assert merged_chains([deeper], [amended], [deeper, moved]).questions == ()


def drafted(**body: str) -> State:
    node = NodeRecord("village", True, draft=BlockDraft("bust-proportion", {**BODY, **body}))
    return state(node)


def test_measurements_are_merged_one_by_one():
    merged = merge_states(drafted(), drafted(bust="90cm"), drafted(waist="70cm"))
    draft = merged.state.node("village").draft
    assert draft is not None
    assert (draft.body["bust"], draft.body["waist"]) == ("90cm", "70cm")
    assert merged.questions == ()


def test_one_measurement_taken_in_two_ways_is_a_conflict():
    merged = merge_states(drafted(), drafted(bust="90cm"), drafted(bust="92cm"))
    (question,) = merged.questions
    assert "90cm" in question.says.facts["mine"]
    assert "92cm" in question.says.facts["other"]
    assert question in merged.state.node("village").conflicts


def test_a_parent_held_on_two_versions_is_a_conflict():
    versions = (None, "a" * 40, "b" * 40)
    sides = [state(block(), child("vest", of=[ParentRecord("village", hold=v)])) for v in versions]
    (question,) = merge_states(*sides).questions
    assert question.arose_at == "vest"


# --- nodes, settings ---------------------------------------------------------------------------


def test_a_node_deleted_and_changed_is_kept():
    base = state(block(), child("vest"))
    merged = merge_states(base, state(block()), state(block(), child("vest", longer("l"))))
    assert chain(merged, "vest") == ["l"]
    assert merge_states(base, state(block()), base).state.nodes.keys() == {"village"}


def test_a_node_deleted_and_derived_from_is_kept():
    base = state(block(), child("vest"))
    theirs = state(block(), child("vest"), child("cape", of="vest"))
    assert merge_states(base, state(block()), theirs).state.in_order == ("village", "vest", "cape")


def test_one_child_both_derived_is_one_child_with_the_steps_of_both():
    base = state(block())
    ours, theirs = (base.with_nodes([child("vest", each)]) for each in (longer("o"), scoop("t")))
    assert chain(merge_states(base, ours, theirs), "vest") == ["o", "t"]


def test_a_ring_is_refused():
    base = state(block(), child("a"), child("b"))
    ours = base.with_nodes([child("a", of="b")])
    theirs = base.with_nodes([child("b", of="a")])
    with pytest.raises(CannotJoin, match=r"(a -> b -> a|b -> a -> b)"):
        merge_states(base, ours, theirs)


def test_a_unit_one_side_changed_is_taken_and_two_are_refused():
    base, cm, inch = (State(Settings("w", unit), {}) for unit in ("mm", "cm", "in"))
    assert merge_states(base, base, cm).state.settings.unit == "cm"
    with pytest.raises(CannotJoin, match="unit"):
        merge_states(base, cm, inch)


# --- garments ----------------------------------------------------------------------------------


def worn(*notes: FitNote, **more: object) -> State:
    facts = {"pattern": "vest", "cut_from": "a" * 40, "cut_on": CUT_ON, **more}
    made = GarmentRecord(name="ophelia", notes=notes, **facts)  # type: ignore[arg-type]
    return State(Settings("w"), {}, {"ophelia": made})


def gapes(name: str, **more: object) -> FitNote:
    return FitNote(name, "gapes", "front.armhole", CUT_ON, NotedSide.BOTH, **more)  # type: ignore[arg-type]


def test_notes_are_merged_by_id_and_what_resolved_them_is_united():
    base = worn(gapes("n"))
    ours = worn(gapes("n", resolved_by=("s1",)), gapes("o"))
    theirs = worn(gapes("n", resolved_by=("s2",)), gapes("t"))
    notes = merge_states(base, ours, theirs).state.garment("ophelia").notes
    assert [note.id for note in notes] == ["n", "o", "t"]
    assert notes[0].resolved_by == ("s1", "s2")


def test_the_later_status_holds():
    sides = (worn(status=each) for each in (Status.CUT, Status.ALTERED, Status.WORN))
    assert merge_states(*sides).state.garment("ophelia").status is Status.ALTERED


def test_two_fabrics_of_one_garment_are_refused_with_both():
    with pytest.raises(CannotJoin, match=r'"wool" .* "silk"'):
        merge_states(worn(), worn(fabric="wool"), worn(fabric="silk"))


def test_other_cloth_under_one_name_is_refused():
    nothing = State(Settings("w"), {})
    with pytest.raises(CannotJoin, match="rename"):
        merge_states(nothing, worn(), worn(pattern="cape"))


def test_a_garment_and_a_pattern_of_one_name_are_refused():
    base = state(block())
    theirs = State(base.settings, base.nodes, worn().garments)
    with pytest.raises(CannotJoin, match="same name"):
        merge_states(base, base.with_nodes([child("ophelia")]), theirs)


# --- any edits on two sides --------------------------------------------------------------------

AMOUNTS = st.sampled_from(["5mm", "8mm", "12mm"])
KINDS = st.sampled_from(["lengthen", "scoop-armhole", "widen-neck"])


def made(kind: str, step_id: str, by: str) -> StepRecord:
    return scoop(step_id, by) if kind == "scoop-armhole" else step(step_id, kind, by=by)


@st.composite
def bases(draw: st.DrawFn) -> State:
    nodes = [block("village", *draw(chains("v")))]
    for index, name in enumerate(draw(st.sets(st.sampled_from("abc"), max_size=3))):
        parent = draw(st.sampled_from([node.name for node in nodes]))
        nodes.append(child(name, *draw(chains(f"{name}{index}")), of=parent))
    return state(*nodes)


def chains(prefix: str) -> st.SearchStrategy[list[StepRecord]]:
    drawn = st.lists(st.tuples(KINDS, AMOUNTS), max_size=3)
    return drawn.map(lambda each: [made(k, f"{prefix}-{i}", by) for i, (k, by) in enumerate(each)])


@st.composite
def edited(draw: st.DrawFn, base: State, side: str) -> State:
    """One maker's work on a wardrobe: steps made, amended and dropped, children derived."""
    now = base
    for index in range(draw(st.integers(0, 5))):
        node = now.node(draw(st.sampled_from(sorted(now.nodes))))
        what = draw(st.sampled_from(["add", "amend", "drop", "derive"]))
        at = draw(st.integers(0, max(len(node.steps) - 1, 0)))
        if what == "derive":
            now = now.with_nodes([child(f"{side}{index}", of=node.name)])
        elif what == "add" or not node.steps:
            # Some ids are those another maker's step would have: the same, made from one version.
            kind, by = draw(KINDS), draw(AMOUNTS)
            shared = draw(st.booleans())
            name = f"same-{node.name}-{kind}-{by}" if shared else f"{side}-{index}"
            if node.step(name) is None:
                now = now.with_nodes([replace(node, steps=(*node.steps, made(kind, name, by)))])
        else:
            old = node.steps[at]
            new = replace(old, values={**old.values, "by": draw(AMOUNTS)})
            steps = [s if s.id != old.id else new for s in node.steps]
            if what == "drop":
                steps.remove(new)
            now = now.with_nodes([replace(node, steps=tuple(steps))])
    return now


@st.composite
def two_makers(draw: st.DrawFn) -> tuple[State, State, State]:
    base = draw(bases())
    return base, draw(edited(base, "o")), draw(edited(base, "t"))


def steps_of(one: State) -> dict[tuple[str, str], StepRecord]:
    return {(n.name, s.id): s for n in one.nodes.values() for s in n.steps}


@settings(max_examples=300)
@given(two_makers())
def test_no_step_of_either_maker_is_lost(versions):
    base, ours, theirs = versions
    merged = merge_states(base, ours, theirs)
    was = steps_of(base)
    for side, other in ((ours, theirs), (theirs, ours)):
        for (node, name), made_step in steps_of(side).items():
            there = merged.state.node(node).step(name)
            dropped = other.node(node).step(name) is None if node in other.nodes else False
            untouched = was.get((node, name)) == made_step
            if (node, name) in was and dropped and untouched:
                assert there is None
            else:
                assert there is not None
    known = {name for one in (ours, theirs) for (_, name) in steps_of(one)}
    for node in merged.state.nodes.values():
        ids = [name for s in node.steps for name in (s.id, *s.same_as)]
        assert len(ids) == len(set(ids))
        assert set(ids) <= known


@settings(max_examples=300)
@given(two_makers())
def test_what_only_one_maker_amended_has_that_makers_amounts(versions):
    base, ours, theirs = versions
    merged = merge_states(base, ours, theirs).state
    for (node, name), was in steps_of(base).items():
        here, there = (one.node(node).step(name) for one in (ours, theirs))
        now = merged.node(node).step(name)
        if here and there and was in (here, there):
            assert now is not None
            assert now.values == (there if here == was else here).values
        if here and there and was not in (here, there) and here != there:
            codes = [c.code for c in merged.node(node).open_conflicts]
            assert f"two-makers:step:{name}" in codes


@settings(max_examples=300)
@given(two_makers())
def test_merging_is_the_same_whoever_merges_up_to_order(versions):
    base, ours, theirs = versions
    one, other = merge_states(base, ours, theirs), merge_states(base, theirs, ours)
    assert {q.id for q in one.questions} == {q.id for q in other.questions}
    assert one.state.nodes.keys() == other.state.nodes.keys()
    asked = {q.change for q in one.questions}
    for name, node in one.state.nodes.items():
        mine, others = ({s.id: s for s in n.steps} for n in (node, other.state.node(name)))
        assert mine.keys() == others.keys()
        for step_id, each in mine.items():
            if step_id not in asked:
                assert each.values == others[step_id].values


@settings(max_examples=100)
@given(two_makers())
def test_merging_with_itself_or_what_it_comes_from_changes_nothing(versions):
    base, ours, _ = versions
    for before, one, other in ((base, ours, ours), (base, ours, base), (ours, ours, ours)):
        merged = merge_states(before, one, other)
        assert merged.state.nodes == ours.nodes
        assert merged.questions == ()
    assert merge_states(base, base, ours).state.nodes == ours.nodes


@settings(max_examples=100)
@given(two_makers())
def test_merged_once_there_is_nothing_left_to_merge(versions):
    base, ours, theirs = versions
    merged = merge_states(base, ours, theirs).state
    again = merge_states(theirs, merged, theirs)
    assert again.state.nodes == merged.nodes
    assert again.questions == ()


def test_a_place_where_one_made_two_changes_is_asked_about_once():
    ours, theirs = [longer("o")], [longer("t1", "30mm"), longer("t2", "40mm")]
    (question,) = merged_chains([], ours, theirs).questions
    assert {tuple(r.values.get("drop", ())) for r in question.remedies} == {
        ("t1", "t2"),
        ("o",),
        (),
    }


@pytest.mark.parametrize("swapped", [False, True])
def test_a_step_added_where_the_other_amended_one_is_asked_about(swapped):
    base, amended = [scoop("b", "5mm")], [scoop("b", "10mm")]
    added = [*base, scoop("n", "6mm")]
    merged = merged_chains(base, *((added, amended) if swapped else (amended, added)))
    assert chain(merged) == ["b", "n"]
    (question,) = merged.questions
    ways = {r.name: r.values for r in question.remedies}
    keep_added, keep_amended = ("keep-ours", "keep-theirs")[:: 1 if swapped else -1]
    assert ways[keep_added]["step"] == "b"
    assert ways[keep_added]["values"]["by"] == "5mm"
    assert ways[keep_amended] == {"drop": ["n"]}
