"""Try every setting, many at a time; what is refused together is tried in halves.

A setting that git itself will not read hides all others beside it. So those that plain git refuses
are sorted out first, and a group that is refused all the same is divided until what is refused
stands alone.
"""

import os
import shutil
import subprocess
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tests.strangers.ordeal import WHERE, Case, faults, is_refusal, undergo
from tests.strangers.settings import VALUES, plant
from tests.strangers.watched import Watched
from tests.warm import HANGS, Answer, environment


@dataclass
class Tried:
    """What became of settings: answered as if they were not there, refused, or at fault."""

    answered: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Trial:
    """One value, tried in settings of one wardrobe's config."""

    trueup: Watched
    built: tuple[Path, Path]
    clean: Sequence[Answer]
    place: Path
    value: str
    where: str
    hangs: float = HANGS

    def of(self, settings: Sequence[str]) -> Tried:
        """Try the settings, in groups as large as they will answer in."""
        tried = Tried()

        def passes(group: Sequence[str]) -> bool:
            refused, found = self.together(group)
            if not refused and not found:
                tried.answered += group
            elif len(group) == 1:
                tried.refused += group if refused else ()
                tried.faults += [f"{group[0]} = {self.value}: {each}" for each in found]
            return not refused and not found

        divide(self.readable_by_git(settings), passes)
        return tried

    def readable_by_git(self, settings: Iterable[str]) -> list[str]:
        """Return the settings with which plain git still answers, whatever it is asked."""
        at_all = self._answered_by_git(settings, _ASKED_OF_GIT[:1])
        return self._answered_by_git(at_all, _ASKED_OF_GIT)

    def _answered_by_git(
        self, settings: Iterable[str], asked: Sequence[Sequence[str]]
    ) -> list[str]:
        answered: list[str] = []
        case = self._case()
        config = case.folder / ".git" / "config"
        clean = config.read_bytes()

        def passes(group: Sequence[str]) -> bool:
            config.write_bytes(clean)
            for lock in config.parent.rglob("*.lock"):  # of a git that had to be stopped
                lock.unlink()
            plant(case.folder, group, VALUES[self.value](case))
            if all(_git_answers(case, words) for words in asked):
                answered.extend(group)
                return True
            return False

        divide(tuple(settings), passes)
        return answered

    def together(self, settings: Sequence[str]) -> tuple[bool, list[str]]:
        """Return whether a group is refused, and what is wrong with the answers."""
        case = self._case()
        folder = case.folder if self.where == "wardrobe" else case.clone
        plant(folder, settings, VALUES[self.value](case))
        return judged(self.trueup, case, self.clean, self.where, hangs=self.hangs)

    def _case(self) -> Case:
        shutil.rmtree(self.place, ignore_errors=True)
        self.place.mkdir()
        case = Case.of(self.built, self.place)
        os.mkfifo(case.outside / "pipe")
        return case


def judged(
    trueup: Watched,
    case: Case,
    clean: Sequence[Answer],
    where: str = WHERE[0],
    *,
    hangs: float = HANGS,
    another_history: bool = False,
) -> tuple[bool, list[str]]:
    """Run the ordeal; return whether anything was refused, and all that is wrong."""
    before = case.lies_outside()
    trueup.misdeeds([], [])
    answers = undergo(trueup, case, hangs, where)
    found = faults(answers, clean, another_history=another_history)
    found += trueup.misdeeds([case.clone], [case.folder])
    if case.lies_outside() != before:
        found.append("what lies outside is not as it was")
    return any(is_refusal(answer) for answer in answers), found


def divide(settings: Sequence[str], passes: Callable[[Sequence[str]], bool]) -> None:
    """Ask of the whole, and of the halves of whatever does not pass, down to single settings."""
    waiting = [settings] if settings else []
    while waiting:
        group = waiting.pop()
        if not passes(group) and len(group) > 1:
            middle = len(group) // 2
            waiting += [group[:middle], group[middle:]]


_ASKED_OF_GIT: Sequence[Sequence[str]] = (
    ("cat-file", "-e", "HEAD"),
    ("rev-list", "-1", "HEAD"),
    ("ls-tree", "HEAD"),
    ("diff-tree", "-r", "HEAD"),
    ("merge-base", "HEAD", "HEAD"),
    ("for-each-ref",),
    ("symbolic-ref", "HEAD"),
    ("update-ref", "refs/heads/main", "HEAD"),
    ("pack-objects", "-q", "--stdout"),
    ("fast-import", "--quiet"),
    ("read-tree", "--dry-run", "HEAD"),
    ("update-index", "--index-info"),
    ("hash-object", "--stdin"),
    ("var", "GIT_AUTHOR_IDENT"),
)
"""The plumbing that reads settings, each asked for next to nothing."""


def _git_answers(case: Case, words: Sequence[str]) -> bool:
    surroundings = environment(case.outside.parent / "home")
    git = ["git", "-c", "user.name=A", "-c", "user.email=a", f"--git-dir={case.folder / '.git'}"]
    try:
        done = subprocess.run(
            [*git, *words], env=surroundings, input=b"", capture_output=True, timeout=5,
            check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0
