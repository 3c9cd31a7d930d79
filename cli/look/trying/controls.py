"""The controls by which a kind of change is tried, from its parameters as they are declared."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trueup.cli.look.trying.acting_on import TRIED_BY
from trueup.geometry.changes import Change, Parameter, ParameterType, parameters
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit, format_length, in_unit

_STEPS: Mapping[Unit, float] = {Unit.MILLIMETRE: 1.0, Unit.CENTIMETRE: 0.1, Unit.INCH: 0.0625}
"""By how much a key of the keyboard moves a length: what is easily seen on a tape."""

_AROUND = 30.0  # mm to both sides of where a slider starts, where nothing is recommended
_NARROW = 160.0  # mm; a range that is declared no wider is shown whole


@dataclass(frozen=True)
class Slider:
    """Between which lengths a slider goes, by which steps, in the wardrobe's unit."""

    low: float
    high: float
    step: float


@dataclass(frozen=True)
class Control:
    """One control: the parameter it sets, what it is, how it starts and what there is to choose.

    `shape` is what is drawn: `length`, `choice`, `flag` or `text`. With `options` of a text they
    are offered and others may be written.
    """

    name: str
    label: str
    help: str
    shape: str
    required: bool
    start: str
    default: str
    options: tuple[str, ...] = ()
    slider: Slider | None = None


def controls(
    cls: type[Change], draft: Draft, places: Mapping[str, str], unit: Unit
) -> tuple[Control, ...]:
    """Return the controls of a kind on a draft, with places filled in."""
    return tuple(_controls(cls, draft, places, unit))


def _controls(
    cls: type[Change], draft: Draft, places: Mapping[str, str], unit: Unit
) -> Iterator[Control]:
    for each in parameters(cls):
        default = _default(each, unit)
        start = places.get(each.name, default)
        slider = None
        if each.type is ParameterType.LENGTH:
            mm = each.default if isinstance(each.default, int | float) else None
            shown = mm if mm is not None else min(max(TRIED_BY, each.low or 0.0), each.high or 1e3)
            slider = _slider(each, shown, unit)
            if each.required:
                start = written(shown, unit)
        yield Control(
            each.name,
            each.name.replace("_", " "),
            each.help,
            _shape(each),
            each.required,
            start,
            default,
            _options(each, draft, places),
            slider,
        )


def written(mm: float, unit: Unit) -> str:
    """Return a length as it is written into its control, without the unit, which stands beside.

    >>> written(12.0, Unit.CENTIMETRE), written(12.7, Unit.INCH)
    ('1.2', '1/2')
    """
    return format_length(mm, unit).removesuffix(unit.value).strip()


def _shape(parameter: Parameter) -> str:
    match parameter.type:
        case ParameterType.LENGTH:
            return "length"
        case ParameterType.FLAG:
            return "flag"
    is_chosen = parameter.of in ("edge", "dart", "piece", "seam") or bool(parameter.choices)
    return "choice" if parameter.type is ParameterType.NAME and is_chosen else "text"


def _default(parameter: Parameter, unit: Unit) -> str:
    if parameter.default is None or parameter.default is False:
        return ""
    if parameter.type is ParameterType.LENGTH:
        return written(float(parameter.default), unit)
    return str(parameter.default)


def _options(parameter: Parameter, draft: Draft, places: Mapping[str, str]) -> tuple[str, ...]:
    known: dict[str, Sequence[str]] = {
        "edge": draft.edge_names,
        "dart": draft.dart_names,
        "piece": draft.piece_names,
        "seam": [seam.name for seam in draft.seams],
    }
    if parameter.type is ParameterType.POSITION:
        line = places.get(parameter.of, "")
        if line not in draft.edge_names:
            return ()
        edge = draft.edge(*draft.split_edge_name(line))
        return tuple(f"50% from {corner}" for corner in (edge.starts_at, edge.ends_at))
    found = [*parameter.choices]
    if parameter.type is ParameterType.NAME and not found:
        found += known.get(parameter.of, ())
    given = places.get(parameter.name) or _text(parameter.default)
    if found and given and given not in found:
        found.insert(0, given)
    return tuple(map(str, found))


def _text(default: object) -> str:
    return default if isinstance(default, str) else ""


def _slider(parameter: Parameter, shown: float, unit: Unit) -> Slider:
    step = _STEPS[unit]
    low, high = parameter.low or 0.0, parameter.high or 0.0
    if high - low > _NARROW:
        most = parameter.most
        around = max(_AROUND, abs(shown), 1.5 * most.more if most else 0.0)
        low, high = max(low, shown - around), min(high, shown + around)
    steps = [round(in_unit(each, unit) / step) for each in (low, high)]
    return Slider(steps[0] * step, steps[1] * step, step)
