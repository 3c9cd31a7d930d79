"""Many steps of all sorts one after another: nothing contradicts itself at any moment."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.families import cases, corrections, styles
from tests.lineage.making import Bench, change, state
from tests.lineage.measuring import out_of_range
from trueup.geometry.errors import GeometryError
from trueup.lineage.errors import BadInput
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import ConflictState
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.replay.replay import stale
from trueup.lineage.replay.verdicts import Verdict


@given(st.data())
@settings(max_examples=15)
def test_nothing_contradicts_itself_at_any_step(data: st.DataObject):
    bench = Bench(state(*data.draw(cases()).nodes))
    # A deep scoop first, so that there is something to decide.
    bench.correct("village", change("scoop-armhole", piece="front", by="18mm"))
    for _ in range(data.draw(st.integers(3, 9))):
        before = bench.state
        try:
            step(data, bench)
        except (BadInput, GeometryError):
            assert bench.state is before
            continue
        consistent(bench, before)


def step(data: st.DataObject, bench: Bench) -> None:
    nodes = sorted(bench.state.nodes)
    node = data.draw(st.sampled_from(nodes))
    steps = [(name, each.id) for name in nodes for each in bench.state.node(name).steps]
    decidable = [
        (record.id, remedy.name)
        for name in nodes
        for record in bench.state.node(name).conflicts
        if record.state is not ConflictState.SETTLED
        for remedy in record.remedies
    ]
    doing = (
        ["correct", "style"] + ["amend", "drop"] * bool(steps) + ["decide"] * 6 * bool(decidable)
    )
    match data.draw(st.sampled_from(doing)):
        case "correct":
            bench.correct(node, *data.draw(st.lists(corrections, min_size=1, max_size=2)))
        case "style":
            bench.style(node, data.draw(styles))
        case "amend":
            name, made = data.draw(st.sampled_from(steps))
            bench.amend(name, made, by=f"{data.draw(st.integers(1, 9))}mm")
        case "drop":
            bench.drop(*data.draw(st.sampled_from(steps)))
        case "decide":
            bench.decide(*data.draw(st.sampled_from(decidable)))


def consistent(bench: Bench, before: State) -> None:
    found, after = bench.last, bench.evaluator
    assert found is not None
    names = [each.name for each in found.patterns]
    assert len(names) == len(set(names))
    assert set(names) <= set(stale(before, bench.state))
    for node in bench.state.nodes.values():
        assert read_node(node.path, node_text(node)) == node
        keys = [c.key for c in node.conflicts if c.state is ConflictState.OPEN and not c.change]
        assert len(keys) == len(set(keys))
        walked = out_of_range(after.draft(node.name))
        seams = {str(seam.side[0]): seam.name for seam in after.draft(node.name).seams}
        for conflict in node.conflicts:
            assert conflict.arose_at == node.name
            assert bench.state.conflict(conflict.id) == conflict, "an id stands for one conflict"
            if conflict.state is ConflictState.OPEN:
                assert conflict.remedies, "an open conflict can be decided"
                if conflict.code == "seam":
                    assert seams.get(f"{conflict.piece}.{conflict.edge}") in walked
    for each in found.patterns:
        for inherited in each.inherits:
            above = bench.state.conflict(inherited)
            assert above.state is ConflictState.OPEN
            assert above.arose_at != each.name
        if each.verdict is Verdict.HELD:
            assert each.conflicts == ()
