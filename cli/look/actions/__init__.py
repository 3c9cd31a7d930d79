"""The actions, a file each: every one is registered by standing here."""

import importlib
import pkgutil

for _module in pkgutil.iter_modules(__path__, f"{__name__}."):
    importlib.import_module(_module.name)
