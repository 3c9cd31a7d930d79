"""What is refused, held against the sentence that a maker reads of it, lengths in mm."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from trueup.cli.failures import Misused
from trueup.cli.wording.words import worded
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import WardrobeError

Refusal = GeometryError | WardrobeError | Misused


@contextmanager
def refusing(*kinds: type[Refusal], match: str) -> Iterator[pytest.ExceptionInfo[Refusal]]:
    """Expect an error of one of the kinds whose sentence matches a pattern."""
    with pytest.raises(kinds) as caught:
        yield caught
    told = f"{worded(caught.value.says, Unit.MILLIMETRE).removesuffix('.')}."
    assert re.search(match, told), told
