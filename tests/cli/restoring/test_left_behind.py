"""What killed gits and killed writers leave behind, and what may not be read or written."""

import ctypes
import os
import shutil
import subprocess
import sys
import textwrap
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.checkout import IMPORTS
from tests.cli.restoring import damage, judging
from tests.cli.restoring.story import git, made
from tests.cli.restoring.test_names import aside, mended
from tests.cli.restoring.test_whole import WHOLE
from tests.sharing.copied import copied
from tests.sharing.forked import start

LOCKS = ("index.lock", "HEAD.lock", "refs/heads/main.lock", "packed-refs.lock", "config.lock")
HALF = ("objects/tmp_obj_a1b2c3", "objects/pack/tmp_pack_a1b2c3", "objects/pack/.tmp-7-pack-1.pack")


def left(trueup: Any, name: str, hours: float = 3.0) -> Path:
    """Leave a file in git's folder, as old as that."""
    file = Path(trueup.folder / ".git" / name)
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(b"half")
    then = time.time() - hours * 3600
    os.utime(file, (then, then))
    return file


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_file_of_nobodys_is_moved_aside(trueup: Any, was: judging.Before, name: str) -> None:
    file = left(trueup, name)
    assert f".git/{name}, a lock file of git's, which keeps every step out: moved aside." in mended(
        trueup, was
    )
    assert not file.exists()
    trueup.made("derive", "cape", "--from", "village")


def test_a_lock_file_that_a_git_may_still_need_is_named(trueup: Any) -> None:
    file = left(trueup, "index.lock", hours=0)
    answer = trueup("restore")
    assert answer.code == 3
    assert ".git/index.lock, a lock file of git's" in answer.out
    assert "wait until no git is at work here, and run this again." in answer.out
    assert file.exists()


@pytest.mark.skipif(not Path("/proc/self/cwd").exists(), reason="needs Linux")
def test_while_a_git_is_at_work_here_no_lock_file_is_anybodys_else(trueup: Any) -> None:
    file = left(trueup, "index.lock")
    words = ["git", "cat-file", "--batch"]
    with subprocess.Popen(words, cwd=trueup.folder, stdin=subprocess.PIPE) as at_work:
        answer = trueup("restore")
        assert at_work.stdin is not None
        at_work.stdin.close()
    assert answer.code == 3
    assert file.exists()
    assert trueup("restore").code == 0
    assert not file.exists()


@pytest.mark.parametrize("name", HALF)
def test_what_a_git_was_writing_is_taken_away(trueup: Any, was: judging.Before, name: str) -> None:
    file = left(trueup, name)
    assert "left half done by a git that was killed: taken away." in mended(trueup, was)
    assert not file.exists()
    assert not (trueup.folder / ".git/trueup/aside").exists()


def test_a_report_of_a_crash_is_moved_aside(trueup: Any, was: judging.Before) -> None:
    left(trueup, "fast_import_crash_4711")
    mended(trueup, was)
    assert (aside(trueup) / ".git/fast_import_crash_4711").read_bytes() == b"half"


def test_files_that_did_not_follow_a_step_follow_it_though_its_line_is_garbage(
    trueup: Any, was: judging.Before
) -> None:
    """Killed between the branch and the files; then the disk lost the line that says so."""
    old = {
        path: subprocess.run(
            ["git", "show", f"HEAD~1:{path}"], cwd=trueup.folder, capture_output=True, check=True
        ).stdout
        for path in git(trueup.folder, "diff", "--name-only", "HEAD~1", "HEAD").splitlines()
    }
    assert len(old) > 1
    for path, content in old.items():
        (trueup.folder / path).write_bytes(content)
    (trueup.folder / ".git/trueup/step").write_bytes(b"\0\0\0")
    (trueup.folder / ".git/trueup/waiting").mkdir()
    (trueup.folder / ".git/trueup/waiting/0").write_bytes(b"saved by an editor meanwhile")
    out = mended(trueup, was)
    assert "it does not say which step was on its way: moved aside." in out
    assert "blocks/village.toml, it cannot be read: brought to the latest step." in out
    kept = aside(trueup)
    assert (kept / "blocks/village.toml").read_bytes() == old["blocks/village.toml"]
    assert (kept / ".git/trueup/waiting/0").read_bytes() == b"saved by an editor meanwhile"


def test_an_interrupted_step_is_finished_first(trueup: Any) -> None:
    """As any other command does; what it brings is no edit by hand."""
    before = git(trueup.folder, "rev-parse", "HEAD~1")
    head = git(trueup.folder, "rev-parse", "HEAD")
    paths = git(trueup.folder, "diff", "--name-only", before, head).splitlines()
    for path in paths:
        git(trueup.folder, "checkout", "--quiet", before, "--", path)
    git(trueup.folder, "read-tree", head)
    (trueup.folder / ".git/trueup/step").write_text(f"{head} refs/heads/main\n")
    assert trueup("restore").out == WHOLE
    assert git(trueup.folder, "status", "--porcelain", "--untracked-files=no") == ""


# --- killed in the middle -------------------------------------------------------------------------

KILLED = """
    import os, sys
    from trueup.cli.main import main
    from trueup.lineage.restoring import carrying_out

    folder, name, count = sys.argv[1:]
    whole, calls = getattr(carrying_out.Hands, name), []

    def watched(*arguments):
        calls.append(1)
        if len(calls) == int(count):
            os._exit(9)
        return whole(*arguments)

    setattr(carrying_out.Hands, name, watched)
    sys.exit(main(["-C", folder, "restore"]))
"""


MOMENTS = (1, 2, 4, 7, 11, 16)


