"""Small ways to put a file where git or trueup would read it."""

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.warm import environment

Plant = Callable[[Case, Path], None]
"""Puts something into a wardrobe (or a clone); the case says what lies outside."""

HUGE = 100_000_000
"""Bytes of a file that nobody needs; written with holes, so that it costs no disk."""


def put(place: Path, content: bytes = b"") -> None:
    """Write a file, in the place of whatever stands there."""
    clear(place)
    place.write_bytes(content)


def clear(place: Path) -> None:
    """Make room for something at a place."""
    place.parent.mkdir(parents=True, exist_ok=True)
    if place.is_dir() and not place.is_symlink():
        place.rename(place.with_name(f"{place.name}-was"))
    elif os.path.lexists(place):
        place.unlink()


def pipe(place: Path) -> None:
    """Put a pipe there that nobody writes to: whoever opens it to read waits for ever."""
    clear(place)
    os.mkfifo(place)


def huge(place: Path, start: bytes = b"", filler: bytes = b"\0") -> None:
    """Put a huge file there: `start`, then one byte over and over."""
    clear(place)
    with place.open("wb") as file:
        file.write(start)
        if filler == b"\0":
            file.truncate(HUGE)
        else:
            for _ in range(HUGE // 1_000_000):
                file.write(filler * (1_000_000 // len(filler)))


def link(place: Path, target: Path | str) -> None:
    """Put a symbolic link there."""
    clear(place)
    place.symlink_to(target)


def a_pipe(name: str) -> Plant:
    """Return what puts a pipe in the place of a file."""
    return lambda _, folder: pipe(folder / name)


def a_huge_file(name: str) -> Plant:
    """Return what puts a huge file in the place of another."""
    return lambda _, folder: huge(folder / name)


def a_file(name: str, content: bytes = b"") -> Plant:
    """Return what puts a file there."""
    return lambda _, folder: put(folder / name, content)


def an_endless_file(name: str) -> Plant:
    """Return what puts a link there to a file that never ends."""
    return lambda _, folder: link(folder / name, "/dev/zero")


def git(case: Case, folder: Path, *words: str, feed: bytes = b"") -> str:
    """Run plain git in a folder; it must succeed."""
    surroundings = environment(case.outside.parent / "home")
    who = {"GIT_AUTHOR_NAME": "A", "GIT_AUTHOR_EMAIL": "a@example.org"}
    who |= {name.replace("AUTHOR", "COMMITTER"): value for name, value in who.items()}
    who |= {"GIT_GRAFT_FILE": os.devnull, "GIT_NO_REPLACE_OBJECTS": "1"}  # as planted before
    done = subprocess.run(
        ["git", "-c", f"core.hooksPath={os.devnull}", "-C", str(folder), *words],
        env={**surroundings, **who}, input=feed, capture_output=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr.decode(errors="replace")
    return done.stdout.decode(errors="replace").strip()


def config(folder: Path, text: str, name: str = "config") -> None:
    """Add lines to a config file."""
    with (folder / ".git" / name).open("a", encoding="utf-8") as file:
        file.write(text)
