"""The table of limits in the reference, written from the modules that hold them."""

import ast
import inspect
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from types import ModuleType

from trueup.geometry import limits as of_geometry
from trueup.lineage import limits as of_lineage

MODULES = (of_lineage, of_geometry)


@dataclass(frozen=True)
class Limit:
    """One bound: its name in the code, the most there may be, and why no maker meets it."""

    name: str
    most: str
    why: str


def limits() -> Iterator[Limit]:
    """Yield every bound there is, in the order of the modules."""
    for module in MODULES:
        for assigned, told in pairwise(ast.parse(inspect.getsource(module)).body):
            if isinstance(assigned, ast.Assign) and isinstance(assigned.targets[0], ast.Name):
                yield _limit(module, assigned.targets[0].id, told)


def table() -> Iterator[str]:
    """Yield the lines of the table, in Markdown."""
    yield "| at most | why |"
    yield "| --- | --- |"
    for limit in limits():
        yield f"| {limit.most} | {limit.why} |"


def _limit(module: ModuleType, name: str, told: ast.stmt) -> Limit:
    """Return the bound that a line and the text below it state; ValueError for one that does not.

    The text reads "so many of what; why".
    """
    what, _, why = " ".join(_text(told).split()).partition("; ")
    if not (what and why.endswith(".")):
        raise ValueError(f"{module.__name__}.{name} does not say of what it is the most, and why")
    amount = getattr(module, name)
    written = f"{amount:,.0f}" if amount < 1e15 else f"{amount:g}".replace("+", "")
    return Limit(name, f"{written} {what}", why.removesuffix("."))


def _text(told: ast.stmt) -> str:
    value = told.value if isinstance(told, ast.Expr) else None
    return str(value.value) if isinstance(value, ast.Constant) else ""
