"""What must hold of a wardrobe that came to harm: what is said of it, and that nothing is lost."""

import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.damage.spoiling import MANNERS
from tests.strangers.ordeal import Case, is_refusal, sentence_faults, verb_of
from tests.warm import HANGS, Answer, Warm, environment

READING = (
    ("tree", "--json"),
    ("measure", "blouse", "--json"),
    ("garment", "linen", "--json"),
    ("history", "--json"),
)
WRITING = (
    ("correct", "village", "deepen-dart", "--dart", "front.bust", "--by", "2mm"),
    ("garment", "linen", "--status", "sewn"),
    ("undo",),
)
# Files that say nothing: whatever becomes of them, all answers are as before.
_SAYS_NOTHING = (
    *(".git/description", ".git/COMMIT_EDITMSG", ".git/info/exclude", ".git/branches"),
    *(".git/hooks/", ".git/logs/", ".git/trueup/lock", ".gitignore", ".trueup-cache"),
    *(".git/index", ".git/FETCH_HEAD", ".git/ORIG_HEAD"),
)
NEEDS_PERMISSIONS = ("unreadable", "read-only", "in a read-only folder")
"""Manners that do no harm to who may read and write everything."""

_CUT_CLOTH = ("garments/linen.svg", "photos/")


@dataclass(frozen=True)
class Harm:
    """One file, and what happened to it."""

    file: str
    manner: str

    def __str__(self) -> str:
        return f"{self.file} {self.manner}"

    @property
    def says_nothing(self) -> bool:
        """Return whether nothing that trueup tells stands in the file."""
        return self.file.startswith(_SAYS_NOTHING)

    @property
    def is_link(self) -> bool:
        """Return whether the file now leads elsewhere: that is refused wherever it stands."""
        return self.manner.startswith("a link")

    def do(self, folder: Path) -> None:
        """Do it to a wardrobe."""
        MANNERS[self.manner](folder / self.file)


def case_of(built: Path, place: Path) -> Case:
    """Return a copy of a wardrobe that may be harmed, with something beside it that is not."""
    case = Case(place / "wardrobe", place / "clone", place / "outside")
    shutil.copytree(built, case.folder)
    case.outside.mkdir()
    case.canary.write_bytes(b"mine\n")
    return case


def undergo(trueup: Warm, case: Case, hangs: float = HANGS) -> list[Answer]:
    """Run the verbs in a wardrobe, harmed or not; the first that hangs is the last."""
    place = str(case.folder.parent)
    answers = []
    for words in (*READING, *WRITING, *READING[:1]):
        answer = trueup("-C", str(case.folder), *words, hangs=hangs)
        answers.append(Answer(answer.words, answer.code, answer.out.replace(place, ""), answer.err))
        if answer.code is None:
            break
    return answers


def faults(
    answers: Sequence[Answer], clean: Sequence[Answer], harm: Harm, case: Case, whole: Path
) -> list[str]:
    """Return what is wrong: with the answers, and with the wardrobe once the file is put back."""
    found = []
    for index, answer in enumerate(answers):
        verb = " ".join(verb_of(answer)[:2])
        is_before_steps = index < len(READING)
        told = _told_wrongly(answer, clean[index], harm, is_before_steps)
        found += [f"{verb}: {fault}" for fault in told if not any(fault in f for f in found)]
    if any(answer.code is None for answer in answers):
        return found
    return found + _lost(answers, harm, case, whole)


def _told_wrongly(answer: Answer, clean: Answer, harm: Harm, is_before_steps: bool) -> list[str]:
    if answer.code is None:
        return ["hangs"]
    if answer.code not in (0, 1, 2, 3):
        return [f"ends with {answer.code}: {answer.err[-300:]}"]
    if "Traceback" in answer.err or "did not expect" in answer.err:
        return [f"breaks down: {answer.err[-300:]}"]
    if not is_refusal(answer):
        unlike = (answer.code, answer.out) != (clean.code, clean.out)
        if unlike and answer.err == clean.err and is_before_steps:
            return [f"answers otherwise and says nothing of it ({answer.code})"]
        return []
    found = sentence_faults(answer)
    if answer.code == 3 and "`trueup restore" not in answer.err:
        found.append(f"does not say what helps: {answer.err}")
    if harm.says_nothing and not harm.is_link and harm.manner not in _KEEPS_FROM_WRITING:
        found.append(f"is refused for a file that says nothing: {answer.err}")
    if answer.code == 3 and harm.manner in NEEDS_PERMISSIONS:
        found.append(f"takes for damage what may only not be read or written: {answer.err}")
    return found


_KEEPS_FROM_WRITING = ("read-only", "in a read-only folder", "a folder", "unreadable")


def _lost(answers: Sequence[Answer], harm: Harm, case: Case, whole: Path) -> list[str]:
    """Put the file back, and see that every step is there, and cut cloth as it was cut."""
    before = _git(case, whole, "rev-parse", "HEAD")
    _put_back(case, case.folder / harm.file, whole / harm.file)
    head = _git(case, case.folder, "rev-parse", "HEAD")
    found = []
    if not head or _git(case, case.folder, "merge-base", before, head) != before:
        return [f"the step {before[:10]} is lost: the branch is at {head or 'nothing'}"]
    steps = int(_git(case, case.folder, "rev-list", "--count", f"{before}..{head}"))
    made = sum(answer.code == 0 and verb_of(answer) in WRITING for answer in answers)
    if steps < made:
        found.append(f"{made} steps were told as recorded, and {steps} are")
    problems = _git(case, case.folder, "fsck", "--strict", "--no-dangling", fails=True)
    if problems and not harm.file.startswith((".git/logs/", ".git/index")):
        found.append(f"fsck finds: {problems[:300]}")
    for line in _git(case, whole, "ls-tree", "-r", "HEAD").splitlines():
        _, _, blob_and_path = line.split(" ", 2)
        blob, _, path = blob_and_path.partition("\t")
        now = _git(case, case.folder, "rev-parse", "--verify", "-q", f"HEAD:{path}")
        if path.startswith(_CUT_CLOTH) and now != blob:
            found.append(f"{path} was taken up as {now or 'deleted'}")
    return found


def _put_back(case: Case, place: Path, whole: Path) -> None:
    place.parent.chmod(0o755)
    if place.is_dir() and not place.is_symlink():
        shutil.rmtree(place)
    if place.is_symlink() or (place.exists() and place.stat().st_mode & 0o777 == 0):
        place.unlink()
    if not place.exists() or place.read_bytes() != whole.read_bytes():
        git_moved_on = place.parts[-3:-1] == ("refs", "heads") or place.name in ("HEAD", "index")
        if not (git_moved_on and place.exists() and _names_a_version(case, place)):
            shutil.copy2(whole, place)


def _names_a_version(case: Case, place: Path) -> bool:
    """Return whether a name stands for a version that is there, as every step leaves it."""
    content = place.read_bytes().strip()
    if len(content) != 40 or not content.isalnum():
        return False
    return _git(case, case.folder, "cat-file", "-t", content.decode()) == "commit"


def _git(case: Case, folder: Path, *words: str, fails: bool = True) -> str:
    done = subprocess.run(
        ["git", "-C", str(folder), *words],
        env=environment(case.outside.parent / "home"), capture_output=True, check=not fails,
    )  # fmt: skip
    return done.stdout.decode(errors="replace").strip()
