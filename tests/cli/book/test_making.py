"""The pages of a book made in several processes: the same to the last byte, whatever happens."""

import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sharing.copied import copied
from trueup.cli.book import making
from trueup.cli.book.binding import bound
from trueup.cli.book.packing import leaf
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import View, all_addresses, view
from trueup.cli.opening import OpenToRead, reading
from trueup.lineage.evaluation import pool

pytestmark = pytest.mark.skipif(not pool.FORKS, reason="pages are made here alone")


@pytest.fixture
def opened(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[OpenToRead]:
    monkeypatch.setattr(making, "FEWEST", 2)
    copied(built, tmp_path / "w")
    with reading(tmp_path / "w") as found:
        yield found


def book(opened: OpenToRead, file: Path, processes: int) -> bytes:
    bound(opened, file, 3, replace=True, processes=processes)
    return file.read_bytes()


@pytest.mark.parametrize("processes", [2, 3, 7])
def test_a_book_is_the_same_however_many_processes_make_it(opened, tmp_path, processes):
    alone = book(opened, tmp_path / "book.html", 1)
    assert book(opened, tmp_path / "book.html", processes) == alone


def test_other_processes_make_the_pages(opened, monkeypatch):
    source = BookSource(opened, 1)
    addresses = tuple(all_addresses(source))
    monkeypatch.setattr(making, "view", lambda _, address: View(address, f"{os.getpid()}", ""))
    made = dict(zip(addresses, making.leaves(source, addresses, 2), strict=True))
    here = leaf(View(addresses[0], f"{os.getpid()}", ""))
    assert made[addresses[0]].letters != here.letters


def test_a_process_that_dies_costs_nothing_but_time(opened, tmp_path, monkeypatch):
    alone = book(opened, tmp_path / "book.html", 1)
    here = os.getpid()

    def dying(source: BookSource, address: str) -> View:
        if os.getpid() != here and address == "pattern/blouse":
            os._exit(3)
        return view(source, address)

    monkeypatch.setattr(making, "view", dying)
    assert book(opened, tmp_path / "book.html", 2) == alone


def test_a_page_that_cannot_be_made_is_refused_as_it_is_alone(opened, tmp_path, monkeypatch):
    def refusing(source: BookSource, address: str) -> View:
        if address == "pattern/vest":
            raise LookupError("as it is alone")
        return view(source, address)

    monkeypatch.setattr(making, "view", refusing)
    with pytest.raises(LookupError, match="as it is alone"):
        book(opened, tmp_path / "book.html", 2)
    assert not (tmp_path / "book.html").exists()
    assert opened.evaluator.draft("blouse").piece_names


def test_no_process_is_left_when_a_book_is_given_up_half_way(opened):
    source = BookSource(opened, 1)
    addresses = tuple(all_addresses(source))
    pages = making.leaves(source, addresses, 2)
    before = set(_children())
    assert next(pages).address == addresses[0]
    own = set(_children()) - before
    pages.close()
    assert own
    until = time.monotonic() + 60
    while own & set(_children()) and time.monotonic() < until:
        time.sleep(0.05)
    assert not own & set(_children())


def _children() -> list[int]:
    found = Path(f"/proc/self/task/{os.getpid()}/children").read_text()
    return [int(each) for each in found.split()]
