"""What can go wrong around a command: no git, no reader, no room, stopped from the keyboard."""

import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.checkout import IMPORTS
from tests.lineage.recording import undo
from trueup.cli import failures
from trueup.cli.failures import Misused, guarded
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
ROOT = Path(__file__).parents[3]


def process(*words: str, **options: Any) -> "subprocess.CompletedProcess[str]":
    """Run the command as a process of its own."""
    environment = {**os.environ, "PYTHONPATH": IMPORTS, **options.pop("env", {})}
    return subprocess.run(
        [sys.executable, "-m", "trueup.cli", *words],
        env=environment, text=True, check=False, timeout=120,
        **({"capture_output": True} | options),
    )  # fmt: skip


def test_the_command_runs_as_a_process(trueup: Any) -> None:
    done = process("-C", str(trueup.folder), "measure", "village", "front.shoulder")
    assert (done.returncode, done.stderr) == (0, "")
    assert "12.7 cm" in done.stdout


def test_the_exit_code_reaches_the_shell(corrected: Any) -> None:
    assert process("-C", str(corrected.folder), "check", "village").returncode == 1
    assert process("-C", str(corrected.folder), "check", "nosuch").returncode == 2
    (corrected.folder / ".git" / "HEAD").write_text("")
    assert process("-C", str(corrected.folder), "check", "village").returncode == 3


def test_without_git_it_says_so(trueup: Any, tmp_path: Path) -> None:
    before = trueup.contents()
    nowhere = tmp_path / "empty"
    nowhere.mkdir()
    for words in (("tree",), SCOOP):
        done = process("-C", str(trueup.folder), *words, env={"PATH": str(nowhere)})
        assert done.returncode == 2
        assert done.stderr == "git is not to be found on this machine; install git and try again.\n"
    done = process("start", str(tmp_path / "new"), env={"PATH": str(nowhere)})
    assert done.returncode == 2
    assert "install git" in done.stderr
    assert not (tmp_path / "new").exists()
    assert trueup.contents() == before


def test_a_reader_that_goes_away_is_no_error(trueup: Any) -> None:
    for words in (("measure", "village"), ("tree", "--json"), ("--help",)):
        reading, writing = os.pipe()
        os.close(reading)
        try:
            done = process(
                "-C", str(trueup.folder), *words,
                capture_output=False, stdout=writing, stderr=subprocess.PIPE,
            )  # fmt: skip
        finally:
            os.close(writing)
        assert done.stderr == ""
        assert done.returncode in (0, 1)


