"""Two makers in two clones of one wardrobe, with real git, joined by the real command."""

from datetime import date
from pathlib import Path

import pytest

from tests.cli.commands.upkeep.two_makers import (
    SCOOP,
    asked,
    assert_whole,
    git,
    kinds,
    mend,
    node,
    state,
)
from tests.cli.conftest import Trueup
from tests.lineage.recording import record_files
from tests.sharing.copied import copied
from trueup.cli.verbs import VERBS
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.records import ConflictKind, ConflictState
from trueup.lineage.wardrobe import Wardrobe

pytestmark = pytest.mark.usefixtures("maker")


def test_steps_both_made_on_one_pattern_are_all_there(ours: Trueup, theirs: Trueup) -> None:
    ours.made("style", "blouse", "widen-neck", "--by", "10mm")
    theirs.made("style", "blouse", "lengthen", "--by", "5cm")
    theirs.made("style", "vest", "lengthen", "--by", "3cm")
    document = mend(ours, theirs)
    assert kinds(ours, "blouse") == ["lower-neck", "widen-neck", "lengthen"]
    assert kinds(ours, "vest") == ["redraw-edge", "lengthen"]
    assert asked(ours) == []
    assert {n["place"] for n in document["notes"] if n["what"] == "came-in"} == {"blouse", "vest"}
    parents = git(ours.folder, "log", "-1", "--format=%P").split()
    assert parents == [document["joined"]["ours"], document["joined"]["theirs"]]
    assert git(theirs.folder, "rev-parse", "HEAD") == parents[1]
    assert_whole(ours)


def test_the_same_correction_from_the_same_version_is_one(ours: Trueup, theirs: Trueup) -> None:
    for each in (ours, theirs):
        each.made("correct", "village", *SCOOP, "--by", "20mm")
    document = mend(ours, theirs)
    (step,) = node(ours, "village").steps
    assert step.same_as == ()
    assert [n["what"] for n in document["notes"] if n["steps"] == [step.id]] == ["same"]
    ids = [c.id for c in state(ours).conflicts]
    assert len(ids) == len(set(ids))
    assert document["conflicts"] == document["contradictions"] == []


def test_the_same_correction_from_different_versions_is_one_with_both_ids(
    ours: Trueup, theirs: Trueup
) -> None:
    theirs.made("style", "vest", "lengthen", "--by", "3cm")
    for each, amount in ((ours, "2cm"), (theirs, "20mm")):
        each.made("correct", "village", *SCOOP, "--by", amount)
    both = {ours.step_of("village"), theirs.step_of("village")}
    assert len(both) == 2
    open_before = {(c.arose_at, c.key) for c in state(ours).open_conflicts}
    mend(ours, theirs)
    (step,) = node(ours, "village").steps
    assert {step.id, *step.same_as} == both
    assert all(node(ours, "village").step(each) == step for each in both)
    assert {(c.arose_at, c.key) for c in state(ours).open_conflicts} == open_before
    assert len(state(ours).open_conflicts) == len(open_before)


@pytest.mark.parametrize(("remedy", "amount"), [("keep-ours", "15mm"), ("keep-theirs", "25mm")])
def test_a_step_amended_in_two_ways_is_a_conflict_that_decide_settles(
    ours: Trueup, theirs: Trueup, remedy: str, amount: str
) -> None:
    step = ours.step_of("own")
    ours.made("amend", "own", step, "--by", "15mm")
    theirs.made("amend", "own", step, "--by", "25mm")
    document = mend(ours, theirs)
    (conflict,) = asked(ours)
    assert [c["id"] for c in document["contradictions"]] == [conflict.id]
    said = ours("conflicts", "own").out
    assert "15mm" in said
    assert "25mm" in said
    assert {r.amount_mm for r in conflict.remedies} == {15, 25}
    assert ours("conflicts", "own").code == 1
    ours.made("decide", conflict.id, remedy, "--why", "tried on")
    assert node(ours, "own").step(step).values["by"] == amount  # type: ignore[union-attr]
    assert asked(ours) == []
    assert state(ours).conflict(conflict.id).state is ConflictState.SETTLED


def test_amendments_of_different_parameters_can_both_be_kept(ours: Trueup, theirs: Trueup) -> None:
    step = ours.step_of("own")
    ours.made("amend", "own", step, "--by", "15mm")
    theirs.made("amend", "own", step, "--at", "40% from underarm")
    mend(ours, theirs)
    (conflict,) = asked(ours)
    ours.made("decide", conflict.id, "keep-both")
    values = node(ours, "own").steps[0].values
    assert values["by"] == "15mm"
    assert str(values["at"]).startswith("40%")


