"""Steps and files as git stores them, damaged or gone, and found again by the real command."""

import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import run
from tests.cli.restoring import damage, judging
from tests.cli.restoring.story import git, made
from tests.cli.restoring.test_names import aside, mended
from tests.cli.restoring.test_whole import WHOLE


@pytest.fixture
def loose(trueup: Any) -> Any:
    """The same with everything in a file of its own."""
    folder = trueup.folder
    for pack in (folder / ".git/objects/pack").glob("*.pack"):
        away = folder.parent / pack.name
        pack.rename(away)
        for beside in pack.parent.glob(f"{pack.stem}.*"):
            beside.unlink()
        with away.open("rb") as stream:
            words = ["git", "unpack-objects", "-q"]
            subprocess.run(words, cwd=folder, stdin=stream, check=True)
    return trueup


def file_of(trueup: Any, name: str) -> Path:
    """Return the file in which git keeps what a name stands for."""
    return files_of(trueup, name)[0]


def files_of(trueup: Any, *names: str) -> list[Path]:
    found = git(trueup.folder, "rev-parse", *names).split()
    return [Path(trueup.folder / ".git/objects" / each[:2] / each[2:]) for each in found]


# --- found again ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["flipped", "deleted", "folder"])
def test_a_content_is_found_in_the_working_files(
    loose: Any, was: judging.Before, name: str
) -> None:
    damage.DAMAGES[name](file_of(loose, "HEAD:garments/blouse-1.toml"))
    assert "found again in the working files" in mended(loose, was)


def test_a_list_of_files_is_found_in_the_index(loose: Any, was: judging.Before) -> None:
    for file in files_of(loose, "HEAD^{tree}", "HEAD:patterns"):
        damage.emptied(file)
    assert "found again in git's list of the files" in mended(loose, was)


def test_and_where_that_is_lost_too_in_the_working_files(loose: Any, was: judging.Before) -> None:
    for file in files_of(loose, "HEAD^{tree}", "HEAD:patterns"):
        damage.emptied(file)
    (loose.folder / ".git/index").write_bytes(b"")
    assert "found again in the working files" in mended(loose, was)


@pytest.mark.parametrize("back", [1, 3, 6, 11])
@pytest.mark.parametrize("folder", ["", "patterns"])
def test_the_list_of_an_earlier_version_is_worked_out_from_those_beside_it(
    loose: Any, was: judging.Before, back: int, folder: str
) -> None:
    damage.emptied(file_of(loose, f"HEAD~{back}:{folder}"))
    mended(loose, was)


def test_lists_of_several_versions_running_are_worked_out(loose: Any, was: judging.Before) -> None:
    for file in files_of(loose, *(f"HEAD~{back}^{{tree}}" for back in (1, 2, 3, 4))):
        damage.emptied(file)
    mended(loose, was)


def test_a_pack_without_its_index_is_indexed_again(trueup: Any, was: judging.Before) -> None:
    (index,) = (trueup.folder / ".git/objects/pack").glob("*.idx")
    for name in ("deleted", "emptied", "flipped"):
        if index.exists():
            damage.DAMAGES[name](index)
        assert "this pack, or its index, is damaged: made anew." in trueup("restore").out
    mended_all = judging.faults(trueup.folder, was)
    assert mended_all == []


def test_what_is_whole_in_a_damaged_pack_is_taken_out(trueup: Any, was: judging.Before) -> None:
    """One wrong byte costs what it lay in, and what builds on that; nothing else."""
    (pack,) = (trueup.folder / ".git/objects/pack").glob("*.pack")
    before = len(git(trueup.folder, "rev-list", "--objects", "--all").splitlines())
    damage.flipped(pack)
    answer = trueup("restore")
    assert "what is whole in it is taken out" in answer.out
    known = len(git(trueup.folder, "cat-file", "--batch-all-objects", "--batch-check").splitlines())
    assert known >= before - 6
    assert (aside(trueup) / pack.relative_to(trueup.folder)).exists()


