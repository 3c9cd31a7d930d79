"""The command under the eye of `strace`: what was run, opened, written, removed, called up.

Each process writes its own log, so that no line is torn. Where `strace` is not to be had, or may
not be used, nothing is watched, and the marks and canaries of an ordeal must do.
"""

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tests.strangers.settings import plumbing
from tests.warm import ROOT, Warm

_CALLS = (
    *("execve", "execveat", "open", "openat", "openat2", "creat", "connect", "truncate"),
    *("unlink", "unlinkat", "rmdir", "rename", "renameat", "renameat2", "link", "linkat"),
    *("symlink", "symlinkat", "mkdir", "mkdirat", "mknod", "mknodat", "chmod", "fchmodat"),
    *("chown", "lchown", "fchownat", "utimensat", "chdir"),
)
_LINE = re.compile(
    r"(?P<call>\w+)\((?P<arguments>.*)\)\s+= (?P<result>-?\d+)(?:<(?P<real>[^>]*)>)?"
)
_TEXT = re.compile(r'"((?:[^"\\]|\\.)*)"')
_WRITES = re.compile(r"O_WRONLY|O_RDWR|O_CREAT|O_TRUNC")
_OPENING = ("open", "openat", "openat2", "creat")
_SYSTEM = ("/usr", "/lib", "/lib64", "/etc", "/proc", "/sys", "/dev/null", "/dev/urandom")


@lru_cache(maxsize=1)
def can_watch() -> bool:
    """Return whether a process can be traced here."""
    if shutil.which("strace") is None:
        return False
    tried = ["strace", "-f", "-o", "/dev/null", "-e", "trace=execve", sys.executable, "-c", ""]
    return subprocess.run(tried, capture_output=True, check=False).returncode == 0


@dataclass(frozen=True)
class Deed:
    """One call of the system that succeeded: its name, the paths it was given, how it wrote.

    `is_followed`: the paths are those the system came to, along any links.
    """

    call: str
    paths: tuple[str, ...]
    writes: bool
    words: tuple[str, ...] = ()
    is_followed: bool = False

    def __str__(self) -> str:
        return f"{self.call} {' '.join(self.words or self.paths)}"


class Watched(Warm):
    """The command, watched where that is possible."""

    def __init__(self, home: Path) -> None:
        self.logs = home / "logs"
        self.logs.mkdir(parents=True)
        trace = [
            "strace",
            "-f",
            "-ff",
            "-y",
            "-s",
            "4096",
            "-e",
            "abbrev=none",
            "-e",
            "signal=none",
        ]
        chosen = ["-e", f"trace={','.join(f'?{call}' for call in _CALLS)}"]
        prefix = [*trace, *chosen, "--seccomp-bpf", "-o", str(self.logs / "of"), "--"]
        super().__init__(home, prefix if can_watch() else ())
        self._home = home
        self._forget()

    def _forget(self) -> list[str]:
        """Return the lines of all logs, and take the logs away."""
        lines = []
        for log in sorted(self.logs.iterdir()):
            lines += log.read_text(errors="replace").splitlines()
            log.unlink()
        return lines

    def deeds(self) -> Iterator[Deed]:
        """Yield what was done since this was last asked, by every process of every command."""
        yield from filter(None, map(_deed, self._forget()))

    def misdeeds(self, reads: Sequence[Path], writes: Sequence[Path]) -> list[str]:
        """Return what was done beyond git's plumbing and outside of the folders named."""
        python = (sys.prefix, sys.base_prefix, *filter(None, [sys.pycache_prefix]))
        system = (*_SYSTEM, *python, str(ROOT), _git_place())
        free = [str(self._home), *map(str, writes)]
        readable = [*free, *map(str, reads), *system]
        return sorted({str(deed) for deed in self.deeds() if _is_misdeed(deed, readable, free)})


def _deed(line: str) -> Deed | None:
    found = _LINE.match(line)
    if found is None or found["result"].startswith("-"):
        return None
    call, arguments = found["call"], found["arguments"]
    if call.startswith("execve"):
        program, _, rest = arguments.partition(", [")
        words = tuple(_TEXT.findall(rest.partition("]")[0]))
        return Deed(call, tuple(_TEXT.findall(program)), writes=False, words=words)
    if call in _OPENING:
        real = (found["real"] or "").removesuffix("(deleted)")
        writes = call == "creat" or bool(_WRITES.search(arguments))
        return Deed(call, (real,), writes, is_followed=bool(real))
    paths = [path for path in _TEXT.findall(arguments) if call != "connect"]
    if call.startswith("symlink"):
        paths = paths[-1:]
    return Deed(call, tuple(paths) if call != "connect" else (arguments,), writes=call != "chdir")


def _is_misdeed(deed: Deed, readable: Sequence[str], writable: Sequence[str]) -> bool:
    if deed.call.startswith("execve"):
        return not _is_ours(deed)
    if deed.call == "connect":
        return "/nscd/" not in deed.paths[0]
    allowed = writable if deed.writes else readable
    return not all(_lies_in(path, allowed, deed.is_followed) for path in deed.paths)


def _lies_in(path: str, folders: Sequence[str], is_followed: bool) -> bool:
    if not path.startswith("/"):
        return ".." not in path.split("/")  # in the folder it stands in, which `chdir` tells
    if path in ("/dev/null", "/dev/tty"):
        return True
    place = path if is_followed else str(Path(path).parent.resolve() / Path(path).name)
    return any(place == folder or place.startswith(f"{folder}/") for folder in folders)


def _is_ours(deed: Deed) -> bool:
    """Return whether what was run is python itself, or git doing what trueup may ask of it."""
    place = Path(deed.paths[0])
    if place.resolve() == Path(sys.executable).resolve():
        return True
    if place.name != "git" and not place.name.startswith("git-"):
        return False
    return place.name.removeprefix("git-") in plumbing() or _verb(deed.words) in plumbing()


def _verb(words: Sequence[str]) -> str:
    rest = iter(words[1:])
    for word in rest:
        if word in ("-c", "-C"):
            next(rest, None)
        elif not word.startswith("-"):
            return word
    return "version"


@lru_cache(maxsize=1)
def _git_place() -> str:
    asked = subprocess.run(["git", "--exec-path"], capture_output=True, text=True, check=True)
    return asked.stdout.strip()
