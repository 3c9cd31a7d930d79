"""trueup report: a report of what was done and why, in Markdown or JSON."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.atomic_file import write_new
from trueup.cli.failures import Misused
from trueup.cli.json import chronicle as json_chronicle
from trueup.cli.json.forms import as_text
from trueup.cli.markdown.report import report_page
from trueup.cli.opening import reading
from trueup.cli.options import completion, spans
from trueup.cli.options import shared as options
from trueup.cli.page import said, show, write
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.audit import audit

_MARKDOWN, _JSON = ".md", ".json"


def report(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN",
            help="Only a block or pattern, with what was cut from it and from those below it.",
            autocompletion=completion.nodes,
        ),
    ] = None,
    file: Annotated[
        str | None,
        typer.Argument(
            metavar="FILE.md",
            help="The file to write, or FILE.json; printed unless given.",
        ),
    ] = None,
    since: spans.Since = None,
    between: spans.Between = None,
    force: options.Force = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Write a report: steps, reasons, effects, verdicts, decisions, open conflicts and garments.

    It tells the wardrobe as it was last recorded. Exits with 3 when something of it cannot be read;
    the report is of the rest, and says so.
    """
    if file is None and node is not None and "." in node:
        node, file = None, node  # no name of a node holds a dot
    place = _place(file, as_json=as_json, force=force)
    with reading(folder, "HEAD", as_json=as_json) as wardrobe:
        span = spans.span_of(wardrobe.wardrobe, since, between)
        found = audit(Chronicle(wardrobe.wardrobe), node, span)
        unit = wardrobe.state.unit
        if as_json or (place is not None and place.suffix.lower() == _JSON):
            document = json_chronicle.audit(found, wardrobe.commands, unit)
            text = as_text(wardrobe.with_unreadable(document))
        else:
            text = report_page(found, unit, _asked(since, between), lambda: wardrobe.gaps)
    _give(text, place, force=force)
    return wardrobe.code_of_whole()


def _place(file: str | None, *, as_json: bool, force: bool) -> Path | None:
    """Return the file to write; raises Misused for one that cannot be meant."""
    if file is None:
        if force:
            raise Misused("--force is for a file that is there already; name the file.")
        return None
    place = Path(file)
    endings = (_JSON,) if as_json else (_MARKDOWN, _JSON)
    if place.suffix.lower() not in endings:
        wanted = " or ".join(f"{place.stem or 'REPORT'}{ending}" for ending in endings)
        raise Misused(f"{file} is not named as its form is; call it {wanted}.")
    return place


def _asked(since: str | None, between: tuple[str, str] | None) -> str:
    if between is not None:
        return f"It tells what was done after {between[0]} up to {between[1]}."
    if since is not None:
        return f"It tells what was done since {since}."
    return "It tells the whole history."


def _give(text: str, place: Path | None, *, force: bool) -> None:
    if place is None:
        write(text)
        return
    write_new(place, text.encode("utf-8"), replace=force)
    show(said(f"Wrote the report in {place}."))
