"""What needs attention as rows, by urgency: each says the matter and leads to its page."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from trueup.cli.book.addresses import CONFLICTS
from trueup.cli.book.pages.conflict_page import met, titled
from trueup.cli.book.source import BookSource
from trueup.cli.render.needed import (
    behind_title,
    finding_title,
    held_title,
    missed_words,
    note_title,
    note_words,
    outgrown_title,
)
from trueup.cli.unreadable import gaps_line, unreadable_line
from trueup.cli.wording.attention import head
from trueup.cli.wording.words import worded
from trueup.geometry.measuring.finding import Severity
from trueup.lineage.attention.needed import NeedsAttention, needs_attention
from trueup.lineage.garments.since import Fate


@dataclass(frozen=True)
class AttentionRow:
    """One thing that needs attention: what it is, and where its page is, empty for none.

    `more` says what there is to say besides; `about` are names that it concerns, by address;
    `under` what it has in common with others, and the address of that.
    """

    says: str
    address: str = ""
    more: tuple[str, ...] = ()
    about: tuple[tuple[str, str], ...] = ()
    under: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class AttentionPart:
    """Rows that have something in common: what, in words, and where that is told; or nothing."""

    caption: str
    address: str
    rows: tuple[AttentionRow, ...]


@dataclass(frozen=True)
class AttentionGroup:
    """Things of one matter: its name, sign and heading, and a row for each in its parts.

    `all_at` is the address of the page that lists them all, empty for none.
    """

    name: str
    sign: str
    head: str
    parts: tuple[AttentionPart, ...]
    all_at: str = ""


_ALL_AT: Mapping[str, str] = MappingProxyType({"conflicts": CONFLICTS})


def attention_groups(source: BookSource) -> list[AttentionGroup]:
    """Return all that needs attention, the most urgent first; nothing for a matter without any."""
    found = needs_attention(source.wardrobe, source.evaluator)
    worst = any(each.severity is Severity.ERROR for _, each in found.findings)
    made: list[tuple[str, str, Rows, int | None]] = [
        ("files", "!", _files, None),
        ("conflicts", "!", _conflicts, None),
        ("findings", "!" if worst else "~", _findings, None),
        ("held", "=", _held, None),
        ("notes", "", _notes, None),
        ("outgrown", "", _outgrown, len(found.outgrown)),
        ("behind", "~", _behind, None),
    ]
    groups = []
    for name, sign, rows_of, count in made:
        rows = list(rows_of(source, found))
        if rows:
            told = head(name, len(rows) if count is None else count)
            groups.append(
                AttentionGroup(name, sign, told, tuple(_parts(rows)), _ALL_AT.get(name, ""))
            )
    return groups


def _parts(rows: list[AttentionRow]) -> Iterator[AttentionPart]:
    """Yield the parts of some rows, in the order in which each is met first."""
    parts: dict[tuple[str, str], list[AttentionRow]] = {}
    for row in rows:
        parts.setdefault(row.under, []).append(row)
    for (caption, address), together in parts.items():
        yield AttentionPart(caption, address, tuple(together))


Rows = Callable[[BookSource, NeedsAttention], Iterator[AttentionRow]]


def _files(source: BookSource, _: NeedsAttention) -> Iterator[AttentionRow]:
    state = source.state
    if state.unreadable:
        yield AttentionRow(unreadable_line(state))
    if gaps := source.reading.gaps:
        yield AttentionRow(gaps_line(gaps))
    for edit in source.wardrobe.edited_files:
        if edit.path not in state.broken_files:
            says = f"{edit.path} was {edit.kind} by hand since the last step"
            yield AttentionRow(says, more=("Your next step takes it up first.",))


def _conflicts(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    for each in found.conflicts:
        ways = len(each.remedies)
        more = [f"{ways} {'way' if ways == 1 else 'ways'} to settle it."] if ways else []
        shown = source.inheriting.get(each.id, ())
        more += [f"Shown as well by {', '.join(shown)}."] if shown else []
        address = source.addresses.get(each.id, CONFLICTS)
        yield AttentionRow(titled(source, each.id), address, tuple(more), under=met(source, each))


def _findings(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    for name, each in found.findings:
        says = finding_title(name, each, source.unit)
        address = f"{source.addresses[name]}/attention"
        yield AttentionRow(says, address, (worded(each.says, source.unit),))


def _held(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    for each in found.held:
        address = source.addresses.get(each.conflict) or source.addresses[each.node]
        why = f"Decided so: {each.why}" if each.why else ""
        more = (missed_words(each, source.unit), why)
        yield AttentionRow(held_title(each), address, tuple(filter(None, more)))


def _notes(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    newest = sorted(found.notes, key=lambda each: each[1].date, reverse=True)
    for garment, note in newest:
        says = note_title(garment, note, source.unit)
        yield AttentionRow(says, f"garment/{garment.name}", (note_words(garment, note),))


def _outgrown(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    """Yield a row for all garments that were cut before the same steps."""
    together: dict[str, list[str]] = {}
    for garment, became in found.outgrown:
        says = outgrown_title(garment, became, source.unit)
        apart = "" if became.fate is Fate.CHANGED else f"{garment.name}: "
        together.setdefault(f"{apart}{says}", []).append(garment.name)
    for says, names in together.items():
        yield AttentionRow(says, about=tuple((name, f"garment/{name}") for name in names))


def _behind(source: BookSource, found: NeedsAttention) -> Iterator[AttentionRow]:
    for each in found.behind:
        yield AttentionRow(behind_title(each), source.addresses[each.block])
