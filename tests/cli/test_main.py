"""The command itself: its version, and the way in for Python."""

import os
import pkgutil
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest

import trueup.cli.commands
import trueup.lineage
from tests.checkout import IMPORTS
from trueup.cli.main import main
from trueup.cli.plain.help_pages import first_sentence
from trueup.cli.verbs import VERBS, Verb
from trueup.lineage.wardrobe import Wardrobe


def test_the_version_is_that_of_the_installed_package(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"trueup {version('trueup')}\n"


def test_the_version_is_told_whatever_else_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["-C", str(tmp_path), "--version", "tree"]) == 0
    assert capsys.readouterr().out == f"trueup {version('trueup')}\n"


def test_a_wardrobe_is_the_way_in_for_python() -> None:
    assert trueup.lineage.Wardrobe is Wardrobe
    with pytest.raises(AttributeError, match="no attribute 'Cupboard'"):
        trueup.lineage.Cupboard  # noqa: B018


def test_nothing_is_installed_under_a_name_that_others_may_use() -> None:
    """A package called `cli` or `geometry` would stand in the way of everybody's own."""
    asked = "import importlib.util as u; print([u.find_spec(n) for n in ('cli', 'geometry')])"
    done = subprocess.run(
        [sys.executable, "-I", "-c", asked], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[None, None]\n"


def test_json_may_be_asked_for_before_the_verb(trueup: Any) -> None:
    for words in (("tree",), ("check", "village"), ("history", "village")):
        answer = trueup("--json", *words)
        assert answer.document == trueup(*words, "--json").document
    scoop = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "2mm")
    answer = trueup("--json", *scoop, "--preview")
    assert answer.document == trueup(*scoop, "--preview", "--json").document


@pytest.mark.parametrize("words", [("undo",), ("export", "village", "--to", "village.svg")])
def test_json_is_refused_before_a_verb_that_has_none(trueup: Any, words: tuple[str, ...]) -> None:
    answer = trueup("--json", *words)
    assert answer.code == 2
    assert answer.err == f"`{words[0]}` has no answer as JSON; leave out --json.\n"


@pytest.mark.parametrize("verb", VERBS.values(), ids=lambda verb: verb.name)
def test_a_verb_is_summed_up_by_the_first_sentence_of_its_help(verb: Verb) -> None:
    command = verb.command()
    assert command.name == verb.name
    assert first_sentence(command.help) == verb.summary


def test_every_module_of_commands_is_a_verb() -> None:
    found = pkgutil.walk_packages(trueup.cli.commands.__path__, "trueup.cli.commands.")
    modules = {each.name.split(".")[-1] for each in found if not each.ispkg}
    assert modules - {"attention"} == {name.replace("-", "_") for name in VERBS}


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["nonsense"]])
def test_what_needs_no_wardrobe_loads_no_verb(words: list[str]) -> None:
    asked = (
        "import sys; from trueup.cli.main import main; main(sys.argv[1:]); "
        "print([m for m in ('numpy', 'shapely', 'networkx', 'git') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", asked, *words],
        env={**os.environ, "PYTHONPATH": IMPORTS}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.splitlines()[-1] == "[]"
