"""What every kind of change has: its name, its parameters, and a pure function on drafts."""

import dataclasses
import math
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass
from enum import StrEnum
from typing import Any, ClassVar, cast

from trueup.geometry.changes.wording import worded
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.cloth_left import narrowed
from trueup.geometry.measuring.fairness import unfairness
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import dart_in_the_way, inner_darts_lie_free
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
    """One parameter of a kind: its name (as an option and in files), type, help and default."""

    name: str
    type: ParameterType
    help: str
    required: bool
    default: Any
    choices: tuple[str, ...]


class Change(ABC):
    """One change of one kind: a frozen record of parameters and a pure function on drafts.

    Lengths among the parameters are mm. The docstring of a kind is its text in the reference.
    """

    kind: ClassVar[str]
    version: ClassVar[int]
    phrases: ClassVar[tuple[str, ...]] = ()
    """How a maker says it where the kind's name is not enough: plainly, then for a negative `by`
    if that has a word of its own."""

    @abstractmethod
    def apply(self, draft: Draft) -> Draft:
        """Return the draft after the change.

        Raises NoSuchName when it names something the draft does not have, CannotChange when the
        geometry cannot take its amounts.
        """

    @abstractmethod
    def meant(self, draft: Draft) -> tuple[str, ...]:
        """Return the names of the measures this change is meant to change on this draft."""

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        """Return the names of the forms it is made to change, if it is any.

        They are those of `measuring/forms.py`.

        A change that draws a line is judged by how far the line moved, not by a measure.
        """
        return ()

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        """Return the names of measures that follow from it and are worth showing."""
        return ()

    def in_words(self, unit: Unit) -> str:
        """Return what it does as a maker would say it, lengths in `unit`."""
        if not self.phrases:
            return worded(self, self.kind.replace("-", " "), unit)
        amount = getattr(self, "by", None) or 0.0
        has_word = amount < 0 and len(self.phrases) > 1
        return worded(self, self.phrases[has_word], unit, abs(amount) if has_word else None)

    @property
    def trues(self) -> bool:
        """Return whether it makes one line fit another as that comes, instead of by an amount.

        Such a change takes up a correction from above by itself, and made twice it does no more
        than made once.
        """
        return False

    def opposes(self, other: "Change") -> bool:
        """Return whether another change of the same kind does the reverse of this one."""
        mine, theirs = self._amount(), other._amount()
        return mine * theirs < 0

    def _amount(self) -> float:
        amount = getattr(self, "by", None)
        return float(amount) if isinstance(amount, int | float) else 1.0

    def same_place(self, other: "Change") -> bool:
        """Return whether another change is of this kind and on the same piece, edge or dart."""
        places = ("piece", "edge", "dart")
        return self.kind == other.kind and all(
            getattr(self, place, None) == getattr(other, place, None) for place in places
        )


KINDS: dict[tuple[str, int], type[Change]] = {}


def kind(
    name: str, version: int = 1, *, unfinished: int | None = None
) -> Callable[[type[Change]], type[Change]]:
    """Register a kind of change under its name and version; a second one of both is a mistake.

    `unfinished` is an earlier version that drew the same lines and left them as they came: with all
    the curves they were drawn of, and whether fair or not.
    """

    def register(cls: type[Change]) -> type[Change]:
        made = _entered(cls, name, version)
        if unfinished is not None:
            earlier = type(
                cls.__name__, (cls,), {"finished": False, "fair": False, "__doc__": cls.__doc__}
            )
            _entered(earlier, name, unfinished)
        return made

    return register


def _entered(cls: type[Change], name: str, version: int) -> type[Change]:
    if (name, version) in KINDS:
        raise TypeError(f"the kind {name} version {version} is registered twice")
    cls.kind, cls.version = name, version
    frozen = dataclass(frozen=True, kw_only=True)(cls)
    KINDS[name, version] = frozen
    return frozen


def kinds() -> dict[str, type[Change]]:
    """Return the newest version of every kind, by name in alphabetical order."""
    return {name: KINDS[name, version] for name, version in sorted(KINDS)}


def kind_named(name: str, version: int | None = None) -> type[Change]:
    """Return a kind by name, the newest unless a version is asked for; raises NoSuchName."""
    newest = kinds()
    if name not in newest:
        raise NoSuchName("kind of change", name, "trueup", tuple(newest))
    if version is None:
        return newest[name]
    if (name, version) not in KINDS:
        known = tuple(str(v) for n, v in KINDS if n == name)
        raise NoSuchName("version", str(version), f"the kind {name}", known)
    return KINDS[name, version]


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


