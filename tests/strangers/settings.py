"""Every setting that the git at hand knows, with what a stranger could set it to."""

import re
import subprocess
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from tests.strangers.ordeal import Case

# What git's own list leaves open, or leaves out.
_STANDS_FOR: Mapping[str, Sequence[str]] = {
    "<name>": ("origin", "main", "evil"),
    "<tool>": ("evil",),
    "<driver>": ("evil",),
    "<id>": ("evil",),
    "<url>": ("https://example.org",),
    "<base>": ("https://example.org/",),
    "<group>": ("evil",),
    "<filter>": ("blob:none",),
    "<format>": ("openpgp", "ssh", "x509"),
    "<identity>": ("evil",),
    "<pattern>": ("refs/heads/main",),
    "<task>": ("gc",),
    "<command>": ("amend",),
    "<msg-id>": ("missingEmail",),
}
_BESIDE = (
    "core.repositoryFormatVersion",
    "core.worktree",
    "core.bare",
    "extensions.worktreeConfig",
    "extensions.partialClone",
    "extensions.preciousObjects",
    "extensions.refStorage",
    "extensions.compatObjectFormat",
    "extensions.relativeWorktrees",
    "extensions.noop",
    "extensions.unknown",
    "filter.evil.process",
    "filter.evil.required",
    "trailer.evil.command",
    "trailer.evil.cmd",
    "trailer.evil.key",
    "trailer.separators",
    "hook.evil.command",
    "hook.evil.event",
    "gpg.ssh.program",
    "gpg.x509.program",
    "core.fsyncObjectFiles",
    "core.maxTreeDepth",
    "core.attributesFile",
    "attr.tree",
    "core.gvfs",
    "core.virtualFilesystem",
    "core.useGvfsHelper",
    "http.sslEngine",
    "remote.origin.serverOption",
    "credential.evil.helper",
    "instaweb.port",
    "pack.writeReverseIndex",
    "pack.allowPackReuse",
    "index.skipHash",
    "gc.recentObjectsHook",
    "promisor.acceptFromServer",
    "safe.bareRepository",
)

_NAME = re.compile(r"[A-Za-z0-9-]+\.(\S+\.)?([A-Za-z][A-Za-z0-9-]*|\*|<[\w-]+>)")


@lru_cache(maxsize=1)
def all_settings() -> tuple[str, ...]:
    """Return the full name of every setting, once.

    Those that have git read another file are planted by themselves; see `planted/configs.py`.
    """
    listed = subprocess.run(
        ["git", "help", "--config"], capture_output=True, text=True, check=True
    ).stdout.splitlines()
    names = [line for line in listed if _NAME.fullmatch(line)]
    kept = [name for name in (*names, *_BESIDE) if not name.startswith("include")]
    return tuple(dict.fromkeys(name for each in kept for name in _filled_in(each)))


def _filled_in(name: str) -> Iterator[str]:
    if name in ("alias.*", "pager.<cmd>"):
        yield from (f"{name.split('.', maxsplit=1)[0]}.{verb}" for verb in plumbing())
        return
    if name.endswith(".*"):
        name = f"{name[:-1]}helper"
    placeholder = re.search(r"<[\w-]+>", name)
    if placeholder is None:
        yield name
        return
    for word in _STANDS_FOR.get(placeholder[0], ("evil",)):
        yield from _filled_in(name.replace(placeholder[0], word))


@lru_cache(maxsize=1)
def plumbing() -> tuple[str, ...]:
    """Return the names of git's plumbing, and of what else trueup is allowed to ask of git."""
    kinds = ("plumbingmanipulators", "plumbinginterrogators", "synchelpers", "purehelpers")
    asked = "--list-cmds=" + ",".join(f"list-{kind}" for kind in kinds)
    listed = subprocess.run(["git", asked], capture_output=True, text=True, check=True).stdout
    return (*listed.split(), "init", "fast-import", "fsck", "index-pack", "version")


def written(settings: Sequence[str], value: str) -> str:
    """Return the lines of a config file that set each of the settings to a value."""
    quoted = '"' + value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'
    lines = []
    for name in settings:
        section, _, rest = name.partition(".")
        subsection, _, key = rest.rpartition(".")
        heading = f'[{section} "{subsection}"]' if subsection else f"[{section}]"
        lines.append(f"{heading}\n\t{key} = {quoted}\n")
    return "".join(lines)


VALUES: Mapping[str, Callable[[Case], str]] = {
    "a program": lambda case: str(case.program),
    "a program by its shell": lambda case: f"!{case.program}",
    "a file elsewhere": lambda case: str(case.canary),
    "a folder elsewhere": lambda case: str(case.outside),
    "a pipe": lambda case: str(case.outside / "pipe"),
    "a home": lambda _: "~/canary",
    "a transport": lambda case: f"ext::{case.program} %S",
    "yes": lambda _: "true",
    "no": lambda _: "false",
    "a number": lambda _: "1",
    "a vast number": lambda _: "99999999999999999999",
    "nothing": lambda _: "",
    "escapes": lambda _: "\x1b[31m\x1b]0;title\x07\n\r\u202e",
    "a long word": lambda _: "x" * 100_000,
}
"""What a setting is set to."""


def plant(folder: Path, settings: Sequence[str], value: str) -> None:
    """Add settings to the config of a wardrobe."""
    with (folder / ".git" / "config").open("a", encoding="utf-8") as config:
        config.write(written(settings, value))
