"""A recorded step as a maker would say it."""

from trueup.geometry.amounts import NO_BODY, Body
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.files.records import StepRecord


def step_in_words(step: StepRecord, unit: Unit, body: Body = NO_BODY) -> str:
    """Return what a step does in words, lengths in `unit`.

    Where amounts are bound to the `body`, what they come to is told with how they are written. A
    step of a kind or with values this program does not know is told as its file has it.
    """
    # The kinds of change are loaded, and all geometry with them, with the first step that is told.
    from trueup.geometry.changes import bound_lengths  # noqa: PLC0415
    from trueup.lineage.evaluation.steps import change_of  # noqa: PLC0415

    try:
        words = change_of(step, unit, body).in_words(unit)
        names = bound_lengths(step.kind, step.version, step.values)
        bound = [f"{name}: {step.values[name]}" for name in names]
        return f"{words} ({', '.join(bound)})" if bound else words
    except GeometryError:
        values = ", ".join(f"{name} {value}" for name, value in step.values.items())
        return f"{step.kind} ({values})" if values else step.kind
