"""Steps of a chain in words."""

from collections.abc import Mapping

from trueup.cli.wording.kinds import made_in_words
from trueup.cli.wording.spoken.places import place_in_words
from trueup.geometry.errors import BadLength
from trueup.geometry.units import Unit, format_length, parse_length
from trueup.lineage.files.records import StepRecord


def what_and_amounts(step: StepRecord, unit: Unit) -> tuple[str, str]:
    """Return what a step does as its kind is said, and what it was made with.

    An amount whose sign is in the words already is told without it.
    """
    what, by = made_in_words(step.kind, step.values.get("by"))
    told = {name: by if name == "by" else value for name, value in step.values.items()}
    return what, _amounts(told, unit)


def _amounts(values: Mapping[str, object], unit: Unit) -> str:
    return ", ".join(_told(name, value, unit) for name, value in values.items())


def _told(name: str, value: object, unit: Unit) -> str:
    words, told = name.replace("_", " "), _in_unit(value, unit)
    if isinstance(value, bool):
        return words
    return told if told.startswith("right at") else f"{words} {told}"


def _in_unit(value: object, unit: Unit) -> str:
    """Return a value with its length in a unit where it is one; one bound to the body as it is."""
    text = str(value)
    place = place_in_words(text, unit)
    if place != text or not text[-1:].isalpha():
        return place
    try:
        return format_length(parse_length(text, unit), unit)
    except BadLength:
        return text