def test_with_stdout_closed_a_step_is_still_made(trueup: Any) -> None:
    words = " ".join(("-C", str(trueup.folder), *SCOOP))
    done = subprocess.run(
        ["sh", "-c", f"'{sys.executable}' -m trueup.cli {words} >&-"],
        env={**os.environ, "PYTHONPATH": IMPORTS},
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert len(trueup("conflicts", "--json").document["conflicts"]) > 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no full disk to write to")
def test_an_answer_that_cannot_be_written_is_told(trueup: Any) -> None:
    with open("/dev/full", "w") as full:
        done = process(
            "-C", str(trueup.folder), "tree",
            capture_output=False, stdout=full, stderr=subprocess.PIPE,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "No space left" in done.stderr


def head(trueup: Any) -> str:
    return str((trueup.folder / ".git/refs/heads/main").read_text()[:10])


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no full disk to write to")
def test_a_step_whose_answer_cannot_be_written_is_told_to_be_recorded(trueup: Any) -> None:
    with open("/dev/full", "w") as full:
        done = process(
            "-C", str(trueup.folder), *SCOOP,
            capture_output=False, stdout=full, stderr=subprocess.PIPE,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.endswith(f"do not repeat it, it is recorded as {head(trueup)}.\n")


@pytest.mark.parametrize(
    ("raised", "code"),
    [(KeyboardInterrupt(), 130), (Misused("No room for that."), 2), (MemoryError(), 2)],
)
def test_what_fails_after_a_step_says_that_it_is_recorded(
    trueup: Any, capsys: pytest.CaptureFixture[str], raised: BaseException, code: int
) -> None:
    def step_and_fail() -> int:
        with Wardrobe.open(trueup.folder) as wardrobe:
            undo(wardrobe)
        raise raised

    assert guarded(step_and_fail) == code
    assert capsys.readouterr().err.endswith(f"recorded as {head(trueup)}.\n")


def test_stopped_among_many_steps_it_tells_how_many_there_are(
    trueup: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    def steps_and_stop() -> int:
        for _ in range(3):
            with Wardrobe.open(trueup.folder) as wardrobe:
                undo(wardrobe)
        raise KeyboardInterrupt

    assert guarded(steps_and_stop) == 130
    told = capsys.readouterr().err
    assert told == f"Stopped; before that 3 steps were recorded, the last as {head(trueup)}.\n"


def test_a_file_behind_after_many_steps_is_told_with_how_many_there_are(
    trueup: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    def steps_and_fail() -> int:
        for _ in range(3):
            with Wardrobe.open(trueup.folder) as wardrobe:
                undo(wardrobe)
        raise Misused(f"A file could not follow: it is recorded as {head(trueup)}.")

    assert guarded(steps_and_fail) == 2
    told = capsys.readouterr().err
    assert told.endswith(f"it is recorded as {head(trueup)}, the last of 3.\n")


def test_a_step_stopped_after_edits_by_hand_is_not_told_as_recorded(
    trueup: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    village = trueup.folder / "blocks/village.toml"

    def edits_and_stop() -> int:
        village.write_text(f"# my own words\n{village.read_text()}")
        with Wardrobe.open(trueup.folder) as wardrobe:
            wardrobe.take_up_hand_edits()
        raise KeyboardInterrupt

    assert guarded(edits_and_stop) == 130
    told = capsys.readouterr().err
    assert told == f"Stopped: nothing but your own edits is recorded, as {head(trueup)}.\n"


@pytest.mark.parametrize("part", ["log of HEAD", "working file"])
def test_a_step_that_half_fails_is_told_as_recorded_and_not_undone_by_the_next(
    trueup: Any, part: str
) -> None:
    before = head(trueup)
    if part == "log of HEAD":
        (trueup.folder / ".git/logs/HEAD").unlink()
        (trueup.folder / ".git/logs/HEAD/x").mkdir(parents=True)
    else:
        (trueup.folder / ".git/index").unlink()
        (trueup.folder / ".git/index/x").mkdir(parents=True)
    done = trueup(*SCOOP)
    assert head(trueup) != before
    assert done.code == 0 or done.err.endswith(f"recorded as {head(trueup)}.\n")
    assert "Edited by hand" not in trueup("tree").err
    assert "hollow the armhole" in trueup.made("history").out.splitlines()[0]


@pytest.mark.skipif(sys.platform == "win32", reason="needs a limit on the size of files")
def test_with_no_room_for_a_step_nothing_is_recorded(trueup: Any) -> None:
    import resource  # noqa: PLC0415

    def no_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (512, 512))

    before = trueup.contents()
    done = process("-C", str(trueup.folder), *SCOOP, preexec_fn=no_room)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "nothing was recorded" in done.stderr
    assert trueup.contents() == before
    assert trueup(*SCOOP).code == 0


def test_killed_at_any_moment_it_is_as_before_or_as_after(trueup: Any) -> None:
    with Wardrobe.open(trueup.folder) as wardrobe:
        before = len(list(wardrobe.history()))
    for tenths in (3, 5, 7, 9, 11):
        words = ("-C", str(trueup.folder), "style", "vest", "add-ease", "--by", f"{tenths}mm")
        running = subprocess.Popen(
            [sys.executable, "-m", "trueup.cli", *words],
            env={**os.environ, "PYTHONPATH": IMPORTS},
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        time.sleep(tenths / 10)
        running.kill()
        running.wait()
        assert trueup("check", "vest").code in (0, 1)
        with Wardrobe.open(trueup.folder) as wardrobe:
            steps = [each.kind for each in wardrobe.state.node("vest").steps]
            recorded = len(list(wardrobe.history())) - before
            assert wardrobe.hand_edits() == ()
        assert steps == ["redraw-edge", *["add-ease"] * recorded]


def test_a_terminal_that_lacks_letters_stops_nothing(trueup: Any) -> None:
    plain = {"PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    words = (*SCOOP, "--why", "zu eng – früher weiter")
    done = process("-C", str(trueup.folder), *words, env=plain)
    assert done.returncode == 0
    done = process("-C", str(trueup.folder), "history", env=plain)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_why_from_a_file_cannot_act_on_the_terminal(trueup: Any) -> None:
    trueup.made(*SCOOP, "--why", "a\x1b[31mb [bold]c[/bold] [/]")
    for words in (("history",), ("history", "village"), ("origin", "village")):
        out = trueup.made(*words).out
        assert "\x1b" not in out
        assert "[bold]c[/bold] [/]" in out


@pytest.mark.parametrize(
    ("raised", "code", "told"),
    [
        (KeyboardInterrupt(), 130, "Stopped"),
        (OSError(28, "No space left on device", "a.svg"), 2, "a.svg: No space left on device"),
        (MemoryError(), 2, "memory"),
        (RuntimeError("odd\nthing"), 2, "did not expect"),
        (RecursionError("deep"), 2, "did not expect"),
    ],
)
def test_whatever_happens_is_told_in_one_sentence(
    capsys: pytest.CaptureFixture[str], raised: BaseException, code: int, told: str
) -> None:
    def fail() -> int:
        raise raised

    assert guarded(fail) == code
    said = capsys.readouterr()
    assert said.out == ""
    assert told in said.err
    assert said.err.count("\n") == 1


def test_a_traceback_can_be_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRUEUP_TRACEBACK", "1")

    def fail() -> int:
        raise RuntimeError("odd")

    with pytest.raises(RuntimeError):
        guarded(fail)


def test_nearest_names_are_all_when_none_is_like_it() -> None:
    assert failures.nearest("corect", ["tree", "correct"]) == "correct"
    assert failures.nearest("zzz", ["check", "correct"]) == "check, correct"