@pytest.mark.parametrize("name", ["halved", "zeros", "deleted"])
def test_what_is_lost_with_a_pack_is_taken_from_a_clone(
    trueup: Any, was: judging.Before, name: str, clone: Path
) -> None:
    (pack,) = (trueup.folder / ".git/objects/pack").glob("*.pack")
    damage.DAMAGES[name](pack)
    assert "taken from the clone" in mended(trueup, was, "--from", str(clone))


def test_everything_stored_is_taken_from_a_clone(
    trueup: Any, was: judging.Before, clone: Path
) -> None:
    shutil.rmtree(trueup.folder / ".git/objects")
    alone = trueup("restore")
    assert alone.code == 3
    assert "bring it from another clone with `trueup restore --from CLONE`" in alone.out
    mended(trueup, was, "--from", str(clone))


def test_even_all_that_git_keeps_is_taken_from_a_clone(
    trueup: Any, was: judging.Before, clone: Path
) -> None:
    for each in (trueup.folder / ".git").iterdir():
        shutil.rmtree(each) if each.is_dir() else each.unlink()
    mended_from(trueup, clone)
    assert git(trueup.folder, "rev-parse", "HEAD") == git(clone, "rev-parse", "HEAD")
    assert judging.working_files(trueup.folder) == was.files


def test_even_a_git_folder_that_is_gone_is_made_from_a_clone(
    trueup: Any, was: judging.Before, clone: Path
) -> None:
    shutil.rmtree(trueup.folder / ".git")
    assert trueup("restore").code == 2
    preview = trueup("restore", "--from", str(clone), "--preview")
    assert preview.code == 3
    assert not (trueup.folder / ".git").exists()
    mended_from(trueup, clone)
    assert judging.working_files(trueup.folder) == was.files
    assert judging.before(trueup.folder).steps <= was.steps


def test_a_clone_that_is_behind_gives_what_it_has(
    trueup: Any, was: judging.Before, clone: Path
) -> None:
    """What was done since still lies in the files."""
    git(clone, "reset", "--quiet", "--hard", "HEAD~1")
    git(clone, "reflog", "expire", "--expire=now", "--all")
    git(clone, "gc", "--quiet", "--prune=now")
    lost = git(trueup.folder, "rev-parse", "HEAD")
    for name in ("objects", "logs"):
        shutil.rmtree(trueup.folder / ".git" / name)
    mended_from(trueup, clone)
    assert git(trueup.folder, "rev-parse", "HEAD") == git(clone, "rev-parse", "HEAD") != lost
    assert judging.working_files(trueup.folder) == was.files


def mended_from(trueup: Any, clone: Path) -> None:
    assert trueup("restore", "--from", str(clone)).code == 0
    assert trueup("restore").out.startswith(WHOLE)


def test_a_clone_that_is_damaged_itself_gives_what_is_whole_in_it(
    trueup: Any, was: judging.Before, clone: Path
) -> None:
    lost = file_of(trueup, "HEAD~1:patterns/vest.toml")
    kept = clone / lost.relative_to(trueup.folder)
    assert lost.exists()
    lost.unlink()
    for each in sorted((clone / ".git/objects").glob("??/*")):
        if each != kept:
            damage.emptied(each)
    mended(trueup, was, "--from", str(clone))


def test_nothing_of_a_clone_is_run_and_no_other_folder_is_taken_for_one(
    trueup: Any, clone: Path, tmp_path: Path
) -> None:
    ran = tmp_path / "ran"
    git(clone, "config", "core.fsmonitor", f"touch {ran}")
    git(clone, "config", "core.sshCommand", f"touch {ran}")
    ran.unlink(missing_ok=True)
    file_of(trueup, "HEAD").unlink()
    assert trueup("restore", "--from", str(clone)).code == 0
    assert not ran.exists()
    for wrong in (tmp_path, tmp_path / "nowhere", trueup.folder / "patterns"):
        answer = trueup("restore", "--from", str(wrong))
        assert answer.code == 2
        assert "Traceback" not in answer.err


# --- lost -----------------------------------------------------------------------------------------


