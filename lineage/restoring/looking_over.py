"""Look over a whole wardrobe, git's folder and the working files, and say what is wrong."""

import os
import time
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.errors import BadRecord, CannotWrite, NotAWardrobe, WardrobeError
from trueup.lineage.files.unreadable import causes
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.restoring.findings import Help, Trouble, Wrong
from trueup.lineage.restoring.repository import Plan, planned
from trueup.lineage.restoring.working.looking import FilesLook, FilesPlan
from trueup.lineage.store.files.paths import OWN_FOLDER, SETTINGS
from trueup.lineage.store.git.objects import list_tree

_JOINING = ("MERGE_HEAD", "CHERRY_PICK_HEAD", "REVERT_HEAD", "rebase-merge", "rebase-apply")


@dataclass(frozen=True)
class DamageSeen:
    """What one look found wrong: in git's folder, in the working files; and what was edited."""

    of_git: tuple[Trouble, ...]
    of_files: tuple[Trouble, ...]
    edited: tuple[str, ...]

    @property
    def found(self) -> tuple[Trouble, ...]:
        """Return all that is wrong."""
        return (*self.of_git, *self.of_files)

    @property
    def can_be_restored(self) -> bool:
        """Return whether any of it can be put right."""
        return any(finding.cure for finding in self.found)


def look_over(folder: Path, clone: Path | None) -> DamageSeen:
    """Look over all; nothing is written."""
    with planned(folder, clone, time.time()) as plan:
        _require_wardrobe(folder, plan)
        behind, files = look_at_files(folder, plan)
    moving = {finding.place for finding in behind.findings}
    of_git = (*plan.findings, *behind.findings)
    edited = tuple(path for path in files.edited if path not in moving)
    if of_git or files.findings:
        return DamageSeen(of_git, files.findings, edited)
    return DamageSeen((), _what_is_refused(folder), edited)


def look_at_files(folder: Path, plan: Plan) -> tuple[FilesPlan, FilesPlan]:
    """Return what is planned for files that did not follow the latest step, and for all others."""
    if plan.made is None or plan.tip is None or is_joining(folder):
        return FilesPlan(), FilesPlan()
    try:
        behind = FilesLook(folder, plan.made.git, plan.tip).behind() if plan.step else FilesPlan()
        return behind, FilesLook(folder, plan.made.git, plan.tip).over_all()
    except WardrobeError as error:
        return FilesPlan(), FilesPlan((_refused(folder, error),))


def is_joining(folder: Path) -> bool:
    """Return whether git stopped in a merge or the like, and left its marks in the files."""
    return any(os.path.lexists(folder / ".git" / name) for name in _JOINING)


def _require_wardrobe(folder: Path, plan: Plan) -> None:
    """Refuse a repository that never was a wardrobe: it is none of ours to mend."""
    if any(os.path.lexists(folder / name) for name in (SETTINGS, f".git/{OWN_FOLDER}")):
        return
    if plan.made is not None and plan.tip is not None:
        try:
            if SETTINGS in list_tree(plan.made.git, plan.tip):
                return
        except WardrobeError:
            pass
    raise NotAWardrobe(folder, f"it holds no {SETTINGS}")


def _what_is_refused(folder: Path) -> tuple[Trouble, ...]:
    """Return what keeps a wardrobe from being opened and read, now that nothing else is wrong."""
    try:
        with OpenWardrobe.open(folder) as wardrobe:
            found = causes(wardrobe.state.unreadable)
    except CannotWrite:
        return ()
    except BadRecord as error:
        return (Trouble(Wrong.FILE, error.place, help=Help.BY_HAND, reason=error.reason),)
    except WardrobeError as error:
        return (_refused(folder, error),)
    return tuple(
        Trouble(Wrong.FILE, each.place, help=Help.BY_HAND, reason=each.reason) for each in found
    )


def _refused(folder: Path, error: WardrobeError) -> Trouble:
    return Trouble(Wrong.REFUSED, str(folder), help=Help.BY_HAND, error=error)
