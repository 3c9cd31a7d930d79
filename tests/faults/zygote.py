"""A process that has loaded the whole program and forks for each command asked of it.

    python -m tests.faults.zygote DESCRIPTOR

A command then starts in a few milliseconds. It is a process of its own like any other, at the
head of a process group of its own; only loading is saved. Requests come as JSON through the
socket of the given number; to each, the process id goes back, with a listener where the command
is to be watched, and then how the command ended.
"""

import functools
import gc
import importlib
import json
import os
import pkgutil
import socket
import sys
import traceback
from collections.abc import Mapping
from typing import Any

import typer

import trueup.cli
import trueup.geometry
import trueup.lineage
from tests.faults.watching.kernel_filter import CannotFilter, put_over_this_process
from trueup.cli.main import app, main
from trueup.cli.verbs import VERBS
from trueup.lineage.evaluation.cache.program import program_here

_LOADED_LATE = (
    *("PIL.Image", "ezdxf", "reportlab.pdfgen.canvas", "filelock"),
    *("typer._adapters", "pydantic.fields", "pydantic.types", "pydantic.type_adapter"),
)


def load_everything() -> None:
    """Import every module of the program, and what it imports late."""
    for package in (trueup.geometry, trueup.lineage, trueup.cli):
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            if not found.name.endswith("__main__"):
                importlib.import_module(found.name)
    for name in _LOADED_LATE:
        importlib.import_module(name)


def build_once() -> None:
    """Build here what is the same in every command: the verbs, and what the program's code is."""
    typer.main.get_command = functools.cache(typer.main.get_command)
    root = typer.main.get_command(app)
    for verb in VERBS:
        root.get_command(None, verb)
    program_here()


def serve(connection: socket.socket) -> None:
    """Answer requests until nobody is left who could ask."""
    while request := connection.recv(1 << 20):
        child = os.fork()
        if child == 0:
            _become(json.loads(request), connection)
        _, status = os.waitpid(child, 0)
        connection.send(json.dumps({"status": os.waitstatus_to_exitcode(status)}).encode())


def _become(asked: Mapping[str, Any], connection: socket.socket) -> None:
    """Be the command asked for, and end with it."""
    code = 70
    try:
        os.setsid()
        os.chdir(asked["folder"])
        os.environ.clear()
        os.environ.update(asked["environment"])
        _write_into(asked["out"], asked["err"])
        _report(asked["watched"], connection)
        code = main(asked["words"])
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _write_into(out: str, err: str) -> None:
    for descriptor, path in ((1, out), (2, err)):
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        os.dup2(file, descriptor)
        os.close(file)
    nowhere = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nowhere, 0)
    os.close(nowhere)


def _report(watched: bool, connection: socket.socket) -> None:
    answer: dict[str, Any] = {"pid": os.getpid()}
    listeners = []
    if watched:
        try:
            listeners = [put_over_this_process()]
        except CannotFilter as error:
            answer["cannot"] = str(error)
    socket.send_fds(connection, [json.dumps(answer).encode()], listeners)
    for listener in listeners:
        os.close(listener)
    connection.close()


if __name__ == "__main__":
    load_everything()
    build_once()
    gc.disable()
    gc.freeze()
    serve(socket.socket(fileno=int(sys.argv[1])))
