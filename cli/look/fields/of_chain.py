"""The fields that name a step of a chain, and those that hold its amounts."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from trueup.cli.book.templating import page
from trueup.cli.failures import Misused
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.became import TEMPLATES
from trueup.geometry.changes import Parameter, ParameterType, kind_named, parameters
from trueup.geometry.errors import GeometryError
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.files.records import StepRecord


@dataclass(frozen=True)
class _Amount:
    """An option of a step: what it is called, its help, what it is, and whether it is a flag."""

    option: str
    label: str
    help: str
    now: str
    is_flag: bool


@dataclass(frozen=True)
class _Step:
    """A step of a chain in words, with its options."""

    id: str
    words: str
    amounts: tuple[_Amount, ...]


def drop_form(desk: Desk, node: str) -> Markup:
    """Return the fields that name a step to take out; raises NoSuchNode, Misused without any."""
    return page("drop_form.html", TEMPLATES, steps=list(_steps(desk, node)))


def amend_form(desk: Desk, node: str) -> Markup:
    """Return the fields of every step's amounts; raises NoSuchNode, Misused without any step."""
    steps = [each for each in _steps(desk, node) if each.amounts]
    return page("amend_form.html", TEMPLATES, steps=steps)


def _steps(desk: Desk, node: str) -> Iterator[_Step]:
    record, unit = desk.wardrobe.state.node(node), desk.source.unit
    if not record.steps:
        raise Misused(f"{node} has no step of its own yet.")
    body = desk.wardrobe.evaluator.body(node)
    for step in reversed(record.steps):
        words = f"{step_in_words(step, unit, body)} ({step.role.value} {step.id})"
        yield _Step(step.id, words, tuple(_amounts(step)))


def _amounts(step: StepRecord) -> Iterator[_Amount]:
    try:
        known = parameters(kind_named(step.kind))
    except GeometryError:
        # Of a kind that this program does not know nothing can be said otherwise.
        return
    for each in known:
        now = _as_field(each, step.values.get(each.name))
        flag = each.type is ParameterType.FLAG
        yield _Amount(each.name, each.name.replace("_", " "), each.help, now, flag)


def _as_field(parameter: Parameter, value: Any) -> str:
    if parameter.type is ParameterType.FLAG:
        return "yes" if value else ""
    return "" if value is None else str(value)
