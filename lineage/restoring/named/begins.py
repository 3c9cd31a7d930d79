"""The file in which git notes where a history begins that was cut off, as in a shallow clone."""

import re
from collections.abc import Iterable, Iterator

from trueup.lineage.restoring.acts import Act, Aside, Write
from trueup.lineage.restoring.findings import Cure, Trouble, Wrong
from trueup.lineage.restoring.stored.bench import Bench

BEGINS = ".git/shallow"

_ID = re.compile(rb"[0-9a-f]{40}(?:[0-9a-f]{24})?")


class Begins:
    """What the file says; `content` is None where there is none."""

    def __init__(self, content: bytes | None) -> None:
        lines = (content or b"").splitlines()
        self._is_there = content is not None
        self._is_sound = content != b"" and all(_ID.fullmatch(line) for line in lines)
        self.recorded = frozenset(line.decode() for line in lines if _ID.fullmatch(line))

    def lay_out(self, made: Bench, begins: Iterable[str]) -> None:
        """Let git on the bench begin the history at these commits."""
        place = made.git.git_dir / "shallow"
        place.unlink(missing_ok=True)
        text = _text(begins)
        if text:
            place.write_bytes(text)

    def becoming(self, begins: frozenset[str]) -> Iterator[tuple[Trouble | None, tuple[Act, ...]]]:
        """Yield what makes the file say where the history is to begin.

        That it is cut at one more place is told with the steps that are lost there.
        """
        if begins == self.recorded and (self._is_sound or not self._is_there):
            return
        acts: tuple[Act, ...] = (Aside(BEGINS),)
        if begins:
            acts = (*acts, Write(BEGINS, _text(begins)))
        if self._is_there and not (self._is_sound and self.recorded < begins):
            cure = Cure.ANEW if begins or not self._is_sound else Cure.FROM_CLONE
            yield Trouble(Wrong.CUTS, BEGINS, cure), acts
        else:
            yield None, acts


def _text(begins: Iterable[str]) -> bytes:
    return "".join(f"{each}\n" for each in sorted(begins)).encode()
