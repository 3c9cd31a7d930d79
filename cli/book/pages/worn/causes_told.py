"""Where a fault that was seen comes from, who has it, and where one correction would mend it."""

from dataclasses import dataclass

from trueup.cli.book.source import BookSource
from trueup.cli.render.garments.faults import gone_words
from trueup.cli.render.garments.seen import how_much
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.seen import seen_in_words
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.faults.causes import CommonCause


@dataclass(frozen=True)
class CauseTold:
    """A cause in words.

    `seen` are garments with how much was seen on each, `node` and `step` where the line was shaped
    last, `why` the maker's reason; `cut` and `drawn` who has it. `best` is where one correction
    would mend the most, which `command` tells more of; `gone` says why there is none.
    """

    title: str
    seen: tuple[tuple[str, str], ...]
    node: str
    step: str
    why: str
    cut: tuple[str, ...]
    drawn: tuple[str, ...]
    best: str
    command: str
    gone: str


def cause_told(source: BookSource, cause: CommonCause) -> CauseTold:
    """Return a cause in words."""
    seen = seen_in_words(cause.symptom, cause.place)
    best = cause.best.node if cause.best else ""
    return CauseTold(
        upper_first(seen),
        tuple((e.garment.name, how_much(e.note, source.unit)) for e in cause.notes),
        cause.node,
        step_in_words(cause.step, source.unit) if cause.step else "as it was drafted",
        cause.step.why if cause.step else "",
        cause.garments,
        (*cause.blocks, *cause.patterns),
        best,
        source.commands.line("shared", best, cause.place) if best else "",
        "" if best else gone_words(cause),
    )
