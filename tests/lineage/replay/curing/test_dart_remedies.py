"""A waist seam that no longer walks even is offered the darts on either side of it."""

import pytest

from tests.judging.sampled import length
from tests.lineage.making import Bench, block, change, child, state, step
from trueup.lineage.files.records import BlockDraft, ConflictRecord, NodeRecord, ParentRecord

BODY = {"waist": "68cm", "hip": "94cm", "hip-depth": "20cm", "skirt-length": "60cm"}
WAIST = {
    "line": "skirt-front.waist skirt-back.waist", "to": "front.hem back.hem", "name": "waist-seam",
}  # fmt: skip
PRINCESS = {
    "piece": "front", "begins": "armhole", "ends": "hem", "through": "bust waist",
    "line": "princess",
}  # fmt: skip
DARTS = {
    "deepen-dart-of-front-waist", "deepen-dart-of-front-waist-side", "deepen-dart-of-back-waist",
    "deepen-dart-of-back-waist-side", "deepen-dart-of-skirt-front-waist",
    "deepen-dart-of-skirt-back-waist",
}  # fmt: skip


def bench(*also: object) -> Bench:
    skirt = NodeRecord("skirt", True, draft=BlockDraft("straight-skirt", BODY))
    parents = (ParentRecord("village"), ParentRecord("skirt"))
    steps = (step("w", "sew-together", **WAIST, low="-20mm", high="8mm"), *also)
    made = Bench(state(block(), skirt, child("dress", *steps, of=parents)))
    assert ease(made) == pytest.approx(-14, abs=6)
    return made


def ease(made: Bench) -> float:
    draft = made.evaluator.draft("dress")
    return sum(length(draft.edge(f"skirt-{p}", "waist")) for p in ("front", "back")) - sum(
        length(draft.edge(p, "hem")) for p in ("front", "back")
    )


def uneven(made: Bench) -> ConflictRecord:
    made.correct("village", change("add-ease", by="30mm"))
    (found,) = (each for each in made.open_at("dress") if each.kind == "seam")
    return found


@pytest.mark.parametrize("remedy", sorted(DARTS))
def test_each_dart_that_is_offered_takes_in_or_lets_out_what_is_missing(remedy: str) -> None:
    made = bench()
    conflict = uneven(made)
    offered = {each.name: each for each in conflict.remedies}
    assert set(offered) - {"hold", "accept"} == DARTS
    before = ease(made)
    assert before < -22
    made.decide(conflict, remedy)
    assert ease(made) == pytest.approx(-20, abs=1.6)
    assert [each for each in made.open_at("dress") if each.edge == "waist"] == []


def test_darts_of_a_piece_that_was_cut_are_those_of_the_whole() -> None:
    made = bench(step("c", "cut-apart", **PRINCESS))
    names = {each.name for each in uneven(made).remedies}
    assert "deepen-dart-of-back-waist" in names
    assert not any("princess" in name for name in names)
