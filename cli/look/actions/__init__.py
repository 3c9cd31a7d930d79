"""The actions, a file each: every one is registered by standing here, or in a room of this one."""

import importlib
import pkgutil

for _module in pkgutil.walk_packages(__path__, f"{__name__}."):
    importlib.import_module(_module.name)
