"""The page of a block or pattern: picture, chain, measures, edges, versions and what is open."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from markupsafe import Markup

from trueup.cli.amounts import length
from trueup.cli.book.figures import figure, figure_of_pieces
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.graph import family_picture
from trueup.cli.book.pages.version import ShownVersion, told_versions
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.seam_walk import BARE_WALK_KEY, bare_walk
from trueup.cli.pictures.conflicts import marked_draft
from trueup.cli.render.chronicle.explanation import (
    after_step,
    chapter_start,
    step_sentence,
    with_previous,
)
from trueup.cli.render.patterns.findings import finding_lines
from trueup.cli.render.patterns.walks import walk_lines
from trueup.geometry.amounts import Body
from trueup.geometry.measuring.walk import walk
from trueup.geometry.units import Unit
from trueup.lineage.chronicle.chain import Chapter, chapter
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.evaluation.origin import origins
from trueup.lineage.files.records import ConflictRecord, NodeRecord, ParentRecord, StepRecord
from trueup.lineage.replay.standing import inherited_conflicts, standing


@dataclass(frozen=True)
class _Step:
    """One step of the chain: in a sentence, with what it changed and what it ran into."""

    sentence: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class _Edge:
    """One edge: its full name, how long it is sewn, the node that shaped it, and by what."""

    name: str
    length: str
    node: str
    by: str


@dataclass(frozen=True)
class _Parent:
    """A parent in words: which pieces are taken, and the version it is followed at."""

    name: str
    words: str


def node_page(source: BookSource, name: str) -> Markup:
    """Return the page of a node; raises NoSuchNode."""
    node = source.state.node(name)
    numbers = count(1)
    part = chapter(source.chronicle, name)
    draft = source.evaluator.draft(name)
    walked = [
        (seam.name, figure(bare_walk(draft, walk(draft, seam), source.unit), next(numbers)))
        for seam in draft.seams
    ]
    inherited = inherited_conflicts(source.evaluator, name)
    return page(
        "node.html",
        node=node,
        unit=source.unit,
        addresses=source.addresses,
        parents=[*map(_parent, node.parents), *_style(node)],
        children=_children(source, name),
        garments=[g.name for g in source.state.garments.values() if g.pattern == name],
        family=figure(family_picture(source, name), next(numbers)),
        picture=figure(marked_draft(source.reading, name), next(numbers)),
        edges=list(_edges(source, name)),
        conflicts=[*node.open_conflicts, *inherited],
        findings=_findings(source, name, node.open_conflicts),
        most=source.most,
        corrections=source.corrections,
        versions=[_version(told, next(numbers), source) for told in told_versions(source, name)],
        start=list(chapter_start(part, source.unit)),
        steps=list(_steps(part, source)),
        walks=html_lines(walk_lines(name, draft, [s.name for s in draft.seams], source.unit), {}),
        walked=walked,
        walk_key=BARE_WALK_KEY,
        measures=_measures(source, name),
    )


def _parent(parent: ParentRecord) -> _Parent:
    words = [f"its {', '.join(parent.pieces)}"] if parent.pieces else []
    words += [f"staying on its version {parent.hold[:10]}"] if parent.hold else []
    return _Parent(parent.name, f" ({'; '.join(words)})" if words else "")


def _style(node: NodeRecord) -> list[_Parent]:
    return [_Parent(node.style.name, " (its style)")] if node.style else []


def _children(source: BookSource, name: str) -> list[NodeRecord]:
    graph, state = source.state.graph, source.state
    return [state.nodes[child] for child in state.in_order if graph.has_edge(name, child)]


def _edges(source: BookSource, name: str) -> Iterator[_Edge]:
    draft = source.evaluator.draft(name)
    for full, origin in origins(source.evaluator, name).items():
        edge = draft.edge(*draft.split_edge_name(full))
        yield _Edge(
            full,
            length(edge.length, source.unit),
            origin.node,
            _by(origin.step, source.unit, source.evaluator.body(name)),
        )


def _by(step: StepRecord | None, unit: Unit, body: Body) -> str:
    if step is None:
        return "as drafted"
    why = f" Why: {step.why}" if step.why else ""
    return f"{step_in_words(step, unit, body)} ({step.role.value} {step.id}).{why}"


def _findings(source: BookSource, name: str, waiting: tuple[ConflictRecord, ...]) -> Markup:
    found = standing(source.evaluator, name)
    return html_lines(
        finding_lines(name, found, waiting, source.unit, source.commands), source.addresses
    )


def _version(told: ShownVersion, number: int, source: BookSource) -> dict[str, object]:
    return {
        "told": told,
        "picture": figure_of_pieces(told.scenes, number, told.commit.subject, told.key),
        "moves": html_lines(told.lines, source.addresses),
    }


def _steps(part: Chapter, source: BookSource) -> Iterator[_Step]:
    for told, previous in with_previous(part):
        yield _Step(step_sentence(told, previous), tuple(after_step(told, source.unit)))


def _measures(source: BookSource, name: str) -> list[tuple[str, str]]:
    found = source.evaluator.summary(name).measures
    return [(measure, length(mm, source.unit)) for measure, mm in found.items()]
