"""The vocabulary of changes: one kind a file, each found and registered by standing in a room here.

To add a kind, add one module to the room it belongs to: a frozen dataclass that extends `Change`,
decorated with `@kind`. The registry, the commands' options, the file format and the reference page
follow. A new room is a folder with an `__init__.py`.
"""

import importlib
import pkgutil

from trueup.geometry.changes.base import KINDS, Change, kind_named, kinds
from trueup.geometry.changes.declaring import ParameterType
from trueup.geometry.changes.parameters import (
    Parameter,
    bound_lengths,
    parameters,
    read_change,
    write_change,
)

for _module in pkgutil.walk_packages(__path__, f"{__name__}."):
    importlib.import_module(_module.name)

__all__ = [
    "KINDS",
    "Change",
    "Parameter",
    "ParameterType",
    "bound_lengths",
    "kind_named",
    "kinds",
    "parameters",
    "read_change",
    "write_change",
]
