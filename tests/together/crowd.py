"""Many at work on one wardrobe: writers, readers, and an editor who saves files beside them.

Each writer, reader and editor works for the same span of time. Every step carries a word of its
own, and every save a line of its own, so that afterwards each can be looked for.
"""

import itertools
import os
import re
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from tests.warm import Answer, Warm, environment

SHARED = "blocks/village.toml"
"""A file that writers write and the editor edits."""
EDITED = ("patterns/vest.toml", SHARED)
READING = (("tree", "--json"), ("garment", "linen", "--json"), ("history", "--last", "3"))


@dataclass
class Told:
    """What everybody did, and what they were told."""

    recorded: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    sentences: set[str] = field(default_factory=set)
    read: int = 0
    saved: list[tuple[str, str]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Crowd:
    """A wardrobe, and those at work in it; an editor pauses so many seconds between saves."""

    folder: Path
    home: Path
    pause: float = 1.0
    told: Told = field(default_factory=Told)
    at_the_desk: threading.Lock = field(default_factory=threading.Lock)

    def work(self, writers: int, readers: int, editors: int, seconds: float) -> Told:
        """Let them all work for so many seconds, twice each at least; return what became of it."""
        names = [f"w{n}" for n in range(writers)] + [f"r{n}" for n in range(readers)]
        with ExitStack() as stack:
            warm = {name: stack.enter_context(Warm(self.home / name)) for name in names}
            until = time.monotonic() + seconds
            jobs: list[Callable[[], None]] = [
                partial(self._write if name[0] == "w" else self._read, name, trueup, until)
                for name, trueup in warm.items()
            ]
            jobs += [partial(self._edit, f"e{n}", until) for n in range(editors)]
            threads = [threading.Thread(target=self._guarded, args=(job,)) for job in jobs]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
        return self.told

    def _guarded(self, job: Callable[[], None]) -> None:
        try:
            job()
        except Exception as error:
            self.told.faults.append(f"the crowd itself broke down: {error!r}")

    def _write(self, name: str, trueup: Warm, until: float) -> None:
        """Take steps until the time is up, and then one that no editor is left to hinder."""
        for number in itertools.count():
            is_last = number > 1 and time.monotonic() > until + 2 * self.pause
            word = f"{name}-{number}-"
            answer = trueup("-C", str(self.folder), *_step(number, word))
            self._heard(answer)
            if answer.code == 0 or "do not repeat" in answer.err:
                self.told.recorded.append(word)
            else:
                self.told.refused.append(word)
                self.told.sentences.add(_shape(answer.err))
            if is_last:
                return

    def _read(self, name: str, trueup: Warm, until: float) -> None:
        for number in _rounds(until):
            answer = trueup("-C", str(self.folder), *READING[number % len(READING)])
            self._heard(answer)
            self.told.read += 1
            for line in answer.err.splitlines():
                if "dited by hand" in line and not any(file in line for file in EDITED):
                    self.told.faults.append(f"{name} is told falsely: {line}")
            if answer.code != 0 and not any(file in answer.err for file in EDITED):
                self.told.faults.append(f"{name} fails: {answer.code} {answer.err}")

    def _heard(self, answer: Answer) -> None:
        if answer.code is None:
            self.told.faults.append(f"{answer.words} hangs")
        elif answer.code not in (0, 2, 3) or "Traceback" in answer.err:
            self.told.faults.append(f"{answer.words} ends with {answer.code}: {answer.err}")
        elif "damaged" in answer.err:
            self.told.faults.append(f"a sound wardrobe is called damaged: {answer.err}")

    def _edit(self, name: str, until: float) -> None:
        """Add a line to a file and save it, by rename as some editors do, or in place.

        One at a time: what one editor overwrites of another's is between the two.
        """
        for number in _rounds(until):
            file = EDITED[number % len(EDITED)]
            place = self.folder / file
            line = f"# {name}-{number}-"
            with self.at_the_desk:
                content = _line_added(place.read_text(), line)
                if number % 4 < 2:
                    beside = place.with_name(f".{place.name}.{name}")
                    beside.write_text(content)
                    os.replace(beside, place)
                else:
                    place.write_text(content)
            self.told.saved.append((file, line))
            time.sleep(self.pause)

    def settled(self) -> list[str]:
        """Return what is wrong once all have gone: steps twice or missing, saves lost, litter."""
        found = [*self.told.faults]
        texts = {file: self._all_texts(file) for file in (*EDITED, *_WRITTEN)}
        latest = "".join(texts[file][0] for file in dict.fromkeys((*_WRITTEN, *EDITED)))
        for word in self.told.recorded:
            if latest.count(word) != 1:
                found.append(f"{word} was recorded, and stands there {latest.count(word)} times")
        found += [f"{w} was refused, and stands there" for w in self.told.refused if w in latest]
        for file, line in self.told.saved:
            if not any(line in text for text in texts[file]):
                found.append(f"the save {line} of {file} is lost")
        if problems := self._git("fsck", "--strict", "--no-dangling"):
            found.append(f"fsck finds: {problems}")
        changed = {line[3:] for line in self._git("status", "--porcelain").splitlines()}
        found += [f"{file} is not as recorded" for file in changed - {*EDITED}]
        return found

    def _all_texts(self, file: str) -> list[str]:
        """Return what a file holds, and held in every version."""
        commits = self._git("log", "--format=%H", "--", file).split()
        held = [self._git("show", f"{commit}:{file}") for commit in commits]
        return [(self.folder / file).read_text(), *held]

    def _git(self, *words: str) -> str:
        done = subprocess.run(
            ["git", "-C", str(self.folder), *words],
            env=environment(self.home), capture_output=True, text=True, check=False,
        )  # fmt: skip
        return done.stdout


def _rounds(until: float) -> Iterator[int]:
    """Yield 0, 1, ... until the time is up, and two rounds at least."""
    for number in itertools.count():
        if number > 1 and time.monotonic() > until:
            return
        yield number


def _shape(told: str) -> str:
    """Return a sentence without the names of files and versions in it."""
    return re.sub(r"[a-z]+/[a-z.]+(, )?|\b[0-9a-f]{8,40}\b", "...", told.strip())


_WRITTEN = ("garments/linen.toml", "blocks/easy.toml", "patterns/blouse.toml", SHARED)


def _step(number: int, word: str) -> tuple[str, ...]:
    """Return a step that leaves its word in a file: mostly notes, now and then a change."""
    if number % 4 == 1:
        return (
            "style",
            "village",
            "seam-allowance",
            "--piece",
            "back",
            "--by",
            "1cm",
            "--why",
            word,
        )
    if number % 4 == 3:
        node = ("easy", "blouse")[number % 8 == 3]
        return ("style", node, "seam-allowance", "--piece", "sleeve", "--by", "1cm", "--why", word)
    return ("note", "linen", "other", "--place", "front.armhole", "--words", word)


def _line_added(text: str, line: str) -> str:
    """Return a text with a line more at its start, below those added before."""
    lines = text.splitlines(keepends=True)
    heads = [n for n, each in enumerate(lines) if each.startswith("# e")]
    lines.insert(heads[-1] + 1 if heads else 0, f"{line}\n")
    return "".join(lines)
