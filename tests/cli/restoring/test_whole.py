"""trueup restore where nothing is wrong, and where it is not asked of a wardrobe."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import run
from tests.cli.restoring import judging
from tests.cli.restoring.story import SCOOP, git
from tests.cli.trouble.test_failures import process

WHOLE = "Nothing is wrong: every file and every step can be read.\n"


@pytest.mark.parametrize("words", [(), ("--preview",)])
def test_of_a_whole_wardrobe_it_says_so_and_writes_nothing(trueup: Any, words: Any) -> None:
    before = judging.snapshot(trueup.folder)
    answer = trueup("restore", *words)
    assert (answer.code, answer.out, answer.err) == (0, WHOLE, "")
    assert judging.snapshot(trueup.folder) == before


def test_it_says_so_of_a_new_wardrobe_and_after_every_kind_of_step(
    trueup: Any, tmp_path: Path
) -> None:
    run("start", str(tmp_path / "new"))
    assert judging.restore(tmp_path / "new").out == WHOLE
    trueup.made("undo")
    trueup.made("derive", "cape", "--from", "village")
    assert trueup("restore").out == WHOLE


def test_it_says_so_of_a_clone_that_git_made_and_of_one_that_git_packed(
    trueup: Any, tmp_path: Path
) -> None:
    git(trueup.folder, "gc", "--quiet", "--prune=now")
    git(trueup.folder, "pack-refs", "--all")
    assert trueup("restore").out == WHOLE
    git(tmp_path, "clone", "--quiet", str(trueup.folder), "cloned")
    assert judging.restore(tmp_path / "cloned").out == WHOLE
    git(tmp_path, "clone", "--quiet", "--depth", "3", trueup.folder.as_uri(), "shallow")
    assert judging.restore(tmp_path / "shallow").out == WHOLE
    git(tmp_path / "cloned", "checkout", "--quiet", "HEAD~1")
    assert judging.restore(tmp_path / "cloned").out == WHOLE


def test_edits_by_hand_are_left_alone_and_named(trueup: Any) -> None:
    file = trueup.folder / "patterns/own.toml"
    file.write_text(file.read_text() + "\n# hollowed at the second fitting\n")
    new = trueup.folder / "patterns/cape.toml"
    new.write_text('format = 1\nname = "cape"\n\n[[parents]]\nname = "village"\n')
    before = judging.snapshot(trueup.folder)
    answer = trueup("restore")
    assert answer.code == 0
    assert answer.out.startswith(WHOLE)
    last = answer.out.splitlines()[-1]
    assert last == ("Edited by hand, and left as they are: patterns/cape.toml, patterns/own.toml.")
    assert judging.snapshot(trueup.folder) == before


def test_a_repository_that_is_no_wardrobe_is_not_touched(tmp_path: Path) -> None:
    place = tmp_path / "something"
    place.mkdir()
    git(place, "init", "--quiet")
    (place / ".git/HEAD").write_text("")
    before = judging.snapshot(place)
    answer = judging.restore(place)
    assert answer.code == 2
    assert "is not a wardrobe" in answer.err
    assert judging.snapshot(place) == before
    assert judging.restore(tmp_path).code == 2
    assert judging.restore(tmp_path / "nowhere").code == 2


def test_it_runs_as_a_process_and_says_nothing_on_stderr(trueup: Any) -> None:
    done = process("-C", str(trueup.folder), "restore")
    assert (done.returncode, done.stdout, done.stderr) == (0, WHOLE, "")


def test_a_sha256_wardrobe_is_whole_and_is_mended_as_one(told: Path, tmp_path: Path) -> None:
    place = tmp_path / "wardrobe"
    place.mkdir()
    git(place, "init", "--quiet", "--object-format=sha256", "--initial-branch=main")
    for path, content in judging.working_files(told).items():
        (place / path).parent.mkdir(exist_ok=True)
        (place / path).write_bytes(content)
    git(place, "-c", "user.name=Ada", "-c", "user.email=ada@example.org", "add", ".")
    git(place, "-c", "user.name=Ada", "-c", "user.email=ada@example.org", "commit", "-qm", "All")
    for path in ("garments/blouse-1.toml", "patterns/own.toml"):
        (place / path).unlink()
    assert judging.restore(place).code in (0, 3)
    (place / ".git/config").write_text("")
    (place / ".git/refs/heads/main").write_text("")
    answer = judging.restore(place)
    assert ".git/config, git cannot use these settings: made anew" in answer.out
    assert git(place, "fsck", "--strict") == ""
    assert run("-C", str(place), *SCOOP).code == 0
