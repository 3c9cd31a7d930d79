"""Names of versions that lead out, look like options, or never end."""

from collections.abc import Mapping
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.strangers.planted.putting import Plant, clear, git, huge, link, pipe, put

_ODD_NAMES = (
    *("refs/heads/../../../outside/canary", "refs/heads/--upload-pack=x", "refs/heads/-x"),
    *("refs/heads/--output=x", "refs/heads/a b", "refs/heads/a..b", "refs/heads/a~1", "refs/x^0"),
    *("refs/heads/\x1b[31mred", "refs/heads/@{u}", "refs/heads/x.lock", "HEAD/x", "../x", "/x"),
    *("refs/tags/HEAD", "refs/tags/main", "refs/heads/HEAD", "refs/heads/refs/heads/main", "main"),
    *("refs/heads/\u202eniam", "refs/heads/" + "x" * 5000, "refs/remotes/origin/HEAD", "refs/"),
)


def _head(case: Case, folder: Path) -> str:
    return git(case, folder, "rev-parse", "HEAD")


def _symbolic(at: str, target: str) -> Plant:
    """A reference that stands for another, which may lie anywhere."""

    def plant(case: Case, folder: Path) -> None:
        head = _head(case, folder)
        put(case.outside / "reference", f"{head}\n".encode())
        put(folder / "reference", f"{head}\n".encode())
        put(folder / ".git" / at, target.format(outside=case.outside).encode() + b"\n")

    return plant


def _packed_names(case: Case, folder: Path) -> None:
    head = _head(case, folder)
    lines = [f"{head} {name}\n" for name in sorted(_ODD_NAMES)]
    put(folder / ".git" / "packed-refs", "".join(lines).encode())


def _packed_name(name: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        put(folder / ".git" / "packed-refs", f"{_head(case, folder)} {name}\n".encode())

    return plant


def _loose_names(case: Case, folder: Path) -> None:
    head = _head(case, folder)
    for name in ("--upload-pack=x", "-x", "--output=y", "a b", "\x1b[31mred", "HEAD", "x.lock"):
        for kind in ("heads", "tags", "remotes/origin"):
            put(folder / ".git" / "refs" / kind / name, f"{head}\n".encode())


def _content(at: str, content: bytes) -> Plant:
    return lambda _, folder: put(folder / ".git" / at, content)


def _log(at: str, how: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        place = folder / ".git" / "logs" / at
        content = place.read_bytes() if place.exists() else b""
        match how:
            case "pipe":
                pipe(place)
            case "link":
                put(case.outside / "log", content)
                link(place, case.outside / "log")
            case "link to nothing":
                link(place, case.outside / "new")
            case "folder":
                clear(place)
                put(place / "in" / "the-way")
            case "garbage":
                put(place, content + b"\xff\x1b[31m\n\n\0" * 100)
            case "huge":
                huge(place, content)

    return plant


_LEADING_OUT = (
    *("ref: ../../outside/reference", "ref: refs/../../../outside/reference"),
    *("ref: refs/heads/../../../outside/reference", "ref: {outside}/reference"),
    *("ref: refs/heads/../../../reference", "ref: --help", "ref: refs/heads/--help", "ref:"),
    *("ref: refs/heads/main\x1b[31m", "ref: refs/heads/nosuch", "ref: HEAD", "ref: refs/heads/a b"),
)

PLANTED: Mapping[str, Plant] = {
    **{f"HEAD is {target!r}": _symbolic("HEAD", target) for target in _LEADING_OUT},
    **{
        f"the branch is {target!r}": _symbolic("refs/heads/main", target)
        for target in (*_LEADING_OUT, "ref: refs/heads/main", "ref: refs/remotes/origin/main")
    },
    "odd names among the packed": _packed_names,
    **{f"packed {name[:40]!r}": _packed_name(name) for name in _ODD_NAMES},
    "odd names among the loose": _loose_names,
    "packed references of garbage": _content("packed-refs", b"\xff\0\x1b" * 1000),
    "packed references as a pipe": lambda _, folder: pipe(folder / ".git/packed-refs"),
    "packed references that are huge": lambda _, folder: huge(folder / ".git/packed-refs"),
    "HEAD is huge": lambda _, folder: huge(folder / ".git/HEAD", b"ref: refs/heads/main\n"),
    "HEAD is a pipe": lambda _, folder: pipe(folder / ".git/HEAD"),
    "HEAD is garbage": _content("HEAD", b"\xff\xfe\x1b[31m"),
    "the branch is a pipe": lambda _, folder: pipe(folder / ".git/refs/heads/main"),
    "the branch is huge": lambda _, folder: huge(folder / ".git/refs/heads/main"),
    "another branch is a pipe": lambda _, folder: pipe(folder / ".git/refs/heads/other"),
    "a tag is a pipe": lambda _, folder: pipe(folder / ".git/refs/tags/other"),
    **{
        f"log of {at}: {how}": _log(at, how)
        for at in ("HEAD", "refs/heads/main")
        for how in ("pipe", "link", "link to nothing", "folder", "garbage", "huge")
    },
}
