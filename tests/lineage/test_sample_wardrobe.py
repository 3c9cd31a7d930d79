"""The sample wardrobe: what it holds, that it is true, and what its correction does to it."""

import datetime
from collections import Counter
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest

from tests.cli.conftest import run
from tests.judging.judge import arrivals
from tests.sharing.copied import copied
from trueup.cli.demo.playing import cause_of, notes_of, play, propose, propose_correction
from trueup.cli.demo.story import Story
from trueup.cli.demo.telling import sample_story
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.tolerance import CAP_EASE as CAP_EASE_MET
from trueup.lineage.errors import NoSuchConflict
from trueup.lineage.faults.causes import causes
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.faults.shared import NotMended, fault_of_place
from trueup.lineage.files import graph
from trueup.lineage.files.garment_errors import NoSuchNote
from trueup.lineage.files.garment_records import Status
from trueup.lineage.files.records import ConflictKind, Role, replace
from trueup.lineage.proposal import Proposal
from trueup.lineage.replay.verdicts import Verdict
from trueup.lineage.wardrobe import Wardrobe


@pytest.fixture(scope="module")
def story() -> Story:
    return sample_story()


@pytest.fixture(scope="module")
def store(story: Story, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Wardrobe]:
    folder: Path = tmp_path_factory.mktemp("sample") / "store"
    play(story, folder)
    with Wardrobe.open(folder) as wardrobe:
        yield wardrobe


@pytest.fixture(scope="module")
def correction(store: Wardrobe, story: Story) -> Proposal:
    return propose_correction(store, story.correction, mended(store, story))


def mended(store: Wardrobe, story: Story) -> tuple[str, ...]:
    """Return the notes that the story's correction mends."""
    return notes_of(cause_of(causes(Inquiry(store.evaluator)), story.correction))


def test_every_step_says_why(story: Story) -> None:
    assert all(told.why.strip() for told in story.step)
    assert story.correction.why.strip()


def test_every_step_is_one_entry_of_the_history_with_its_reason(
    store: Wardrobe, story: Story
) -> None:
    recorded = list(store.history())[::-1][1:]  # the first entry only starts the wardrobe
    assert len(recorded) == len(story.step)
    for told, commit in zip(story.step, recorded, strict=True):
        assert told.why in commit.body


def test_it_has_blocks_derived_blocks_and_patterns_three_levels_deep(store: Wardrobe) -> None:
    nodes = store.state.nodes.values()
    assert sum(node.draft is not None for node in nodes) >= 2
    assert sum(node.is_block and bool(node.parents) for node in nodes) >= 3
    assert sum(not node.is_block for node in nodes) >= 12
    steps_below = {
        node.name: len(graph.lineage_between(store.state.graph, "marta-block", node.name)) - 1
        for node in nodes
        if node.name in graph.descendants(store.state.graph, ["marta-block"])
    }
    assert max(steps_below.values()) >= 3


def test_it_has_one_of_every_sort_of_pattern(store: Wardrobe) -> None:
    nodes = [node for node in store.state.nodes.values() if not node.is_block]
    summaries = {node.name: store.evaluator.summary(node.name) for node in nodes}
    assert any(len(node.parents) == 2 for node in nodes)
    assert any("sleeve" not in summary.pieces for summary in summaries.values())
    kinds = {step.kind for node in nodes for step in node.steps}
    assert {"redraw-edge", "rotate-dart", "release-dart", "lengthen"} <= kinds
    sewn = [each.seams[CAP_SEAM] for each in summaries.values() if CAP_SEAM in each.seams]
    assert any(seam.high > 100 for seam in sewn)
    assert any(parent.hold for node in nodes for parent in node.parents)
    own = [step.kind for node in nodes for step in node.steps if step.role is Role.CORRECTION]
    assert "scoop-armhole" in own


def test_every_block_and_pattern_is_true_before_the_correction(store: Wardrobe) -> None:
    for name in store.state.nodes:
        summary = store.evaluator.summary(name)
        assert not summary.findings, name
        assert not summary.problems, name
    assert not store.state.open_conflicts


def test_its_correction_meets_every_verdict(correction: Proposal) -> None:
    counted = Counter(pattern.verdict for pattern in correction.replay.patterns)
    assert set(counted) == set(Verdict)
    assert counted.most_common(1)[0][0] is Verdict.CARRIED
    assert counted[Verdict.CONFLICT] >= 2


def test_what_arrives_of_the_correction_is_what_the_patterns_measure(
    store: Wardrobe, story: Story, correction: Proposal
) -> None:
    after = store.evaluator_of(store.state.with_nodes(correction.nodes))
    for pattern in correction.replay.patterns:
        own, here = (
            (store.evaluator.draft(name), after.draft(name))
            for name in (story.correction.node, pattern.name)
        )
        (arrived,) = arrivals("scoop-armhole", {"piece": "front"}, own, here, ("left",))
        (carried,) = pattern.measures
        assert carried.wanted_mm == pytest.approx(arrived.wanted, abs=0.2), pattern.name
        assert carried.got_mm == pytest.approx(arrived.got, abs=0.2), pattern.name


