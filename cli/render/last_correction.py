"""What has become of the last correction, or re-measuring, in each pattern: a sign and a word."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from trueup.cli.drawing.key import KeyEntry, Sample
from trueup.cli.render.chronicle.titles import entry_title
from trueup.cli.render.replay import SIGNS
from trueup.cli.wording.by_now import BY_NOW, JUDGED, OPEN, waiting
from trueup.geometry.units import Unit
from trueup.lineage.attention.corrected import (
    REMEASURED,
    ByNow,
    CameOut,
    came_out,
    last_correction,
)
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.files.state import State
from trueup.lineage.replay.verdicts import Verdict

_WAITS = "!"
_DONE = "+"
_HELD = (SIGNS[Verdict.HELD][0], Verdict.HELD.value)
_LATER: Mapping[ByNow, tuple[str, str]] = MappingProxyType(
    {
        ByNow.ABOVE: (_WAITS, "conflict above"),
        ByNow.ACCEPTED: (_DONE, "accepted"),
        ByNow.SETTLED: (_DONE, "settled"),
        ByNow.HELD: _HELD,
        ByNow.FOLLOWS: (_DONE, "follows again"),
    }
)


@dataclass(frozen=True)
class LastCorrection:
    """The last correction that stands, and what has become of it by now, by pattern."""

    entry: Entry
    came_out: Mapping[str, CameOut]

    @property
    def words(self) -> Mapping[str, str]:
        """Return what to write beside the node that was corrected and each pattern below it.

        A conflict that waits is told by whoever counts what is open at a node.
        """
        own = "re-measured last" if self.entry.verb == REMEASURED else "corrected last"
        told = {name: sign_and_word(each) for name, each in self.came_out.items()}
        return {self.entry.node: own, **{name: words for name, words in told.items() if words}}

    @property
    def tally(self) -> str:
        """Return in how many patterns it has come to what by now, those first that wait."""
        waits = sum(each.by_now is ByNow.WAITS for each in self.came_out.values())
        rest = (each for each in self.came_out.values() if each.by_now is not ByNow.WAITS)
        counted = Counter(sign_and_word(each).partition(" ")[2] for each in rest)
        told = [f"{count} {word}" for word, count in counted.items()]
        return ", ".join([*([waiting(waits)] if waits else []), *told])


def last_of(chronicle: Chronicle, state: State) -> LastCorrection | None:
    """Return the last correction as it stands in a state; None where there is none."""
    entry = last_correction(chronicle, state)
    return LastCorrection(entry, came_out(entry, state)) if entry else None


def heading_of(last: LastCorrection, unit: Unit) -> str:
    """Return what a picture shows that has the last correction in it."""
    return f"Last corrected: {entry_title(last.entry, unit)}, {last.entry.commit.when:%Y-%m-%d}"


def sign_and_word(came: CameOut) -> str:
    """Return what has become of a correction by now; empty for a conflict that waits.

    What arrived is told as well where that was accepted, or a conflict above is shown here.
    """
    if came.verdict is Verdict.CONFLICT and came.by_now is ByNow.WAITS:
        return ""
    if came.by_now in (ByNow.JUDGED, ByNow.WAITS):
        return f"{SIGNS[came.verdict][0]} {came.verdict.value}"
    sign, word = _LATER[came.by_now]
    if came.by_now in (ByNow.ACCEPTED, ByNow.ABOVE) and came.verdict is not Verdict.CONFLICT:
        return f"{SIGNS[came.verdict][0]} {came.verdict.value}, {word}"
    return f"{sign} {word}"


def sign_key(words: Iterable[str], *, is_open: bool) -> Iterator[KeyEntry]:
    """Yield what each of some signs means, and that of what waits where something `is_open`."""
    if is_open:
        yield KeyEntry(Sample.SIGN, f"open conflict: {OPEN}", sign=_WAITS)
    for told in sorted({each for each in words if each[:1] in _SIGNS}, key=_rank):
        sign, _, word = told.partition(" ")
        yield KeyEntry(Sample.SIGN, f"{word}: {_meaning(word)}", sign=sign)


_MEANS: Mapping[str, str] = MappingProxyType({**JUDGED, **BY_NOW})
_SIGNS = frozenset({sign for sign, _ in SIGNS.values()})


def _rank(told: str) -> tuple[int, str]:
    return "!+~-2=".index(told[0]), told


def _meaning(word: str) -> str:
    return "; ".join(_MEANS[each] for each in word.split(", "))
