"""trueup explain: how a pattern came to be, from its block to its style."""

from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.json import chronicle as json_chronicle
from trueup.cli.markdown.explanation import explanation_page
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import show, write
from trueup.cli.render.chronicle.explanation import explanation_lines
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.chain import explain as explained


def explain(
    node: options.Node,
    as_of: options.AsOf = None,
    markdown: Annotated[bool, typer.Option("--markdown", help="Print it as Markdown.")] = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Tell how a block or pattern came to be: every step from the first block on, in words.

    After each step stand the measures it changed, and the conflicts and decisions it met.
    """
    if markdown and as_json:
        raise Misused("--markdown and --json are two forms of one answer; ask for one of them.")
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        chronicle = Chronicle(wardrobe.wardrobe, as_of or "HEAD", wardrobe.evaluator)
        found, unit = explained(chronicle, node), wardrobe.state.unit
    if as_json:
        wardrobe.write(json_chronicle.explanation(found, wardrobe.commands))
    elif markdown:
        write(explanation_page(found, unit))
    else:
        show(*explanation_lines(found, unit))