def test_a_sleeve_that_no_longer_fits_the_block_is_asked_about_once(correction: Proposal) -> None:
    (conflict,) = correction.replay.conflicts
    assert (conflict.kind, conflict.piece, conflict.edge) == (ConflictKind.SEAM, "sleeve", "cap")
    by_verdict = {pattern.name: pattern for pattern in correction.replay.patterns}
    assert by_verdict["ball-bodice"].inherits == (conflict.id,)
    assert not by_verdict["ball-bodice"].conflicts


def test_only_patterns_that_changed_cap_or_armhole_have_a_cap_conflict_of_their_own(
    store: Wardrobe, correction: Proposal
) -> None:
    for pattern in correction.replay.patterns:
        for conflict in pattern.conflicts:
            own = [step.id for step in store.state.node(pattern.name).steps]
            assert conflict.change in own


def test_refitting_the_blocks_cap_settles_what_was_inherited_and_asks_nothing_new(
    store: Wardrobe, story: Story, tmp_path: Path
) -> None:
    # The derived blocks refit their own caps as they come: nothing there disagrees with the block.
    copied(store.folder, tmp_path / "copy")
    with Wardrobe.open(tmp_path / "copy") as copy:
        copy.record(propose_correction(copy, story.correction, mended(copy, story)))
        before = {each.id for each in copy.state.open_conflicts}
        (conflict,) = copy.state.node("marta-block").open_conflicts
        decided = copy.propose_decision(conflict.id, "refit-cap", "as it was")
        verdicts = {each.name: (each.verdict, each.note) for each in decided.replay.patterns}
        assert verdicts["easy-block"] == (Verdict.CARRIED, "its own refit-cap sees to it")
        assert verdicts["page-jacket"] == (Verdict.CARRIED, "coat-block sees to it")
        assert verdicts["masquer-bodice"][0] is Verdict.LOST
        copy.record(decided)
        ease = copy.evaluator.summary("marta-block").measures[CAP_EASE]
        assert abs(ease - (conflict.whole_before_mm or 0.0)) <= CAP_EASE_MET
        assert not copy.evaluator.summary("ball-bodice").findings
        left = {each.id for each in copy.state.open_conflicts}
        assert left < before
        assert {each.arose_at for each in copy.state.open_conflicts} == {
            "fencing-vest",
            "herald-tabard",
            "maid-blouse",
            "masquer-bodice",
        }


# --- what was cut, and what was seen on it --------------------------------------------------------

PLANTED = {
    ("marta-block", "front.armhole", "armhole-binds"): {
        "noted": {"ball-ivory", "masquer-velvet", "riding-green"},
        "garments": {"ball-ivory", "ball-understudy", "masquer-velvet", "riding-green"},
        "patterns": {"ball-bodice", "masquer-bodice", "rehearsal-bodice", "riding-bodice"},
    },
    ("easy-block", "sleeve.cap", "cap-puckers"): {
        "noted": {"harvest-linen", "parlour-lawn"},
        "garments": {"harvest-linen", "nightgown-white", "parlour-lawn"},
        "patterns": {"harvest-blouse", "nightgown", "parlour-blouse"},
    },
    ("coat-block", "back.shoulder", "shoulder-sloping"): {
        "noted": {"captain-navy", "page-red"},
        "garments": {"captain-navy", "page-red"},
        "patterns": {"captain-coat", "page-jacket"},
    },
}


def test_garments_were_cut_and_worn_and_the_days_are_in_order(
    store: Wardrobe, story: Story
) -> None:
    garments = store.state.garments.values()
    notes = [note for garment in garments for note in garment.notes]
    assert len(garments) >= 10
    assert len(notes) >= 15
    assert len(story.step) >= 60
    assert {garment.status for garment in garments} >= {
        *(Status.CUT, Status.WORN, Status.ALTERED, Status.RETIRED),
    }
    assert len({garment.wearer for garment in garments}) >= 4
    days = [told.date for told in story.step if told.date]
    assert days == sorted(days)
    assert datetime.date.fromisoformat(days[-1]) < datetime.date(2025, 6, 1)
    assert all(garment.allowances["front.side"] == 30 for garment in garments)


