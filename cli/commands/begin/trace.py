"""trueup trace: make a block of a drawing."""

from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.atomic_file import require_new, write_new
from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import BAD_INPUT, Misused
from trueup.cli.json import forms as json_forms
from trueup.cli.json.patterns.unnamed import unnamed_form
from trueup.cli.json.proposal import proposal_form
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.options.drawing_words import strip_reach
from trueup.cli.page import note, said, show
from trueup.cli.render.patterns.proposal import (
    line_names,
    lines_table,
    other_lines,
    pieces_table,
    seams_table,
)
from trueup.cli.render.patterns.unnamed import unnamed_table
from trueup.cli.wording.words import worded_error
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.drawings.photographs.frame.strips import REACH
from trueup.lineage.drawings.photographs.kind import is_picture_by_name
from trueup.lineage.drawings.proposing.bringing_in import (
    described_draft,
    draft_as_stated,
    look_at,
    names_its_lines,
    stated_in,
)
from trueup.lineage.drawings.proposing.drawing_file import DXF, LookedAt
from trueup.lineage.drawings.stating.names_file import names_text
from trueup.lineage.drawings.tracing.drafting import DraftDrawn, draft_from
from trueup.lineage.drawings.tracing.errors import CannotTrace, UnnamedLines
from trueup.lineage.limits import LARGEST_DRAWING, LARGEST_DXF, LARGEST_PHOTO, LARGEST_RECORD
from trueup.lineage.store.files.plain_file import NotPlain, read_plain


