"""trueup, the command: the way in."""

import atexit
import gc
from collections.abc import Sequence
from typing import Any

import typer

from trueup.cli import failures, streams
from trueup.cli.failures import Misused
from trueup.cli.groups.named import NamedGroup
from trueup.cli.options import shared as options
from trueup.cli.verbs import VERBS


class VerbGroup(NamedGroup):
    """The verbs, each loaded when it is asked for, in the order a maker meets them."""

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002
        """Return the names of all verbs."""
        return list(VERBS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ARG002
        """Return the command of a verb, None when there is no such verb."""
        if cmd_name in VERBS and cmd_name not in self.commands:
            _collect_seldom()
            self.commands[cmd_name] = VERBS[cmd_name].command()
        return self.commands.get(cmd_name)

    def in_short(self, ctx: Any) -> list[tuple[str, str]]:  # noqa: ARG002
        """Return every verb with its help in one sentence, without loading it."""
        return [(name, verb.summary) for name, verb in VERBS.items()]


app = typer.Typer(cls=VerbGroup, rich_markup_mode=None, pretty_exceptions_enable=False)


@app.callback(invoke_without_command=True, subcommand_metavar="[VERB ...]")
def trueup(
    ctx: typer.Context,
    folder: options.RootFolder = None,
    as_json: options.Json = False,
    _version: options.Version = False,
) -> int:
    """Keep fitted blocks and the patterns derived from them; correct a block once, and all follow.

    A wardrobe is a folder of blocks, patterns, garments and what was measured of their wearers. A
    block is the fitted base; a pattern derives from it by steps, each a change of some kind. A step
    for fit is a correction: every pattern below follows it, and where one cannot, you are asked.

    Without a verb: what needs attention in the wardrobe at hand, and the next sensible command.
    A file that cannot be read hides no other: it is named, and all the others are answered for.

    `trueup demo` plays a sample wardrobe to look round in; `trueup VERB --help` explains a verb.
    """
    verb = ctx.invoked_subcommand
    if verb is None:
        _collect_seldom()
        from trueup.cli.commands.reading.attention import attention  # noqa: PLC0415

        return attention(folder, as_json)
    if as_json and not _answers_in_json(ctx, verb):
        raise Misused(f"`{verb}` has no answer as JSON; leave out --json.")
    return 0


def _collect_seldom() -> None:
    """Let what a verb loads not be gone over again and again."""
    from trueup.lineage.evaluation.collecting import collect_seldom  # noqa: PLC0415  (not for help)

    collect_seldom()


def _answers_in_json(ctx: Any, verb: str) -> bool:
    command = ctx.command.get_command(ctx, verb)
    return any("--json" in each.opts for each in command.get_params(ctx))


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; without arguments, those of the process."""
    if arguments is None:
        # What ends with the process need not be gone over for circles once more: a sixth of a verb.
        atexit.register(gc.freeze)
    streams.make_safe()
    return failures.guarded(lambda: _run(arguments))


def _run(arguments: Sequence[str] | None) -> int:
    words = None if arguments is None else list(arguments)
    code = app(args=words, prog_name="trueup", standalone_mode=False)
    return code if isinstance(code, int) else 0
