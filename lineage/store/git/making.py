"""New objects are made in a small repository of our own, and moved among git's when whole.

So whatever a git leaves that is killed, or meets a full disk, lies where only we look.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from trueup.lineage.errors import CannotWrite
from trueup.lineage.store.files.paths import OWN_FOLDER
from trueup.lineage.store.git.quiet_git import QuietGit

_PLAIN = "[core]\n\trepositoryformatversion = {version}\n\tbare = true\n"
_SHA256 = "[extensions]\n\tobjectFormat = sha256\n"


def room(git_dir: Path) -> Path:
    """Return the folder in which objects are made."""
    return git_dir / OWN_FOLDER / "making"


@contextmanager
def making(git: QuietGit, like: str) -> Iterator[QuietGit]:
    """Hand over a git whose new objects are taken over when the block ends well.

    It sees the wardrobe's objects and none of its settings; `like` is an id in the kind of hash
    the wardrobe uses. Only for who keeps other writers out. Raises `CannotWrite`.
    """
    place = room(git.git_dir)
    try:
        clear(git.git_dir)
        _furnish(place, is_long=len(like) == 64)
        yield QuietGit(place, place, kept_open=git.kept_open)
        _take_over(place / "objects", git.git_dir / "objects")
    except OSError as error:
        raise CannotWrite(str(git.git_dir), error.strerror or str(error)) from error
    finally:
        shutil.rmtree(place, ignore_errors=True)


def clear(git_dir: Path) -> None:
    """Take away what was being made; raises `OSError`."""
    if room(git_dir).exists():
        shutil.rmtree(room(git_dir))


def _furnish(place: Path, *, is_long: bool) -> None:
    (place / "refs").mkdir(parents=True)
    (place / "objects" / "info").mkdir(parents=True)
    # Relative to the folder of objects: a name with a colon or a quote in it does no harm.
    (place / "objects" / "info" / "alternates").write_text("../../../objects\n")
    (place / "HEAD").write_text("ref: refs/heads/making\n")
    settings = _PLAIN.format(version=int(is_long)) + (_SHA256 if is_long else "")
    (place / "config").write_text(settings)


def _take_over(made: Path, objects: Path) -> None:
    """Move objects to where git looks for them; what another needs comes before it."""
    for folder in sorted(made.iterdir()):
        if folder.name == "info":
            continue
        (objects / folder.name).mkdir(exist_ok=True)
        # An index is what makes git see a pack: it comes last.
        whole = (each for each in folder.iterdir() if not each.name.startswith("tmp_"))
        for file in sorted(whole, key=lambda each: each.suffix == ".idx"):
            os.replace(file, objects / folder.name / file.name)
