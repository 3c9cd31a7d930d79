"""trueup history: what was done, newest first."""

from collections.abc import Iterable
from itertools import islice
from typing import Annotated

import typer

from trueup.cli.failures import DAMAGED, Misused
from trueup.cli.opening import OpenToRead, reading
from trueup.cli.options import completion, spans
from trueup.cli.options import shared as options
from trueup.cli.page import show_as_it_comes
from trueup.cli.render.chronicle.history import history_lines
from trueup.lineage.chronicle import Chronicle, selection
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.selection import Selection
from trueup.lineage.evaluation.few_enough import few_enough
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import NodeRecord


def history(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN|GARMENT|PIECE.EDGE",
            help="Only what touched a block or pattern, with the steps of its chain; what a "
            "garment and its pattern went through since it was cut; or what shaped an edge "
            "anywhere.",
            autocompletion=completion.nodes_and_garments,
        ),
    ] = None,
    edge: Annotated[
        str | None,
        typer.Argument(
            metavar="PIECE.EDGE",
            help="Only what shaped this edge of the block or pattern, there or above it.",
            autocompletion=completion.edges,
        ),
    ] = None,
    since: spans.Since = None,
    between: spans.Between = None,
    wearer: Annotated[
        str | None,
        typer.Option(
            "--wearer",
            metavar="NAME",
            help="Only what somebody's garments, and what these were cut from, went through.",
            show_default=False,
        ),
    ] = None,
    body: Annotated[
        str | None,
        typer.Option(
            "--body",
            metavar="WEARER",
            help="What was measured of somebody over time, and what followed from it: blocks "
            "drafted for them, garments.",
            show_default=False,
            autocompletion=completion.bodies,
        ),
    ] = None,
    most: Annotated[
        int | None,
        typer.Option(
            "--last",
            min=1,
            metavar="N",
            help="Only the last N; all unless given.",
            show_default=False,
        ),
    ] = None,
    effects: Annotated[
        bool,
        typer.Option(
            "--effects",
            help="Measure again what each step did, in which patterns it arrived, and say which "
            "decisions followed.",
        ),
    ] = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Read back what was done, newest first.

    For one block or pattern its chain comes first: its steps as they now are, with the ids that
    `amend` and `drop` take. What a graft takes over is among them, with what was changed of it.
    Exits with 3 when something of it cannot be read.
    """
    with reading(folder, as_json=as_json) as wardrobe:
        about, chosen = _selected(wardrobe, node, edge)
        if body is not None:
            if about is not None:
                raise Misused("Ask for the history of a body or of one thing, not of both at once.")
            about = wardrobe.state.body(body)
            chosen.append(selection.of_body(wardrobe.state, about))
        if wearer is not None:
            chosen.append(selection.of_wearer(wardrobe.state, wearer))
        chronicle = Chronicle(wardrobe.wardrobe, now=wardrobe.evaluator)
        span = spans.span_of(wardrobe.wardrobe, since, between)
        entries: Iterable[Entry] = islice(chronicle.entries(span, chosen), most)
        if effects:
            entries = tuple(few_enough(entries))
        if as_json:
            from trueup.cli.json import chronicle as json_chronicle  # noqa: PLC0415

            wardrobe.write(
                json_chronicle.history(
                    about, entries, wardrobe.commands, wardrobe.evaluator, with_effects=effects
                )
            )
        else:
            evaluator = wardrobe.evaluator
            show_as_it_comes(history_lines(about, entries, evaluator, with_effects=effects))
        # What the pattern of a garment went through is part of the garment's history.
        is_part_missing = getattr(about, "pattern", None) in wardrobe.state.lost_nodes
    return DAMAGED if is_part_missing or wardrobe.gaps else 0


def _selected(
    reading: "OpenToRead", name: str | None, edge: str | None
) -> "tuple[NodeRecord | GarmentRecord | BodyRecord | None, list[Selection]]":
    """Return what was asked about, where it is one thing, and what selects its entries."""
    if name is None:
        return None, []
    if edge is not None:
        reading.state.node(name)
        return None, [selection.of_edge(reading.evaluator, name, edge)]
    if "." in name:
        return None, [selection.of_edge_anywhere(reading.evaluator, name)]
    about, chosen = selection.subject(reading.wardrobe, reading.evaluator, name)
    return about, [chosen]
