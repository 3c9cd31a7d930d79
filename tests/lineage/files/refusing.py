"""A pattern's file with all that a file can say, and how it is refused when it says it wrongly."""

from collections.abc import Callable

import pytest

from trueup.cli.wording.words import worded_error
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import NodeRecord

PATH = "patterns/blouse.toml"
FULL = """\
format = 1
name = "blouse"

[[parents]]
name = "village"
pieces = ["front", "back"]
hold = "0123456789012345678901234567890123456789"

[[parents]]
name = "puff"
pieces = ["sleeve"]

[[steps]]
id = "a1"
role = "correction"
kind = "scoop-armhole"
version = 1
piece = "front"
by = "20mm"
why = "binds"
date = 2025-03-01
fitting = "fitting-a1"
settles = "seam-1"

[[conflicts]]
id = "seam-1"
kind = "seam"
state = "accepted"
says = "too small"
arose_at = "blouse"
piece = "sleeve"
edge = "cap"
code = "seam"
correction = "b2"
corrected = "village"
change = "a1"
before_mm = 35.5
after_mm = 11.25
allowed_mm = [25.0, 45.0]
excess_mm = 13.75
since = "0123456789012345678901234567890123456789"

[[conflicts.remedies]]
name = "refit-cap"
amount_mm = 31.4
says = "redraw"
kind = "refit-cap"
values = {to = "35mm"}

[[conflicts.decisions]]
remedy = "accept"
why = "gathers"
date = 2025-03-02
"""
BLOCK = """\
format = 1
name = "village"
[draft]
system = "bust-proportion"
bust = "88cm"
waist = 680
"""


def read(text: str, path: str = PATH) -> NodeRecord:
    return read_node(path, text.encode())


def refused(text: str | bytes, path: str = PATH) -> BadRecord:
    content = text.encode() if isinstance(text, str) else text
    with pytest.raises(BadRecord) as caught:
        read_node(path, content)
    told = worded_error(caught.value)
    assert told.startswith(path)
    assert "\n" not in told
    assert told.endswith(".")
    return caught.value


def refusal(reading: Callable[[], object]) -> str:
    """Return in what words a file is refused; only a BadRecord may say so."""
    try:
        reading()
    except BadRecord as error:
        return worded_error(error)
    return "nothing is refused"
