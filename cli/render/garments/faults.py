"""Shared faults on the page: where a place comes from, who has it, and where to correct it."""

from collections.abc import Iterable, Iterator

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.kinds import drawn_in_words
from trueup.cli.wording.seen import seen_in_words, symptom_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.faults.causes import Causes, CommonCause
from trueup.lineage.faults.shared import NotMended, SharedFault
from trueup.lineage.faults.taken_over import Rank
from trueup.lineage.files.records import StepRecord


def fault_lines(fault: SharedFault, unit: Unit, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield one fault: its origin, the garments that share it, the nodes, and what stays."""
    kind = f" ({symptom_in_words(fault.symptom)})" if fault.symptom else ""
    yield said(f"{fault.place} of {fault.of}{kind}", "bold")
    if fault.lines != (fault.place,):
        yield said(f"That is {', '.join(fault.lines)}.")
    yield said(f"Last shaped at {_origin(fault.node, fault.step, unit)}.")
    if fault.now_node and (fault.now_node, fault.now_step) != (fault.node, fault.step):
        yield said(f"Now shaped at {_origin(fault.now_node, fault.now_step, unit)}.")
    yield ""
    yield from _garments(fault)
    yield ""
    yield from _ranks(fault, commands)
    if fault.unmended:
        yield ""
        yield from _unmended(fault)


def _unmended(fault: SharedFault) -> Iterator[RenderableType]:
    where = f", and so not counted at {fault.best.node}" if fault.best else ""
    yield said(f"Without this very line{where}:")
    yield PlainTable(
        ("name", "what", "why"),
        [
            (each.name, "garment" if each.is_garment else "pattern", drawn_in_words(each.says))
            for each in fault.unmended
        ],
    )
    if fault.best and any(each.reason is NotMended.OWN_STEP for each in fault.unmended):
        yield said(
            "How much of a correction arrives where a pattern's own step works on the line, its "
            "--preview tells."
        )


def _garments(fault: SharedFault) -> Iterator[RenderableType]:
    if not fault.garments:
        yield said("No garment was cut with it.")
        return
    noted = {seen.garment.name: seen.note.id for seen in fault.notes}
    rows = [
        (
            each.garment,
            each.pattern,
            each.status.value,
            noted.get(each.garment, "-"),
            "another line since" if each.corrected else "-",
        )
        for each in fault.garments
    ]
    yield PlainTable(("garment", "cut from", "status", "note of this kind", "its pattern"), rows)


def _ranks(fault: SharedFault, commands: CommandLine) -> Iterator[RenderableType]:
    rows = [
        (_where(rank), str(len(rank.garments)), ", ".join(rank.patterns) or "-")
        for rank in fault.ranks
    ]
    if rows:
        yield PlainTable(("corrected at", "garments", "reaches"), rows, right=("garments",))
    if fault.best is None:
        yield said(gone_words(fault))
        return
    if fault.best.step:
        yield said(f"That step would mend the most at {fault.best.node}, with another amount:")
        yield command(commands.line("amend", fault.best.node, fault.best.step.id, "--help"))
        return
    yield said(f"One correction would mend the most at {fault.best.node}:")
    yield command(commands.line("correct", fault.best.node, "--help"))


def _where(rank: Rank) -> str:
    return f"{rank.node}, amending {rank.step.id}" if rank.step else rank.node


def gone_words(found: CommonCause | SharedFault) -> str:
    """Return what became of a line that nothing has any more."""
    if not found.now_node:
        return "Nothing in the wardrobe has it any more; there is nothing left to correct."
    if (found.now_node, found.now_step) != (found.node, found.step):
        return (
            f"{found.now_node} has another line there since, and nothing has the old one any more; "
            "there is nothing left to correct."
        )
    return (
        f"Nothing has that very line any more: what it builds on was changed, and {found.now_node} "
        "draws it otherwise since. The next fitting shows whether the fault went with it."
    )


def _origin(node: str, step: StepRecord | None, unit: Unit) -> str:
    if step is None:
        return f"{node}, as drafted"
    why = f": {step.why.rstrip('.')}" if step.why else ""
    return f"{node}: {step_in_words(step, unit)} ({step.id}){why}"


def cause_lines(
    found: Causes, unit: Unit, commands: CommandLine, *, with_single: bool
) -> Iterator[RenderableType]:
    """Yield the causes behind all open notes, the most often seen first."""
    listed = found.causes if with_single else found.common
    for index, cause in enumerate(listed):
        if index:
            yield ""
        yield from one_cause_lines(cause, unit, commands)
    if listed:
        yield ""
    yield said(tally(found, with_single=with_single))
    for each in found.unplaced:
        says = worded(each.says, unit)
        yield said(f"Not placed: {each.seen.note.id} on {each.seen.garment.name}. {says}")


def one_cause_lines(
    cause: CommonCause, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield one cause: where the line comes from, who has it, and where to correct it."""
    yield said(seen_in_words(cause.symptom, cause.place), "bold")
    yield _indented(f"last shaped at {_origin(cause.node, cause.step, unit)}")
    yield _indented(f"seen on {_names(seen.garment.name for seen in cause.notes)}")
    yield _indented(f"cut with it: {_names(cause.garments)}")
    if cause.best:
        yield _indented(f"drawn with it now: {_names((*cause.blocks, *cause.patterns))}")
        one = f"step {cause.best.step.id}, amended," if cause.best.step else "one correction"
        yield _indented(f"{one} would mend the most at {cause.best.node}:")
        yield command(f"  {commands.line('shared', cause.best.node, cause.place)}")
    else:
        yield _indented(gone_words(cause))


def _indented(text: str) -> RenderableType:
    return Padding(said(text), (0, 0, 0, 2))


def _names(names: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(names)) or "none"


def tally(found: Causes, *, with_single: bool) -> str:
    """Return how many notes are open, and how many causes they come from."""
    notes = sum(len(cause.notes) for cause in found.causes)
    if not notes:
        return "No fit note is open."
    common, single = len(found.common), len(found.single)
    causes = "1 common cause" if common == 1 else f"{common} common causes"
    once = "" if not single else f", {single} seen on one garment only"
    hint = "" if with_single or not single else " (--single lists them)"
    return f"{notes} open {'note' if notes == 1 else 'notes'}: {causes}{once}{hint}."
