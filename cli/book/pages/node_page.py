"""The page of a block or pattern: picture, what is open, last change, lines, seams, measures."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count

from markupsafe import Markup

from trueup.cli.amounts import length
from trueup.cli.book.figures import figure, figure_of_pieces, key_list
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.ancestry import trails
from trueup.cli.book.pages.edge_stories import edge_stories
from trueup.cli.book.pages.graph import family_picture
from trueup.cli.book.pages.needed import needed
from trueup.cli.book.pages.switched_picture import switched_picture
from trueup.cli.book.pages.version import ShownVersion, told_versions
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.seam_walk import BARE_WALK_KEY, bare_walk
from trueup.cli.render.chronicle.explanation import (
    after_step,
    chapter_start,
    known_as,
    step_alone,
    with_previous,
)
from trueup.cli.render.patterns.findings import finding_lines
from trueup.cli.render.patterns.walks import walk_lines
from trueup.cli.wording.cutting import cut_words, note_of
from trueup.geometry.measuring.walk import walk
from trueup.lineage.chronicle.chain import Chapter, chapter
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.replay.standing import standing, waiting_at

_BETWEEN = "between pieces"


@dataclass(frozen=True)
class _Step:
    """One step of the chain: in a sentence, by its id, what it changed and what it ran into."""

    sentence: str
    known_as: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class _Measures:
    """The measures of one piece in words, and how it is cut; or those between pieces."""

    piece: str
    cut: str
    measures: tuple[tuple[str, str], ...]


def node_page(source: BookSource, name: str) -> Markup:
    """Return the page of a node; raises NoSuchNode."""
    node = source.state.node(name)
    numbers = count(1)
    part = chapter(source.chronicle, name)
    stories = list(edge_stories(source, name))
    draft = source.evaluator.draft(name)
    found = standing(source.evaluator, name)
    walked = [
        (seam.name, figure(bare_walk(draft, walk(draft, seam), source.unit), next(numbers)))
        for seam in draft.seams
    ]
    told = list(told_versions(source, name))
    family, family_key = family_picture(source, name)
    checked = finding_lines(name, found, node.open_conflicts, source.unit, source.commands)
    return page(
        "node.html",
        node=node,
        unit=source.unit,
        addresses=source.addresses,
        trails=trails(source.state, node),
        children=_children(source, name),
        garments=[g.name for g in source.state.garments.values() if g.pattern == name],
        family=figure(family, next(numbers)) + key_list(family_key),
        drawn=switched_picture(source, name, told[0].found if told else None, next(numbers)),
        stories=stories,
        conflicts=waiting_at(source.evaluator, name),
        attention=needed(source, name, found),
        findings=html_lines(checked, source.addresses),
        most=source.most,
        corrections=source.corrections,
        versions=[_version(each, next(numbers), source) for each in told],
        ends_early=_ends_early(source, told),
        start=list(chapter_start(part, source.unit)),
        steps=list(_steps(part, source)),
        walks=html_lines(walk_lines(name, draft, [s.name for s in draft.seams], source.unit), {}),
        walked=walked,
        walk_key=BARE_WALK_KEY,
        measures=_measures(source, name),
    )


def _ends_early(source: BookSource, told: Sequence[ShownVersion]) -> bool:
    """Return whether versions came before those told that git does not give.

    They end as well where a history is longer than is ever looked at.
    """
    is_whole = len(told) == source.most or (bool(told) and told[-1].is_first)
    return not is_whole and bool(source.reading.gaps)


def _children(source: BookSource, name: str) -> list[NodeRecord]:
    graph, state = source.state.graph, source.state
    return [state.nodes[child] for child in state.in_order if graph.has_edge(name, child)]


def _version(told: ShownVersion, number: int, source: BookSource) -> dict[str, object]:
    return {
        "told": told,
        "picture": figure_of_pieces(told.scenes, number, told.title, told.key),
        "moves": html_lines(told.lines, source.addresses),
    }


def _steps(part: Chapter, source: BookSource) -> Iterator[_Step]:
    for told, previous in with_previous(part):
        lines = tuple(after_step(told, source.unit))
        yield _Step(step_alone(told, previous), known_as(told), lines)


def _measures(source: BookSource, name: str) -> list[_Measures]:
    """Return the measures by piece, in the order of the pieces; what lies between them last."""
    by_piece: dict[str, list[tuple[str, str]]] = {}
    for measure, mm in source.evaluator.summary(name).measures.items():
        by_piece.setdefault(measure.partition(".")[0], []).append(
            (measure, length(mm, source.unit))
        )
    cut = {
        piece.name: ", ".join(filter(None, (cut_words(piece), note_of(piece))))
        for piece in source.evaluator.draft(name).pieces
    }
    found = [
        _Measures(piece, words, tuple(by_piece.pop(piece)))
        for piece, words in cut.items()
        if piece in by_piece
    ]
    between = [each for listed in by_piece.values() for each in listed]
    return [*found, *([_Measures(_BETWEEN, "", tuple(between))] if between else [])]