def test_a_content_of_an_earlier_version_that_is_nowhere_is_named_until_a_clone_has_it(
    loose: Any, was: judging.Before, clone: Path
) -> None:
    version = git(loose.folder, "rev-parse", "HEAD~1")
    file_of(loose, "HEAD~1:patterns/vest.toml").unlink()
    for _ in range(2):
        answer = loose("restore")
        assert answer.code == 3
        assert f"The content of patterns/vest.toml as of version {version[:10]}" in answer.out
        assert "and 2 before it is nowhere" in answer.out
        assert "Lost" not in answer.out
    assert git(loose.folder, "rev-parse", "HEAD~1") == version
    assert loose("history").code == 0
    assert "it is missing: taken from the clone." in mended(loose, was, "--from", str(clone))


def test_a_lost_last_step_is_told_and_what_it_did_stays_in_the_files(
    trueup: Any, was: judging.Before
) -> None:
    """The disk kept nothing of the last step but the working files."""
    last = git(trueup.folder, "rev-parse", "HEAD")
    before = git(trueup.folder, "rev-parse", "HEAD~1")
    names = ("HEAD", "HEAD^{tree}", "HEAD:blocks", "HEAD:blocks/village.toml")
    for file in files_of(trueup, *names):
        damage.zeros(file)
    answer = trueup("restore")
    assert answer.code == 0
    assert "Lost\n  1 step at the end of main cannot be read." in answer.out
    assert f"- {last[:10]}, " in answer.out
    assert git(trueup.folder, "rev-parse", "HEAD") == before
    assert judging.working_files(trueup.folder) == was.files
    assert "left as they are: " in answer.out
    assert "blocks/village.toml" in answer.out.partition("left as they are: ")[2]
    assert git(trueup.folder, "fsck", "--full", "--strict", "--no-dangling") == ""
    again = trueup("restore")
    assert (again.code, again.out.splitlines()[0]) == (0, WHOLE.strip())
    trueup.made("derive", "cape", "--from", "village")
    assert trueup("restore").out == WHOLE


def test_a_lost_step_in_the_middle_takes_none_after_it_along(
    loose: Any, was: judging.Before, clone: Path
) -> None:
    lost = git(loose.folder, "rev-parse", "HEAD~2")
    head = git(loose.folder, "rev-parse", "HEAD")
    before = git(loose.folder, "rev-parse", "HEAD~3")
    damage.halved(file_of(loose, "HEAD~2"))
    answer = loose("restore")
    assert answer.code == 0
    assert "1 step in the middle of the history cannot be read." in answer.out
    assert f"- {lost[:10]}, " in answer.out
    assert git(loose.folder, "rev-parse", "HEAD") == head
    assert git(loose.folder, "rev-parse", f"before-{lost[:8]}") == before
    assert git(loose.folder, "fsck", "--full", "--strict", "--no-dangling") == ""
    assert judging.before(loose.folder).steps == was.steps - {lost}
    assert judging.working_files(loose.folder) == was.files
    assert loose("restore").out == WHOLE
    assert loose.made("history", "--json").document["history"][0]["commit"] == head
    loose.made("undo")
    # A clone that still has it closes the gap.
    assert loose("restore", "--from", str(clone)).code == 0
    assert lost in git(loose.folder, "rev-list", "HEAD")
    assert loose("restore").out == WHOLE


def test_two_gaps_in_the_history_are_both_cut(loose: Any, was: judging.Before) -> None:
    lost = set(git(loose.folder, "rev-parse", "HEAD~2", "HEAD~6").split())
    for file in files_of(loose, "HEAD~2", "HEAD~6"):
        damage.deleted(file)
    answer = loose("restore")
    assert answer.code == 0
    assert judging.before(loose.folder).steps == was.steps - lost
    assert loose("restore").out == WHOLE


