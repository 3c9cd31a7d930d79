"""trueup remeasure: draft a block anew from body measurements that were taken anew."""

import inspect
from typing import Any

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
from trueup.cli.options import body as body_options
from trueup.cli.options import shared as options
from trueup.cli.options.made import as_command, keyword, positional
from trueup.lineage.garments.mending import mending
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


def remeasure() -> None:
    """Draft a block anew from other body measurements; every pattern derived from it follows.

    Give the measurements that were taken anew, those of the block's own drafting system; the
    others stay: `trueup remeasure village-block --bust 93cm --waist 71cm --why "a year later"`.
    A block that is drafted for a wearer takes what was measured of that wearer by now where nothing
    is given: `trueup remeasure village-block --why "a year later"`; with --for it is drafted for
    that wearer from now on. The block's steps are made again on the new draft, and what became of
    it is told for every descendant, as after a correction.
    """


def verb() -> Any:
    """Return the verb with the measurements that drafting systems ask for as options."""
    return as_command(_run, "remeasure", remeasure.__doc__ or "", _parameters())


def _parameters() -> list[inspect.Parameter]:
    return [
        positional("node", options.Node),
        keyword("wearer", body_options.For),
        keyword("date", body_options.SetOf),
        *body_options.of_any_system(),
        keyword("why", options.Why, ""),
        keyword("mends", options.Mends),
        keyword("preview", options.Preview, False),
        keyword("as_json", options.Json, False),
        keyword("folder", options.Folder),
    ]


def _run(
    ctx: Any,  # noqa: ARG001
    node: str,
    wearer: str | None,
    date: str | None,
    why: str,
    mends: list[str] | None,
    preview: bool,
    as_json: bool,
    folder: Any,
    **body: str | None,
) -> int:
    taken, wish = body_options.given_body(body), body_options.wish_of(wearer, date)

    def propose(wardrobe: WritableWardrobe) -> Proposal:
        known = wardrobe.state.nodes.get(node)
        if not taken and wish is None and known and known.draft and not known.drafted_for:
            raise Misused(
                f"Say what {node} measures now, as in --bust 93cm, or of whom it was measured, as "
                "in --for ada; `trueup remeasure --help` lists the measurements."
            )
        proposal = wardrobe.propose_remeasure(node, taken, why, wish)
        return mending(wardrobe, proposal, mends) if mends else proposal

    return carry_out(Manner(folder, preview, as_json), propose)
