"""Is there a latest version that can be read? And if not: is this damage, or no wardrobe at all?"""

import os
from pathlib import Path
from typing import NoReturn

from trueup.lineage.errors import Damaged, NotAWardrobe
from trueup.lineage.store.files.paths import SETTINGS
from trueup.lineage.store.git import objects
from trueup.lineage.store.git.at_hand import Latest
from trueup.lineage.store.git.git_failures import closed, not_given
from trueup.lineage.store.git.quiet_git import QuietGit

_TO_A_BRANCH = "ref: refs/heads/"


def require_whole(git: QuietGit) -> Latest | None:
    """Refuse a repository whose latest version is missing or is no wardrobe's, and return it.

    None where it became another while it was looked at.

    Raises `Damaged` where something was recorded here and cannot be read, `NotAWardrobe` where
    nothing ever was, or where it holds no wardrobe.
    """
    if not_allowed := closed(git.git_dir / "HEAD"):
        raise not_allowed
    if not _is_repository(git.git_dir):
        _explain_no_repository(git)
        return None
    names = ["HEAD^{commit}", "HEAD^{tree}", f"HEAD:{SETTINGS}", "HEAD^{commit}"]
    head, tree, settings, still = objects.look_up(git, names)
    if head is None:
        _explain_missing_head(git)
        return None
    if tree is None:
        reason = f"the list of files of the latest version {head.id} is gone"
        listed = _text(git.run("cat-file", "commit", head.id)).split()[1]
        raise not_given(git.git_dir, listed, reason)
    if settings is not None and settings.kind == "blob":
        return Latest(head.id, tree.id) if still == head else None
    if settings is None and (line := git.run("ls-tree", head.id, "--", SETTINGS)):
        content = _text(line).split()[2]
        raise not_given(git.git_dir, content, f"the content of {SETTINGS} is missing")
    raise NotAWardrobe(git.work_tree, f"its latest version holds no {SETTINGS}")


def _is_repository(git_dir: Path) -> bool:
    """Return whether git would take the folder for a repository at all."""
    return (
        all((git_dir / name).is_dir() for name in ("objects", "refs"))
        and (git_dir / "HEAD").is_file()
    )


def _explain_no_repository(git: QuietGit) -> None:
    for name in ("HEAD", "objects", "refs"):
        if not os.path.lexists(git.git_dir / name):
            missing = [n for n in ("HEAD", "objects", "refs", "config") if _has(git.git_dir, n)]
            if not missing:
                raise NotAWardrobe(git.work_tree, "its .git folder is empty")
            raise Damaged(str(git.git_dir), f"its {name} is missing")
        kind = "file" if name == "HEAD" else "folder"
        if (git.git_dir / name).is_dir() == (kind == "file"):
            raise Damaged(str(git.git_dir), f"its {name} is no {kind}")


def _has(git_dir: Path, name: str) -> bool:
    return os.path.lexists(git_dir / name)


def _explain_missing_head(git: QuietGit) -> None:
    answer = git.ask("rev-parse", "--quiet", "--verify", "HEAD")
    if answer.status < 0:
        raise git.failure("rev-parse", answer)
    with (git.git_dir / "HEAD").open("rb") as file:
        written = file.read(4096).decode(errors="replace").strip()
    branch = written.removeprefix(_TO_A_BRANCH)
    if branch == written or not branch.isprintable():
        branch = ""
    if answer.status == 0:
        _explain_no_version(git, f"branch {branch}" if branch else "HEAD", _text(answer.output))
    if not branch:
        raise Damaged(str(git.git_dir), "its HEAD names no branch, and no latest version")
    is_name = git.ask("check-ref-format", f"refs/heads/{branch}").status == 0
    if is_name and (not_allowed := closed(git.git_dir / "refs" / "heads" / branch)):
        raise not_allowed
    if _was_used(git):
        raise Damaged(str(git.git_dir), f"its branch {branch} no longer names its latest version")
    raise NotAWardrobe(git.work_tree, "it has no version yet")


def _explain_no_version(git: QuietGit, name: str, named: str) -> NoReturn:
    """Say of an id that a name stands for why it is no version that can be read."""
    (found,) = objects.look_up(git, [named])
    if found is not None and found.kind != "commit":
        reason = f"its {name} names {named}, and that is no version but a {found.kind} of git's"
    elif found is not None or os.path.lexists(git.git_dir / "objects" / named[:2] / named[2:]):
        reason = f"its latest version {named} cannot be read"
    else:
        reason = f"its {name} names the latest version {named}, and git holds no such version"
    raise not_given(git.git_dir, named, reason)


def _text(output: bytes) -> str:
    return output.decode(errors="replace").strip()


def _was_used(git: QuietGit) -> bool:
    """Return whether anything was ever recorded here: a log, a name, an object."""
    if git.run("for-each-ref", "--count=1") or (git.git_dir / "logs").is_dir():
        return True
    kept = (git.git_dir / "objects").iterdir()
    return any(
        any(folder.iterdir()) for folder in kept if folder.is_dir() and folder.name != "info"
    )
