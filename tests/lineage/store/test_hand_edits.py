import os

import pytest

from lineage.store import HandEdit, Store, index


def test_a_fresh_wardrobe_has_none(store):
    assert store.hand_edits() == ()


def test_changed_added_and_deleted_files_are_named(store, folder):
    (folder / "blocks" / "village.toml").write_bytes(b"mine\n")
    (folder / "patterns" / "tunic.toml").unlink()
    (folder / "garments").mkdir()
    (folder / "garments" / "first.toml").write_bytes(b"")
    (folder / "photos" / "june").mkdir(parents=True)
    (folder / "photos" / "june" / "back.jpg").write_bytes(b"")
    assert store.hand_edits() == (
        HandEdit("blocks/village.toml", "changed"),
        HandEdit("garments/first.toml", "added"),
        HandEdit("patterns/tunic.toml", "deleted"),
        HandEdit("photos/june/back.jpg", "added"),
    )


def test_only_the_wardrobes_own_files_count(store, folder):
    for path in ("README.md", "blocks/.DS_Store", "blocks/village.toml~", ".trueup-cache"):
        (folder / path).write_bytes(b"x")
    (folder / ".gitattributes").write_bytes(b"* text\n")
    assert store.hand_edits() == ()


def test_an_edit_shows_even_where_date_and_size_do_not(store, folder):
    place = folder / "blocks" / "village.toml"
    stat = place.stat()
    place.write_bytes(place.read_bytes().swapcase())
    os.utime(place, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    assert store.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)


def test_a_changed_date_is_no_edit(store, folder):
    os.utime(folder / "blocks" / "village.toml", (0, 0))
    assert store.hand_edits() == ()


def test_a_step_in_the_making_is_not_taken_for_an_edit(store, folder, monkeypatch):
    def interrupted(*arguments):
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr("lineage.store.working_files.WorkingFiles.bring", interrupted)
        with pytest.raises(KeyboardInterrupt):
            store.commit({"blocks/village.toml": b"new\n"}, "Step", expected_head=store.head())
    assert (folder / "blocks" / "village.toml").read_bytes() == b"kind = 'block'\n"
    assert store.hand_edits() == ()
    with store.writing():
        assert (folder / "blocks" / "village.toml").read_bytes() == b"new\n"


def test_a_reader_does_not_wait_for_a_writer(store, folder, monkeypatch):
    seen = []

    def look(*arguments):
        with Store.open(folder) as other:
            seen.append(other.read([other.listing("HEAD")["blocks/village.toml"]]))
        whole(*arguments)

    whole = index.bring
    monkeypatch.setattr(index, "bring", look)
    store.commit({"blocks/village.toml": b"new\n"}, "Step", expected_head=store.head())
    assert list(seen[0].values()) == [b"new\n"]
