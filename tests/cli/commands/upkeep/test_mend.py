"""Two makers in two clones of one wardrobe, with real git, joined by the real command."""

import os
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.checkout import IMPORTS
from tests.cli.conftest import Trueup
from tests.lineage.recording import record_files
from trueup.cli.verbs import VERBS
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.records import ConflictKind, ConflictState, NodeRecord
from trueup.lineage.files.state import State
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("scoop-armhole", "--piece", "front")


@pytest.fixture(autouse=True)
def _makers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / ".gitconfig").write_text("[user]\nname = Mary Tailor\nemail = mary@example.org\n")
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(home))
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")


def git(folder: Path, *words: str, fails: bool = False) -> str:
    done = subprocess.run(
        ["git", "-C", str(folder), *words], capture_output=True, text=True, check=False
    )
    assert fails or done.returncode == 0, done.stderr + done.stdout
    return done.stdout.strip()


@pytest.fixture
def ours(trueup: Trueup) -> Trueup:
    return trueup


@pytest.fixture
def theirs(ours: Trueup, tmp_path: Path) -> Trueup:
    folder = tmp_path / "other" / "theatre"
    git(tmp_path, "clone", "--quiet", str(ours.folder), str(folder))
    git(folder, "config", "user.name", "Rose Cutter")
    git(folder, "config", "user.email", "rose@example.org")
    return Trueup(folder)


def state(trueup: Trueup) -> State:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.state


def node(trueup: Trueup, name: str) -> NodeRecord:
    return state(trueup).node(name)


def kinds(trueup: Trueup, name: str) -> list[str]:
    return [step.kind for step in node(trueup, name).steps]


def mend(ours: Trueup, theirs: Trueup, *words: str) -> Any:
    return ours.made("mend", str(theirs.folder), *words, "--json").document


def assert_whole(trueup: Trueup) -> None:
    assert git(trueup.folder, "status", "--porcelain") == ""
    assert git(trueup.folder, "for-each-ref", "refs/trueup") == ""
    git(trueup.folder, "fsck", "--strict")
    assert not (trueup.folder / ".git" / "MERGE_HEAD").exists()


def asked(trueup: Trueup) -> list[Any]:
    return [c for c in state(trueup).open_conflicts if c.kind is ConflictKind.TWO_MAKERS]


# --- changes by id ----------------------------------------------------------------------------


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


# --- with git's own fetch and pull -----------------------------------------------------------


def test_what_git_fetched_is_joined_unless_another_is_named(ours: Trueup, theirs: Trueup) -> None:
    ours.made("style", "blouse", "widen-neck", "--by", "10mm")
    theirs.made("style", "blouse", "lengthen", "--by", "5cm")
    git(ours.folder, "fetch", "--quiet", str(theirs.folder), "main")
    before = ours.contents()
    preview = ours.made("mend", "--preview", "--json").document
    assert ours.contents() == before
    document = ours.made("mend", "--json").document
    assert kinds(ours, "blouse") == ["lower-neck", "widen-neck", "lengthen"]
    assert preview["joined"].pop("commit") is None
    assert document["joined"].pop("commit")
    assert preview == document
    git(theirs.folder, "pull", "--quiet", "--ff-only", str(ours.folder), "main")
    assert state(theirs).nodes == state(ours).nodes


def test_what_git_fetched_is_told_until_it_is_joined(ours: Trueup, theirs: Trueup) -> None:
    assert ours.made("--json").document["fetched"] is None
    theirs.made("style", "blouse", "lengthen", "--by", "5cm")
    git(ours.folder, "fetch", "--quiet", str(theirs.folder), "main")
    fetched = git(theirs.folder, "rev-parse", "HEAD").strip()
    out = ours.made().out
    assert f"fetched and is not joined yet: {fetched[:10]}" in out
    assert out.rstrip().endswith("mend --preview")
    document = ours.made("--json").document
    assert document["fetched"] == fetched
    assert document["next"].endswith("mend --preview")
    ours.made("mend")
    assert "was fetched" not in ours.made().out


def test_what_git_fetched_from_elsewhere_is_nothing_to_join(ours: Trueup, tmp_path: Path) -> None:
    other = tmp_path / "strange"
    git(tmp_path, "init", "--quiet", "-b", "main", str(other))
    git(other, "-c", "user.name=A", "-c", "user.email=a@b", "commit", "--allow-empty", "-qm", "x")
    git(ours.folder, "fetch", "--quiet", str(other), "main")
    assert ours.made("--json").document["fetched"] is None
    (ours.folder / ".git" / "FETCH_HEAD").write_text("nothing\n")
    assert ours.made("--json").document["fetched"] is None


