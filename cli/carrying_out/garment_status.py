"""Carry out what becomes of a garment as a whole: how far it has come, or that it is forgotten."""

from pathlib import Path

from trueup.cli.carrying_out.filing import file_step
from trueup.cli.json import forms as json_forms
from trueup.cli.json import garments as json_garments
from trueup.cli.options.garment_words import status_named
from trueup.cli.page import show
from trueup.cli.render.garments.garment import filed_lines
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.forgetting import forget
from trueup.lineage.garments.wearing import set_status
from trueup.lineage.writable import WritableWardrobe


def record_status(
    name: str, status: str | None, why: str, folder: Path | None, *, as_json: bool
) -> None:
    """Record how far a garment has come, None where it is to be forgotten, and tell it."""
    wanted = None if status is None else status_named(status)

    def plan(wardrobe: WritableWardrobe) -> Filing:
        if wanted is None:
            return forget(wardrobe, name, why)
        return set_status(wardrobe, name, wanted, why)

    filing, commit, _ = file_step(folder, plan)
    if as_json:
        json_forms.write(json_garments.filed(filing, commit))
    else:
        show(*filed_lines(filing, commit))
