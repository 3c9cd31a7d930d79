"""trueup, the command: its verbs, and the way in."""

from collections.abc import Callable, Sequence
from typing import Any

import typer

from cli import failures, options, streams
from cli.commands.alter import alter
from cli.commands.amend import AmendCommand, amend
from cli.commands.attention import attention
from cli.commands.book import book
from cli.commands.check import check
from cli.commands.compare import compare
from cli.commands.conflicts import conflicts
from cli.commands.correct import correct
from cli.commands.cut import cut
from cli.commands.decide import decide
from cli.commands.demo import demo
from cli.commands.derive import derive
from cli.commands.diagnose import diagnose
from cli.commands.draft import DraftCommand, draft
from cli.commands.drop import drop
from cli.commands.explain import explain
from cli.commands.export import export
from cli.commands.fit_from import fit_from
from cli.commands.garment import garment
from cli.commands.garments import garments
from cli.commands.history import history
from cli.commands.keep import keep
from cli.commands.measure import measure
from cli.commands.mend import mend
from cli.commands.note import note
from cli.commands.origin import origin
from cli.commands.promote import promote
from cli.commands.report import report
from cli.commands.resolve import resolve
from cli.commands.restore import restore
from cli.commands.shared import shared
from cli.commands.sheet import sheet
from cli.commands.start import start
from cli.commands.style import style
from cli.commands.trace import trace
from cli.commands.tree import tree
from cli.commands.undo import undo
from cli.commands.walk import walk
from cli.groups import NamedGroup
from cli.help_pages import PlainCommand
from cli.kind_group import KindGroup

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


class VerbGroup(NamedGroup):
    """The verbs in the order a maker meets them."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Return the names of all verbs."""
        return sorted(super().list_commands(ctx), key=ORDER.index)


app = typer.Typer(cls=VerbGroup, rich_markup_mode=None, pretty_exceptions_enable=False)


@app.callback(invoke_without_command=True, subcommand_metavar="[VERB ...]")
def trueup(
    ctx: typer.Context, folder: options.RootFolder = None, as_json: options.Json = False
) -> int:
    """Keep fitted blocks and the patterns derived from them; correct a block once, and all follow.

    Without a verb: what needs attention in the wardrobe at hand, and the next sensible command.
    One broken file hides no other: verbs that read answer for the rest, and say on stderr what
    cannot be read.
    """
    return attention(folder, as_json) if ctx.invoked_subcommand is None else 0


def _group_of_kinds(verb: str, callback: Callable[..., Any]) -> None:
    group = typer.Typer(cls=KindGroup, rich_markup_mode=None, add_completion=False)
    group.callback(invoke_without_command=True, subcommand_metavar="KIND [OPTIONS]")(callback)
    app.add_typer(group, name=verb)


_group_of_kinds("style", style)
_group_of_kinds("correct", correct)
app.command(cls=DraftCommand)(draft)
app.command(cls=AmendCommand)(amend)
_PLAIN_VERBS: tuple[Callable[..., Any], ...] = (
    *(start, demo, trace, derive, drop, undo, keep),
    *(check, measure, walk, tree, origin, history, explain, report, export),
    *(compare,),
    *(sheet, book),
    *(conflicts, decide),
    *(cut, garments, garment, alter, note, resolve),
    *(shared, promote),
    *(mend, restore),
    *(diagnose, fit_from),
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
