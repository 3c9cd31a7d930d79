"""trueup garment: one garment, what it was cut from, and what is noted on it."""

from typing import Annotated

import typer

from trueup.cli.failures import DAMAGED, Misused
from trueup.cli.hints import error_sentence
from trueup.cli.json import garments as json_garments
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import note, show
from trueup.cli.render.garments.garment import garment_lines
from trueup.lineage.garments.since import Fate, since


def garment(
    name: options.Garment,
    status: Annotated[
        str | None,
        typer.Option(
            "--status",
            metavar="cut|sewn|worn|altered|retired",
            help="Record how far it has come; going back wants --why.",
            show_default=False,
            autocompletion=completion.words(("cut", "sewn", "worn", "altered", "retired")),
        ),
    ] = None,
    forget: Annotated[
        bool,
        typer.Option(
            "--forget",
            help="Take it out, with its outline, fit notes and photos; wants --why.",
        ),
    ] = False,
    why: options.Why = "",
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Show one garment: what it was cut from, whether that was corrected since, its fit notes.

    With `--status altered` the cloth as it is altered to the pattern as it is now is recorded
    beside the outline it was cut by; from then on `alter` starts from that. Exits with 3 when its
    pattern cannot be read, as it is now or as it was cut.
    """
    if forget and status is not None:
        raise Misused(f"Either {name} is to be forgotten or it is {status}; say one of them.")
    if forget or status is not None:
        # A step may look at cloth again, for which the geometry is loaded.
        from trueup.cli.carrying_out.garment_status import record_status  # noqa: PLC0415

        record_status(name, status, why, folder, as_json=as_json)
        return 0
    if why:
        raise Misused(
            f"Say what --why is about: `trueup garment {name} --status STATUS --why ...`."
        )
    with reading(folder, as_json=as_json) as wardrobe:
        found = wardrobe.state.garment(name)
        became = since(wardrobe.wardrobe, found)
        state = wardrobe.state
        # Told while it is open: nodes may still be read for it, and one may be gone by now.
        if as_json:
            wardrobe.write(json_garments.garment_since(found, became, state))
        else:
            show(*garment_lines(found, became, state, wardrobe.commands))
    if became.damage and not state.unreadable and not wardrobe.gaps:
        note(error_sentence(became.damage))
    return DAMAGED if became.fate is Fate.UNREADABLE else 0
