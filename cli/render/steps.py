"""Steps of a chain in words."""

from trueup.geometry.errors import BadLength
from trueup.geometry.units import Unit, format_length, parse_length
from trueup.lineage.files.records import StepRecord


def amounts(step: StepRecord, unit: Unit) -> str:
    """Return what a step was made with, lengths in `unit`: `piece front, by 2 cm`.

    It is told without loading what carries it out; `step_in_words` says the whole as a maker would.
    """
    return ", ".join(_told(name, value, unit) for name, value in step.values.items())


def _told(name: str, value: object, unit: Unit) -> str:
    words = name.replace("_", " ")
    return words if isinstance(value, bool) else f"{words} {_in_unit(value, unit)}"


def _in_unit(value: object, unit: Unit) -> str:
    """Return a value with its length in a unit where it is one; one bound to the body as it is."""
    text = str(value)
    if not text[-1:].isalpha():
        return text
    try:
        return format_length(parse_length(text, unit), unit)
    except BadLength:
        return text
