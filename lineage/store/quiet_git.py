"""Run git on a folder that may come from a stranger, so that nothing in it runs.

Only plumbing is ever called, and every setting of the repository that could start a program,
reach over the network or lead out of the folder is overridden on the command line, which
outranks any file. The variables that would point git at another repository are set as well.
"""

import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from lineage.errors import CannotWrite, Damaged, GitMissing

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
    "pack.packSizeLimit": "0",
    "fastimport.unpackLimit": "100",
    # A step that is reported done is on the disk. (Unknown to git before 2.36, and harmless.)
    "core.fsync": "objects,index,reference",
    # No name is made up from the machine's; see `QuietGit.maker`.
    "user.useConfigOnly": "true",
}

_NO_NAME = ("-c", "user.name=trueup maker")
_NO_ADDRESS = ("-c", "user.email=maker@localhost")

_WRITING_FAILED = (
    "no space left",
    "disk quota",
    "permission denied",
    "read-only file system",
    "operation not permitted",
    "file too large",
    "input/output error",
    "unable to write",
    "unable to create",
    "write error",
)


@dataclass(frozen=True)
class Answer:
    """What one git command returned."""

    status: int
    output: bytes
    complaint: str


class QuietGit:
    """Git's plumbing on one repository, with the repository's own settings muted."""

    def __init__(self, work_tree: Path, git_dir: Path) -> None:
        self.work_tree = work_tree
        self.git_dir = git_dir
        self._environment = _environment(work_tree, git_dir)
        self._git = _git_command(work_tree)

    def ask(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> Answer:
        """Run one git command to its end, with `feed` on its input; the status is the caller's."""
        with _as_file(feed) as source:
            status, output, complaint = self._execute(
                arguments,
                istream=source,
                with_extended_output=True,
                with_exceptions=False,
                stdout_as_string=False,
                strip_newline_in_stdout=False,
            )
        return Answer(status, output, complaint)

    def run(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> bytes:
        """Run one git command that must succeed, and return its output.

        Raises `CannotWrite` where git could not write, `Damaged` for any other failure.
        """
        answer = self.ask(*arguments, feed=feed)
        if answer.status != 0:
            raise self.failure(answer.complaint)
        return answer.output

    @contextmanager
    def reading(self, *arguments: str, feed: bytes | IO[bytes] = b"") -> Iterator[IO[bytes]]:
        """Run one git command and hand over its output while it runs.

        Leaving early ends the command. A command that was read to the end and failed raises as
        `run` does.
        """
        with _as_file(feed) as source:
            process = self._execute(arguments, istream=source, as_process=True)
            output: IO[bytes] = process.stdout
            try:
                yield output
                at_end = not output.read(1)
                complaint = process.stderr.read() if at_end else b""
                if at_end and process.proc.wait() != 0:
                    raise self.failure(complaint.decode(errors="replace"))
            finally:
                with suppress(OSError):
                    process.proc.kill()
                process.proc.wait()
                output.close()
                process.stderr.close()

    def failure(self, complaint: str) -> CannotWrite | Damaged:
        """Turn what git complained of into the error it stands for."""
        lines = [line for line in complaint.splitlines() if line and not line.startswith("hint:")]
        reason = lines[-1].removeprefix("fatal: ").removeprefix("error: ") if lines else ""
        lowered = complaint.lower()
        if any(sign in lowered for sign in _WRITING_FAILED):
            return CannotWrite(str(self.git_dir), reason)
        return Damaged(str(self.git_dir), reason or "git ended without a word")

    def maker(self) -> str:
        """Return who is at work and when, as git writes it: "Name <address> seconds zone".

        What git does not know of the maker is filled in neutrally.
        """
        for known in ((), _NO_ADDRESS, (*_NO_NAME, *_NO_ADDRESS)):
            answer = self.ask(*known, "var", "GIT_AUTHOR_IDENT")
            if answer.status == 0:
                return answer.output.decode(errors="replace").strip()
        raise self.failure(answer.complaint)

    def _execute(self, arguments: tuple[str, ...], **options: Any) -> Any:
        from git.exc import GitCommandNotFound  # noqa: PLC0415  (see _git_command)

        command = [self._git.GIT_PYTHON_GIT_EXECUTABLE, "--no-pager"]
        for setting, value in _NEUTRAL.items():
            command += ["-c", f"{setting}={value}"]
        try:
            return self._git.execute([*command, *arguments], env=self._environment, **options)
        except GitCommandNotFound as error:
            raise GitMissing from error


def _git_command(work_tree: Path) -> Any:
    # Imported late: it takes a while, and it fails outright where git is not installed.
    try:
        from git.cmd import Git  # noqa: PLC0415
    except ImportError as error:
        raise GitMissing from error
    if Git.GIT_PYTHON_GIT_EXECUTABLE is None:
        raise GitMissing
    return Git(str(work_tree))


@contextmanager
def _as_file(feed: bytes | IO[bytes]) -> Iterator[IO[bytes] | None]:
    if not isinstance(feed, bytes):
        yield feed
        return
    if not feed:
        yield None
        return
    # A file and not a pipe: git may answer before it has read everything, and neither waits.
    try:
        source = tempfile.TemporaryFile()  # noqa: SIM115
    except OSError as error:
        raise CannotWrite(tempfile.gettempdir(), error.strerror or str(error)) from error
    with source:
        try:
            source.write(feed)
            source.seek(0)
        except OSError as error:
            raise CannotWrite(tempfile.gettempdir(), error.strerror or str(error)) from error
        yield source


def _environment(work_tree: Path, git_dir: Path) -> dict[str, str]:
    """Name every place git could look in, so that what was inherited does not count."""
    return {
        "GIT_DIR": str(git_dir),
        "GIT_COMMON_DIR": str(git_dir),
        "GIT_WORK_TREE": str(work_tree),
        "GIT_INDEX_FILE": str(git_dir / "index"),
        "GIT_OBJECT_DIRECTORY": str(git_dir / "objects"),
        "GIT_SHALLOW_FILE": str(git_dir / "shallow"),
        "GIT_ALTERNATE_OBJECT_DIRECTORIES": "",
        "GIT_NAMESPACE": "",
        "GIT_PREFIX": "",
        # Replaced and grafted commits show another history than the one recorded.
        "GIT_NO_REPLACE_OBJECTS": "1",
        "GIT_GRAFT_FILE": str(git_dir / "trueup" / "no-grafts"),
        # An empty list of allowed transports outranks every protocol.* setting.
        "GIT_ALLOW_PROTOCOL": "",
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_ASKPASS": "",
        "GIT_EDITOR": "false",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_ATTR_NOSYSTEM": "1",
        "GIT_EXTERNAL_DIFF": "",
        "GIT_LITERAL_PATHSPECS": "1",
        "GIT_GLOB_PATHSPECS": "0",
        "GIT_NOGLOB_PATHSPECS": "0",
        "GIT_ICASE_PATHSPECS": "0",
    }
