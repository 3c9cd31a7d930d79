"""What was wrong with a wardrobe and what became of it, each in one line."""

import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli import hints
from trueup.cli.page import command, said
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.restoring.findings import Cure, Help, KnownVersion, Restored, Trouble, Wrong

WHOLE = "Nothing is wrong: every file and every step can be read."

_MOST = 40
"""Lines of one kind that are shown; `--json` has them all."""

_WRONG = {
    Wrong.NOT_PLAIN: "a link, a pipe or a folder is in its place",
    Wrong.FOLDER: "this folder of git's is missing",
    Wrong.CLOSED: "it may not be read, or not be written",
    Wrong.LOCK: "a lock file of git's, which keeps every step out",
    Wrong.LITTER: "left half done by a git that was killed",
    Wrong.HEAD: "it names no branch that is there",
    Wrong.BRANCH: "this branch names no version that is whole",
    Wrong.NAME: "this name stands for nothing that can be read",
    Wrong.NAMES: "it is damaged",
    Wrong.LOG: "this log is damaged or missing",
    Wrong.SETTINGS: "git cannot use these settings",
    Wrong.INDEX: "git cannot use its list of the files",
    Wrong.CUTS: "it does not say where the history begins",
    Wrong.STEP: "it does not say which step was on its way",
    Wrong.MERGE: "it names a version that is not here",
    Wrong.OBJECT: "it is damaged",
    Wrong.LACKING: "it is missing",
    Wrong.PACK: "this pack, or its index, is damaged",
    Wrong.DERIVED: "it is damaged or out of date, and git makes it anew",
    Wrong.GONE: "it is missing",
    Wrong.FILE: "it cannot be read",
    Wrong.RECORD: "it cannot be read as it was last recorded",
    Wrong.NAMED: "",
}

_CURES = {
    Cure.ASIDE: "moved aside",
    Cure.ANEW: "made anew",
    Cure.FROM_LOG: "put right from the log",
    Cure.FROM_HISTORY: "put right from the history",
    Cure.FROM_FILES: "found again in the working files",
    Cure.FROM_INDEX: "found again in git's list of the files",
    Cure.FROM_VERSIONS: "worked out from the versions before and after",
    Cure.FROM_PACK: "what is whole in it is taken out",
    Cure.FROM_CLONE: "taken from the clone",
    Cure.TAKEN_AWAY: "taken away",
    Cure.ALLOWED: "allowed again",
    Cure.FINISHED: "brought to the latest step",
}

_FILES = {Wrong.FILE, Wrong.GONE, Wrong.RECORD, Wrong.NAMED, Wrong.NOT_PLAIN}


def restored_lines(
    made: Restored, folder: Path, named: Sequence[str], again: str | None
) -> Iterator[RenderableType]:
    """Yield what was found, what became of it, and what is still to be done.

    `named` are the files that were to be put back, if not all was looked over; `again` is the
    command that carries out what this one only previewed.
    """
    preview = again is not None
    if not made.findings and named:
        yield said(f"As it was last recorded: {', '.join(named)}.")
    elif not made.findings:
        yield said(WHOLE)
    left = set(made.remaining)
    mended = made.findings if preview else [each for each in made.findings if each not in left]
    lost = [each for each in mended if each.cure is Cure.GIVEN_UP]
    yield from _section(
        "To be mended" if preview else "Mended",
        (trouble_sentence(each) for each in mended if each.cure and each not in lost),
    )
    yield from _section(
        "Would be lost" if preview else "Lost",
        (line for each in lost for line in lost_lines(each)),
    )
    yield from _section("Not whole", (trouble_sentence(e) for e in made.remaining if not e.cure))
    if not preview:
        yield from _section("Not mended", (trouble_sentence(e) for e in made.remaining if e.cure))
    yield from _beside(made, folder)
    if again is not None and any(each.cure for each in made.findings):
        yield ""
        yield said("A preview: nothing is written. To mend it, run:")
        yield command(again)


def _beside(made: Restored, folder: Path) -> Iterator[RenderableType]:
    if made.commit is not None:
        yield ""
        yield said(f"Recorded as {made.commit[:10]}.")
    if made.aside is not None:
        yield ""
        place = os.path.relpath(made.aside, os.path.abspath(folder))
        yield said(f"What was in the way is kept in {Path(place).as_posix()}.")
    if made.edited:
        yield ""
        names = ", ".join(made.edited)
        yield said(f"Edited by hand, and left as they are: {names}.")


