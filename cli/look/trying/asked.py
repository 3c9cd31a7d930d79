"""A correction as a page asks for it: where, which kind, and what is written for its parameters."""

from collections.abc import Mapping
from typing import Annotated

import msgspec

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.written import Long, Short
from trueup.cli.proposed import made_line
from trueup.geometry.changes import ParameterType, kind_named, parameters
from trueup.geometry.units import Unit

_BARE = frozenset("0123456789.,/ +-−½¼¾⅓⅔⅛⅜⅝⅞")

Values = Annotated[dict[Short, Short | bool], msgspec.Meta(max_length=40)]
Notes = Annotated[list[Short], msgspec.Meta(max_length=200)]


class AskedCorrection(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """A correction of one change: its node, kind and values as they were written.

    `mends` are the ids of the fit notes that it is to mend.
    """

    node: Short
    kind: Short
    values: Values
    mends: Notes = []
    why: Long = ""


def with_units(asked: AskedCorrection, unit: Unit) -> Mapping[str, str | bool]:
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


def command_of(desk: Desk, asked: AskedCorrection) -> str:
    """Return the command that makes a correction."""
    values = with_units(asked, desk.source.unit)
    return made_line(desk.commands, asked.node, asked.kind, values, asked.why, asked.mends)
