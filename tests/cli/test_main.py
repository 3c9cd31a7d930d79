"""The command itself: its version, and the way in for Python."""

import subprocess
import sys
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

import trueup.lineage
from trueup.cli.main import WITHOUT_JSON, app, main
from trueup.cli.options.made import MadeCommand
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


def test_verbs_without_an_answer_as_json_are_known() -> None:
    verbs = get_command(app).commands  # type: ignore[attr-defined]
    plain = {
        name
        for name, verb in verbs.items()
        if not isinstance(verb, MadeCommand) and "as_json" not in {p.name for p in verb.params}
    }
    assert plain == set(WITHOUT_JSON)
