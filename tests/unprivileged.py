"""The command as it runs for a maker whom permissions hold, also where the tests run as root."""

import os
import shutil
import subprocess
from functools import lru_cache
from pathlib import Path

from tests.warm import Warm

_RIGHTS = "-dac_override,-dac_read_search"
_DROPPING = ("setpriv", "--bounding-set", _RIGHTS, "--inh-caps", _RIGHTS, "--")


def warm(home: Path) -> Warm:
    """Return the command, held by permissions where that can be arranged."""
    return Warm(home, _DROPPING if os.geteuid() == 0 and permissions_hold() else ())


@lru_cache(maxsize=1)
def permissions_hold() -> bool:
    """Return whether a file that may not be read is not read here."""
    if os.geteuid() != 0:
        return True
    if shutil.which("setpriv") is None:
        return False
    return subprocess.run([*_DROPPING, "true"], capture_output=True, check=False).returncode == 0
