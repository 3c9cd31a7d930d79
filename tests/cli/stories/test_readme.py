"""Every command of trueup in the README, carried out as it stands there, one after another.

What installs the program, draws its pictures, times it or needs another machine is not carried out
here.
"""

import re
import shlex
from pathlib import Path

import pytest

from tests.cli.conftest import Answer, run
from trueup.cli.failures import OPEN

README = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")

OTHER_MACHINES = " --cluster "
"""The one command that is left out: it asks for a scheduler at an address."""


WRITTEN = re.compile(r"[\w-]+\.(svg|png|pdf|dxf|html)")


def commands() -> list[list[str]]:
    """Return the words of the lines of the README that are commands of trueup, in order."""
    lines = re.findall(r"^    trueup (.*)$", README, re.MULTILINE)
    return [shlex.split(line) for line in lines if OTHER_MACHINES not in line]


def filled_in(words: list[str]) -> list[str]:
    """Return a command with what the maker has to put in: the first there is."""
    if {"CONFLICT", "REMEDY"} <= {*words}:
        first = run("conflicts", "--json").document["conflicts"][0]
        known = {"CONFLICT": first["id"], "REMEDY": first["remedies"][0]["name"]}
        return [known.get(word, word) for word in words]
    if "NOTE" in words:
        note = run("garment", "fair-blouse", "--json").document["garment"]["notes"][0]["id"]
        return [note if word == "NOTE" else word for word in words]
    return words


def carried_out(words: list[str], monkeypatch: pytest.MonkeyPatch) -> Answer:
    if "&&" in words:
        end = words.index("&&")
        answer = run(*words[:end])
        assert words[end + 1] == "cd"
        monkeypatch.chdir(words[end + 2])
        return answer
    return run(*filled_in(words))


def test_every_command_of_the_readme_does_what_is_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    asked = commands()
    assert len(asked) > 30
    codes = {}
    for words in asked:
        answer = carried_out(words, monkeypatch)
        assert answer.err == "", words
        codes[shlex.join(words)] = answer.code
    # Only to look for what is open says, by its exit code, that something is.
    assert {words: code for words, code in codes.items() if code} == {"conflicts": OPEN}
    written = {word for words in asked for word in words if WRITTEN.fullmatch(word)}
    assert len(written) > 8
    assert all((tmp_path / "my-wardrobe" / name).stat().st_size for name in written)
