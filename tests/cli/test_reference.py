"""Every command, option and kind of change is documented from the code."""

import ast
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import typer

from trueup.cli.limits_table import MODULES, limits
from trueup.cli.main import app
from trueup.cli.reference import context_of, entries, kind_contexts, reference, verbs
from trueup.cli.verbs import VERBS
from trueup.geometry.changes import kinds, parameters
from trueup.geometry.drafting import SYSTEMS

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def root() -> Any:
    return context_of(typer.main.get_command(app), "trueup")


def test_the_reference_page_is_up_to_date() -> None:
    page = (ROOT / "cli/REFERENCE.md").read_text(encoding="utf-8")
    assert page == reference(), "run `python -m trueup.cli.reference > cli/REFERENCE.md`"


def test_every_verb_and_each_of_its_options_has_help(root: Any) -> None:
    assert tuple(verbs(root)) == tuple(VERBS)
    for name, command in verbs(root).items():
        context = context_of(command, name, root)
        assert context.command.help, name
        for word, text in entries(context):
            assert text.strip().endswith("."), f"{name} {word}"


def test_each_option_of_a_verb_stands_on_the_page_but_those_that_a_kind_explains(root: Any) -> None:
    page = (ROOT / "cli/REFERENCE.md").read_text(encoding="utf-8")
    of_kinds = {_typed(word) for each in kind_contexts(root).values() for word, _ in entries(each)}
    for name, command in verbs(root).items():
        section = page.partition(f"\n## trueup {name}\n")[2].partition("\n## ")[0]
        for word, text in entries(context_of(command, name, root)):
            if name != "amend" or _typed(word) not in of_kinds:
                assert f"- {word}: {text[:1].upper()}{text[1:]}" in section, (name, word)


def _typed(word: str) -> str:
    """Return what is typed of an entry of the page: `--fold` of "`--fold, --no-fold`"."""
    return word.strip("`").replace(",", " ").split()[0]


def test_every_kind_and_each_of_its_options_has_help(root: Any) -> None:
    contexts = kind_contexts(root)
    assert list(contexts) == list(kinds())
    for name, context in contexts.items():
        assert context.command.help, name
        words = dict(entries(context))
        for parameter in parameters(kinds()[name]):
            option = f"--{parameter.name.replace('_', '-')}"
            assert any(word.startswith(f"`{option}") for word in words), f"{name} {option}"
        for word, text in words.items():
            assert text.strip().endswith("."), f"{name} {word}"


def test_style_and_correct_take_the_same_kinds(root: Any) -> None:
    for verb in ("style", "correct"):
        group = root.command.get_command(root, verb)
        assert group.list_commands(context_of(group, verb, root)) == list(kinds())


def test_no_parameter_of_a_kind_hides_an_option_all_kinds_have() -> None:
    shared = {"why", "preview", "as_json", "json", "folder", "without", "node", "step", "ctx"}
    for name, cls in kinds().items():
        assert not shared & {each.name for each in parameters(cls)}, name


def test_amend_takes_every_parameter_of_every_kind(root: Any) -> None:
    context = context_of(verbs(root)["amend"], "amend", root)
    words = " ".join(word for word, _ in entries(context))
    for cls in kinds().values():
        for parameter in parameters(cls):
            assert f"--{parameter.name.replace('_', '-')}" in words


def test_draft_takes_every_measurement_of_every_system(root: Any) -> None:
    context = context_of(verbs(root)["draft"], "draft", root)
    words = [word.split()[0].strip("`") for word, _ in entries(context)]
    for system in SYSTEMS.values():
        assert {f"--{each.name}" for each in system.measurements} <= set(words)


def test_a_verb_is_found_by_its_file_name() -> None:
    for verb, of in VERBS.items():
        file = ROOT / f"cli/commands/{of.room}/{verb.replace('-', '_')}.py"
        tree = ast.parse(file.read_text(encoding="utf-8"))
        assert verb.replace("-", "_") in [
            each.name for each in tree.body if isinstance(each, ast.FunctionDef)
        ]


def test_help_needs_neither_geometry_nor_lineage() -> None:
    program = (
        "import sys; from trueup.cli.main import main; code = main(['--help']); "
        "heavy = {'numpy', 'shapely', 'networkx', 'git', 'trueup.geometry', 'trueup.lineage'};"
        "heavy &= set(sys.modules);"
        "sys.exit(f'imported {heavy}' if heavy or code else 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_every_limit_says_of_what_it_is_the_most_and_why() -> None:
    page = (ROOT / "cli/REFERENCE.md").read_text(encoding="utf-8")
    stated = {limit.name: limit for limit in limits()}
    for module in MODULES:
        for name in (name for name in vars(module) if name.isupper()):
            assert f"| {stated[name].most} | {stated[name].why} |" in page, name


def test_every_limit_is_kept_by_something() -> None:
    sources = [p for floor in ("geometry", "lineage", "cli") for p in (ROOT / floor).rglob("*.py")]
    text = "".join(p.read_text(encoding="utf-8") for p in sources if p.name != "limits.py")
    for limit in limits():
        assert text.count(limit.name) > 1, limit.name
