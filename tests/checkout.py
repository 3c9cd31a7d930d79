"""Where this checkout lies, for processes that are started from the tests."""

import os
from pathlib import Path

ROOT = Path(__file__).parents[1]
IMPORTS = os.pathsep.join([str(ROOT / ".ci" / "import"), str(ROOT)])
"""The search path by which such a process imports this checkout's `trueup`, and the tests."""
