import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from tests.lineage.making import block, child, step
from tests.refusals import refusing
from trueup.lineage.errors import BadRecord, MissingParent
from trueup.lineage.evaluation.cache import FileCache
from trueup.lineage.files.writing import node_text
from trueup.lineage.loading import Loader
from trueup.lineage.store.git.objects import Listing

SETTINGS = b'format = 1\nname = "Village store"\nunit = "cm"\n'


class Shelf:
    """A store of literal versions that counts what is read from it."""

    def __init__(self, **versions: dict[str, bytes]) -> None:
        self.versions, self.was_read = versions, list[str]()
        self.blobs = {blob_id(c): c for files in versions.values() for c in files.values()}

    def listing(self, revision: str) -> Listing:
        found = Listing()
        found.update((p, blob_id(content)) for p, content in self.versions[revision].items())
        return found

    def read(self, ids: Iterable[str], at_most: int = 2**26) -> dict[str, bytes]:
        ids = list(ids)
        self.was_read += ids
        return {each: self.blobs[each][: at_most + 1] for each in ids}


def blob_id(content: bytes) -> str:
    return hashlib.sha256(b"blob %d\0" % len(content) + content).hexdigest()


def files(*nodes: Any, **more: bytes) -> dict[str, bytes]:
    return {"wardrobe.toml": SETTINGS, **{node.path: node_text(node) for node in nodes}, **more}


VILLAGE, BLOUSE = block(), child("blouse")
FIRST = files(VILLAGE)
SECOND = files(VILLAGE, BLOUSE)


@pytest.fixture
def shelf() -> Shelf:
    notes = {"README.md": b"hello", "photos/a.toml": b"[", "blocks/village.svg": b"<svg/>"}
    return Shelf(first=FIRST, second={**SECOND, **notes}, broken={**SECOND, BLOUSE.path: b"["})


def loader(shelf: Shelf, *more: Any) -> Loader:
    return Loader(shelf, *more)  # type: ignore[arg-type]


def test_a_version_is_read_with_its_settings_and_nodes_and_nothing_else(shelf: Shelf):
    found = loader(shelf).at("second")
    assert found.settings.unit == "cm"
    assert dict(found.nodes) == {"village": VILLAGE, "blouse": BLOUSE}
    assert blob_id(b"<svg/>") not in shelf.was_read


def test_what_was_read_once_is_not_read_again(shelf: Shelf):
    of = loader(shelf)
    of.at("first")
    shelf.was_read.clear()
    of.at("second")
    assert shelf.was_read.count(blob_id(FIRST[VILLAGE.path])) == 0
    shelf.was_read.clear()
    of.at("second")
    assert set(shelf.was_read) <= {blob_id(SETTINGS)}


def test_another_opening_finds_what_was_read_in_the_cache(shelf: Shelf, tmp_path: Path):
    first = FileCache(tmp_path)
    loader(shelf, first).at("second")
    first.close()
    shelf.was_read.clear()
    second = FileCache(tmp_path)
    assert loader(shelf, second).at("second").nodes["blouse"] == BLOUSE
    second.close()
    assert set(shelf.was_read) <= {blob_id(SETTINGS)}


def test_what_is_not_what_its_id_says_is_not_kept_in_the_cache(shelf: Shelf, tmp_path: Path):
    true = shelf.blobs[blob_id(SECOND[BLOUSE.path])]
    forged = node_text(child("blouse", step("s", "lengthen", by="10mm")))
    shelf.blobs[blob_id(true)] = forged
    first = FileCache(tmp_path)
    assert loader(shelf, first).at("second").nodes["blouse"].steps
    first.close()
    shelf.blobs[blob_id(true)] = true
    second = FileCache(tmp_path)
    assert loader(shelf, second).at("second").nodes["blouse"] == BLOUSE
    second.close()


def test_edits_stand_over_what_was_recorded(shelf: Shelf):
    tunic = child("tunic", of="blouse")
    edits = {tunic.path: node_text(tunic), "wardrobe.toml": SETTINGS.replace(b"cm", b"in")}
    found = loader(shelf).at("second", edits)
    assert found.nodes["tunic"] == tunic
    assert found.settings.unit == "in"
    assert set(loader(shelf).at("second", {BLOUSE.path: None}).nodes) == {"village"}


def test_a_file_that_is_edited_is_not_read_as_it_was(shelf: Shelf):
    assert set(loader(shelf).at("broken").nodes) == {"village"}
    mended = loader(shelf).at("broken", {BLOUSE.path: SECOND[BLOUSE.path]})
    assert mended.nodes["blouse"] == BLOUSE
    assert set(loader(shelf).at("broken", {BLOUSE.path: None}).nodes) == {"village"}


def test_edits_that_do_not_fit_together_are_refused(shelf: Shelf):
    with pytest.raises(MissingParent):
        loader(shelf).edited("second", {VILLAGE.path: None})
    twin = child("village", of="blouse")
    with refusing(BadRecord, match="also in"):
        loader(shelf).edited("second", {twin.path: node_text(twin)})
    with refusing(BadRecord, match="missing"):
        loader(shelf).edited("second", {"wardrobe.toml": None})


def test_edits_beside_what_was_broken_before_are_taken(shelf: Shelf):
    tunic = child("tunic")
    found = loader(shelf).edited("broken", {tunic.path: node_text(tunic)})
    assert set(found.nodes) == {"village", "tunic"}
    assert set(found.unreadable) == {BLOUSE.path}
