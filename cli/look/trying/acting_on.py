"""Which kinds of change can act on a line, found by trying each of them on the draft."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, product

from trueup.geometry.changes import Change, Parameter, ParameterType, kinds, parameters, read_change
from trueup.geometry.errors import CannotChange, GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

TRIED_BY = 5.0
"""The amount a change is tried by and first shown with, mm: seen at once, and rarely refused."""

_HALFWAY = "50% from {}"
_MOST_TRIED = 12  # ways to fill one kind in


@dataclass(frozen=True)
class ActsOn:
    """A kind of change that acts on a line: by which places, and whether it is meant to.

    `places` are written as its options have them, by the names of its parameters.
    """

    kind: str
    places: Mapping[str, str]
    is_meant: bool


def acting_on(draft: Draft, line: str, unit: Unit) -> tuple[ActsOn, ...]:
    """Return the kinds that change an edge, written `piece.edge`, first those that are meant to.

    Those that name the edge and need more than could be filled in are among them, and those that
    could only not be done by the amount they were tried by. Raises NoSuchName.
    """
    piece, edge = draft.split_edge_name(line)
    found = []
    for name, cls in kinds().items():
        acts = _acts(name, cls, draft, piece, edge, unit)
        if acts is not None:
            found.append(acts)
    return tuple(sorted(found, key=lambda each: not each.is_meant))


def _acts(
    name: str, cls: type[Change], draft: Draft, piece: str, edge: str, unit: Unit
) -> ActsOn | None:
    line = f"{piece}.{edge}"
    needed = [each for each in parameters(cls) if each.required or each.of == "edge"]
    named = next((each.name for each in needed if each.of == "edge"), None)
    needed = [each for each in needed if each.required or each.name == named]
    ways = [_ways(each, draft, piece, edge, named) for each in needed]
    whole = all(ways)
    known = [(each, way) for each, way in zip(needed, ways, strict=True) if way]
    for way in islice(product(*(way for _, way in known)), _MOST_TRIED):
        values = {each.name: text for (each, _), text in zip(known, way, strict=True)}
        places = {each.name: values[each.name] for each, _ in known if _is_place(each)}
        if not whole:
            return ActsOn(name, places, is_meant=False) if named else None
        acts, is_meant = _tried(cls, values, draft, line, unit, is_named=named is not None)
        if acts:
            return ActsOn(name, places, is_meant)
    return None


def _tried(
    cls: type[Change],
    values: Mapping[str, str],
    draft: Draft,
    line: str,
    unit: Unit,
    *,
    is_named: bool,
) -> tuple[bool, bool]:
    """Return whether a change acts on a line, and whether it is meant to."""
    try:
        change = read_change(cls, values, unit)
        after = change.apply(draft)
        told = [*change.meant(draft), *change.drawn(draft)]
        if not is_named:
            told.append(f"{line.partition('.')[0]}.{change.place(draft)[1]}")
        acts = after.edge(*line.split(".", 1)) is not draft.edge(*line.split(".", 1))
    except CannotChange:
        return is_named, False
    except (GeometryError, TypeError, ValueError):
        return False, False
    return acts, acts and any(f"{each}.".startswith(f"{line}.") for each in told)


def _ways(
    parameter: Parameter, draft: Draft, piece: str, edge: str, named: str | None
) -> Sequence[str]:
    """Return what a parameter may be filled in with, most likely first; nothing where unknown."""
    match parameter.type:
        case ParameterType.LENGTH:
            return (f"{_within(TRIED_BY, parameter):g}mm",)
        case ParameterType.NUMBER:
            return (f"{_within(1.0, parameter):g}",)
        case ParameterType.POSITION:
            starts = draft.edge(piece, edge).starts_at
            return (_HALFWAY.format(starts),) if parameter.of in (named, edge) else ()
        case ParameterType.NAME:
            return tuple(_names(parameter, draft, piece, edge, named))
    return ()


def _names(
    parameter: Parameter, draft: Draft, piece: str, edge: str, named: str | None
) -> Iterator[str]:
    if parameter.of == "edge" and parameter.name == named:
        yield f"{piece}.{edge}"
    elif parameter.of == "dart":
        own = [each for each in draft.dart_names if each.partition(".")[0] == piece]
        opens = {f"{piece}.{mouth.dart.name}" for mouth in draft.edge(piece, edge).mouths}
        yield from sorted(own, key=lambda each: each not in opens)
    elif parameter.of == "piece":
        likely = [piece] if piece in parameter.choices or not parameter.choices else []
        yield from dict.fromkeys((*likely, *parameter.choices))
    elif parameter.choices:
        yield parameter.choices[0]


def _is_place(parameter: Parameter) -> bool:
    return parameter.type in (ParameterType.NAME, ParameterType.POSITION)


def _within(wanted: float, parameter: Parameter) -> float:
    low = parameter.low if parameter.low is not None else wanted
    high = parameter.high if parameter.high is not None else wanted
    return min(max(wanted, low), high)