@pytest.mark.parametrize("name", ["_do", "_put"])
def test_killed_at_any_moment_the_next_one_finishes(
    told: Path, was: judging.Before, tmp_path: Path, name: str
) -> None:
    def damaged(to: Path) -> Path:
        folder = copied(told, to)
        lost = git(folder, "rev-parse", "HEAD:garments/blouse-1.toml", "HEAD:patterns").split()
        for each in lost:
            file = folder / ".git/objects" / each[:2] / each[2:]
            if file.exists():
                damage.zeros(file)
        for place in (".git/HEAD", ".git/refs/heads/main", ".git/index", "patterns/own.toml"):
            damage.emptied(folder / place)
        damage.folder(folder / "patterns/vest.toml")
        return folder

    for count in MOMENTS:
        folder = damaged(tmp_path / str(count))
        words = (textwrap.dedent(KILLED), str(folder), name, str(count))
        done = start("tests.sharing.lines", *words, stderr=subprocess.PIPE)
        _, complaint = done.communicate(120)
        assert done.returncode in (0, 9), complaint
        assert judging.faults(folder, was) == []
        assert judging.working_files(folder) == was.files
        assert judging.before(folder).steps >= was.steps
        for left_over in (folder / ".git/trueup").glob("restoring-*"):
            os.utime(left_over, (0, 0))
        assert judging.restore(folder).code == 0
        assert not list((folder / ".git/trueup").glob("restoring-*"))
        shutil.rmtree(folder)
        if done.returncode == 0:
            break


# --- what may not be read or written --------------------------------------------------------------


def as_somebody(folder: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    """Run the command as one for whom the rights of files hold, which they do not for root."""
    return subprocess.run(
        [sys.executable, "-m", "trueup.cli", "-C", str(folder), *words],
        env={**os.environ, "PYTHONPATH": IMPORTS},
        preexec_fn=without_privileges if os.geteuid() == 0 else None,
        capture_output=True, text=True, check=False, timeout=120, cwd=folder,
    )  # fmt: skip


def without_privileges() -> None:
    system = ctypes.CDLL(None, use_errno=True)
    for right in (_OVERRIDE_WRITING, _OVERRIDE_READING):
        if system.prctl(_DROP, right, 0, 0, 0) != 0:
            raise OSError(ctypes.get_errno(), "the rights of root cannot be laid down")


_DROP, _OVERRIDE_WRITING, _OVERRIDE_READING = 24, 1, 2  # Linux: prctl(2), capabilities(7)


@pytest.fixture
def somebodys(told: Path, tmp_path: Path) -> Iterator[Path]:
    """A copy of the wardrobe, whose rights may be taken away."""
    if os.geteuid() == 0 and not sys.platform.startswith("linux"):
        pytest.skip("root may do everything")
    folder = copied(told, tmp_path / "wardrobe")
    yield folder
    subprocess.run(["chmod", "-R", "u+rwX", folder], check=True)


@pytest.mark.skipif(os.name != "posix", reason="needs the rights of POSIX")
@pytest.mark.parametrize(
    "place", [".git/HEAD", ".git/index", ".git/refs", "patterns/own.toml", ".git/logs/HEAD"]
)
def test_reading_what_is_ones_own_is_allowed_again(
    somebodys: Path, was: judging.Before, place: str
) -> None:
    (somebodys / place).chmod(0)
    done = as_somebody(somebodys, "restore")
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{place}, it may not be read, or not be written: allowed again." in done.stdout
    assert judging.working_files(somebodys) == was.files
    assert as_somebody(somebodys, "restore").stdout == WHOLE


@pytest.mark.skipif(os.name != "posix", reason="needs the rights of POSIX")
def test_a_log_that_may_not_be_written_is_allowed_again(somebodys: Path) -> None:
    (somebodys / ".git/logs/HEAD").chmod(0o444)
    done = as_somebody(somebodys, "restore")
    assert done.returncode == 0, done.stdout + done.stderr
    assert ".git/logs/HEAD, it may not be read, or not be written: allowed" in done.stdout


@pytest.mark.skipif(os.name != "posix", reason="needs the rights of POSIX")
def test_a_whole_wardrobe_that_may_only_be_read_is_whole(somebodys: Path) -> None:
    subprocess.run(["chmod", "-R", "a-w", somebodys], check=True)
    before = judging.snapshot(somebodys)
    done = as_somebody(somebodys, "restore")
    assert (done.returncode, done.stdout, done.stderr) == (0, WHOLE, "")
    assert judging.snapshot(somebodys) == before


@pytest.mark.skipif(os.name != "posix", reason="needs the rights of POSIX")
def test_a_damaged_one_that_may_only_be_read_is_told(somebodys: Path) -> None:
    damage.emptied(somebodys / ".git/refs/heads/main")
    (somebodys / "patterns/own.toml").unlink()
    subprocess.run(["chmod", "-R", "a-w", somebodys], check=True)
    before = judging.snapshot(somebodys)
    done = as_somebody(somebodys, "restore")
    assert done.returncode == 3
    assert "refs/heads/main, this branch names no version that is whole" in done.stdout
    assert "patterns/own.toml, it is missing" in done.stdout
    assert "Cannot write" in done.stderr
    assert judging.snapshot(somebodys) == before


def test_two_at_once_are_one_after_the_other(trueup: Any, was: judging.Before) -> None:
    damage.emptied(trueup.folder / ".git/refs/heads/main")
    damage.zeros(trueup.folder / "patterns/own.toml")
    words = [sys.executable, "-m", "trueup.cli", "-C", str(trueup.folder), "restore"]
    both = [
        subprocess.Popen(words, env={**os.environ, "PYTHONPATH": IMPORTS}, text=True)
        for _ in range(2)
    ]
    assert [each.wait(120) for each in both] == [0, 0]
    assert judging.faults(trueup.folder, was) == []
    made(trueup.folder, "derive", "cape", "--from", "village")
