"""The run of verbs over a wardrobe a stranger has prepared, and what must hold of it.

Reading verbs, then a step, its undoing, and the work of another clone joined: each answers as it
does in the clean wardrobe, or with one sentence. Whatever it answers, nothing outside is changed.
"""

import json
import re
import shutil
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from tests.warm import HANGS, Answer, Warm

READING = (
    ("tree", "--json"),
    ("history", "--json"),
    ("measure", "blouse", "--json"),
    ("garments", "--json"),
)
STEP = ("correct", "village", "deepen-dart", "--dart", "front.bust", "--by", "2mm")
AFTERWARDS = ("measure", "village", "--json")
REFUSED = (2, 3)
LONGEST_SENTENCE = 1000  # characters; it may name a long path and git's own reason

_RECORDED = re.compile(r"\b[0-9a-f]{8,40}\b")


@dataclass(frozen=True)
class Case:
    """A copy of the wardrobe and of its clone, a maker's folder, and what lies outside of all."""

    folder: Path
    clone: Path
    outside: Path

    @classmethod
    def of(cls, built: tuple[Path, Path], place: Path) -> "Case":
        """Copy what was built; a program outside leaves a mark when it is run."""
        place.mkdir(exist_ok=True)
        case = cls(place / "wardrobe", place / "clone", place / "outside")
        for source, copy in zip(built, (case.folder, case.clone), strict=True):
            shutil.copytree(source, copy, symlinks=True)
        case.outside.mkdir()
        case.program.write_text(f'#!/bin/sh\necho "$0 $@" >> "{case.marker}"\nexit 1\n')
        case.program.chmod(0o755)
        case.canary.write_bytes(b"[core]\n\tbare = false\n# a canary\n")
        return case

    @property
    def program(self) -> Path:
        """What must not be run."""
        return self.outside / "program"

    @property
    def marker(self) -> Path:
        """What it leaves when it is."""
        return self.outside / "marker"

    @property
    def canary(self) -> Path:
        """A file of the maker's that is no business of the wardrobe's."""
        return self.outside / "canary"

    def lies_outside(self) -> dict[str, tuple[int, int, bytes]]:
        """Return all that lies outside, as it is now."""
        found = {}
        for path in sorted(self.outside.rglob("*")):
            facts = path.lstat()
            content = path.read_bytes() if path.is_file() and not path.is_symlink() else b""
            found[str(path)] = (facts.st_mode, facts.st_mtime_ns, content)
        return found


WHERE = ("wardrobe", "clone")
"""Which of the two a stranger has prepared."""


def undergo(trueup: Warm, case: Case, hangs: float = HANGS, where: str = WHERE[0]) -> list[Answer]:
    """Run the verbs that meet what was prepared, and return what each answered.

    The first that hangs is the last; after two that are refused, one of each sort is tried.
    """
    answers: list[Answer] = []
    place = str(case.folder.parent)

    def answered(*words: str) -> bool:
        answer = trueup("-C", str(case.folder), *words, hangs=hangs)
        answers.append(replace(answer, out=answer.out.replace(place, "")))
        return answer.code == 0

    for words in READING if where == "wardrobe" else ():
        answered(*words)
        if answers[-1].code is None:
            return answers
        if len(answers) > 1 and all(map(is_refusal, answers)):
            break
    if where == "wardrobe" and answered(*STEP):
        answered("undo")
    answered("mend", str(case.clone))
    answered(*AFTERWARDS)
    return answers


def faults(
    answers: Sequence[Answer], clean: Sequence[Answer], *, another_history: bool = False
) -> list[str]:
    """Return what is wrong with answers, beside those of the clean wardrobe.

    With another history, what tells of the history may answer otherwise.
    """
    expected = {verb_of(answer): answer for answer in clean}
    found = []
    for answer in answers:
        verb = verb_of(answer)
        if answer.code is None:
            found.append(f"{verb} hangs")
        elif "Traceback" in answer.err or "did not expect" in answer.err:
            found.append(f"{verb} breaks down: {answer.err[-300:]}")
        elif not _shown(answer.out).isprintable() or not _shown(answer.err).isprintable():
            found.append(f"{verb} sends what a terminal acts on")
        elif is_refusal(answer):
            found += [f"{verb}: {fault}" for fault in sentence_faults(answer)]
        elif another_history and verb[0] in ("history", "mend"):
            continue
        elif not _same(answer, expected[verb]) and not _is_part(answer, expected[verb]):
            found.append(f"{verb} answers otherwise ({answer.code}): {answer.out[:300]}")
    return found


def _same(answer: Answer, whole: Answer) -> bool:
    return (answer.code, _masked(answer.out)) == (whole.code, _masked(whole.out))


def _is_part(answer: Answer, whole: Answer) -> bool:
    """Return whether an answer goes without files it names, and says of the rest what is so."""
    try:
        said, told = json.loads(_masked(answer.out)), json.loads(_masked(whole.out))
    except json.JSONDecodeError:
        return False
    left_out = said.pop("unreadable", [])
    named = all(each["path"] in answer.err or "derives from" in each["reason"] for each in left_out)
    return answer.code in (0, 3) and bool(left_out) and named and _lies_within(said, told)


def _lies_within(part: object, whole: object) -> bool:
    """Return whether all that a document says stands in another too, in the same order."""
    if isinstance(part, dict) and isinstance(whole, dict):
        return all(key in whole and _lies_within(part[key], whole[key]) for key in part)
    if isinstance(part, list) and isinstance(whole, list):
        rest = iter(whole)
        return all(any(_lies_within(each, other) for other in rest) for each in part)
    return part == whole


def is_refusal(answer: Answer) -> bool:
    """Return whether a verb said no and nothing else."""
    return answer.code in REFUSED and answer.out == ""


def sentence_faults(answer: Answer) -> list[str]:
    """Return what is wrong with a refusal: it is one sentence, which says what to do."""
    told = answer.err
    checks = {
        f"is not one line: {told!r}": told.count("\n") == 1 and told.endswith("\n"),
        f"does not end as a sentence: {told!r}": told.endswith(".\n"),
        f"is {len(told)} characters long": len(told) <= LONGEST_SENTENCE,
        f"starts a damaged wardrobe anew: {told!r}": "start a new one" not in told,
    }
    return [fault for fault, holds in checks.items() if not holds]


def verb_of(answer: Answer) -> tuple[str, ...]:
    """Return the words of a command but for the folders it names."""
    return tuple(word for word in answer.words if word != "-C" and not word.startswith("/"))


def _shown(text: str) -> str:
    return text.replace("\n", "")


def _masked(text: str) -> str:
    """Leave out the ids of commits: they also follow from who made them."""
    return _RECORDED.sub("...", text)
