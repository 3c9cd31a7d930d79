"""Run git on a folder that may come from a stranger, so that nothing in it runs.

Only plumbing is ever called, and every setting of the repository that could start a program,
reach over the network or lead out of the folder is overridden on the command line, which
outranks any file. The variables that would point git at another repository are set as well.
"""

import os
import subprocess
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from msgspec import Struct

from trueup.lineage.errors import GitSlow, WardrobeError
from trueup.lineage.limits import LARGEST_READING
from trueup.lineage.store.files.paths import OWN_FOLDER
from trueup.lineage.store.git import starting
from trueup.lineage.store.git.git_failures import judged

_NEUTRAL: Mapping[str, str] = {
    # Programs git would start.
    "core.hooksPath": os.devnull,
    "core.fsmonitor": "false",
    "core.sshCommand": "false",
    "core.gitProxy": "",
    "core.askPass": "",
    "core.editor": "false",
    "core.pager": "cat",
    "core.alternateRefsCommand": "false",
    "credential.helper": "",
    "diff.external": "",
    "gpg.program": "false",
    "gpg.ssh.program": "false",
    "gpg.x509.program": "false",
    "commit.gpgSign": "false",
    "tag.gpgSign": "false",
    "log.showSignature": "false",
    # Work done behind the maker's back.
    "gc.auto": "0",
    "maintenance.auto": "false",
    "core.untrackedCache": "false",
    "core.commitGraph": "false",
    "protocol.allow": "never",
    # Files read from elsewhere, and what would change the bytes.
    "core.attributesFile": os.devnull,
    "core.excludesFile": os.devnull,
    "core.autocrlf": "false",
    "core.safecrlf": "false",
    "i18n.commitEncoding": "UTF-8",
    "i18n.logOutputEncoding": "UTF-8",
    # What would make a well-formed answer look different, or a big step fall into parts.
    "core.quotePath": "false",
    "core.warnAmbiguousRefs": "false",
    "core.splitIndex": "false",
    "index.recordEndOfIndexEntries": "false",
    "index.recordOffsetTable": "false",
    "index.sparse": "false",
    "index.threads": "1",
    "index.version": "2",
    "pack.packSizeLimit": "0",
    "fastimport.unpackLimit": "100",
    # A step that is reported done is on the disk. (Unknown to git before 2.36, and harmless.)
    "core.fsync": "objects,index,reference",
    # No name is made up from the machine's; see `QuietGit.maker`.
    "user.useConfigOnly": "true",
}

_NO_NAME = ("-c", "user.name=trueup maker")
_NO_ADDRESS = ("-c", "user.email=maker@localhost")

_LONGEST_COMPLAINT = 65536  # bytes of what git complains of that are kept


class Answer(Struct, frozen=True):
    """What one git command returned."""

    status: int
    output: bytes
    complaint: str


