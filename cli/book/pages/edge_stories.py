"""The stories of the edges of a pattern: what shaped each, and how long it was after each step."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from trueup.cli.amounts import difference, length
from trueup.cli.book.pages.step_plot import step_plot
from trueup.cli.book.source import BookSource
from trueup.cli.terminal.typesetting import upper_first
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.biography import Shaping
from trueup.lineage.evaluation.origin import Origin, origins


@dataclass(frozen=True)
class _Told:
    """One step that shaped an edge: what, where, when, why, and the sewn length after it.

    `edge` is what the edge was called then, where that was another name; `known_as` the role and
    the id of the step.
    """

    words: str
    node: str
    day: str
    why: str
    known_as: str
    length: str
    change: str
    edge: str


@dataclass(frozen=True)
class EdgeStory:
    """One edge: its full name, its piece, how long it is sewn, and what shaped it, oldest first.

    `node` and `by` say where it was shaped last, and by what.
    """

    name: str
    piece: str
    length: str
    node: str
    by: str
    steps: tuple[_Told, ...]
    plot: Markup


def edge_stories(source: BookSource, name: str) -> Iterator[EdgeStory]:
    """Yield the story of every edge of a node, in the order of its pieces."""
    draft = source.evaluator.draft(name)
    for full, origin in origins(source.evaluator, name).items():
        piece, edge = draft.split_edge_name(full)
        shapings = source.biographies.of(source.evaluator, name, full)
        now = length(draft.edge(piece, edge).length, source.unit)
        yield EdgeStory(
            full,
            piece,
            now,
            origin.node,
            _last_shaped(origin, shapings),
            tuple(_steps(shapings, full, source.unit)),
            _plot(shapings, full, source.unit),
        )


def _last_shaped(origin: Origin, shapings: Sequence[Shaping]) -> str:
    if origin.step is None:
        return "as drafted"
    return shapings[-1].words if shapings else ""


def _plot(shapings: Sequence[Shaping], name: str, unit: Unit) -> Markup:
    lengths = [each.length_mm for each in shapings]
    if len(lengths) < 2:
        return Markup("")
    first, last = (length(mm, unit) for mm in (lengths[0], lengths[-1]))
    steps = "1 step" if len(lengths) == 2 else f"{len(lengths) - 1} steps"
    return step_plot(lengths, f"{name}: {steps} from {first} to {last}")


def _steps(shapings: Sequence[Shaping], name: str, unit: Unit) -> Iterator[_Told]:
    before: Shaping | None = None
    for each in shapings:
        step = each.step
        changed = "" if before is None else difference(before.length_mm, each.length_mm, unit)
        yield _Told(
            upper_first(each.words) if step else "As it was drafted",
            each.node,
            str(step.date) if step and step.date else "",
            step.why if step else "",
            f"{step.role.value} {step.id}" if step else "",
            length(each.length_mm, unit),
            changed,
            "" if each.edge == name else each.edge,
        )
        before = each
