"""A workshop for trials, made once; where the kernel cannot watch a process there are no trials."""

import os
from collections.abc import Iterator

import pytest

from tests.faults.trial import Trials, trials_in_memory
from tests.faults.watching.kernel_filter import CannotFilter


@pytest.fixture(scope="session")
def trials() -> Iterator[Trials]:
    """Trials of commands, each in a fresh copy of a small theatre's wardrobe."""
    with trials_in_memory() as made:
        try:
            made.workshop.run("tree", "-C", "store", watched=["place"])
        except CannotFilter as error:
            if os.environ.get("TRUEUP_FAULTS") == "required":
                raise
            pytest.skip(f"no process can be watched here: {error}")
        yield made