class QuietGit:
    """Git's plumbing on one repository, with the repository's own settings muted.

    `index` is the index git works on; without one it has none, since no reader needs it and a
    broken one would keep readers out. A git that takes longer than
    `time_limit` (seconds) is stopped. `kept_open` are file descriptors that every git inherits:
    what is locked through one of them stays locked until the last git has ended.
    """

    def __init__(
        self,
        work_tree: Path,
        git_dir: Path,
        *,
        index: Path | None = None,
        time_limit: float | None = None,
        kept_open: tuple[int, ...] = (),
    ) -> None:
        self.work_tree = work_tree
        self.git_dir = git_dir
        self.kept_open = kept_open
        self._time_limit = time_limit
        no_index = git_dir / OWN_FOLDER / "no-index"
        self._environment = _environment(work_tree, git_dir, index or no_index)

    def with_index(self, index: Path) -> "QuietGit":
        """Return the same git on another index."""
        return QuietGit(self.work_tree, self.git_dir, index=index, kept_open=self.kept_open)

    def ask(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> Answer:
        """Run one git command to its end, with `feed` on its input; the status is the caller's.

        Raises `GitSlow` where it had to be stopped.
        """
        process = self._start(arguments, feed)
        try:
            given = feed if isinstance(feed, bytes) and feed else None
            output, complaint = process.communicate(given, timeout=self._time_limit)
        except subprocess.TimeoutExpired:
            raise GitSlow(str(self.git_dir), arguments[0], self._time_limit or 0.0) from None
        finally:
            _end(process)
        return Answer(process.returncode, output, complaint.decode(errors="replace"))

    def run(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> bytes:
        """Run one git command that must succeed, and return its output.

        Raises what `failure` makes of what git complained of.
        """
        answer = self.ask(*arguments, feed=feed)
        if answer.status != 0:
            raise self.failure(arguments[0], answer)
        return answer.output

    @contextmanager
    def reading(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> Iterator[IO[bytes]]:
        """Run one git command and hand over its output while it runs; `feed` may be another's.

        Leaving early ends the command. A command that was read to the end and failed raises as
        `run` does.
        """
        process = self._start(arguments, feed)
        assert process.stdout is not None
        assert process.stderr is not None
        complaint: list[bytes] = []
        helpers = [threading.Thread(target=_pour_out, args=(process.stderr, complaint))]
        if isinstance(feed, bytes) and feed:
            helpers.append(threading.Thread(target=_pour_in, args=(process.stdin, feed)))
        late = threading.Event()
        watch = threading.Timer(self._time_limit or 0.0, _stop_late, (process, late))
        for helper in [*helpers, *([watch] if self._time_limit else [])]:
            helper.daemon = True
            helper.start()
        try:
            yield process.stdout
            at_end = not process.stdout.read(1)
            status = process.wait() if at_end else 0
        finally:
            watch.cancel()
            with suppress(OSError):
                process.kill()
            for helper in helpers:
                helper.join()
            _end(process)
        if late.is_set():
            raise GitSlow(str(self.git_dir), arguments[0], self._time_limit or 0.0)
        if status != 0:
            said = b"".join(complaint).decode(errors="replace")
            raise self.failure(arguments[0], Answer(status, b"", said))

    def failure(self, command: str, answer: Answer) -> WardrobeError:
        """Return the error that a failed answer of a command stands for; see `git_failures`."""
        return judged(self.git_dir, command, answer.status, answer.complaint)

    def maker(self) -> str:
        """Return who is at work and when, as git writes it: "Name <address> seconds zone".

        What git does not know of the maker is filled in neutrally.
        """
        for known in ((), _NO_ADDRESS, (*_NO_NAME, *_NO_ADDRESS)):
            answer = self.ask(*known, "var", "GIT_AUTHOR_IDENT")
            if answer.status == 0:
                return answer.output.decode(errors="replace").strip()
        raise self.failure("var", answer)

    def _start(
        self, arguments: tuple[str, ...], feed: bytes | IO[bytes]
    ) -> subprocess.Popen[bytes]:
        command = [starting.git_program(), "--no-pager"]
        for setting, value in _NEUTRAL.items():
            command += ["-c", f"{setting}={value}"]
        command += arguments
        # A pipe and not a file of ours: where nothing can be written, reading goes on.
        source: int | IO[bytes] = subprocess.PIPE if feed else subprocess.DEVNULL
        if not isinstance(feed, bytes):
            source = feed
        run = (command, self.work_tree, self._environment, source)
        if self.kept_open:
            return starting.started_to_write(*run, self.kept_open)
        return starting.started_to_read(*run)


def _end(process: subprocess.Popen[bytes]) -> None:
    """Let nothing of a git command stay behind."""
    if process.poll() is None:
        with suppress(OSError):
            process.kill()
        process.wait()
    for stream in (process.stdin, process.stdout, process.stderr):
        if stream is not None:
            with suppress(OSError):
                stream.close()


def _pour_in(stream: IO[bytes], feed: bytes) -> None:
    # Git may answer, or end, before it has read everything.
    with suppress(OSError, ValueError):
        stream.write(feed)
    with suppress(OSError, ValueError):
        stream.close()


def _pour_out(stream: IO[bytes], said: list[bytes]) -> None:
    with suppress(OSError, ValueError):
        said.append(stream.read(_LONGEST_COMPLAINT))
        while stream.read(_LONGEST_COMPLAINT):
            pass


def _stop_late(process: subprocess.Popen[bytes], late: threading.Event) -> None:
    late.set()
    with suppress(OSError):
        process.kill()


def _environment(work_tree: Path, git_dir: Path, index: Path) -> dict[str, str]:
    """Name every place git could look in, so that what was inherited does not count."""
    return {
        # What git complains of is read, and is in English then.
        "LANGUAGE": "C",
        "LC_ALL": "C",
        "GIT_DIR": str(git_dir),
        "GIT_COMMON_DIR": str(git_dir),
        "GIT_WORK_TREE": str(work_tree),
        "GIT_INDEX_FILE": str(index),
        "GIT_OBJECT_DIRECTORY": str(git_dir / "objects"),
        "GIT_SHALLOW_FILE": str(git_dir / "shallow"),
        "GIT_ALTERNATE_OBJECT_DIRECTORIES": "",
        "GIT_NAMESPACE": "",
        "GIT_PREFIX": "",
        # Replaced and grafted commits show another history than the one recorded.
        "GIT_NO_REPLACE_OBJECTS": "1",
        "GIT_GRAFT_FILE": os.devnull,
        # An empty list of allowed transports outranks every protocol.* setting.
        "GIT_ALLOW_PROTOCOL": "",
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_ASKPASS": "",
        "GIT_EDITOR": "false",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_ATTR_NOSYSTEM": "1",
        # No single content that a stranger packed small may fill the memory.
        "GIT_ALLOC_LIMIT": str(LARGEST_READING),
        "GIT_EXTERNAL_DIFF": "",
        "GIT_LITERAL_PATHSPECS": "1",
        "GIT_GLOB_PATHSPECS": "0",
        "GIT_NOGLOB_PATHSPECS": "0",
        "GIT_ICASE_PATHSPECS": "0",
    }