def _section(head: str, lines: Iterable[str]) -> Iterator[RenderableType]:
    found = list(lines)
    if found:
        yield said(head, "bold")
    for line in found[:_MOST]:
        yield Padding(said(line), (0, 0, 0, 2))
    if len(found) > _MOST:
        yield Padding(said(f"and {len(found) - _MOST} more"), (0, 0, 0, 2))


def trouble_sentence(finding: Trouble) -> str:
    """Return what is wrong at one place, and its cure or what helps, in one line."""
    if finding.cure is Cure.GIVEN_UP:
        return " ".join(lost_lines(finding))
    if finding.error is not None:
        return hints.error_sentence(finding.error)
    told = _what(finding)
    return f"{told}: {_cure(finding) if finding.cure else _help(finding)}."


def _what(finding: Trouble) -> str:
    match finding.wrong:
        case Wrong.EMPTY:
            return "No version of this wardrobe can be read any more"
        case Wrong.CONTENT:
            return _content(finding)
        case Wrong.OBJECT | Wrong.LACKING if finding.count > 1:
            word = "damaged" if finding.wrong is Wrong.OBJECT else "missing"
            return f"{finding.place}, {finding.count} things are {word}"
        case Wrong.NAMED:
            return finding.place
    why = finding.reason if finding.wrong in (Wrong.FILE, Wrong.RECORD) else ""
    told = f" ({worded(why, Unit.MILLIMETRE)})" if why else ""
    return f"{finding.place}, {_WRONG[finding.wrong]}{told}"


def _content(finding: Trouble) -> str:
    what = "The list of files" if finding.reason == "list" else "The content"
    place = f" of {finding.place}" if finding.place else ""
    who = f"version {version(finding.version)}" if finding.version else "an earlier version"
    others = f" and {finding.count - 1} before it" if finding.count > 1 else ""
    return f"{what}{place} as of {who}{others} is nowhere"


def _cure(finding: Trouble) -> str:
    assert finding.cure is not None
    if finding.wrong in _FILES and finding.cure is Cure.FROM_HISTORY:
        if finding.version is None:
            return "its last version is put back"
        return f"put back, and recorded, as of {version(finding.version)}"
    told = _CURES[finding.cure]
    if finding.wrong in (Wrong.BRANCH, Wrong.NAME) and finding.version is not None:
        return f"{told}, it stands at {version(finding.version)}"
    if finding.wrong is Wrong.HEAD:
        return f"{told}, it names {finding.reason}"
    return told


def _help(finding: Trouble) -> str:
    match finding.help:
        case Help.CLONE:
            return "bring it from another clone with `trueup restore --from CLONE`"
        case Help.WAIT:
            return "wait until no git is at work here, and run this again"
        case Help.NEWER:
            return "a later trueup wrote it, and can read it"
        case Help.ALLOW:
            return "allow reading and writing there"
    return "mend it by hand, or take it out"


def lost_lines(finding: Trouble) -> Iterator[str]:
    """Yield which steps cannot be kept, and what stays of them."""
    count = len(finding.lost)
    steps = f"{count} step{'s' if count != 1 else ''}"
    if finding.wrong is Wrong.HISTORY:
        start = version(finding.version) if finding.version else ""
        kept = f"; what came before is kept on the branch {_short(finding.place)}"
        yield (
            f"{steps} in the middle of the history cannot be read. It now begins after them, with "
            f"{start}{kept if finding.place else ''}."
        )
    else:
        start = version(finding.version) if finding.version else ""
        yield (
            f"{steps} at the end of {_short(finding.place)} cannot be read. It stands at {start} "
            "again, and the working files are left as they lie: what they hold of these steps is "
            "recorded with the next one."
        )
    for each in finding.lost[:_MOST]:
        yield f"- {version(each)}"


def version(each: KnownVersion) -> str:
    """Return a version in words: its short id, when it was made, and what it did."""
    when = f", {each.when.strftime('%Y-%m-%d %H:%M')}" if each.when else ""
    subject = f", {each.subject}" if each.subject else ""
    return f"{each.id[:10]}{when}{subject}"


def _short(name: str) -> str:
    return name.removeprefix("refs/heads/")
