"""A change as a page asks for it: where, which kind, and what is written for its parameters."""

from collections.abc import Mapping
from typing import Annotated

import msgspec

from trueup.cli.carrying_out.changing import proposed_change
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.step import Propose, TriedStep
from trueup.cli.look.written import Long, Short
from trueup.cli.proposed import made_line
from trueup.geometry.changes import ParameterType, kind_named, parameters
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Role

_BARE = frozenset("0123456789.,/ +-−½¼¾⅓⅔⅛⅜⅝⅞")

Values = Annotated[dict[Short, Short | bool], msgspec.Meta(max_length=40)]
Notes = Annotated[list[Short], msgspec.Meta(max_length=200)]


class AskedChange(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """A correction of one change, or a style change: its node, kind and values as written.

    `mends` are the ids of the fit notes that a correction is to mend.
    """

    node: Short
    kind: Short
    values: Values
    mends: Notes = []
    why: Long = ""
    is_style: bool = False

    @property
    def role(self) -> Role:
        """Return whether it is made for fit or for looks."""
        return Role.STYLE if self.is_style else Role.CORRECTION


def with_units(asked: AskedChange, unit: Unit) -> Mapping[str, str | bool]:
    """Return the values in the order of the parameters, bare numbers with the unit they are in.

    So they say the same where another unit is meant. Raises NoSuchName for a kind there is not.
    """
    types = {each.name: each.type for each in parameters(kind_named(asked.kind))}
    known = {name: asked.values[name] for name in types if name in asked.values}
    lengths = {
        name: f"{value.strip()}{unit.value}"
        for name, value in known.items()
        if types[name] is ParameterType.LENGTH
        and isinstance(value, str)
        and value.strip()
        and _BARE.issuperset(value)
    }
    return {**known, **lengths, **{n: v for n, v in asked.values.items() if n not in types}}


def command_of(desk: Desk, asked: AskedChange) -> str:
    """Return the command that makes a change."""
    verb = "style" if asked.is_style else "correct"
    values = with_units(asked, desk.source.unit)
    return made_line(desk.commands, verb, asked.node, asked.kind, values, asked.why, asked.mends)


def proposing(desk: Desk, asked: AskedChange) -> Propose:
    """Return what proposes the step of a change, with its reason and the notes it mends."""
    values = with_units(asked, desk.source.unit)
    return lambda wardrobe: proposed_change(
        *(wardrobe, asked.node, asked.kind, values, asked.role, asked.why), asked.mends
    )


def tried_change(desk: Desk, asked: AskedChange) -> TriedStep:
    """Return a change as it is tried: its reason and what it mends move nothing."""
    about = (asked.role.value, asked.kind, tuple(with_units(asked, desk.source.unit).items()))
    bare = msgspec.structs.replace(asked, mends=[], why="")
    return TriedStep(asked.node, about, proposing(desk, bare))