def test_all_its_notes_come_from_the_planted_causes_and_no_other(store: Wardrobe) -> None:
    answer = run("-C", str(store.folder), "shared", "--all", "--json")
    assert answer.code == 0
    found = {(c["node"], c["place"], c["symptom"]): c for c in answer.document["causes"]}
    assert len(found) == len(answer.document["causes"])
    assert found.keys() == PLANTED.keys()
    for key, cause in found.items():
        noted = {each["garment"]: each["note"] for each in cause["seen"]}
        assert noted.keys() == PLANTED[key]["noted"]
        assert cause["notes"] == list(noted.values())
        assert set(cause["garments"]) == PLANTED[key]["garments"]
        assert set(cause["patterns"]) == PLANTED[key]["patterns"]
    assert answer.document["unplaced"] == []
    assert answer.document["seen_once"] == 10


def test_a_sibling_whose_own_step_reshaped_the_place_does_not_share_it(store: Wardrobe) -> None:
    fault = fault_of_place(Inquiry(store.evaluator), "marta-block", "front.armhole")
    unmended = {each.name: each.reason for each in fault.unmended}
    assert unmended["governess-bodice"] is NotMended.OWN_STEP
    assert "governess-grey" not in {each.garment for each in fault.garments}


def test_the_same_seen_at_the_same_place_is_no_common_cause_where_each_drew_its_own(
    store: Wardrobe,
) -> None:
    single = [c for c in causes(Inquiry(store.evaluator)).single if c.symptom == "neck-gapes"]
    assert {(cause.node, cause.place) for cause in single} == {
        ("ball-bodice", "front.neck"),
        ("summer-bodice", "front.neck"),
    }


def test_what_the_first_fitting_mended_is_no_longer_open(store: Wardrobe) -> None:
    fitting = store.state.node("marta-block").steps[-1]
    (note,) = store.state.garment("rehearsal-calico").notes
    assert (fitting.kind, note.resolved_by) == ("shorten-shoulder", (fitting.id,))
    assert store.state.garment("widow-black").open_notes


def test_its_correction_mends_the_notes_of_the_cause_it_cures(
    store: Wardrobe, story: Story, correction: Proposal, tmp_path: Path
) -> None:
    copied(store.folder, tmp_path / "copy")
    with Wardrobe.open(tmp_path / "copy") as copy:
        copy.record(propose_correction(copy, story.correction, mended(copy, story)))
        left = causes(Inquiry(copy.evaluator))
        assert {(c.node, c.place, c.symptom) for c in left.common} == {
            *(PLANTED.keys() - {("marta-block", "front.armhole", "armhole-binds")})
        }
        (step,) = correction.edit.steps
        for name in PLANTED["marta-block", "front.armhole", "armhole-binds"]["noted"]:
            (note,) = [n for n in copy.state.garment(name).notes if n.symptom == "armhole-binds"]
            assert note.resolved_by == (step.id,)


def test_a_correction_of_a_cause_that_is_not_there_says_so(store: Wardrobe, story: Story) -> None:
    found = causes(Inquiry(store.evaluator))
    with pytest.raises(NoSuchNote, match="cap-folds"):
        cause_of(found, replace(story.correction, mends="cap-folds"))


def test_the_story_names_every_garment(store: Wardrobe) -> None:
    told = (files("trueup.sample_wardrobe") / "README.md").read_text(encoding="utf-8")
    assert [name for name in store.state.garments if f"`{name}`" not in told] == []


# --- how the story is told ------------------------------------------------------------------------


def test_the_story_names_every_block_and_pattern(store: Wardrobe) -> None:
    told = (files("trueup.sample_wardrobe") / "README.md").read_text(encoding="utf-8")
    assert [name for name in store.state.nodes if f"`{name}`" not in told] == []


def test_a_step_that_is_two_verbs_or_none_is_refused(story: Story) -> None:
    told = type(story.step[0])
    with pytest.raises(ValueError, match="a step is one of"):
        told(why="x")
    with pytest.raises(ValueError, match="a step is one of"):
        told(why="x", style="a", correct="a")


def test_deciding_where_nothing_waits_says_so(store: Wardrobe, story: Story) -> None:
    told = type(story.step[0])(why="x", decide="ball-bodice", remedy="hold")
    with pytest.raises(NoSuchConflict, match="ball-bodice"):
        propose(store, told)


def test_a_correction_of_the_blocks_cap_is_not_settled_by_a_refit_below(store: Wardrobe) -> None:
    # Less ease was wanted for the fit; the blocks below keep theirs, and that is a disagreement.
    flatter = read_change(kind_named("refit-cap"), {"to": "26mm"}, store.state.unit)
    proposal = store.propose_steps("marta-block", [flatter], Role.CORRECTION, "the cap puckers")
    easy = next(each for each in proposal.replay.patterns if each.name == "easy-block")
    assert easy.verdict is Verdict.LOST
    assert [conflict.kind for conflict in easy.conflicts] == [ConflictKind.BOTH_SHAPED]
