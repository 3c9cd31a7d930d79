"""The parameters of a kind of change: which there are, read from texts and written."""

import dataclasses
import math
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from functools import cache
from typing import Any

from trueup.geometry.amounts import (
    NO_BODY,
    Body,
    BoundLength,
    bound_in,
    read_length,
    written_length,
)
from trueup.geometry.changes.base import Change, kind_named
from trueup.geometry.changes.declaring import Most, ParameterType
from trueup.geometry.errors import BadParameter, GeometryError, NoSuchName
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@dataclass(frozen=True)
class Parameter:
    """One parameter of a kind: its name (as an option and in files), type, help and default.

    `of` says what a name names (dart, edge, piece, seam), and what a position lies on: the name of
    an edge, or that of the parameter which names it. Empty for everything else. `low` and `high`
    are between which an amount is taken, mm or a plain number; `most` is the most of it that is
    recommended.
    """

    name: str
    type: ParameterType
    help: str
    required: bool
    default: Any
    choices: tuple[str, ...]
    of: str = ""
    most: Most | None = None
    low: float | None = None
    high: float | None = None


@cache
def fields_of(cls: Any) -> tuple["dataclasses.Field[Any]", ...]:
    """Return the fields of a kind: its own in the order they were declared, then those of all."""
    return tuple(sorted(dataclasses.fields(cls), key=lambda f: bool(f.metadata.get("last"))))


def parameters(cls: type[Change]) -> tuple[Parameter, ...]:
    """Return the parameters of a kind in the order they were declared."""
    return tuple(
        Parameter(
            field.name,
            field.metadata["type"],
            field.metadata["help"],
            field.default is MISSING,
            None if field.default is MISSING else field.default,
            field.metadata.get("choices", ()),
            field.metadata.get("of", ""),
            field.metadata.get("most"),
            field.metadata.get("low"),
            field.metadata.get("high"),
        )
        for field in fields_of(cls)
    )


def bound_lengths(kind: str, version: int, values: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the names of the lengths among a change's written values that are bound to the body.

    None of a kind or version that is not known.
    """
    may_be = bound_in(values)
    if not may_be:
        return ()
    try:
        known = parameters(kind_named(kind, version))
    except GeometryError:
        return ()
    lengths = [each.name for each in known if each.type is ParameterType.LENGTH]
    return tuple(name for name in may_be if name in lengths)


def require_one_of(change: Change, first: str, second: str) -> None:
    """Raise BadParameter unless exactly one of two parameters of a change is given."""
    given = [name for name in (first, second) if getattr(change, name) is not None]
    if not given:
        raise BadParameter(first, "left out", said("give-either", first=first, second=second))
    if len(given) > 1:
        raise BadParameter(first, f"given beside {second}", said("give-one"))


# --- reading and writing --------------------------------------------------------------------------


def read_change(
    cls: type[Change], values: Mapping[str, Any], unit: Unit, body: Body = NO_BODY
) -> Change:
    """Return the change of a kind from written values (texts, numbers, true or false).

    A bare number of a length takes `unit`, one that is bound comes to what it does on a `body`.
    Raises BadParameter naming the parameter for one that is missing, unknown or out of range;
    BadLength or BadPosition for a text that does not parse.
    """
    known = {field.name: field for field in fields_of(cls)}
    for given in values:
        if given not in known:
            raise NoSuchName("parameter", given, cls.kind, tuple(known))
    read: dict[str, Any] = {}
    for field_name, field in known.items():
        value = values.get(field_name)
        if value is None:
            if field.default is MISSING:
                remedy = said("kind-needs", kind=cls.kind, help=_hint(field))
                raise BadParameter(field_name, "left out", remedy)
            continue
        read[field_name] = _read_value(field_name, field, value, unit, body)
    return cls(**read)


def _hint(field: "dataclasses.Field[Any]") -> str:
    return str(field.metadata["help"])


def _read_value(
    name_: str, field: "dataclasses.Field[Any]", value: Any, unit: Unit, body: Body
) -> Any:
    match field.metadata["type"]:
        case ParameterType.LENGTH:
            return _in_range(name_, field, read_length(str(value), unit, body), is_length=True)
        case ParameterType.NUMBER:
            return _in_range(name_, field, _plain_number(name_, value), is_length=False)
        case ParameterType.POSITION:
            return Position.parse(str(value), unit)
        case ParameterType.FLAG:
            if not isinstance(value, bool):
                raise BadParameter(name_, value, said("true-or-false"))
            return value
        case _:
            return _one_of(name_, field, value)


def _plain_number(name_: str, value: Any) -> float:
    try:
        return float(value)
    except (TypeError, ValueError):
        raise BadParameter(name_, value, said("plain-number")) from None


def _in_range(
    name_: str, field: "dataclasses.Field[Any]", value: float, *, is_length: bool
) -> float:
    low, high = field.metadata["low"], field.metadata["high"]
    if not (math.isfinite(value) and low <= value <= high):
        if is_length:
            between = said("between", low=low, high=high)
            raise BadParameter(name_, said("length", mm=value), between)
        numbers = said("between-numbers", low=f"{low:g}", high=f"{high:g}")
        raise BadParameter(name_, f"{value:g}", numbers)
    if value == 0 and not field.metadata.get("zero", True):
        raise BadParameter(name_, "nothing", said("changes-nothing"))
    return value


def _one_of(name_: str, field: "dataclasses.Field[Any]", value: Any) -> str:
    if not isinstance(value, str):
        raise BadParameter(name_, value, said("is-a-name"))
    choices = field.metadata.get("choices", ())
    # Which pieces there are, only a draft knows: those named are of a bodice with its sleeve.
    if choices and value not in choices and field.metadata.get("of") != "piece":
        raise BadParameter(name_, value, said("one-of", choices=", ".join(choices)))
    return value


def write_change(change: Change) -> dict[str, Any]:
    """Return the parameters of a change as a file holds them; those at their default left out."""
    written: dict[str, Any] = {}
    for field in fields_of(change):
        value = getattr(change, field.name)
        is_default = field.default is not MISSING and value == field.default
        if is_default and not isinstance(value, BoundLength):
            continue
        match field.metadata["type"]:
            case ParameterType.LENGTH:
                written[field.name] = written_length(value)
            case ParameterType.POSITION:
                written[field.name] = str(value)
            case _:
                written[field.name] = value
    return written