@pytest.fixture
def stopped(ours: Trueup, theirs: Trueup) -> Trueup:
    """A `git pull` that stopped at a conflict of lines."""
    ours.made("style", "blouse", "widen-neck", "--by", "10mm")
    theirs.made("style", "blouse", "lengthen", "--by", "5cm")
    theirs.made("style", "vest", "lengthen", "--by", "3cm")
    theirs.made("derive", "cape", "--from", "village")
    git(
        *(ours.folder, "pull", "--quiet", "--no-rebase", "--no-edit"),
        *(str(theirs.folder), "main"),
        fails=True,
    )
    assert (ours.folder / ".git" / "MERGE_HEAD").exists()
    assert b"<<<<<<<" in (ours.folder / "patterns/blouse.toml").read_bytes()
    return ours


def test_what_git_left_half_joined_is_finished(stopped: Trueup) -> None:
    stopped.made("mend")
    assert kinds(stopped, "blouse") == ["lower-neck", "widen-neck", "lengthen"]
    assert kinds(stopped, "vest") == ["redraw-edge", "lengthen"]
    assert "cape" in state(stopped).nodes
    assert len(git(stopped.folder, "log", "-1", "--format=%P").split()) == 2
    assert_whole(stopped)


def test_while_git_is_half_done_every_other_verb_says_so(stopped: Trueup) -> None:
    for words in (("tree",), ("style", "vest", "lengthen", "--by", "1cm"), ("undo",), ()):
        answer = stopped(*words)
        assert answer.code == 2
        assert "trueup mend" in answer.err
    assert (stopped.folder / ".git" / "MERGE_HEAD").exists()


def test_a_file_edited_since_git_stopped_is_never_overwritten(stopped: Trueup) -> None:
    file = stopped.folder / "patterns/blouse.toml"
    file.write_text("# resolved by hand\n")
    answer = stopped("mend")
    assert answer.code == 2
    assert "patterns/blouse.toml" in answer.err
    assert file.read_text() == "# resolved by hand\n"
    assert (stopped.folder / ".git" / "MERGE_HEAD").exists()


def test_a_preview_leaves_gits_half_merge_as_it_is(stopped: Trueup) -> None:
    before = stopped.contents()
    stopped.made("mend", "--preview")
    assert stopped.contents() == before
    git(stopped.folder, "merge", "--abort")


KILLED = """
import os, sys
from trueup.lineage.store.writing import index
from trueup.lineage.store.writing import settling
from trueup.lineage.store.writing import step
from trueup.lineage.store.writing import unfinished
from trueup.lineage.store.files import working_files
place, name, moment, count, *words = sys.argv[1:]
place = eval(place)
whole, calls = getattr(place, name), []
def watched(*arguments, **more):
    calls.append(1)
    if moment == "before" and len(calls) == int(count):
        os._exit(9)
    result = whole(*arguments, **more)
    if moment == "after" and len(calls) == int(count):
        os._exit(9)
    return result
setattr(place, name, watched)
from trueup.cli.main import main
main(words)
"""


@pytest.mark.parametrize("half", [True, False], ids=["half merged", "fetched"])
@pytest.mark.parametrize(
    "moment",
    [
        ("working_files", "write_file", "after", "1"),
        ("step", "record", "after", "1"),
        ("step", "move_branch", "after", "1"),
        ("os", "replace", "after", "1"),
        ("working_files", "exchange", "after", "1"),
        ("index", "bring", "before", "1"),
        ("settling", "finish", "before", "1"),
        ("settling", "finish", "after", "1"),
        ("unfinished", "forget", "after", "2"),
    ],
    ids="-".join,
)
def test_killed_in_the_middle_it_is_as_before_or_as_after(
    moment: tuple[str, ...], half: bool, stopped: Trueup
) -> None:
    if not half:
        git(stopped.folder, "merge", "--abort")
    root = Path(__file__).parents[4]
    done = subprocess.run(
        [sys.executable, "-c", KILLED, *moment, "-C", str(stopped.folder), "mend"],
        env={**os.environ, "PYTHONPATH": IMPORTS},
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 9, done.stderr
    Wardrobe.open(stopped.folder).close()
    if len(git(stopped.folder, "log", "-1", "--format=%P").split()) < 2:
        assert (stopped.folder / ".git" / "MERGE_HEAD").exists() is half
        stopped.made("mend")
    assert kinds(stopped, "blouse") == ["lower-neck", "widen-neck", "lengthen"]
    assert_whole(stopped)


def test_two_makers_who_join_each_other_at_once_come_together(
    ours: Trueup, theirs: Trueup, tmp_path: Path
) -> None:
    step = ours.step_of("own")
    ours.made("amend", "own", step, "--by", "15mm")
    theirs.made("amend", "own", step, "--by", "25mm")
    ours.made("correct", "village", *SCOOP, "--by", "12mm")
    theirs.made("style", "village", "lengthen", "--by", "12mm")
    copy = Trueup(tmp_path / "copy")
    shutil.copytree(ours.folder, copy.folder)
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
