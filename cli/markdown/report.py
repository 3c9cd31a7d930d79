"""An audit of a wardrobe or a node, in Markdown."""

from collections.abc import Callable, Collection, Iterator

from trueup.cli.amounts import before_and_after, length
from trueup.cli.markdown.text import page, plain, table
from trueup.cli.render.chronicle.entries import (
    decision_in_words,
    followed_in_words,
    made_in_words,
    who,
)
from trueup.cli.render.chronicle.history import origin_in_words
from trueup.cli.render.replay import tally
from trueup.cli.unreadable import gaps_line
from trueup.cli.wording.kinds import subject_in_words
from trueup.cli.wording.words import worded, worded_error
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.audit import Audit
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.grafting import Taken
from trueup.lineage.files.gaps import VersionGap
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.replay.verdicts import Verdict


def report_page(
    found: Audit, unit: Unit, asked: str, gaps: Callable[[], Collection[VersionGap]] = tuple
) -> str:
    """Return a report as a document; `asked` says which part of the history it tells.

    `gaps` tells in the end what git could not give of it.
    """
    return page(_lines(found, unit, asked, gaps))


def _lines(
    found: Audit, unit: Unit, asked: str, gaps: Callable[[], Collection[VersionGap]]
) -> Iterator[str]:
    about = f"the {found.node.kind} {found.node.name} in " if found.node else ""
    yield f"# {plain(f'Report of {about}the wardrobe {found.wardrobe}')}"
    yield ""
    yield f"At version {found.version[:10]}. {plain(asked)}"
    yield ""
    open_notes = sum(len(each.open_notes) for each in found.garments)
    yield from table(
        ("entries", "decisions", "open conflicts", "garments", "open fit notes"),
        [
            (
                len(found.entries),
                len(found.decisions),
                len(found.conflicts),
                len(found.garments),
                open_notes,
            )
        ],
    )
    if found.unreadable:
        yield from ("", "## What cannot be read, and is missing here", "")
        yield from (f"- {plain(worded_error(error, unit))}" for error in found.unreadable)
    yield from _chains(found, unit)
    yield from ("", "## What was done, newest first")
    for entry in found.entries:
        yield from _entry(entry, unit)
    yield from ("", "## Open conflicts", "")
    for conflict in found.conflicts:
        says = f"{conflict.id} at {conflict.arose_at}: {worded(conflict.says, unit)}"
        yield f"- {plain(says)}"
    if not found.conflicts:
        yield "None is open."
    yield from ("", "## Decisions", "")
    yield from (f"- {plain(decision_in_words(each))}" for each in found.decisions)
    if not found.decisions:
        yield "None was made."
    yield from _garments(found, unit)
    if missing := gaps():
        yield from (
            "",
            "## What earlier versions do not say any more",
            "",
            plain(gaps_line(missing)),
        )


def _chains(found: Audit, unit: Unit) -> Iterator[str]:
    yield from ("", "## Blocks and patterns as they stand")
    for node in found.nodes:
        yield from ("", f"### {plain(node.name)}", "", plain(origin_in_words(node)))
        taken = found.taken[node.name]
        own = [step for step in node.steps if not (taken and step.stands_in)]
        if not (taken or own):
            continue
        body = found.bodies[node.name]
        every = [*taken, *(Taken("", step) for step in own)]
        rows = [
            (
                each.step.id,
                each.step.role.value,
                step_in_words(each.step, unit, body),
                each.step.date or "-",
                each.step.why,
                *((each.node or "-",) if taken else ()),
            )
            for each in every
        ]
        of = ("of",) if taken else ()
        yield from ("", *table(("step", "made as", "what", "when", "why", *of), rows))


def _entry(entry: Entry, unit: Unit) -> Iterator[str]:
    commit = entry.commit
    back = " (taken back)" if entry.taken_back_by else ""
    yield from ("", f"### {plain(f'{subject_in_words(commit.subject)}{back}')}", "")
    when = commit.when.strftime("%Y-%m-%d %H:%M %z")
    yield f"{commit.id[:10]}, {when}, {plain(who(commit))}"
    lines = [*made_in_words(entry, unit), *followed_in_words(entry, unit)]
    if lines:
        yield ""
        yield from (f"- {plain(line)}" for line in lines)
    if entry.effect.measures:
        rows = [
            (each.name, before_and_after(each.before_mm, each.after_mm, unit))
            for each in entry.effect.measures
        ]
        yield from ("", *table(("measure", "before -> after"), rows))
    if entry.effect.patterns:
        yield from ("", plain(tally(entry.effect.patterns)), "")
        names = [
            (
                verdict.value,
                ", ".join(p.name for p in entry.effect.patterns if p.verdict is verdict),
            )
            for verdict in Verdict
        ]
        yield from table(("verdict", "patterns"), [row for row in names if row[1]])


def _garments(found: Audit, unit: Unit) -> Iterator[str]:
    yield from ("", "## Garments and fit notes", "")
    if not found.garments:
        yield "None was cut."
        return
    heads = ("garment", "pattern", "version", "cut on", "wearer", "fabric", "status")
    yield from table(heads, [_garment(each) for each in found.garments])
    notes = [(garment.name, note) for garment in found.garments for note in garment.notes]
    if notes:
        notes_heads = (
            "note",
            "garment",
            "date",
            "symptom",
            "place",
            "amount",
            "words",
            "mended by",
        )
        rows = [
            (
                note.id,
                garment,
                note.date,
                note.symptom,
                note.place if note.side.value == "both" else f"{note.place}, {note.side.value}",
                length(note.amount_mm, unit),
                note.words or "-",
                " ".join(note.resolved_by) or "open",
            )
            for garment, note in notes
        ]
        yield from ("", *table(notes_heads, rows))


def _garment(garment: GarmentRecord) -> tuple[object, ...]:
    return (
        garment.name,
        garment.pattern,
        garment.cut_from[:10],
        garment.cut_on,
        garment.wearer or "-",
        garment.fabric or "-",
        garment.status.value,
    )
