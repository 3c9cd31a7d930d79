"""The parameters of a kind of change: how they are declared, read from texts and written."""

import dataclasses
import math
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from enum import StrEnum
from typing import Any, cast

from trueup.geometry.changes.base import Change
from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit, parse_length, write_length


class ParameterType(StrEnum):
    """What a parameter holds, and so how it is written and read."""

    LENGTH = "length"
    POSITION = "position"
    NAME = "name"
    FLAG = "flag"
    TEXT = "text"
    NUMBER = "number"


@dataclass(frozen=True)
class Parameter:
    """One parameter of a kind: its name (as an option and in files), type, help and default.

    `of` says what a name names (dart, edge, piece, seam), and what a position lies on: the name of
    an edge, or that of the parameter which names it. Empty for everything else.
    """

    name: str
    type: ParameterType
    help: str
    required: bool
    default: Any
    choices: tuple[str, ...]
    of: str = ""


# --- declaring parameters -------------------------------------------------------------------------


def _declared(type_: ParameterType, help_: str, default: Any, **more: Any) -> Any:
    metadata = {"type": type_, "help": help_, **more}
    return dataclasses.field(default=default, metadata=metadata)


def length(
    help: str,
    default: Any = MISSING,
    *,
    low: float = -1000.0,
    high: float = 1000.0,
    zero: bool = True,
) -> Any:
    """Declare a length parameter in mm, allowed between `low` and `high`; `zero` may be refused."""
    return _declared(ParameterType.LENGTH, help, default, low=low, high=high, zero=zero)


def position(help: str, default: Any = MISSING, *, on: str) -> Any:
    """Declare a position along an edge, or along the one that the parameter `on` names."""
    return _declared(ParameterType.POSITION, help, default, of=on)


def name(help: str, default: Any = MISSING, *, of: str = "", choices: tuple[str, ...] = ()) -> Any:
    """Declare a name, `of` a piece, an edge, a dart or a seam, or one of a few words."""
    return _declared(ParameterType.NAME, help, default, of=of, choices=choices)


def text(help: str, default: Any = MISSING) -> Any:
    """Declare a free text that the kind itself reads (and checks when the record is made)."""
    return _declared(ParameterType.TEXT, help, default)


def flag(help: str) -> Any:
    """Declare a yes-or-no parameter that is no unless said."""
    return _declared(ParameterType.FLAG, help, False)


def number(help: str, default: Any = MISSING, *, low: float, high: float) -> Any:
    """Declare a plain number (a share, degrees) between `low` and `high`."""
    return _declared(ParameterType.NUMBER, help, default, low=low, high=high)


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
        )
        for field in dataclasses.fields(cast(Any, cls))
    )


def require_one_of(change: Change, first: str, second: str) -> None:
    """Raise BadParameter unless exactly one of two parameters of a change is given."""
    given = [name for name in (first, second) if getattr(change, name) is not None]
    if not given:
        raise BadParameter(first, "left out", said("give-either", first=first, second=second))
    if len(given) > 1:
        raise BadParameter(first, f"given beside {second}", said("give-one"))


# --- reading and writing --------------------------------------------------------------------------


def read_change(cls: type[Change], values: Mapping[str, Any], unit: Unit) -> Change:
    """Return the change of a kind from written values (texts, numbers, true or false).

    A bare number of a length takes `unit`. Raises BadParameter naming the parameter for one that
    is missing, unknown or out of range; BadLength or BadPosition for a text that does not parse.
    """
    known = {field.name: field for field in dataclasses.fields(cast(Any, cls))}
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
        read[field_name] = _read_value(field_name, field, value, unit)
    return cls(**read)


def _hint(field: "dataclasses.Field[Any]") -> str:
    return str(field.metadata["help"])


def _read_value(name_: str, field: "dataclasses.Field[Any]", value: Any, unit: Unit) -> Any:
    match field.metadata["type"]:
        case ParameterType.LENGTH:
            return _in_range(name_, field, parse_length(str(value), unit), is_length=True)
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
    if choices and value not in choices:
        raise BadParameter(name_, value, said("one-of", choices=", ".join(choices)))
    return value


def write_change(change: Change) -> dict[str, Any]:
    """Return the parameters of a change as a file holds them; those at their default left out."""
    written: dict[str, Any] = {}
    for field in dataclasses.fields(cast(Any, change)):
        value = getattr(change, field.name)
        if field.default is not MISSING and value == field.default:
            continue
        match field.metadata["type"]:
            case ParameterType.LENGTH:
                written[field.name] = write_length(value)
            case ParameterType.POSITION:
                written[field.name] = str(value)
            case _:
                written[field.name] = value
    return written
