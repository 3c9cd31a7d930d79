"""The process that has loaded all of the program, and divides itself for each that is asked for.

python -m tests.sharing.ready DESCRIPTOR
"""

import atexit
import ctypes
import gc
import json
import os
import runpy
import select
import signal
import socket
import sys
import tempfile
import threading
import time
from contextlib import suppress
from typing import Any

from tests.warm import load_everything

_LATE = (
    *("ezdxf", "reportlab.pdfgen.canvas", "starlette.applications", "uvicorn.main"),
    *("uvicorn.protocols.http.h11_impl", "uvicorn.lifespan.off", "uvicorn.loops.asyncio"),
)
_STREAMS = (0, 1, 2)
_SET_CHILD_SUBREAPER = 36  # prctl(2)


def serve(connection: socket.socket) -> None:
    """Start what is asked for, and tell how each ended, until nobody is left who could ask."""
    woken, wakes = os.pipe()
    os.set_blocking(woken, False)
    os.set_blocking(wakes, False)
    signal.signal(signal.SIGCHLD, lambda *_: None)
    signal.set_wakeup_fd(wakes)
    tells: dict[int, int] = {}
    while True:
        ready, _, _ = select.select([connection, woken], [], [])
        if woken in ready:
            with suppress(BlockingIOError):
                os.read(woken, 4096)
            _tell_ended(tells)
        if connection in ready:
            request, given, _, _ = socket.recv_fds(connection, 1 << 20, 4)
            if not request:
                return
            child = os.fork()
            if child == 0:
                signal.set_wakeup_fd(-1)
                for other in (connection.fileno(), woken, wakes, given[3], *tells.values()):
                    os.close(other)
                _become(json.loads(request), given[:3])
            for each in given[:3]:
                os.close(each)
            tells[child] = given[3]
            connection.send(str(child).encode())


def _tell_ended(tells: dict[int, int]) -> None:
    with suppress(ChildProcessError):
        while (ended := os.waitpid(-1, os.WNOHANG))[0]:
            child, status = ended
            if child not in tells:  # started by one that has ended before it
                continue
            told = tells.pop(child)
            with suppress(BrokenPipeError):  # nobody wants to know any more
                os.write(told, str(os.waitstatus_to_exitcode(status)).encode())
            os.close(told)


def _take_in_orphans() -> None:
    """Be told of what outlives its parent, too: init may take its time to see that it has ended."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_SET_CHILD_SUBREAPER, 1, 0, 0, 0)


def _become(asked: dict[str, Any], given: list[int]) -> None:
    """Be the program asked for, and end with it."""
    for number, handler in (
        (signal.SIGCHLD, signal.SIG_DFL),
        (signal.SIGTERM, signal.SIG_DFL),
        (signal.SIGINT, signal.default_int_handler),
    ):
        signal.signal(number, handler)
    for number, descriptor in zip(_STREAMS, given, strict=True):
        os.dup2(descriptor, number)
        os.close(descriptor)
    if asked["session"]:
        os.setsid()
    os.chdir(asked["cwd"])
    os.environ.clear()
    os.environ.update(asked["env"])
    time.tzset()
    tempfile.tempdir = None
    sys.stdin, sys.stdout, sys.stderr = (
        os.fdopen(
            number,
            "w" if number else "r",
            encoding="utf-8",
            errors="backslashreplace" if number == 2 else None,
            closefd=False,
        )
        for number in _STREAMS
    )
    if os.environ.get("PYTHONUNBUFFERED"):
        sys.stdout.reconfigure(write_through=True)
    sys.__stdin__, sys.__stdout__, sys.__stderr__ = sys.stdin, sys.stdout, sys.stderr
    sys.argv = [asked["module"], *asked["words"]]
    os._exit(_run(asked["module"]))


def _run(module: str) -> int:
    """Run a module as `python -m` does, with all that Python does at the end."""
    code = 1
    try:
        runpy.run_module(module, run_name="__main__", alter_sys=True)
        code = 0
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else int(end.code is not None)
        if code and end.code != code:
            print(end.code, file=sys.stderr)
    except BaseException:
        sys.excepthook(*sys.exc_info())
    threading._shutdown()
    atexit._run_exitfuncs()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()
    return code


if __name__ == "__main__":
    load_everything(_LATE)
    gc.freeze()
    _take_in_orphans()
    with socket.socket(fileno=int(sys.argv[1])) as connection:
        serve(connection)
