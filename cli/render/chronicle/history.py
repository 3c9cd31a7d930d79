"""The history on the page: the chain of a node or the facts of a garment, then what was done."""

from collections.abc import Iterable, Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding

from trueup.cli.page import said
from trueup.cli.render.bodies import followed_lines, measured_lines
from trueup.cli.render.chronicle.entries import effect_lines, measure_in_words, who
from trueup.cli.render.steps import what_and_amounts
from trueup.cli.render.table import PlainTable
from trueup.cli.wording.kinds import subject_in_words
from trueup.geometry.calling.other_names import CORNER
from trueup.geometry.units import Unit
from trueup.lineage.bodies.following import following
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.reasons import measured, reason
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.grafting import Taken
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import NodeRecord, Role, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.trail import STEPS


def history_lines(
    about: NodeRecord | GarmentRecord | BodyRecord | None,
    entries: Iterable[Entry],
    evaluator: Evaluator,
    *,
    with_effects: bool,
) -> Iterator[RenderableType]:
    """Yield what the history is about, when it is about one thing, and its entries."""
    state = evaluator.state
    if isinstance(about, NodeRecord):
        yield from _chain(about, evaluator.taken_over(about.name), state.unit)
    elif isinstance(about, BodyRecord):
        yield from _body(about, state)
    elif about is not None:
        yield from _garment(about)
    if about is not None:
        yield ""
        yield said("What was done, newest first", "bold")
    told = False
    for entry in entries:
        told = True
        yield from _entry(entry, state.unit, with_effects=with_effects)
    if not told:
        yield said("Nothing was done here in that time.")


def _chain(node: NodeRecord, taken: Sequence[Taken], unit: Unit) -> Iterator[RenderableType]:
    yield said(f"The chain of {node.name}", "bold")
    yield said(origin_in_words(node))
    for anew in node.remeasured:
        day = f" on {anew.date}" if anew.date else ""
        was = ", ".join(f"{name} was {text}" for name, text in anew.was.items())
        why = f": {anew.why}" if anew.why else ""
        yield said(f"re-measured{day} ({anew.id}), {was}{why}")
    own = [step for step in node.steps if not (taken and step.stands_in)]
    heads = ("what", "with", "made as", "why", "step")
    if taken:
        rows = [(*_row(each.step, unit), each.node) for each in taken]
        yield PlainTable((*heads, "of"), [*rows, *((*_row(step, unit), "-") for step in own)])
    elif own:
        yield PlainTable(heads, [_row(step, unit) for step in own])


def _body(body: BodyRecord, state: State) -> Iterator[RenderableType]:
    yield said(f"The body of {body.wearer}", "bold")
    yield from measured_lines(body, state)
    yield from followed_lines(body, state, following(state, body.name))


def _garment(garment: GarmentRecord) -> Iterator[RenderableType]:
    wearer = f" for {garment.wearer}" if garment.wearer else ""
    yield said(f"The garment {garment.name}{wearer}, {garment.status.value}", "bold")
    version = f"at version {garment.cut_from[:10]}"
    yield said(f"cut from {garment.pattern} {version} on {garment.cut_on}")


def _entry(entry: Entry, unit: Unit, *, with_effects: bool) -> Iterator[RenderableType]:
    commit = entry.commit
    back = " (taken back)" if entry.taken_back_by else ""
    yield said(f"{subject_in_words(commit.subject)}{back}")
    when = commit.when.strftime("%Y-%m-%d %H:%M")
    steps = [f"step {commit.trailers[STEPS]}"] if commit.trailers.get(STEPS) else []
    author = [who(commit)] if with_effects else []
    yield _indented(", ".join([commit.id[:10], when, *author, *steps]))
    if with_effects:
        yield from (Padding(line, (0, 0, 0, 2)) for line in effect_lines(entry, unit))
        return
    for line in reason(commit.body).split("\n"):
        if line.strip():
            yield _indented(line)
    for each in measured(commit.body):
        yield _indented(measure_in_words(each, unit))


def _indented(line: str) -> Padding:
    return Padding(said(line), (0, 0, 0, 2))


def origin_in_words(node: NodeRecord) -> str:
    """Return what a node starts from: measurements, or its parents."""
    if node.draft is not None:
        body = ", ".join(f"{name} {amount}" for name, amount in node.draft.body.items())
        return f"drafted by {node.draft.system} from {body}{_for(node)}{style_in_words(node)}"
    if node.traced is not None:
        return f"traced from {node.traced.source}"
    parents = []
    for parent in node.parents:
        pieces = f" ({', '.join(parent.pieces)})" if parent.pieces else ""
        hold = f", staying on version {parent.hold[:10]}" if parent.hold else ""
        parents.append(f"{parent.name}{pieces}{hold}")
    return f"derived from {' and '.join(parents)}{style_in_words(node)}"


def style_in_words(node: NodeRecord) -> str:
    """Return whose style a node takes, as the end of a sentence; empty where it takes none."""
    style = node.style
    if style is None:
        return ""
    hold = f", staying on version {style.hold[:10]}" if style.hold else ""
    count = len(style.without)
    left_out = f", without {count} of its steps" if count else ""
    what = "style" if style.takes is Role.STYLE else "corrections"
    called = [
        f"{ours} for its {theirs}"
        for theirs, ours in style.called.items()
        if f".{CORNER}." not in theirs
    ]
    names = f", with {', '.join(called)}" if called else ""
    return f", with the {what} of {style.name}{left_out}{hold}{names}"


def _for(node: NodeRecord) -> str:
    of = node.drafted_for
    return f", for {of.body} as measured on {of.measured}" if of else ""


def _row(step: StepRecord, unit: Unit) -> tuple[str, str, str, str, str]:
    what, made_with = what_and_amounts(step, unit)
    return what, made_with or "-", step.role.value, step.why or "-", step.id
