"""Pages by their addresses, as a document asks for them, and a server would."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sharing.copied import copied
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import all_addresses, view
from trueup.cli.opening import reading
from trueup.lineage.errors import NoSuchConflict, NoSuchGarment, NoSuchNode


@pytest.fixture
def source(built: Path, tmp_path: Path) -> Iterator[BookSource]:
    copied(built, tmp_path / "w")
    with reading(tmp_path / "w") as opened:
        yield BookSource(opened, 2)


def test_every_address_has_a_view_and_none_has_two(source):
    found = list(all_addresses(source))
    assert len(found) == len(set(found))
    for address in found:
        made = view(source, address)
        assert made.address == address
        assert made.title
        assert "<h1" in made.content


def test_one_page_can_be_asked_for_alone(source):
    alone = view(source, "pattern/blouse")
    assert alone == next(view(source, a) for a in all_addresses(source) if a == alone.address)


@pytest.mark.parametrize(
    ("address", "error"),
    [
        ("nowhere", LookupError),
        ("pattern", NoSuchNode),
        ("pattern/none", NoSuchNode),
        ("garment/none", NoSuchGarment),
        ("conflict/none", NoSuchConflict),
        ("", LookupError),
        ("../etc/passwd", LookupError),
    ],
)
def test_an_address_of_no_page_is_refused(source, address, error):
    with pytest.raises(error):
        view(source, address)
