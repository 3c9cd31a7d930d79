"""The kinds of change as sub-commands of `style` and `correct`, made from the registry."""

from collections.abc import Callable, Sequence
from typing import Any

import typer

from trueup.cli.carrying_out.changing import proposed_change
from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.groups.named import NamedGroup
from trueup.cli.options import kinds as kind_options
from trueup.cli.options import shared as options
from trueup.cli.options.made import as_command, keyword
from trueup.geometry.changes import kind_named, kinds, parameters
from trueup.lineage.files.records import Role


class KindGroup(NamedGroup):
    """The group under a verb that takes a node and a kind of change."""

    thing = "kind of change"
    heading = "Kinds of change"

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002
        """Return the names of all kinds."""
        return list(kinds())

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ARG002
        """Return the command of a kind, None when there is no such kind."""
        if cmd_name not in kinds():
            return None
        if cmd_name not in self.commands:
            self.commands[cmd_name] = _kind_command(cmd_name, str(self.name))
        return self.commands[cmd_name]

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Take the verb's own options after the node as well: `correct PATTERN --from FILE`."""
        if args and not args[0].startswith("-"):
            end = self._end_of_options(ctx, args)
            args = [*args[1:end], args[0], *args[end:]]
        return super().parse_args(ctx, args)

    def _end_of_options(self, ctx: Any, args: list[str]) -> int:
        flags = {
            name: each.is_flag
            for each in self.get_params(ctx)
            if hasattr(each, "is_flag")
            for name in each.opts
        }
        index = 1
        while index < len(args):
            name, has_value, _ = args[index].partition("=")
            if name not in flags:
                break
            index += 1 if flags[name] or has_value else 2
        return min(index, len(args))


def group_of_kinds(run: Callable[..., Any]) -> Any:
    """Return the group under a verb, whose own options a function takes."""
    group = typer.Typer(cls=KindGroup, rich_markup_mode=None, add_completion=False)
    group.info.name = run.__name__
    group.callback(invoke_without_command=True, subcommand_metavar="KIND [OPTIONS]")(run)
    return typer.main.get_command(group)


def _kind_command(name: str, verb: str) -> Any:
    """Return the command that makes a change of a kind, as a style change or a correction."""
    cls = kind_named(name)

    def run(ctx: Any, why: str, preview: bool, as_json: bool, folder: Any, **given: Any) -> int:
        mends = given.pop("mends", None) or options.given_above(ctx, "mends") or ()
        is_preview = preview or bool(options.given_above(ctx, "preview"))
        manner = Manner(folder, is_preview, as_json, given.pop("cluster", None))
        values = kind_options.given_values(given)
        node = str(options.given_above(ctx, "node"))
        reason = why or options.given_above(ctx, "why") or ""
        return _make(node, name, values, verb, reason, mends, manner)

    own = [kind_options.of_kind(each) for each in parameters(cls)]
    shared = [
        keyword("why", options.Why, ""),
        keyword("preview", options.Preview, False),
        keyword("as_json", options.Json, False),
        keyword("folder", options.Folder),
    ]
    if verb == "correct":
        shared.insert(1, keyword("mends", options.Mends))
        shared.append(keyword("cluster", options.Cluster))
    about = kind_options.as_typed(cls.__doc__ or "", parameters(cls))
    return as_command(run, name, about, [*own, *shared], kind_options.how_written(own))


def _make(
    node: str,
    kind: str,
    values: dict[str, Any],
    verb: str,
    why: str,
    mends: Sequence[str],
    manner: Manner,
) -> int:
    role = Role.CORRECTION if verb == "correct" else Role.STYLE
    return carry_out(
        manner, lambda wardrobe: proposed_change(wardrobe, node, kind, values, role, why, mends)
    )
