"""What git fetched, or left half joined, is joined by the real command, killed or not."""

import os
from pathlib import Path
from typing import Any

import pytest

from tests.cli.commands.upkeep.two_makers import assert_whole, clone, git, kinds, state
from tests.cli.conftest import Trueup, run
from tests.sharing.copied import copied
from trueup.lineage.store.files import working_files
from trueup.lineage.store.writing import index, settling, step, unfinished
from trueup.lineage.wardrobe import Wardrobe

pytestmark = pytest.mark.usefixtures("maker")


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


@pytest.fixture(scope="module")
def pulled(built: Path, maker: None, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A `git pull` that stopped at a conflict of lines."""
    place = tmp_path_factory.mktemp("pulled")
    ours = Trueup(copied(built, place / "theatre"))
    theirs = clone(ours, place / "other" / "theatre")
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
    return ours.folder


@pytest.fixture
def stopped(pulled: Path, tmp_path: Path) -> Trueup:
    folder = copied(pulled, tmp_path / "theatre")
    git(folder, "update-index", "-q", "--refresh", fails=True)  # its files are other files now
    return Trueup(folder)


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


def killed(place: str, name: str, moment: str, count: str, *words: str) -> int:
    """Run the command in a process that dies before or after so many calls of a function.

    The process is divided from this one, which has imported the program; return its exit code.
    """
    child = os.fork()
    if child == 0:
        places = {"os": os, "index": index, "settling": settling, "step": step}
        places |= {"unfinished": unfinished, "working_files": working_files}
        _die(places[place], name, moment, int(count))
        try:
            run(*words)
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _die(place: Any, name: str, moment: str, count: int) -> None:
    whole, calls = getattr(place, name), []

    def watched(*arguments: Any, **more: Any) -> Any:
        calls.append(1)
        if moment == "before" and len(calls) == count:
            os._exit(9)
        result = whole(*arguments, **more)
        if moment == "after" and len(calls) == count:
            os._exit(9)
        return result

    setattr(place, name, watched)


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
    assert killed(*moment, "-C", str(stopped.folder), "mend") == 9
    Wardrobe.open(stopped.folder).close()
    if len(git(stopped.folder, "log", "-1", "--format=%P").split()) < 2:
        assert (stopped.folder / ".git" / "MERGE_HEAD").exists() is half
        stopped.made("mend")
    assert kinds(stopped, "blouse") == ["lower-neck", "widen-neck", "lengthen"]
    assert_whole(stopped)