@pytest.mark.parametrize(("remedy", "left"), [("keep-ours", 0), ("keep-theirs", 1)])
def test_a_step_one_drops_and_the_other_amends_is_kept_and_asked_about(
    ours: Trueup, theirs: Trueup, remedy: str, left: int
) -> None:
    step = ours.step_of("own")
    ours.made("drop", "own", step)
    theirs.made("amend", "own", step, "--by", "25mm")
    mend(ours, theirs)
    assert node(ours, "own").step(step) is not None
    (conflict,) = asked(ours)
    ours.made("decide", conflict.id, remedy)
    assert len(node(ours, "own").steps) == left
    assert asked(ours) == []


def test_a_step_one_drops_and_the_other_leaves_alone_is_dropped(
    ours: Trueup, theirs: Trueup
) -> None:
    theirs.made("drop", "own", ours.step_of("own"))
    ours.made("style", "own", "lengthen", "--by", "3cm")
    mend(ours, theirs)
    assert kinds(ours, "own") == ["lengthen"]


@pytest.mark.parametrize(
    ("remedy", "left"),
    [("keep-ours", ["12mm"]), ("keep-theirs", ["6mm"]), ("keep-both", ["12mm", "6mm"])],
)
def test_two_corrections_of_one_place_stand_until_one_is_chosen(
    ours: Trueup, theirs: Trueup, remedy: str, left: list[str]
) -> None:
    ours.made("correct", "village", *SCOOP, "--by", "12mm")
    theirs.made("correct", "village", *SCOOP, "--by", "6mm")
    mend(ours, theirs)
    (conflict,) = asked(ours)
    assert len(node(ours, "village").steps) == 2
    ours.made("decide", conflict.id, remedy)
    assert [s.values["by"] for s in node(ours, "village").steps] == left
    assert asked(ours) == []


# --- what only shows when it is evaluated ----------------------------------------------------


def test_a_child_derived_while_its_parent_is_corrected_gets_a_verdict(
    ours: Trueup, theirs: Trueup
) -> None:
    ours.made("correct", "village", *SCOOP, "--by", "20mm")
    theirs.made("derive", "cape", "--from", "village")
    theirs.made("correct", "cape", *SCOOP, "--by", "6mm")
    document = mend(ours, theirs)
    (replayed,) = document["our_steps"]
    verdicts = {p["name"]: p["verdict"] for p in replayed["patterns"]}
    assert verdicts == {"cape": "doubled"}
    found = [c.kind for c in node(ours, "cape").open_conflicts]
    assert ConflictKind.DOUBLED in found
    assert document["conflicts"]


def test_their_correction_has_a_verdict_in_a_pattern_of_ours(ours: Trueup, theirs: Trueup) -> None:
    ours.made("derive", "cape", "--from", "village")
    theirs.made("correct", "village", *SCOOP, "--by", "20mm")
    document = mend(ours, theirs)
    (replayed,) = document["their_steps"]
    verdicts = {p["name"]: p["verdict"] for p in replayed["patterns"]}
    assert verdicts["cape"] == "carried"
    assert verdicts["vest"] == "lost"


def test_a_seam_that_only_the_joined_work_breaks_is_a_conflict(
    ours: Trueup, theirs: Trueup
) -> None:
    # Ours takes 7 mm of ease from the front half of the cap, theirs some of both: either can be
    # spared, and not both.
    ours.made("correct", "easy", *SCOOP, "--by", "6.5mm")
    theirs.made("correct", "easy", "lower-armhole", "--by", "4mm")
    open_before = {c.id for each in (ours, theirs) for c in state(each).open_conflicts}
    document = mend(ours, theirs)
    fresh = [c for c in document["conflicts"] if c["id"] not in open_before]
    assert [(c["kind"], c["arose_at"]) for c in fresh] == [("seam", "easy")]
    assert ours("check", "easy").code == 1


