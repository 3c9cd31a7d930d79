"""A process that has loaded the whole program and forks for each command asked of it.

    python -m tests.faults.zygote DESCRIPTOR

A command then starts in a few milliseconds. It is a process of its own like any other, at the
head of a process group of its own; only loading is saved. Requests come as JSON through the
socket of the given number; to each, the process id goes back, with a listener where the command
is to be watched, and then how the command ended.
"""

import gc
import json
import os
import socket
import sys
import traceback
from collections.abc import Mapping
from typing import Any

from tests.faults.watching.kernel_filter import CannotFilter, put_over_this_process
from tests.warm import build_once, load_everything
from trueup.cli.main import main


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
    load_everything(late=("ezdxf", "reportlab.pdfgen.canvas"))
    build_once()
    gc.disable()
    serve(socket.socket(fileno=int(sys.argv[1])))
