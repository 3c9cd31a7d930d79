"""trueup correct: change a block or pattern for its fit, and let every pattern below follow."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
from trueup.cli.groups.of_kinds import group_of_kinds
from trueup.cli.options import shared as options
from trueup.lineage.files.fitting import fitting_content, read_fitting
from trueup.lineage.files.records import Role
from trueup.lineage.garments.mending import mending
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


def correct(
    ctx: typer.Context,
    node: options.Node,
    fitting: Annotated[
        Path | None,
        typer.Option(
            "--from",
            metavar="FILE",
            help="A fitting: a TOML file of several corrections, made and recorded as one step.",
            show_default=False,
        ),
    ] = None,
    why: options.Why = "",
    mends: options.Mends = None,
    preview: options.Preview = False,
    as_json: options.Json = False,
    cluster: options.Cluster = None,
    folder: options.Folder = None,
) -> int:
    """Correct the fit of a block or pattern; every pattern derived from it follows.

    Name the block or pattern and a kind of change, with the kind's own options after it:
    `trueup correct village-block shorten-shoulder --by 1/2in --why "stands off the arm"`.
    What became of the correction is told for every descendant, with its numbers; what cannot
    simply be carried is a conflict, with the ways to settle it.

    A fitting file holds `why = "..."` and a table `[[corrections]]` for each, with its `kind` and
    the kind's options as fields.
    """
    if ctx.invoked_subcommand is not None:
        if fitting is not None:
            raise Misused("Give a kind of change or a fitting with --from, not both.")
        return 0
    if fitting is None:
        raise Misused(
            f"Say which kind of change corrects {node}; `trueup correct {node} --help` lists them."
        )
    return _make_fitting(node, fitting, why, mends or (), Manner(folder, preview, as_json, cluster))


def verb() -> Any:
    """Return the verb with the kinds of change below it."""
    return group_of_kinds(correct)


def _make_fitting(node: str, file: Path, why: str, mends: Sequence[str], manner: Manner) -> int:
    content = fitting_content(file)

    def propose(wardrobe: WritableWardrobe) -> Proposal:
        state, body = wardrobe.state, wardrobe.evaluator.body(node)
        fitting = read_fitting(str(file), content, state.unit, body)
        reason = why or fitting.why
        proposal = wardrobe.propose_steps(node, fitting.changes, Role.CORRECTION, reason)
        return mending(wardrobe, proposal, mends) if mends else proposal

    return carry_out(manner, propose)
