"""trueup tree: who derives from whom."""

from cli import options


def tree(
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Show every block and the patterns derived from it."""
    from cli import json_forms  # noqa: PLC0415
    from cli.opening import reading  # noqa: PLC0415
    from cli.render.page import show  # noqa: PLC0415
    from cli.render.tree import tree_lines  # noqa: PLC0415

    with reading(folder, as_of) as wardrobe:
        state = wardrobe.state
    if as_json:
        json_forms.write(json_forms.tree(state))
    else:
        show(*tree_lines(state))
