"""What a stranger can put among git's objects and beside them, to forge or to lose history."""

import os
import shutil
import zlib
from collections.abc import Mapping
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.strangers.planted.putting import Plant, config, git, huge, link, pipe, put


def _forged(case: Case, folder: Path) -> tuple[str, str]:
    """Return the latest commit, and one that tells another story."""
    real = git(case, folder, "rev-parse", "HEAD")
    forged = git(case, folder, "commit-tree", "-m", "Forged", "HEAD~2^{tree}")
    return real, forged


def _grafts(name: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        real, forged = _forged(case, folder)
        put(folder / ".git" / name, f"{real} {forged}\n{forged}\n".encode())

    return plant


def _replaced(case: Case, folder: Path) -> None:
    real, forged = _forged(case, folder)
    git(case, folder, "replace", real, forged)
    blob = git(case, folder, "rev-parse", "HEAD:blocks/village.toml")
    false = git(case, folder, "hash-object", "-w", "--stdin", feed=b"format = 1\n")
    git(case, folder, "replace", blob, false)


def _alternates(name: str, *, moved: bool) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        objects, outside = folder / ".git" / "objects", case.outside / "objects"
        shutil.copytree(objects, outside)
        if moved:
            head = git(case, folder, "rev-parse", "HEAD")
            with_it = objects / head[:2] / head[2:]
            if with_it.exists():
                with_it.unlink()
        target = "https://example.org/objects" if name.startswith("http") else str(outside)
        put(objects / "info" / name, f"{target}\n".encode())

    return plant


def _alternate_pipe(case: Case, folder: Path) -> None:
    pipe(case.outside / "objects" / "info" / "alternates")
    put(folder / ".git/objects/info/alternates", f"{case.outside}/objects\n".encode())


def _commit_graph(content: bytes | None) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        git(case, folder, "commit-graph", "write", "--reachable")
        place = folder / ".git" / "objects" / "info" / "commit-graph"
        old = place.read_bytes()
        place.chmod(0o644)
        put(place, _other_parents(old) if content is None else content)
        config(folder, "[core]\n\tcommitGraph = true\n[gc]\n\twriteCommitGraph = true\n")

    return plant


def _other_parents(graph: bytes) -> bytes:
    """Return a commit graph whose commits have no parents, or others."""
    data = bytearray(graph)
    at = graph.find(b"CDAT")
    start = int.from_bytes(graph[at + 4 : at + 12], "big")
    end = int.from_bytes(graph[at + 16 : at + 24], "big")
    for commit in range(start, end, 36):
        data[commit + 20 : commit + 28] = b"\x70\0\0\0\x70\0\0\0"
    return bytes(data)


def _packed(case: Case, folder: Path) -> Path:
    git(case, folder, "repack", "-adq")
    (pack,) = (folder / ".git" / "objects" / "pack").glob("*.pack")
    return pack


def _beside_a_pack(suffix: str, how: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        place = _packed(case, folder).with_suffix(suffix)
        match how:
            case "pipe":
                pipe(place)
            case "garbage":
                put(place, b"\xff" * 4096)
            case "empty":
                put(place)
            case "huge":
                huge(place)
            case "link":
                put(case.outside / "pack", place.read_bytes() if place.exists() else b"")
                link(place, case.outside / "pack")

    return plant


def _many_packs(case: Case, folder: Path) -> None:
    pack = _packed(case, folder)
    for number in range(300):
        for suffix in (".pack", ".idx"):
            name = f"pack-{number:040x}{suffix}"
            os.link(pack.with_suffix(suffix), pack.with_name(name))


def _multi_pack_index(case: Case, folder: Path) -> None:
    pack = _packed(case, folder)
    put(pack.with_name("multi-pack-index"), b"MIDX\x01\x01\x00\x00" + b"\xff" * 4096)
    config(folder, "[core]\n\tmultiPackIndex = true\n[pack]\n\tuseBitmaps = true\n")


def _loose(how: str) -> Plant:
    """The tree of the latest version, as something else than the loose object it is."""

    def plant(case: Case, folder: Path) -> None:
        tree = git(case, folder, "rev-parse", "HEAD^{tree}")
        place = folder / ".git" / "objects" / tree[:2] / tree[2:]
        content = place.read_bytes() if place.exists() else zlib.compress(b"tree 0\0")
        match how:
            case "pipe":
                pipe(place)
            case "link":
                put(case.outside / "tree", content)
                link(place, case.outside / "tree")
            case "unending":
                many = zlib.compressobj(9)
                stream = many.compress(b"tree 99999999999999\0")
                put(place, stream + b"".join(many.compress(bytes(10**6)) for _ in range(300)))
            case "another":
                put(place, zlib.compress(b"tree 0\0"))

    return plant


def _shallow(content: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        head = git(case, folder, "rev-parse", "HEAD")
        put(folder / ".git" / "shallow", content.format(head=head).encode())

    return plant


PLANTED: Mapping[str, Plant] = {
    "grafts": _grafts("info/grafts"),
    "grafts where trueup names none": _grafts("trueup/no-grafts"),
    "grafts as a pipe": lambda _, folder: pipe(folder / ".git/info/grafts"),
    "grafts where trueup names none as a pipe": lambda _, folder: pipe(
        folder / ".git/trueup/no-grafts"
    ),
    "replaced commits": _replaced,
    "alternates": _alternates("alternates", moved=False),
    "alternates that hold the latest version": _alternates("alternates", moved=True),
    "alternates of alternates as a pipe": _alternate_pipe,
    "http-alternates": _alternates("http-alternates", moved=False),
    "a commit graph with other parents": _commit_graph(None),
    "a commit graph of garbage": _commit_graph(b"CGPH" + b"\xff" * 4096),
    "commit graphs as a pipe": lambda _, folder: pipe(
        folder / ".git/objects/info/commit-graphs/commit-graph-chain"
    ),
    "a list of packs as a pipe": lambda _, folder: pipe(folder / ".git/objects/info/packs"),
    **{
        f"{suffix} of a pack: {how}": _beside_a_pack(suffix, how)
        for suffix in (".idx", ".pack", ".rev", ".bitmap", ".mtimes", ".keep", ".promisor")
        for how in ("pipe", "garbage", "empty", "huge", "link")
    },
    "300 packs": _many_packs,
    "an index of many packs": _multi_pack_index,
    **{f"a tree: {how}": _loose(how) for how in ("pipe", "link", "unending", "another")},
    "shallow of garbage": _shallow("--upload-pack\n\x1b[31m\n"),
    "shallow of an unknown commit": _shallow(f"{'1' * 40}\n"),
    "shallow without an end": _shallow("{head}"),
}
