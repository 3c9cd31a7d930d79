"""Earlier versions of kinds: they keep answering for the steps that were made with them."""

import importlib
import pkgutil

for _module in pkgutil.iter_modules(__path__):
    importlib.import_module(f"{__name__}.{_module.name}")
