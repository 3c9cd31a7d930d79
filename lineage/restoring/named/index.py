"""Git's list of the files: is it whole, and what would it be for a version?"""

import shutil
from pathlib import Path

from trueup.lineage.restoring.stored import sealed
from trueup.lineage.restoring.stored.bench import Bench

_LINK_TO_REPOSITORY = b"160000"


def is_usable(made: Bench, index: Path) -> bool:
    """Return whether the list can be read, and all it names is stored; raises `OSError`."""
    if not index.is_file() or sealed_or_bare(index, made.letters) is None:
        return False
    try:
        shutil.copyfile(index, _on_bench(made))
        answer = made.git.ask("ls-files", "--stage", "-z")
    finally:
        _on_bench(made).unlink(missing_ok=True)
    if answer.status != 0:
        return False
    lines = [line.split(b" ", 2) for line in answer.output.split(b"\0")[:-1]]
    ids = dict.fromkeys(line[1] for line in lines if line[0] != _LINK_TO_REPOSITORY)
    asked = b"".join(each + b"\n" for each in ids)
    found = made.git.ask("cat-file", "--batch-check", feed=asked)
    return found.status == 0 and b" missing\n" not in found.output


def sealed_or_bare(index: Path, letters: int) -> bytes | None:
    """Return the digest the list ends in, also one of zeros, which git may be told to write."""
    with index.open("rb") as file:
        start = file.read(4)
        file.seek(0, 2)
        if start != b"DIRC" or file.tell() < 12 + letters // 2:
            return None
        file.seek(-(letters // 2), 2)
        seal = file.read()
    return sealed.seal_of(index, letters) if seal.strip(b"\0") else seal


def list_of(made: Bench, tip: str) -> Path | None:
    """Return a new list of a version's files on the bench; None where it cannot be listed."""
    place = _on_bench(made)
    place.unlink(missing_ok=True)
    if made.git.ask("read-tree", tip).status != 0 or not place.is_file():
        return None
    kept = place.with_name("index.made")
    return place.replace(kept)


def _on_bench(made: Bench) -> Path:
    return made.git.git_dir / "index"
