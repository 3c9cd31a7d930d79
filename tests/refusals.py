"""What is refused, held against the sentence that a maker reads of it, lengths in mm."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from trueup.cli.wording.words import sentence
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import WardrobeError


@contextmanager
def refusing(
    *kinds: type[GeometryError | WardrobeError], match: str
) -> Iterator[pytest.ExceptionInfo[GeometryError | WardrobeError]]:
    """Expect an error of one of the kinds whose sentence matches a pattern."""
    with pytest.raises(kinds) as caught:
        yield caught
    told = sentence(caught.value, Unit.MILLIMETRE)
    assert re.search(match, told), told
