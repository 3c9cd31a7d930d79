"""A recorded step as a maker would say it."""

from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.files.records import StepRecord


def step_in_words(step: StepRecord, unit: Unit) -> str:
    """Return what a step does in words, lengths in `unit`.

    A step of a kind or with values this program does not know is told as its file has it.
    """
    # The kinds of change are loaded, and all geometry with them, with the first step that is told.
    from trueup.lineage.evaluation.steps import change_of  # noqa: PLC0415

    try:
        return change_of(step, unit).in_words(unit)
    except GeometryError:
        values = ", ".join(f"{name} {value}" for name, value in step.values.items())
        return f"{step.kind} ({values})" if values else step.kind