def trace(
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="The drawing: an SVG, a DXF named .dxf, or a photograph with the frame of "
            "`sheet --frame`.",
        ),
    ],
    node: Annotated[
        str, typer.Argument(metavar="NAME", help="Name of the new block, such as village-block.")
    ],
    names: Annotated[
        list[str] | None,
        typer.Option(
            "--name",
            metavar="LINE=PIECE.EDGE",
            help="What the line of this number or id is, such as 3=front.armhole, "
            "4=front.dart.bust or piece-1=front; once for each.",
            show_default=False,
        ),
    ] = None,
    only_named: Annotated[
        bool, typer.Option("--only-named", help="Leave out lines that have no name.")
    ] = False,
    measures: Annotated[
        list[str] | None,
        typer.Option(
            "--measure",
            metavar="LINE=LENGTH",
            help="How long a line is on paper, such as front.side=42cm or 'side seam=42cm': sets "
            "or checks the size.",
            show_default=False,
        ),
    ] = None,
    strip: Annotated[
        str | None,
        typer.Option(
            "--strip",
            metavar="LENGTH",
            help="For a photograph: how far the squares of a strip of the frame reach from end to "
            f"end, where it was not printed to {REACH:g} mm.",
            show_default=False,
        ),
    ] = None,
    stated: Annotated[
        Path | None,
        typer.Option(
            "--names",
            metavar="FILE.toml",
            help="A file that states what the lines are, as --write-names writes it.",
            show_default=False,
        ),
    ] = None,
    write_names: Annotated[
        Path | None,
        typer.Option(
            "--write-names",
            metavar="FILE.toml",
            help="Write what is proposed to this file, for you to correct.",
            show_default=False,
        ),
    ] = None,
    as_proposed: Annotated[
        bool, typer.Option("--as-proposed", help="Record the block as it is proposed.")
    ] = False,
    over: Annotated[
        bool | None,
        typer.Option(
            "--turned-over/--as-drawn",
            help="Turn the drawing over, left for right, or not, where its texts read backwards.",
            show_default=False,
        ),
    ] = None,
    picture: options.Picture = None,
    force: options.Force = False,
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Make a block of a drawing: an SVG of any editor, a DXF, or a photograph of card or paper.

    The lines are looked over, and what they seem to be is shown: pieces, edges, darts, seams. What
    was written on lines, groups and layers goes before what they look like. It is a proposal, and
    nothing is recorded until you say --as-proposed, or state it with --names. Correct single lines
    with --name; --picture draws them with their numbers.

    A photograph (JPEG, PNG or WebP) is measured by the frame that `sheet --frame` prints, laid
    round the pattern; how true it is, as measured on the frame itself, is said with the proposal.
    Nothing leaves this machine.

    A file that `export` wrote comes back as the same block; where lines have ids such as
    front.side, front.side.1 and .2 beside a dart, front.dart.bust, front.notch.crown or
    front.grainline, these are their names. The drawing is kept beside the block.
    """
    content = _content(file)
    given, lengths = _pairs(names or [], "--name"), _lengths(measures or [])
    manner = Manner(folder, preview, as_json)
    by_names = not (stated or write_names or picture or as_proposed or lengths or over)
    if by_names and not given and (own := described_draft(content, file.name)):
        return _record(own, node, file, manner)
    if by_names and names_its_lines(content, given, file.name):
        try:
            drawn = draft_from(content, given, file.name, others=only_named)
        except UnnamedLines as error:
            _list(error, folder, as_json=as_json)
            return BAD_INPUT
        return _record(drawn, node, file, manner)
    if only_named:
        raise Misused("--only-named is for drawings whose lines have names; use --names instead.")
    told = stated_in(_file(stated, LARGEST_RECORD), stated.name) if stated else None
    looked = look_at(
        content, file.name, given, lengths, told, over=over, reach=strip_reach(strip, file.name)
    )
    tell = note if as_json or not (write_names or picture) else _say
    _write(looked, file, folder, write_names, picture, force=force, tell=tell)
    if told is not None or as_proposed:
        for each in looked.found.notes:
            note(each)
        return _record(draft_as_stated(looked, file.name), node, file, manner)
    _propose(looked, folder, as_json=as_json, tell=tell)
    # What was asked for is done where a file was; otherwise a block was, and is not.
    return 0 if write_names or picture else BAD_INPUT


def _record(drawn: DraftDrawn, node: str, file: Path, manner: Manner) -> int:
    code = carry_out(manner, lambda wardrobe: wardrobe.propose_trace(node, drawn.draft, file.name))
    for each in drawn.missing:
        note(f"The drawing states {each}.")
    return code


def _content(file: Path) -> bytes:
    if is_picture_by_name(file.name):
        return _file(file, LARGEST_PHOTO)
    is_dxf = file.suffix.lower() == DXF
    return _file(file, LARGEST_DXF if is_dxf else LARGEST_DRAWING)


def _file(file: Path, largest: int) -> bytes:
    try:
        return read_plain(file, largest)
    except NotPlain as reason:
        raise CannotTrace(str(file), str(reason)) from None


def _pairs(given: list[str], option: str) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for text in given:
        line, equals, name = text.rpartition("=")
        if not (line and equals and name):
            like = "ID=PIECE.EDGE; write it like path12=front.side"
            if option == "--measure":
                like = "LINE=LENGTH; write it like front.side=42cm"
            raise Misused(f'{option} "{text}" is not {like}.')
        if line in pairs:
            raise Misused(f"{option} gives {line} two of them; give it one.")
        pairs[line] = name
    return pairs


def _lengths(given: list[str]) -> dict[str, float]:
    return {
        line: parse_length(text, Unit.MILLIMETRE)
        for line, text in _pairs(given, "--measure").items()
    }


def _list(error: "UnnamedLines", folder: Path | None, *, as_json: bool) -> None:
    """Print the lines that have no name, and say on stderr what to do about them."""
    if as_json:
        json_forms.write(unnamed_form(error.lines))
    else:
        with reading(folder, as_json=as_json) as wardrobe:
            show(unnamed_table(error.lines, wardrobe.state.unit))
    note(
        f"{worded_error(error)} Name one with --name ID=PIECE.EDGE; --only-named leaves the others "
        "out."
    )


def _write(
    looked: LookedAt,
    file: Path,
    folder: Path | None,
    write_names: Path | None,
    picture: Path | None,
    *,
    force: bool,
    tell: Callable[[str], None],
) -> None:
    """Write the files asked for: the names to correct, and the picture with their numbers."""
    if picture:
        from trueup.cli.drawing.scene.saving import require_picture  # noqa: PLC0415

        require_picture(picture)
    for each in (write_names, picture):
        if each:
            require_new(each, replace=force)
    if write_names:
        with reading(folder) as wardrobe:
            text = names_text(looked.found, looked.stated, file.name, wardrobe.state.unit)
        write_new(write_names, text.encode(), replace=force)
        tell(f"Wrote what is proposed to {write_names}.")
    if picture:
        from trueup.cli.drawing.proposal_picture import proposal_picture  # noqa: PLC0415
        from trueup.cli.drawing.scene.saving import save_picture  # noqa: PLC0415

        scene = proposal_picture(looked, line_names(looked.stated), f"Lines of {file.name}")
        save_picture(scene, picture, replace=force)
        tell(f"Drew it in {picture}.")


def _say(text: str) -> None:
    show(said(text))


def _propose(
    looked: LookedAt, folder: Path | None, *, as_json: bool, tell: Callable[[str], None]
) -> None:
    """Print what the lines seem to be, and say on stderr that nothing is recorded by it."""
    if as_json:
        json_forms.write(proposal_form(looked))
    else:
        with reading(folder, as_json=as_json) as wardrobe:
            unit = wardrobe.state.unit
        show(pieces_table(looked))
        show(said(""))
        show(lines_table(looked, unit))
        if looked.stated.seams:
            show(said(""))
            show(seams_table(looked, unit))
        show(said(""))
        for each in other_lines(looked):
            show(said(each))
    tell(
        "This is proposed, and nothing is recorded: take it with --as-proposed, correct a line "
        "with --name 3=front.armhole, or all in the file that --write-names writes, given with "
        "--names."
    )
