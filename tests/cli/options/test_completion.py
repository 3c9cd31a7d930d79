"""What the shell offers while a name is being typed."""

import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.checkout import IMPORTS
from tests.cli.conftest import run

ROOT = Path(__file__).parents[2]


def asked(line: str) -> dict[str, str]:
    """Return what a shell sets where the last word of a line is to be completed."""
    number = str(len(line.split(" ")) - 1)
    return {"_TRUEUP_COMPLETE": "complete_bash", "COMP_WORDS": line, "COMP_CWORD": number}


def offered(folder: Path, line: str) -> list[str]:
    """Return what is offered for the last word of a line typed in a wardrobe's folder."""
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(folder)
        for name, value in asked(line).items():
            patched.setenv(name, value)
        done = run()
    assert done.err == ""
    return done.out.split()


def test_the_shell_is_answered_by_a_process(trueup: Any) -> None:
    for line, known in (("trueup cor", "correct"), ("trueup measure b", "blouse")):
        done = subprocess.run(
            [sys.executable, "-m", "trueup.cli"], cwd=trueup.folder, text=True, check=False,
            env={**os.environ, "PYTHONPATH": IMPORTS, **asked(line)}, capture_output=True,
        )  # fmt: skip
        assert (done.stdout.split(), done.stderr) == ([known], "")


@pytest.mark.parametrize(
    ("line", "known"),
    [
        ("trueup cor", ["correct"]),
        ("trueup measure b", ["blouse"]),
        ("trueup correct vi", ["village"]),
        ("trueup correct village scoop", ["scoop-armhole"]),
        ("trueup correct village deepen-dart --dart front.b", ["front.bust"]),
        ("trueup style village redraw-edge --edge sleeve.c", ["sleeve.cap"]),
        ("trueup correct village scoop-armhole --piece f", ["front"]),
        ("trueup correct village scoop-armhole --b", ["--by"]),
        ("trueup walk village side", ["side-seam"]),
        ("trueup style blouse state-ease --seam side", ["side-seam"]),
        ("trueup measure village sleeve.cap-e", ["sleeve.cap-ease"]),
        ("trueup origin village front.arm", ["front.armhole"]),
        ("trueup derive new --from ea", ["easy"]),
        ("trueup draft new --system b", ["bust-proportion"]),
    ],
)
def test_names_are_completed(trueup: Any, line: str, known: list[str]) -> None:
    assert offered(trueup.folder, line) == known


def test_conflicts_remedies_and_steps_are_completed(corrected: Any) -> None:
    (conflict,) = [
        each["id"] for each in corrected("conflicts", "village", "--json").document["conflicts"]
    ]
    assert conflict in offered(corrected.folder, "trueup decide seam")
    assert offered(corrected.folder, f"trueup conflicts {conflict[:9]}") == [conflict]
    assert offered(corrected.folder, "trueup conflicts vill") == ["village"]
    assert "refit-cap" in offered(corrected.folder, f"trueup decide {conflict} refit")
    assert offered(corrected.folder, "trueup drop own ") == [corrected.step_of("own")]


def test_nothing_is_offered_where_there_is_no_wardrobe(tmp_path: Path) -> None:
    assert offered(tmp_path, "trueup measure ") == []
    assert offered(tmp_path, "trueup measure nosuch front") == []


def test_a_damaged_wardrobe_is_not_told_in_the_middle_of_a_line(trueup: Any) -> None:
    (trueup.folder / ".git" / "HEAD").write_bytes(b"\xff")
    assert offered(trueup.folder, "trueup measure village front.sh") == []


def test_only_plain_words_are_offered(corrected: Any) -> None:
    file = corrected.folder / "blocks/village.toml"
    for evil in ("$(touch x)", "re`touch x`", "re\\u001b[31m"):
        file.write_text(file.read_text().replace('name = "refit-cap"', f'name = "{evil}"', 1))
    conflict = corrected("conflicts", "village", "--json").document["conflicts"][0]["id"]
    found = offered(corrected.folder, f"trueup decide {conflict} ")
    assert found
    assert all(re.fullmatch(r"[a-z0-9-]+", word) for word in found)
