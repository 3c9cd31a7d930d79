"""The real command, each time in a process of its own, without waiting for it to be imported.

A process that has imported the program waits for requests and divides itself for each. Nothing of
one run is left for the next: what a run changed ends with it.

    with Warm(home) as trueup:
        answer = trueup("-C", str(folder), "tree")
"""

import functools
import gc
import importlib
import json
import os
import pkgutil
import selectors
import signal
import subprocess
import sys
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Self

import typer

import trueup.cli
import trueup.geometry
import trueup.lineage
from tests.checkout import IMPORTS
from trueup.cli.main import app, main
from trueup.cli.verbs import VERBS
from trueup.lineage.evaluation.cache.program import program_here

ROOT = Path(__file__).parents[1]
HANGS = 120.0
"""Seconds after which a command counts as hanging; each takes well under one, where it is alone."""


@dataclass(frozen=True)
class Answer:
    """What a command answered: its exit code, None where it hung, and what it wrote."""

    words: tuple[str, ...]
    code: int | None
    out: str
    err: str

    @property
    def document(self) -> Any:
        return json.loads(self.out)


class Warm:
    """A process that runs the command as often as it is asked to."""

    def __init__(self, home: Path, prefix: Sequence[str] = (), **variables: str) -> None:
        """Start it, with `home` as the maker's own folder; `prefix` is what runs the process."""
        self._place = home
        home.mkdir(parents=True, exist_ok=True)
        (home / "tmp").mkdir(exist_ok=True)
        self._process = subprocess.Popen(
            [*prefix, sys.executable, "-m", "tests.warm"],
            cwd=ROOT,
            env={**environment(home), **variables},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            # Of two lines that come at once none is read ahead, where nobody would wait for it.
            bufsize=0,
            start_new_session=True,
        )
        self._told = selectors.DefaultSelector()
        self._told.register(self._out, selectors.EVENT_READ)
        self._heard(HANGS)

    @property
    def _out(self) -> IO[bytes]:
        assert self._process.stdout is not None
        return self._process.stdout

    def _heard(self, patience: float) -> Any:
        if not self._told.select(patience):
            return None
        line = self._out.readline()
        assert line, "the process that runs the command is gone"
        return json.loads(line)

    def __call__(self, *words: str, hangs: float = HANGS, cwd: Path | None = None) -> Answer:
        """Run one command to its end, or until it has hung for so many seconds."""
        out, err = self._place / "out", self._place / "err"
        assert self._process.stdin is not None
        asked = {"words": words, "out": str(out), "err": str(err), "cwd": str(cwd or self._place)}
        self._process.stdin.write(json.dumps(asked).encode() + b"\n")
        self._process.stdin.flush()
        child = self._heard(HANGS)
        code = self._heard(hangs)
        if code is None:
            with suppress(ProcessLookupError):
                os.killpg(child, signal.SIGKILL)
            self._heard(HANGS)
        texts = [each.read_bytes().decode(errors="surrogateescape") for each in (out, err)]
        return Answer(words, code, *texts)

    def close(self) -> None:
        """End the process."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait(HANGS)
        self._told.close()
        self._out.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def environment(home: Path) -> Mapping[str, str]:
    """Return the surroundings of a maker whose own folder is `home`; every step is of one day."""
    kept = ("PATH", "LANG", "LC_ALL", "VIRTUAL_ENV", "SYSTEMROOT", "LD_LIBRARY_PATH")
    kept += ("PYTHONPYCACHEPREFIX",)  # what is compiled there is read, and nothing written
    own = {name: str(home) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME")}
    return {
        **{name: os.environ[name] for name in kept if name in os.environ},
        **own,
        "XDG_CACHE_HOME": str(home / "cache"),
        "TMPDIR": str(home / "tmp"),
        "PYTHONPATH": IMPORTS,
        "PYTHONDONTWRITEBYTECODE": "1",
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_AUTHOR_DATE": "2025-03-31T12:00:00Z",
        "GIT_COMMITTER_DATE": "2025-03-31T12:00:00Z",
    }


_LOADED_LATE = (
    *("numpy", "networkx", "shapely", "PIL.Image", "tomlkit", "filelock", "git.cmd"),
    *("platformdirs.unix", "getpass", "termios", "typer._click.decorators"),
    *("typer._adapters", "pydantic.fields", "pydantic.types", "pydantic.type_adapter"),
)


def load_everything(late: Iterable[str] = ()) -> None:
    """Import every module of the program, and what it imports late; `late` are further ones."""
    for package in (trueup.geometry, trueup.lineage, trueup.cli):
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            if not found.name.endswith("__main__"):
                importlib.import_module(found.name)
    for name in (*_LOADED_LATE, *late):
        importlib.import_module(name)


def build_once() -> None:
    """Build here what is the same in every command: the verbs, and what the program's code is."""
    typer.main.get_command = functools.cache(typer.main.get_command)
    root = typer.main.get_command(app)
    for verb in VERBS:
        root.get_command(None, verb)
    program_here()
    gc.freeze()


def _serve() -> None:
    load_everything()
    build_once()
    _tell("ready")
    for line in sys.stdin:
        asked = json.loads(line)
        child = os.fork()
        if child == 0:
            os.setsid()
            _become(asked)
            code = 255
            try:
                code = main(asked["words"])
                sys.stdout.flush()
            finally:
                os._exit(code)
        _tell(child)
        _, status = os.waitpid(child, 0)
        _tell(os.waitstatus_to_exitcode(status))


def _tell(what: Any) -> None:
    os.write(1, json.dumps(what).encode() + b"\n")


def _become(asked: Mapping[str, Any]) -> None:
    """Take on the folder and the streams of a command."""
    os.chdir(asked["cwd"])
    for number, place, how in (
        (0, os.devnull, os.O_RDONLY),
        (1, asked["out"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC),
        (2, asked["err"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC),
    ):
        opened = os.open(place, how, 0o600)
        os.dup2(opened, number)
        os.close(opened)


if __name__ == "__main__":
    _serve()
