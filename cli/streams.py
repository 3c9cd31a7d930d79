"""Make stdout and stderr fit to be written to, whatever the shell handed over."""

import os
import sys


def make_safe() -> None:
    """Replace streams that are closed, and let no letter a terminal lacks stop a command."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode))  # noqa: SIM115 (stays open to the end)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")
