"""Words taken as typed come out as typer would have them; the rest is typer's to judge."""

from pathlib import Path
from typing import Annotated, Any

import pytest
import typer

from trueup.cli.plain.typed_words import take_as_typed

LINES = (
    ("blouse",),
    ("blouse", "front", "back"),
    ("Näherei", "--why", ""),
    ("blouse", "--to", "here/there"),
    ("blouse", "--to", ""),
    ("blouse", "--last", "3", "--deep"),
    ("blouse", "--last", "three"),
    ("blouse", "--to", "\udcff"),
    ("\udcff",),
    (),
)


def command() -> Any:
    app = typer.Typer(add_completion=False)

    @app.command()
    def given(
        name: str,
        more: list[str] | None = None,
        to: Annotated[Path | None, typer.Option()] = None,
        why: Annotated[str, typer.Option()] = "because",
        last: Annotated[int | None, typer.Option(min=1)] = None,
        deep: Annotated[bool, typer.Option()] = False,
    ) -> object:
        return (name, more, to, why, last, deep)

    return typer.main.get_command(app)


def outcome(asked: Any, line: tuple[str, ...]) -> object:
    try:
        return asked.main(list(line), standalone_mode=False)
    except Exception as error:
        return type(error), str(error)


@pytest.mark.parametrize("line", LINES, ids=repr)
def test_a_command_is_given_what_typer_would_give_it(line: tuple[str, ...]) -> None:
    usual, quick = command(), command()
    take_as_typed(quick.params)
    take_as_typed(quick.params)  # once is enough
    assert outcome(quick, line) == outcome(usual, line)


def test_a_path_that_may_not_be_read_is_refused_as_typer_refuses_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.access", lambda *_: False)
    usual, quick = command(), command()
    take_as_typed(quick.params)
    line = ("blouse", "--to", str(tmp_path))
    assert outcome(quick, line) == outcome(usual, line)
    assert "not readable" in str(outcome(quick, line))
