"""The example of a kind can be typed as it stands in the wardrobe of `demo --garments`."""

import shlex
from pathlib import Path

import pytest

from tests.cli.conftest import run
from tests.sharing.copied import copied
from trueup.cli.plain.kind_examples import BEFORE, KIND_EXAMPLES, typed
from trueup.geometry.changes import kinds


@pytest.fixture(scope="module")
def stage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("played") / "stage"
    assert run("demo", str(folder), "--garments").code == 0
    return folder


def test_every_kind_has_one() -> None:
    assert {*KIND_EXAMPLES} == {*kinds()}
    assert {*BEFORE} <= {*KIND_EXAMPLES}


@pytest.mark.parametrize("number", range(len(KIND_EXAMPLES)))
def test_it_can_be_typed_as_it_stands(stage: Path, number: int, tmp_path: Path) -> None:
    kind, verb = sorted(KIND_EXAMPLES)[number], ("style", "correct")[number % 2]
    folder = copied(stage, tmp_path / "stage") if kind in BEFORE else stage
    for line in typed(verb, kind):
        answer = run("-C", str(folder), *shlex.split(line)[1:])
        assert answer.code == 0, (line, answer.err)
    assert "A preview: nothing is written." in answer.out


@pytest.mark.parametrize("width", [60, 80])
def test_the_help_of_a_kind_ends_with_it_and_a_shell_reads_it_back(
    width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(width))
    for kind in ("cut-apart", "insert-gusset", "slit"):
        out = run("correct", "blouse", kind, "--help").out
        _, _, told = out.partition("Example, in the wardrobe of")
        pasted = told.partition(":\n")[2].replace("\\\n", " ").strip().splitlines()
        wanted = [shlex.split(line) for line in typed("correct", kind)]
        assert [shlex.split(line) for line in pasted] == wanted
        assert max(map(len, told.splitlines())) <= width
