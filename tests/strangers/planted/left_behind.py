"""What a stranger can leave as if git or trueup had been interrupted."""

import sqlite3
from collections.abc import Mapping
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.strangers.planted.putting import (
    Plant,
    a_file,
    a_huge_file,
    a_pipe,
    clear,
    config,
    git,
    link,
    pipe,
    put,
)

_NAMES = (
    *("FETCH_HEAD", "MERGE_HEAD", "ORIG_HEAD", "CHERRY_PICK_HEAD", "REVERT_HEAD", "BISECT_HEAD"),
    *("MERGE_MSG", "MERGE_MODE", "MERGE_RR", "AUTO_MERGE", "SQUASH_MSG", "REBASE_HEAD"),
)
_CONTENTS: Mapping[str, bytes] = {
    "an option": b"--upload-pack=x\n",
    "garbage": b"\xff\x1b[31m\0\n",
    "a way out": b"../../outside/canary\n",
    "an unknown commit": b"1" * 40 + b"\n",
    "many commits": b"".join(b"%040x\n" % number for number in range(100_000)),
    "a branch to fetch": b"1" * 40 + b"\t\tbranch '\x1b]0;x\x07main' of ext::program %S\n",
}
_LOCKS = (
    *("index.lock", "HEAD.lock", "config.lock", "packed-refs.lock", "refs/heads/main.lock"),
    *("shallow.lock", "objects/maintenance.lock", "gc.pid", "logs/HEAD.lock"),
)
# What trueup keeps in its own folder: a stranger may have put anything there.
_OWN = ("step", "lock", "waiting", "making", "no-grafts", "index", "index.lock", "holder", "aside")


def _own_repository(case: Case, folder: Path) -> None:
    """The place where new objects are made, prepared as a repository that runs and reads out."""
    making = folder / ".git" / "trueup" / "making"
    put(making / "HEAD", b"ref: refs/heads/making\n")
    settings = (
        f"[core]\n\tbare = true\n\tfsmonitor = {case.program}\n\thooksPath = {case.outside}\n"
    )
    put(making / "config", f"{settings}[include]\n\tpath = {case.canary}\n".encode())
    put(making / "objects" / "info" / "alternates", f"{case.outside}\n".encode())
    (making / "refs").mkdir()


def _own_link(name: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        put(case.outside / "own" / "file", b"the maker's\n")
        link(folder / ".git" / "trueup" / name, case.outside / "own")

    return plant


def _own_folder(name: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        clear(folder / ".git" / "trueup" / name)
        put(folder / ".git" / "trueup" / name / "in" / "it")

    return plant


def _waiting(case: Case, folder: Path) -> None:
    put(case.outside / "own", b"the maker's\n")
    for name in ("0", "1", "more", "..a"):
        link(folder / ".git" / "trueup" / "waiting" / name, case.outside / "own")


def _step(text: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        head = git(case, folder, "rev-parse", "HEAD")
        before = git(case, folder, "rev-parse", "HEAD~1")
        filled = text.format(head=head, before=before, outside=case.outside)
        put(folder / ".git" / "trueup" / "step", filled.encode())

    return plant


def _hot_cache(case: Case, folder: Path) -> None:
    """A cache whose journal names a file elsewhere, which SQLite deletes when it rolls back."""
    place = folder / ".trueup-cache"
    put(place)
    with sqlite3.connect(place) as database:
        database.execute("CREATE TABLE evaluated (key TEXT PRIMARY KEY, summary BLOB, draft BLOB)")
    database.close()
    victim = str(case.canary).encode()
    magic = b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"
    header = magic + b"".join(n.to_bytes(4, "big") for n in (0, 0, 2, 512, 4096))
    named = (2**30 // 4096 + 1).to_bytes(4, "big") + victim
    checksum = sum(byte - 256 * (byte > 127) for byte in victim) & 0xFFFFFFFF
    ending = len(victim).to_bytes(4, "big") + checksum.to_bytes(4, "big") + magic
    put(folder / ".trueup-cache-journal", header.ljust(512, b"\0") + named + ending)


def _false_cache(case: Case, folder: Path) -> None:
    place = folder / ".trueup-cache"
    put(place)
    with sqlite3.connect(place) as database:
        database.execute("CREATE TABLE kept (a)")
        endless = "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x FROM n"
        for name, columns in (("evaluated", "key, summary, draft"), ("nodes", "key, node")):
            chosen = ", ".join("x" for _ in columns.split(","))
            view = f"CREATE VIEW {name} ({columns}) AS SELECT {chosen} FROM ({endless})"
            database.execute(view)
    database.close()


def _worktrees(case: Case, folder: Path) -> None:
    place = folder / ".git" / "worktrees" / "evil"
    put(place / "gitdir", f"{case.outside}/.git\n".encode())
    put(place / "commondir", f"{case.outside}\n".encode())
    put(place / "HEAD", b"ref: refs/heads/main\n")
    pipe(place / "index")
    put(place / "locked", b"\x1b[31m")


def _modules(case: Case, folder: Path) -> None:
    put(
        folder / ".git" / "modules" / "evil" / "config",
        f"[core]\n\tworktree = {case.outside}\n".encode(),
    )
    put(folder / ".gitmodules", b'[submodule "../../outside"]\n\tpath = blocks\n\turl = -x\n')
    config(folder, f'[submodule "evil"]\n\tactive = true\n\tupdate = !{case.program}\n')


def _pointer(name: str) -> Plant:
    return lambda case, folder: put(folder / ".git" / name, f"{case.outside}\n".encode())


_STEPS = (
    *("", "{head}", "{head} {head}\n", "{before}\n", "{head} {before}\n", "--help\n", "x" * 99),
    *("1" * 40 + "\n", "{outside}/canary\n", "{head} {before} ../../outside/canary\n"),
    *("{before} {head}\n", "{before} {before} main\n", "\x1b[31m\n"),
)

PLANTED: Mapping[str, Plant] = {
    **{
        f"{name} holds {what}": a_file(f".git/{name}", content)
        for name in _NAMES
        for what, content in _CONTENTS.items()
    },
    **{f"{name} is a pipe": a_pipe(f".git/{name}") for name in _NAMES},
    **{f"{name} is huge": a_huge_file(f".git/{name}") for name in _NAMES},
    **{f"the lock {name}": a_file(f".git/{name}") for name in _LOCKS},
    **{f"the lock {name} is a pipe": a_pipe(f".git/{name}") for name in _LOCKS},
    **{f"trueup/{name} is a pipe": a_pipe(f".git/trueup/{name}") for name in _OWN},
    **{f"trueup/{name} is huge": a_huge_file(f".git/trueup/{name}") for name in _OWN},
    **{f"trueup/{name} is a folder": _own_folder(name) for name in _OWN},
    **{f"trueup/{name} leads out": _own_link(name) for name in _OWN},
    "a place for new objects that runs": _own_repository,
    "links where new content waits": _waiting,
    **{f"an unfinished step: {text[:30]!r}": _step(text) for text in _STEPS},
    "a cache that deletes": _hot_cache,
    "a cache that never ends": _false_cache,
    "a cache as a pipe": a_pipe(".trueup-cache"),
    "work trees elsewhere": _worktrees,
    "modules": _modules,
    "commondir": _pointer("commondir"),
    "gitdir": _pointer("gitdir"),
}
