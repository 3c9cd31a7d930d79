"""What a stranger can put into the working files and git's index, and record in trees."""

import hashlib
import os
import socket
import struct
from collections.abc import Mapping, Sequence
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.strangers.planted.putting import (
    Plant,
    a_huge_file,
    a_pipe,
    an_endless_file,
    clear,
    config,
    git,
    huge,
    link,
    pipe,
    put,
)

_DEEP = 3000
_GITS_OWN = (".gitattributes", ".gitignore", ".gitmodules", ".mailmap")
_INFO = ("attributes", "exclude", "sparse-checkout", "refs")


def _deep_recorded(case: Case, folder: Path) -> None:
    tree = git(case, folder, "rev-parse", "HEAD:patterns")
    for _ in range(_DEEP):
        tree = git(case, folder, *_HASH, feed=b"40000 a\0" + bytes.fromhex(tree))
    _record(case, folder, b"40000 photos\0" + bytes.fromhex(tree), "photos")


def _deep_on_disk(_: Case, folder: Path) -> None:
    """Folders in folders, deeper than any path may be long, with attributes at their end."""
    here = os.open(folder / "photos", os.O_RDONLY)
    for _depth in range(_DEEP):
        os.mkdir("a", dir_fd=here)
        below = os.open("a", os.O_RDONLY, dir_fd=here)
        os.close(here)
        here = below
    handle = os.open(".gitattributes", os.O_WRONLY | os.O_CREAT, dir_fd=here)
    os.write(handle, b"* filter=evil\n")
    os.close(handle)
    os.close(here)


_HASH = ("hash-object", "-t", "tree", "-w", "--stdin", "--literally")


def _entries(case: Case, folder: Path, without: str) -> list[bytes]:
    """Return the entries of the latest tree, but for one name."""
    kept = []
    for line in git(case, folder, "ls-tree", "HEAD").splitlines():
        facts, _, name = line.partition("\t")
        mode, _, content = facts.split()
        if name != without:
            kept.append(f"{mode.lstrip('0')} {name}\0".encode() + bytes.fromhex(content))
    return kept


def _record(case: Case, folder: Path, entry: bytes, without: str = "") -> None:
    """Record one entry more as a step of the branch; the working files stay."""
    kept = [*_entries(case, folder, without), entry]
    kept.sort(key=lambda each: each.split(b" ", 1)[1].split(b"\0")[0])
    tree = git(case, folder, *_HASH, feed=b"".join(kept))
    commit = git(case, folder, "commit-tree", "-p", "HEAD", "-m", "Look", tree)
    git(case, folder, "update-ref", "HEAD", commit)


def _recorded(mode: str, name: bytes) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        kind = "HEAD:patterns" if mode == "40000" else "HEAD:wardrobe.toml"
        content = git(case, folder, "rev-parse", "HEAD" if mode == "160000" else kind)
        _record(case, folder, mode.encode() + b" " + name + b"\0" + bytes.fromhex(content))

    return plant


