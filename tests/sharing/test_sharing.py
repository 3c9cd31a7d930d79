"""What is shared between tests is as if each had made it: processes, copies, beginnings."""

import os
import signal
import subprocess
from pathlib import Path

import pytest

from tests.lineage.making import BODY, change
from tests.sharing.beginnings import Beginnings
from tests.sharing.copied import copied
from tests.sharing.forked import start
from trueup.lineage.files.records import BlockDraft, Role
from trueup.lineage.wardrobe import Wardrobe

PIPES = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
LINES = "tests.sharing.lines"
WAITS = 60.0


@pytest.fixture
def wardrobe(tmp_path: Path) -> Path:
    folder = tmp_path / "wardrobe"
    with Wardrobe.start(folder, "theatre", "cm") as made:
        made.record(made.propose_block("village", BlockDraft("bust-proportion", BODY)))
        made.evaluator.summary("village")
    return folder


def evaluated(folder: Path) -> list[str]:
    with Wardrobe.open(folder) as opened:
        opened.evaluator.summary("village")
        return list(opened.evaluator.ran)


def step(folder: Path) -> None:
    with Wardrobe.open(folder) as opened:
        made = change("lower-neck", piece="front", by="5mm")
        opened.record(opened.propose_steps("village", [made], Role.CORRECTION, "it binds"))


def test_a_process_is_one_of_its_own(tmp_path: Path) -> None:
    lines = "import os, sys; print(os.getpid(), os.getcwd(), sys.argv[1:], os.environ['MINE'])"
    env = {**os.environ, "MINE": "ours"}
    started = start(LINES, lines, "a", "b c", cwd=tmp_path, env=env, **PIPES)
    said = f"{started.pid} {os.path.realpath(tmp_path)} ['a', 'b c'] ours\n"
    assert started.communicate(WAITS) == (said, "")
    assert started.returncode == 0
    assert started.pid != os.getpid()


@pytest.mark.parametrize(
    ("lines", "code", "complaint"),
    [
        ("import sys; sys.exit(3)", 3, ""),
        ("import sys; sys.exit('No.')", 1, "No.\n"),
        ("import os; os._exit(9)", 9, ""),
        ("1 / 0", 1, "ZeroDivisionError: division by zero\n"),
        ("import os; os.kill(os.getpid(), 15)", -signal.SIGTERM, ""),
    ],
)
def test_it_ends_as_a_process_does(lines: str, code: int, complaint: str) -> None:
    started = start(LINES, lines, **PIPES)
    out, err = started.communicate(WAITS)
    assert (started.returncode, out) == (code, "")
    assert str(err).endswith(complaint)
    assert bool(err) is bool(complaint)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_it_hears_signals_while_others_are_at_work(number: signal.Signals) -> None:
    waits = "import time; print('ready', flush=True); time.sleep(60)"
    both = [start(LINES, waits, **PIPES) for _ in range(2)]
    for each in both:
        assert each.stdout
        assert each.stdout.readline() == "ready\n"
        assert each.poll() is None
    both[0].send_signal(number)
    assert both[0].wait(WAITS) == (1 if number is signal.SIGINT else -number)
    assert both[1].poll() is None
    both[1].kill()
    for each in both:
        each.communicate(WAITS)


def test_nothing_of_one_is_left_for_the_next() -> None:
    """Neither in what is loaded nor in what surrounds it."""
    changed = "import os; from trueup.lineage import limits; limits.MINE = os.environ['MINE'] = 'x'"
    asked = "import os; from trueup.lineage import limits; print(vars(limits).get('MINE'))"
    start(LINES, changed).wait(WAITS)
    started = start(LINES, f"{asked}; print(os.environ.get('MINE'))", **PIPES)
    assert started.communicate(WAITS) == ("None\nNone\n", "")


def test_a_copy_begins_with_what_is_kept(wardrobe: Path, tmp_path: Path) -> None:
    assert evaluated(copied(wardrobe, tmp_path / "copy")) == []


def test_a_beginning_is_made_once_and_the_same_for_all(wardrobe: Path, tmp_path: Path) -> None:
    beginnings, made = Beginnings(tmp_path / "kept"), []
    others = [copied(wardrobe, tmp_path / str(number)) for number in range(3)]

    def begin(folder: Path) -> None:
        def act() -> None:
            step(folder)
            made.append(folder)

        beginnings.begin(folder, act)

    for each in others:
        begin(each)
    assert made == others[:1]
    heads = {(each / ".git/refs/heads/main").read_text() for each in others}
    assert len(heads) == 1
    assert [evaluated(each) for each in others] == [[], [], []]
    begin(others[0])  # as it stands now it is another beginning
    assert made == [others[0], others[0]]