def position(help: str, default: Any = MISSING) -> Any:
    """Declare a position along an edge."""
    return _declared(ParameterType.POSITION, help, default)


def name(help: str, default: Any = MISSING, *, choices: tuple[str, ...] = ()) -> Any:
    """Declare the name of a piece, edge or dart, or one of a few words."""
    return _declared(ParameterType.NAME, help, default, choices=choices)


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
        )
        for field in dataclasses.fields(cast(Any, cls))
    )


def require_one_of(change: Change, first: str, second: str) -> None:
    """Raise BadParameter unless exactly one of two parameters of a change is given."""
    given = [name for name in (first, second) if getattr(change, name) is not None]
    if not given:
        raise BadParameter(first, "left out", f"give {first} or {second}")
    if len(given) > 1:
        raise BadParameter(first, f"given beside {second}", "give one of the two")


def require_simple(change: Change, piece: Piece, edge: str, amount: float) -> None:
    """Raise CannotChange when the outline of a changed piece crosses itself or an inner dart."""
    if piece.is_simple and inner_darts_lie_free(piece):
        return
    dart = dart_in_the_way(piece)
    met = f"run over the dart {dart}" if dart else "make the outline cross itself"
    reason = f"an amount of {amount:g} mm would {met}"
    raise CannotChange(change.kind, piece.name, edge, reason, "use a smaller amount", dart=dart)


def require_fair(change: Change, before: Piece, after: Piece, edge: str) -> None:
    """Raise CannotChange when an edge was given a wave or a tight bend that no maker would cut."""
    trouble = unfairness(before.edge(edge), after.edge(edge))
    if trouble:
        raise CannotChange(change.kind, after.name, edge, trouble, "use a smaller amount")


def require_cloth(change: Change, before: Piece, after: Piece, edge: str) -> None:
    """Raise CannotChange when a change left too little cloth between two lines of a piece."""
    gap = narrowed(before, after)
    if gap:
        reason = f"only {gap.left:.1f} mm of cloth would be left between {gap.between(after)}"
        possible = "use a smaller amount"
        raise CannotChange(change.kind, after.name, edge, reason, possible, dart=gap.dart)


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
                raise BadParameter(field_name, "left out", f"{cls.kind} needs it: {_hint(field)}")
            continue
        read[field_name] = _read_value(field_name, field, value, unit)
    return cls(**read)


def _hint(field: "dataclasses.Field[Any]") -> str:
    return str(field.metadata["help"])


def _read_value(name_: str, field: "dataclasses.Field[Any]", value: Any, unit: Unit) -> Any:
    match field.metadata["type"]:
        case ParameterType.LENGTH:
            return _in_range(name_, field, parse_length(str(value), unit), " mm")
        case ParameterType.NUMBER:
            return _in_range(name_, field, _plain_number(name_, value), "")
        case ParameterType.POSITION:
            return Position.parse(str(value), unit)
        case ParameterType.FLAG:
            if not isinstance(value, bool):
                raise BadParameter(name_, value, "it is true or false")
            return value
        case _:
            return _one_of(name_, field, value)


def _plain_number(name_: str, value: Any) -> float:
    try:
        return float(value)
    except (TypeError, ValueError):
        raise BadParameter(name_, value, "it is a plain number") from None


def _in_range(name_: str, field: "dataclasses.Field[Any]", value: float, unit: str) -> float:
    low, high = field.metadata["low"], field.metadata["high"]
    if not (math.isfinite(value) and low <= value <= high):
        raise BadParameter(name_, f"{value:g}{unit}", f"it lies between {low:g} and {high:g}{unit}")
    if value == 0 and not field.metadata.get("zero", True):
        raise BadParameter(name_, "nothing", "an amount of 0 would change nothing")
    return value


def _one_of(name_: str, field: "dataclasses.Field[Any]", value: Any) -> str:
    if not isinstance(value, str):
        raise BadParameter(name_, value, "it is a name")
    choices = field.metadata.get("choices", ())
    if choices and value not in choices:
        raise BadParameter(name_, value, f"it is one of {', '.join(choices)}")
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