def test_git_joining_by_itself_is_looked_over_by_mend(ours: Trueup, theirs: Trueup) -> None:
    ours.made("correct", "village", *SCOOP, "--by", "20mm")
    theirs.made("derive", "cape", "--from", "village")
    theirs.made("correct", "cape", *SCOOP, "--by", "4mm")
    git(ours.folder, "pull", "--quiet", "--no-rebase", "--no-edit", str(theirs.folder), "main")
    assert node(ours, "cape").open_conflicts == ()
    before = ours.contents()
    preview = ours.made("mend", "--preview", "--json").document
    assert ours.contents() == before
    assert preview["joined"]["by_git_before"]
    document = ours.made("mend", "--json").document
    assert [c["kind"] for c in document["conflicts"]] == [c["kind"] for c in preview["conflicts"]]
    assert ConflictKind.DOUBLED in [c.kind for c in node(ours, "cape").open_conflicts]
    assert ours.made("mend", "--json").document == {"joined": None}
    assert_whole(ours)


# --- decisions, garments ---------------------------------------------------------------------


def test_decided_in_two_ways_it_is_open_again_with_both_decisions(
    ours: Trueup, theirs: Trueup
) -> None:
    ours.made("correct", "village", *SCOOP, "--by", "20mm")
    git(theirs.folder, "pull", "--quiet", str(ours.folder), "main")
    (conflict,) = (c for c in node(ours, "village").open_conflicts if c.kind == "seam")
    ours.made("decide", conflict.id, "accept", "--why", "gathered")
    theirs.made("decide", conflict.id, "refit-cap", "--why", "smooth")
    mend(ours, theirs)
    after = state(ours).conflict(conflict.id)
    assert {d.remedy for d in after.decisions} == {"accept", "refit-cap"}
    (question,) = asked(ours)
    ours.made("decide", question.id, "keep-ours")
    assert "refit-cap" not in kinds(ours, "village")
    assert state(ours).conflict(conflict.id).state is ConflictState.OPEN
    assert asked(ours) == []


def test_decided_the_same_way_it_is_settled_once(ours: Trueup, theirs: Trueup) -> None:
    ours.made("correct", "village", *SCOOP, "--by", "20mm")
    git(theirs.folder, "pull", "--quiet", str(ours.folder), "main")
    (conflict,) = (c for c in node(ours, "village").open_conflicts if c.kind == "seam")
    theirs.made("style", "vest", "lengthen", "--by", "3cm")
    for each in (ours, theirs):
        each.made("decide", conflict.id, "refit-cap")
    mend(ours, theirs)
    assert kinds(ours, "village").count("refit-cap") == 1
    assert state(ours).conflict(conflict.id).state is ConflictState.SETTLED
    assert asked(ours) == []


def garment(trueup: Trueup, name: str, *notes: FitNote, status: Status = Status.CUT) -> None:
    with Wardrobe.open(trueup.folder) as wardrobe:
        known = wardrobe.state.garments.get(name)
        made = known or GarmentRecord(name, "blouse", wardrobe.head, date(2025, 3, 1))
        new = GarmentRecord(
            **{
                **{f: getattr(made, f) for f in made.__struct_fields__},
                "notes": (*made.notes, *notes),
                "status": status,
            }
        )
        text = wardrobe.file(new.path) if known else None
        record_files(wardrobe, {new.path: garment_text(new, text)}, "cut", f"Garment {name}")


def test_garments_and_fit_notes_of_both_are_there(ours: Trueup, theirs: Trueup) -> None:
    first, second, third = (
        FitNote(name, "gapes", place, date(2025, 3, 2))
        for name, place in (("n1", "front.armhole"), ("n2", "hip"), ("n3", "bust"))
    )
    garment(ours, "ophelia", first)
    git(theirs.folder, "pull", "--quiet", str(ours.folder), "main")
    garment(ours, "ophelia", second, status=Status.WORN)
    garment(theirs, "ophelia", third, status=Status.SEWN)
    garment(theirs, "juliet")
    mend(ours, theirs)
    joined = state(ours).garments
    assert sorted(joined) == ["juliet", "ophelia"]
    assert [note.id for note in joined["ophelia"].notes] == ["n1", "n2", "n3"]
    assert joined["ophelia"].status is Status.WORN
    assert_whole(ours)


# --- refusals ----------------------------------------------------------------------------------


def refused(ours: Trueup, *words: str) -> str:
    before = ours.contents()
    answer = ours("mend", *words)
    assert answer.code == 2, answer.out + answer.err
    assert answer.out == ""
    assert answer.err.count("\n") == 1
    assert ours.contents() == before
    return answer.err


