"""trueup history: what was done, newest first."""

from typing import Annotated

import typer

from cli import completion, options


def history(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="NODE",
            help="Only what touched a block or pattern, with the steps of its chain.",
            autocompletion=completion.nodes,
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
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Read back what was done, newest first.

    For one node its chain comes first: the steps as they now are, with the ids that `amend` and
    `drop` take.
    """
    from itertools import islice  # noqa: PLC0415

    from cli import json_forms  # noqa: PLC0415
    from cli.opening import reading  # noqa: PLC0415
    from cli.render.history import history_lines  # noqa: PLC0415
    from cli.render.page import show  # noqa: PLC0415

    with reading(folder) as wardrobe:
        record = wardrobe.state.node(node) if node else None
        paths = [record.path] if record else []
        commits = list(islice(wardrobe.wardrobe.history(paths), most))
    if as_json:
        json_forms.write(json_forms.history(record, commits))
    else:
        show(*history_lines(record, commits))
