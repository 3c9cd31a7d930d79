"""trueup tree: who derives from whom."""

from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import said, show
from trueup.cli.render.tree import tree_lines


def tree(
    picture: options.Picture = None,
    force: options.Force = False,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Show every block and the patterns derived from it.

    The picture shows as well what has become by now of the last correction in every pattern below
    it. Exits with 3 when one cannot be read; the others are shown.
    """
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        state = wardrobe.state
        if picture:
            from trueup.cli.drawing.scene.saving import save_picture  # noqa: PLC0415
            from trueup.cli.pictures.lineage import lineage_picture  # noqa: PLC0415

            save_picture(lineage_picture(wardrobe, as_of or "HEAD"), picture, replace=force)
    if as_json:
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415

        wardrobe.write(json_forms.tree(state))
    else:
        show(*tree_lines(state))
        if picture:
            show(said(f"Drew it in {picture}."))
    return wardrobe.code_of_whole()