def _index(how: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        place = folder / ".git" / "index"
        match how:
            case "split":
                git(case, folder, "update-index", "--split-index")
            case "split from elsewhere":
                git(case, folder, "update-index", "--split-index")
                (shared,) = (folder / ".git").glob("sharedindex.*")
                shared.rename(case.outside / shared.name)
                link(shared, case.outside / shared.name)
            case "split from a pipe":
                git(case, folder, "update-index", "--split-index")
                (shared,) = (folder / ".git").glob("sharedindex.*")
                pipe(shared)
            case "fsmonitor":
                put(place, _extended(place, b"FSMN", struct.pack(">I", 2) + b"x\0" + bytes(4)))
                config(folder, f"[core]\n\tfsmonitor = {case.program}\n")
            case "untracked":
                place_ = f"Location {folder}, system Linux\0".encode()
                put(place, _extended(place, b"UNTR", bytes([len(place_)]) + place_ + b"\xff" * 80))
                config(folder, "[core]\n\tuntrackedCache = true\n")
            case "unknown extension":
                put(place, _extended(place, b"evil", b"x"))
            case "sparse":
                config(folder, "[core]\n\tsparseCheckout = true\n[index]\n\tsparse = true\n")
                put(folder / ".git" / "info" / "sparse-checkout", b"/nothing/\n")
            case "entries that lead out":
                blob = git(case, folder, "rev-parse", "HEAD:wardrobe.toml")
                put(place, _indexed([b"../outside/canary", b".git/config"], blob))
            case "garbage":
                put(place, b"DIRC" + b"\xff" * 5000)
            case "huge":
                huge(place, place.read_bytes())
            case "pipe":
                pipe(place)

    return plant


def _extended(place: Path, name: bytes, content: bytes) -> bytes:
    body = place.read_bytes()[:-20] + name + struct.pack(">I", len(content)) + content
    return body + hashlib.sha1(body, usedforsecurity=False).digest()


def _indexed(paths: list[bytes], blob: str) -> bytes:
    body = b"DIRC" + struct.pack(">II", 2, len(paths))
    for path in paths:
        facts = struct.pack(">10I", *[0] * 6, 0o100644, 0, 0, 0)
        entry = facts + bytes.fromhex(blob) + struct.pack(">H", len(path)) + path
        body += entry + bytes(8 - len(entry) % 8)
    return body + hashlib.sha1(body, usedforsecurity=False).digest()


def _linked_out(name: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        place = folder / name
        if place.is_dir():
            (case.outside / "own").mkdir()
            for file in place.iterdir():
                put(case.outside / "own" / file.name, file.read_bytes())
        else:
            put(case.outside / "own", place.read_bytes() if place.exists() else b"the maker's\n")
        link(place, case.outside / "own")

    return plant


def _socket(case: Case, folder: Path) -> None:
    place = folder / "blocks" / "village.toml"
    clear(place)
    before = Path.cwd()
    os.chdir(place.parent)  # a socket's path may be only so long
    try:
        socket.socket(socket.AF_UNIX).bind(place.name)
    finally:
        os.chdir(before)


_WORKING = (
    *("wardrobe.toml", "blocks/village.toml", "blocks/traced.svg", "patterns/blouse.toml"),
    *("garments/linen.toml", "garments/linen.svg", "photos/new.jpg", "garments/new.toml"),
    *("bodies/marta.toml", "bodies/new.toml"),
)
_FOLDERS = ("blocks", "patterns", "garments", "photos", "bodies")

_RECORDED: Sequence[tuple[str, bytes]] = (
    *(("100644", b"Wardrobe.toml"), ("40000", b"Blocks"), ("40000", b"BLOCKS")),
    *(("100644", b".GIT"), ("40000", b".git"), ("40000", b".."), ("40000", b".")),
    *(("100644", b"a\nb"), ("100644", b"a\x1b[31m"), ("100644", b"--help"), ("100644", b"-x")),
    *(("160000", b"photos "), ("160000", b"module"), ("120000", b"link"), ("100644", b"x\xff")),
    *(("100644", b"git~1"), ("40000", b"blocks."), ("100644", b".gitmodules")),
    *(("120000", b".gitmodules"), ("120000", b".gitattributes "), ("100755", b"run")),
    *(("40000", "blocke\u0301".encode()), ("100644", b"wardrobe.toml")),
)
_INDEXES = (
    *("split", "split from elsewhere", "split from a pipe", "fsmonitor", "untracked", "sparse"),
    *("unknown extension", "entries that lead out", "garbage", "huge", "pipe"),
)

PLANTED: Mapping[str, Plant] = {
    "folders 3000 deep": _deep_on_disk,
    "trees 3000 deep": _deep_recorded,
    **{f"recorded {mode} {name!r}": _recorded(mode, name) for mode, name in _RECORDED},
    **{f"index: {how}": _index(how) for how in _INDEXES},
    **{f"{name} as a pipe": a_pipe(name) for name in _GITS_OWN},
    **{f"{name} that is huge": a_huge_file(name) for name in _GITS_OWN},
    **{f"{name} that leads out": _linked_out(name) for name in _GITS_OWN},
    **{f"info/{name} as a pipe": a_pipe(f".git/info/{name}") for name in _INFO},
    **{f"info/{name} that is huge": a_huge_file(f".git/info/{name}") for name in _INFO},
    "a folder of attributes as a pipe": a_pipe("patterns/.gitattributes"),
    **{f"{name} leads out": _linked_out(name) for name in (*_WORKING, *_FOLDERS)},
    **{f"{name} is a pipe": a_pipe(name) for name in (*_WORKING, *_FOLDERS)},
    **{f"{name} is huge": a_huge_file(name) for name in _WORKING},
    **{f"{name} never ends": an_endless_file(name) for name in _WORKING},
    "a file that is a socket": _socket,
}