def test_one_name_for_two_things_is_refused(ours: Trueup, theirs: Trueup) -> None:
    ours.made("derive", "cape", "--from", "village")
    theirs.made("derive", "cape", "--from", "easy")
    assert "rename one of them" in refused(ours, str(theirs.folder))


def test_two_units_are_refused(ours: Trueup, theirs: Trueup) -> None:
    for each, unit in ((ours, "mm"), (theirs, "in")):
        file = each.folder / "wardrobe.toml"
        file.write_text(file.read_text().replace('unit = "cm"', f'unit = "{unit}"'))
        each.made("style", "vest", "lengthen", "--by", "3cm")
    err = refused(ours, str(theirs.folder))
    assert '"mm"' in err
    assert '"in"' in err


def test_a_folder_that_is_no_clone_and_a_revision_that_is_not_there_are_refused(
    ours: Trueup, tmp_path: Path
) -> None:
    other = tmp_path / "hat-shop"
    with Wardrobe.start(other, "hats", "cm"):
        pass
    assert "no version in common" in refused(ours, str(other))
    assert "no version" in refused(ours, "origin/elsewhere")
    assert '"nowhere"' in refused(ours, "nowhere")


def test_joining_itself_or_what_is_part_of_it_changes_nothing(ours: Trueup, theirs: Trueup) -> None:
    ours.made("style", "vest", "lengthen", "--by", "3cm")
    before = ours.contents()
    for other in ("HEAD", "HEAD~1", str(theirs.folder), str(ours.folder)):
        assert ours.made("mend", other, "--json").document == {"joined": None}
    assert "Nothing to join" in ours.made("mend").out
    assert ours.contents() == before


def test_a_joining_is_not_taken_back(ours: Trueup, theirs: Trueup) -> None:
    theirs.made("style", "vest", "lengthen", "--by", "3cm")
    mend(ours, theirs)
    answer = ours("undo")
    assert answer.code == 2
    assert "joined two histories" in answer.err


def test_two_makers_who_join_each_other_at_once_come_together(
    ours: Trueup, theirs: Trueup, tmp_path: Path
) -> None:
    step = ours.step_of("own")
    ours.made("amend", "own", step, "--by", "15mm")
    theirs.made("amend", "own", step, "--by", "25mm")
    ours.made("correct", "village", *SCOOP, "--by", "12mm")
    theirs.made("style", "village", "lengthen", "--by", "12mm")
    copy = Trueup(tmp_path / "copy")
    copied(ours.folder, copy.folder)
    mend(ours, theirs)
    mend(theirs, copy)
    mend(ours, theirs)
    assert len(node(ours, "village").steps) == 2
    (conflict,) = asked(ours)
    git(theirs.folder, "pull", "--quiet", "--ff-only", str(ours.folder), "main")
    assert state(theirs).nodes == state(ours).nodes
    theirs.made("decide", conflict.id, "keep-theirs")
    assert asked(theirs) == []


def test_comments_of_both_stay_where_their_lines_can_be_joined(
    ours: Trueup, theirs: Trueup
) -> None:
    for each, comment in ((ours, "# of the first\n"), (theirs, "# of the other\n")):
        file = each.folder / "patterns/blouse.toml"
        text = file.read_text()
        file.write_text(comment + text if each is ours else text + comment)
        each.made("style", "vest" if each is ours else "own", "lengthen", "--by", "3cm")
    mend(ours, theirs)
    text = (ours.folder / "patterns/blouse.toml").read_text()
    assert text.startswith("# of the first\n")
    assert text.endswith("# of the other\n")


def test_the_page_says_what_came_in_and_what_contradicts(ours: Trueup, theirs: Trueup) -> None:
    step = ours.step_of("own")
    ours.made("amend", "own", step, "--by", "15mm")
    theirs.made("amend", "own", step, "--by", "25mm")
    theirs.made("correct", "village", *SCOOP, "--by", "20mm")
    out = ours.made("mend", str(theirs.folder)).out
    assert "Join the work of Rose Cutter" in out
    assert "Came in\n" in out
    assert "  village: scoop-armhole (" in out
    assert "What became of their scoop-armhole on village" in out
    assert "Contradicts\n" in out
    (conflict,) = asked(ours)
    assert out.rstrip().endswith(f"decide {conflict.id} keep-ours")


def test_mend_is_a_verb() -> None:
    assert "mend" in VERBS
