"""A fitting: several corrections written down in one file."""

import pytest

from tests.refusals import refusing
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadFitting
from trueup.lineage.files.fitting import read_fitting

SCOOP = b'[[corrections]]\nkind = "scoop-armhole"\npiece = "front"\nby = 2\n'


def test_corrections_come_in_their_order_with_one_reason() -> None:
    content = b'why = "binds"\n' + SCOOP + b'[[corrections]]\nkind = "refit-cap"\n'
    fitting = read_fitting("fitting.toml", content, Unit.CENTIMETRE)
    assert [change.kind for change in fitting.changes] == ["scoop-armhole", "refit-cap"]
    assert fitting.why == "binds"


def test_a_bare_number_takes_the_wardrobes_unit() -> None:
    (change,) = read_fitting("fitting.toml", SCOOP, Unit.CENTIMETRE).changes
    assert getattr(change, "by", None) == 20.0


def test_a_correction_that_cannot_be_read_is_named_by_its_number() -> None:
    content = SCOOP + b'[[corrections]]\nkind = "scoop-armhole"\npiece = 2\nby = "2cm"\n'
    with refusing(BadFitting, match=r"fitting\.toml, correction 2 .* it is a name"):
        read_fitting("fitting.toml", content, Unit.MILLIMETRE)


@pytest.mark.parametrize(
    "content", [b"", b"x", b"\xff", b"corrections = []", b"a = " + b"[" * 9000]
)
def test_what_is_no_fitting_is_refused(content: bytes) -> None:
    with pytest.raises(BadFitting):
        read_fitting("fitting.toml", content, Unit.MILLIMETRE)


def test_a_file_beyond_all_measure_is_not_parsed() -> None:
    with refusing(BadFitting, match="larger than"):
        read_fitting("fitting.toml", b"#" * 1_000_001, Unit.MILLIMETRE)
