"""trueup, the command: its verbs, and the way in."""

from collections.abc import Callable, Sequence
from typing import Any

import typer

from trueup.cli import failures, streams
from trueup.cli.commands.alter import alter
from trueup.cli.commands.amend import AmendCommand, amend
from trueup.cli.commands.attention import attention
from trueup.cli.commands.book import book
from trueup.cli.commands.check import check
from trueup.cli.commands.compare import compare
from trueup.cli.commands.conflicts import conflicts
from trueup.cli.commands.correct import correct
from trueup.cli.commands.cut import cut
from trueup.cli.commands.decide import decide
from trueup.cli.commands.demo import demo
from trueup.cli.commands.derive import derive
from trueup.cli.commands.diagnose import diagnose
from trueup.cli.commands.draft import DraftCommand, draft
from trueup.cli.commands.drop import drop
from trueup.cli.commands.explain import explain
from trueup.cli.commands.export import export
from trueup.cli.commands.fit_from import fit_from
from trueup.cli.commands.garment import garment
from trueup.cli.commands.garments import garments
from trueup.cli.commands.history import history
from trueup.cli.commands.keep import keep
from trueup.cli.commands.measure import measure
from trueup.cli.commands.mend import mend
from trueup.cli.commands.note import note
from trueup.cli.commands.origin import origin
from trueup.cli.commands.promote import promote
from trueup.cli.commands.report import report
from trueup.cli.commands.resolve import resolve
from trueup.cli.commands.restore import restore
from trueup.cli.commands.shared import shared
from trueup.cli.commands.sheet import sheet
from trueup.cli.commands.start import start
from trueup.cli.commands.style import style
from trueup.cli.commands.trace import trace
from trueup.cli.commands.tree import tree
from trueup.cli.commands.undo import undo
from trueup.cli.commands.walk import walk
from trueup.cli.failures import Misused
from trueup.cli.groups import NamedGroup
from trueup.cli.help_pages import PlainCommand
from trueup.cli.kind_group import KindGroup
from trueup.cli.options import shared as options
from trueup.cli.options.symptom_help import SymptomCommand

# As a maker meets them: begin, make, read, decide.
ORDER = (
    *("start", "demo", "draft", "trace", "derive", "style", "correct", "amend", "drop", "undo"),
    *("keep",),
    *("check", "measure", "walk", "tree", "origin", "history", "explain", "report", "export"),
    *("compare",),
    *("sheet", "book"),
    *("conflicts", "decide"),
    *("cut", "garments", "garment", "alter", "note", "resolve"),
    *("shared", "promote"),
    *("mend", "restore"),
    *("diagnose", "fit-from"),
)
WITHOUT_JSON = ("start", "demo", "undo", "keep", "export")


class VerbGroup(NamedGroup):
    """The verbs in the order a maker meets them."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Return the names of all verbs."""
        return sorted(super().list_commands(ctx), key=ORDER.index)


app = typer.Typer(cls=VerbGroup, rich_markup_mode=None, pretty_exceptions_enable=False)


@app.callback(invoke_without_command=True, subcommand_metavar="[VERB ...]")
def trueup(
    ctx: typer.Context,
    folder: options.RootFolder = None,
    as_json: options.Json = False,
    _version: options.Version = False,
) -> int:
    """Keep fitted blocks and the patterns derived from them; correct a block once, and all follow.

    Without a verb: what needs attention in the wardrobe at hand, and the next sensible command.
    One broken file hides no other: verbs that read answer for the rest, and say on stderr what
    cannot be read.
    """
    verb = ctx.invoked_subcommand
    if verb is None:
        return attention(folder, as_json)
    if as_json and verb in WITHOUT_JSON:
        raise Misused(f"`{verb}` has no answer as JSON; leave out --json.")
    return 0


def _group_of_kinds(verb: str, callback: Callable[..., Any]) -> None:
    group = typer.Typer(cls=KindGroup, rich_markup_mode=None, add_completion=False)
    group.callback(invoke_without_command=True, subcommand_metavar="KIND [OPTIONS]")(callback)
    app.add_typer(group, name=verb)


_group_of_kinds("style", style)
_group_of_kinds("correct", correct)
app.command(cls=DraftCommand)(draft)
app.command(cls=AmendCommand)(amend)
app.command(cls=SymptomCommand)(note)
app.command(cls=SymptomCommand)(diagnose)
_PLAIN_VERBS: tuple[Callable[..., Any], ...] = (
    *(start, demo, trace, derive, drop, undo, keep),
    *(check, measure, walk, tree, origin, history, explain, report, export),
    *(compare,),
    *(sheet, book),
    *(conflicts, decide),
    *(cut, garments, garment, alter, resolve),
    *(shared, promote),
    *(mend, restore),
    *(fit_from,),
)
for _verb in _PLAIN_VERBS:
    app.command(cls=PlainCommand)(_verb)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; without arguments, those of the process."""
    streams.make_safe()
    return failures.guarded(lambda: _run(arguments))


def _run(arguments: Sequence[str] | None) -> int:
    words = None if arguments is None else list(arguments)
    code = app(args=words, prog_name="trueup", standalone_mode=False)
    return code if isinstance(code, int) else 0