def test_what_came_before_a_gap_is_kept_where_no_log_goes_back_so_far(
    loose: Any, was: judging.Before
) -> None:
    """Git forgets what its logs say of steps older than a quarter of a year."""
    lost, before = git(loose.folder, "rev-parse", "HEAD~6", "HEAD~7").split()
    for log in (".git/logs/HEAD", ".git/logs/refs/heads/main"):
        lines = (loose.folder / log).read_text().splitlines(keepends=True)
        (loose.folder / log).write_text("".join(lines[-2:]))
    damage.deleted(file_of(loose, "HEAD~6"))
    answer = loose("restore")
    assert answer.code == 0
    assert f"what came before is kept on the branch before-{lost[:8]}" in answer.out
    assert git(loose.folder, "rev-parse", f"before-{lost[:8]}") == before
    assert judging.before(loose.folder).steps == was.steps - {lost}
    assert loose("restore").out == WHOLE


def test_a_lost_start_of_the_history_is_told(loose: Any, was: judging.Before) -> None:
    first = git(loose.folder, "rev-list", "--max-parents=0", "HEAD")
    file_of(loose, first).unlink()
    answer = loose("restore")
    assert answer.code == 0
    assert first[:10] in answer.out
    assert judging.before(loose.folder).steps == was.steps - {first}
    assert loose("restore").out == WHOLE


def test_what_lay_unchanged_for_long_is_not_paid_for_with_the_steps_since(
    loose: Any, was: judging.Before
) -> None:
    """Every version holds these settings: going back to one without them would lose them all."""
    for number in range(11):
        loose.made("style", "vest", "lower-neck", "--piece", "front", "--by", f"{number + 1}mm")
    head = git(loose.folder, "rev-parse", "HEAD")
    file_of(loose, "HEAD:wardrobe.toml").unlink()
    settings = loose.folder / "wardrobe.toml"
    settings.write_text(settings.read_text() + "# the theatre's\n")
    answer = loose("restore")
    assert answer.code == 3
    assert "The content of wardrobe.toml as of version" in answer.out
    assert git(loose.folder, "rev-parse", "HEAD") == head


def test_what_nothing_needs_is_moved_aside(trueup: Any, was: judging.Before) -> None:
    (trueup.folder / "notes.txt").write_text("nobody recorded this")
    blob = git(trueup.folder, "hash-object", "-w", "notes.txt")
    (trueup.folder / "notes.txt").unlink()
    file = trueup.folder / ".git/objects" / blob[:2] / blob[2:]
    damage.emptied(file)
    out = mended(trueup, was)
    assert f"{file.relative_to(trueup.folder)}, it is damaged: moved aside." in out


def test_a_preview_says_all_and_writes_nothing(trueup: Any) -> None:
    damage.zeros(file_of(trueup, "HEAD"))
    (trueup.folder / ".git/HEAD").write_text("")
    (trueup.folder / "patterns/own.toml").unlink()
    before = judging.snapshot(trueup.folder)
    answer = trueup("restore", "--preview")
    assert answer.code == 3
    assert judging.snapshot(trueup.folder) == before
    told = answer.out.split("A preview: nothing is written.")[0]
    done = trueup("restore")
    assert done.code == 0
    for line in told.splitlines():
        if line.startswith("  "):
            assert line in done.out
    assert "patterns/own.toml, it is missing: its last version is put back." in told
    assert "Would be lost" in told


def test_the_document_says_the_same(trueup: Any) -> None:
    damage.zeros(file_of(trueup, "HEAD"))
    (trueup.folder / ".git/HEAD").write_text("")
    found = trueup("restore", "--json")
    assert found.code == 0
    document = found.document
    assert document["whole"]
    assert document["remaining"] == []
    kinds = {(each["wrong"], each["cure"]) for each in document["findings"]}
    assert {("head", "from-log"), ("branch", "from-log"), ("version", "given-up")} <= kinds
    (lost,) = [each for each in document["findings"] if each["wrong"] == "version"]
    assert len(lost["lost"][0]["id"]) == 40
    assert Path(document["aside"]).is_dir()
    assert trueup("restore", "--json").document["findings"] == []


def test_the_next_steps_are_made_and_another_clone_still_joins(trueup: Any, clone: Path) -> None:
    damage.zeros(file_of(trueup, "HEAD"))
    assert trueup("restore").code == 0
    made(trueup.folder, "derive", "cape", "--from", "village")
    answer = run("-C", str(clone), "mend", str(trueup.folder))
    assert answer.code == 0, answer.err
