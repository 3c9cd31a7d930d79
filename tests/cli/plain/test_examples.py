"""What the help of a verb gives as examples can be typed as it stands in the wardrobe of `demo`."""

import json
import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import typer

from tests.cli.conftest import Answer, run
from tests.sharing.copied import copied
from trueup.cli.main import app
from trueup.cli.plain.examples import EXAMPLES
from trueup.cli.reference import context_of, verbs
from trueup.cli.verbs import VERBS

ROOM = 78  # letters of a help page at 80 columns beside its indent
STAYS = {"look"}  # serves until it is closed; `tests/live` starts it
ASKS = {"check", "conflicts"}  # answer 1 where something is open
ID = re.compile(r"\b(?:note-|seam-)?[0-9a-f]{8}\b")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("played") / "store"
    assert run("demo", str(folder)).code == 0
    return folder


def document(store: Path, *words: str) -> Any:
    return json.loads(run("-C", str(store), *words, "--json").out)


def ids(store: Path, verb: str) -> dict[str, str]:
    """Return the ids that this wardrobe has of what an example names."""
    chain = document(store, "history", "maid-blouse" if verb == "promote" else "masquer-bodice")
    role = "correction" if verb == "promote" else "style"
    step = [each["id"] for each in chain["chain"] if each["role"] == role][-1]
    notes = document(store, "garment", "ball-ivory")["garment"]["notes"]
    if verb == "resolve":
        step = next(each["resolved_by"][0] for each in notes if not each["is_open"])
    waits = document(store, "conflicts", "masquer-bodice")["conflicts"]
    return {
        "": step,
        "note-": next(each["id"] for each in notes if each["is_open"]),
        "seam-": waits[0]["id"],
    }


def typed(line: str, known: dict[str, str]) -> list[str]:
    told = ID.sub(lambda found: known[found[0][:-8]], line)
    return shlex.split(told)[1:]


def at(folder: Path, words: list[str]) -> Answer:
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(folder)
        return run(*words)


def test_every_verb_has_examples_that_a_help_page_has_room_for() -> None:
    assert tuple(EXAMPLES) == tuple(VERBS)
    for verb, lines in EXAMPLES.items():
        assert any(line.split()[1] == verb for line in lines)
        assert max(map(len, lines)) <= ROOM


def test_a_help_page_ends_with_the_examples_of_its_verb() -> None:
    answer = run("compare", "--help")
    assert answer.out.rstrip().splitlines()[-3:] == [
        "Examples:",
        *(f"  {line}" for line in EXAMPLES["compare"]),
    ]


@pytest.mark.parametrize("verb", [verb for verb in EXAMPLES if verb not in STAYS])
def test_the_examples_of_a_verb_can_be_typed_as_they_stand(
    store: Path, verb: str, tmp_path: Path
) -> None:
    known = ids(store, verb) if any(ID.search(line) for line in EXAMPLES[verb]) else {}
    folder = copied(store, tmp_path / "store")
    if verb == "mend":
        copied(store, tmp_path / "her-copy")
    for line in EXAMPLES[verb]:
        answer = at(folder, typed(line, known))
        assert answer.code in ((0, 1) if verb in ASKS else (0,)), (line, answer.err)
        assert answer.out


def test_what_stays_open_takes_what_its_example_gives() -> None:
    root = context_of(typer.main.get_command(app), "trueup")
    for verb in STAYS:
        for line in EXAMPLES[verb]:
            verbs(root)[verb].make_context(verb, shlex.split(line)[2:], parent=root)
