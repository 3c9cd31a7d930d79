"""A real terminal, of so many columns, in which the program runs as a process of its own."""

import os
import pty
import re
import struct
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from fcntl import ioctl
from termios import TIOCSWINSZ

from tests.checkout import IMPORTS
from tests.sharing.forked import Forked, start

_STYLE = re.compile(r"\x1b\[[0-9;]*m")
_MOVES = re.compile(r"\x1b\[(\??[0-9]*)([A-Za-z])|([\r\n])|([^\x1b\r\n]+)")


@dataclass(frozen=True)
class Terminal:
    """How wide it is, and what else the program finds around it.

    `script` is run instead of the command, with the command's words.
    """

    width: int = 80
    surroundings: Mapping[str, str] | None = None
    script: str = ""

    def shows(self, *words: str) -> str:
        """Return what is printed on it of stdout, without colours."""
        return _STYLE.sub("", self._sent(words, "stdout"))

    def shows_of_stderr(self, *words: str) -> str:
        """Return what is printed on it of stderr, without colours."""
        return _STYLE.sub("", self._sent(words, "stderr"))

    def sent_meanwhile(self, *words: str) -> str:
        """Return all that it is sent of stderr, as it is sent."""
        return self._sent(words, "stderr")

    def _sent(self, words: tuple[str, ...], stream: str) -> str:
        ours, theirs = pty.openpty()
        ioctl(theirs, TIOCSWINSZ, struct.pack("HHHH", 24, self.width, 0, 0))
        known = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
        env = {
            **known,
            **{"PYTHONPATH": IMPORTS, "TERM": "xterm", "PYTHONUTF8": "1"},
            **(self.surroundings or {}),
        }
        nowhere = subprocess.DEVNULL
        streams = {
            "stdin": theirs,
            "stdout": theirs if stream == "stdout" else nowhere,
            "stderr": theirs if stream == "stderr" else nowhere,
        }
        run: Forked | subprocess.Popen[bytes]
        if self.script or self.surroundings:  # what Python itself finds there is found at its start
            begin = ("-c", self.script) if self.script else ("-m", "trueup.cli")
            run = subprocess.Popen((sys.executable, *begin, *words), env=env, **streams)
        else:
            run = start("trueup.cli", *words, env=env, **streams)
        os.close(theirs)
        sent = b""
        while part := _next_part(ours):
            sent += part
        run.wait(timeout=120)
        os.close(ours)
        return sent.decode().replace("\r\n", "\n")


def left_on_screen(sent: str) -> str:
    """Return what still stands on a terminal after all that it was sent."""
    lines, row, column = [""], 0, 0
    for move in _MOVES.finditer(sent):
        amount, letter, turn, text = move.groups()
        if text:
            lines[row] = lines[row][:column].ljust(column) + text + lines[row][column + len(text) :]
            column += len(text)
        elif turn == "\r":
            column = 0
        elif turn == "\n":
            row, column = row + 1, 0
            lines += [""] * (row + 1 - len(lines))
        elif letter == "K":
            lines[row] = "" if amount == "2" else lines[row][:column]
        elif letter == "A":
            row = max(row - int(amount or 1), 0)
        else:
            assert letter in "hlm", f"a move this terminal does not know: {move[0]!r}"
    return "\n".join(lines).strip()


def _next_part(ours: int) -> bytes:
    try:
        return os.read(ours, 65536)
    except OSError:  # the other side is closed
        return b""
