"""`trueup look` as a process of its own, and what is asked of it by hand, without a browser."""

import http.client
import json
import os
import re
import select
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.checkout import IMPORTS
from tests.sharing.forked import Forked, start

HANGS = 60.0
"""Seconds after which something counts as hanging."""

PAGE = "0123456789abcdef"


@dataclass(frozen=True)
class Answered:
    """What was answered: its status, its headers, and what came."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def lines(self) -> list[Any]:
        return [json.loads(line) for line in self.body.splitlines()]

    @property
    def line(self) -> Any:
        (only,) = self.lines
        return only


@dataclass(frozen=True)
class Running:
    """A live page that is served: its process, where it is, and the token it is asked with."""

    process: Forked | subprocess.Popen[str]
    address: str
    port: int
    token: str

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def headers(self, **other: str | None) -> dict[str, str]:
        """Return the headers of a page that may ask, some of them others; None leaves one out."""
        own = {
            "Host": f"127.0.0.1:{self.port}",
            "Origin": self.origin,
            "Sec-Fetch-Site": "same-origin",
            "Content-Type": "application/json",
            "Trueup-Token": self.token,
            "Trueup-Page": PAGE,
        }
        changed = {name.replace("_", "-"): value for name, value in other.items()}
        return {name: value for name, value in {**own, **changed}.items() if value is not None}

    def send(
        self, method: str, path: str, body: bytes | None = None, **headers: str | None
    ) -> Answered:
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=HANGS)) as asked:
            # What is not given is not put in by the library either.
            asked.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, value in self.headers(**headers).items():
                asked.putheader(name, value)
            if body is not None:
                asked.putheader("Content-Length", str(len(body)))
            asked.endheaders(body)
            answer = asked.getresponse()
            return Answered(answer.status, dict(answer.getheaders()), answer.read())

    def ask(self, action: str, **told: Any) -> Answered:
        return self.send("POST", f"/{action}", json.dumps(told).encode())

    def connected(self) -> socket.socket:
        return socket.create_connection(("127.0.0.1", self.port), timeout=HANGS)

    def memory(self) -> int:
        """Return how much memory the process holds, bytes."""
        text = Path(f"/proc/{self.process.pid}/status").read_text()
        found = re.search(r"VmRSS:\s+(\d+) kB", text)
        assert found
        return int(found[1]) * 1024


@contextmanager
def running(
    folder: Path,
    *words: str,
    module: str = "trueup.cli",
    is_anew: bool = False,
    **variables: str,
) -> Iterator[Running]:
    """Serve a wardrobe until the end of the block; then it is stopped as by Ctrl-C.

    `module` is what runs the command. With `is_anew` Python itself is started for it.
    """
    told = ("-C", str(folder), "look", *words)
    surroundings = {**os.environ, "PYTHONPATH": IMPORTS, "PYTHONUNBUFFERED": "1", **variables}
    process: Forked | subprocess.Popen[str]
    if is_anew:
        process = subprocess.Popen(
            [sys.executable, "-m", module, *told], env=surroundings,
            text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
    else:
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        process = start(module, *told, env=surroundings, **pipes)
    try:
        yield _told(process)
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
            process.wait(HANGS)
        assert process.stdout
        assert process.stderr
        process.stdout.close()
        process.stderr.close()


def _told(process: Forked | subprocess.Popen[str]) -> Running:
    assert process.stdout
    ready, _, _ = select.select([process.stdout], [], [], HANGS)
    assert ready, "it does not say where it is"
    line = process.stdout.readline()
    if "http" not in line:
        line += process.stdout.readline()
    found = re.search(r"(http://127\.0\.0\.1:(\d+)/#token=([\w-]+))", line)
    assert found, line + (process.stderr.read() if process.stderr and not line else "")
    return Running(process, found[1], int(found[2]), found[3])
