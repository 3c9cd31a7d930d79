"""trueup conflicts: what waits for a decision, and how it can be settled."""

from typing import TYPE_CHECKING, Annotated

import typer

from trueup.cli.failures import OPEN, Misused
from trueup.cli.opening import OpenToRead, reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import said, show
from trueup.cli.render.conflicts import conflict_list
from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState
from trueup.lineage.replay.standing import waiting_at

if TYPE_CHECKING:
    from trueup.cli.drawing.scene.scene import Scene


def conflicts(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN|CONFLICT",
            help="Only those of a block or pattern, with those it inherits, or only the one of "
            "this id, which may be of something `check` found; all unless given.",
            autocompletion=completion.nodes_and_conflicts,
        ),
    ] = None,
    every: Annotated[
        bool, typer.Option("--all", help="Those accepted or settled as well.")
    ] = False,
    picture: options.Picture = None,
    force: options.Force = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """List the conflicts that wait for a decision, parents first.

    Each says where it arose, what does not hold, and the command for each way to settle it. Exits
    with 1 when one is open; with 3 when all are asked for and something cannot be read. The picture
    of a block or pattern shows where each open conflict lies, numbered as they are listed; that of
    one conflict the pieces before and after, and the walk of a seam that does not sew together.
    """
    if picture:
        from trueup.cli.drawing.scene.saving import require_picture, save_picture  # noqa: PLC0415

        require_picture(picture)
        if node is None:
            raise Misused(
                "A picture shows one block, pattern or conflict; name it, as in "
                f"`trueup conflicts PATTERN --picture {picture}`."
            )
    with reading(folder, as_json=as_json) as wardrobe:
        state, commands = wardrobe.state, wardrobe.commands
        one = _one(wardrobe, node)
        numbered = () if node is None or one else waiting_at(wardrobe.evaluator, node)
        scene = _scene(wardrobe, node, one) if picture and node else None
        found = (one,) if one else state.conflicts
    listed = [
        each
        for each in found
        if one or (node in (None, each.arose_at) and (every or each.state is ConflictState.OPEN))
    ]
    inherited = [each for each in numbered if each.arose_at != node]
    if picture and scene:
        save_picture(scene, picture, replace=force)
    if as_json:
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415

        wardrobe.write(json_forms.conflicts(listed, inherited, commands))
    else:
        numbers = {each.id: count for count, each in enumerate(numbered, start=1)}
        shown = numbers if picture else None
        partly = node is None and bool(state.unreadable)
        lines = conflict_list(listed, inherited, state.unit, commands, node, shown, partly=partly)
        show(*lines)
        if picture:
            show(said(f"Drew it in {picture}."))
    is_open = any(each.state is ConflictState.OPEN for each in (*listed, *inherited))
    code = OPEN if is_open else 0
    return wardrobe.code_of_whole(code) if node is None else code


def _one(wardrobe: "OpenToRead", name: str | None) -> "ConflictRecord | None":
    """Return the conflict a name is the id of, None where it is none; raises NoSuchConflict."""
    if name is None or name in wardrobe.state.nodes:
        return None
    if any(name.startswith(f"{kind.value}-") for kind in ConflictKind):
        return wardrobe.wardrobe.conflict(name)
    return None


def _scene(wardrobe: "OpenToRead", node: str, one: "ConflictRecord | None") -> "Scene":
    # As any picture, loaded only where one is asked for.
    from trueup.cli.pictures.conflicts import conflict_scene, marked_draft  # noqa: PLC0415

    return conflict_scene(wardrobe, one) if one else marked_draft(wardrobe, node)
