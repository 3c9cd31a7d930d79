"""The vocabulary of changes: one kind a file, each found and registered by standing here.

To add a kind, add one module to this package: a frozen dataclass that extends `Change`, decorated
with `@kind`. The registry, the commands' options, the file format and the reference page follow.
"""

import importlib
import pkgutil

from trueup.geometry.changes.base import KINDS, Change, kind_named, kinds
from trueup.geometry.changes.parameters import (
    Parameter,
    ParameterType,
    parameters,
    read_change,
    write_change,
)

for _module in pkgutil.iter_modules(__path__):
    importlib.import_module(f"{__name__}.{_module.name}")

__all__ = [
    "KINDS",
    "Change",
    "Parameter",
    "ParameterType",
    "kind_named",
    "kinds",
    "parameters",
    "read_change",
    "write_change",
]
