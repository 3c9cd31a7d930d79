import importlib
import os

import pytest

from trueup.lineage.store import HandEdit, Store
from trueup.lineage.store.files import lying, working_files
from trueup.lineage.store.writing import index


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


def test_a_file_is_read_again_where_it_does_not_look_as_it_did(store, folder, monkeypatch):
    monkeypatch.setattr(working_files, "_SETTLED", -(10**18))
    place = folder / "blocks" / "village.toml"
    assert store.hand_edits() == ()
    status = place.stat()
    content = place.read_bytes()
    place.write_bytes(content.swapcase())
    os.utime(place, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert store.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)
    place.unlink()
    assert store.hand_edits() == (HandEdit("blocks/village.toml", "deleted"),)
    place.write_bytes(content)
    assert store.hand_edits() == ()


def test_a_file_that_was_written_a_moment_ago_is_read_at_every_look(store, folder, monkeypatch):
    place = folder / "blocks" / "village.toml"
    same = place.stat()
    place.write_bytes(place.read_bytes().swapcase())
    # As on a file system whose clock did not go on between the two.
    for module in (working_files, lying):
        monkeypatch.setattr(module, "look_of", lambda _: (same.st_ino, same.st_size, 0, 0))
    assert store.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)
    place.write_bytes(place.read_bytes().swapcase())
    assert store.hand_edits() == ()


def test_a_file_that_stays_is_read_once(store, folder, monkeypatch):
    monkeypatch.setattr(working_files, "_SETTLED", -(10**18))
    store.hand_edits()
    monkeypatch.setattr(working_files, "blob_id", lambda *_: pytest.fail("read again"))
    assert store.hand_edits() == ()


def test_who_is_told_how_files_looked_reads_only_those_that_look_otherwise(
    store, folder, monkeypatch
):
    monkeypatch.setattr(working_files, "_SETTLED", -(10**18))
    store.hand_edits()
    with Store.open(folder) as later:
        later.looks.update(store.looks)
        blob_id, read = working_files.blob_id, []
        monkeypatch.setattr(working_files, "blob_id", lambda *a: read.append(a) or blob_id(*a))
        (folder / "patterns" / "tunic.toml").write_bytes(b"mine\n")
        assert later.hand_edits() == (HandEdit("patterns/tunic.toml", "changed"),)
    assert [content for content, _ in read if content == b"mine\n"] == [b"mine\n"]
    assert len(read) <= 2  # the settings stand beside the folders


def test_what_is_there_no_more_is_forgotten(store, folder, monkeypatch):
    monkeypatch.setattr(working_files, "_SETTLED", -(10**18))
    store.hand_edits()
    assert "patterns/tunic.toml" in store.looks
    (folder / "patterns" / "tunic.toml").unlink()
    store.hand_edits()
    assert "patterns/tunic.toml" not in store.looks


def test_a_link_in_the_place_of_a_file_that_was_read_is_an_edit(store, folder, monkeypatch):
    monkeypatch.setattr(working_files, "_SETTLED", -(10**18))
    store.hand_edits()
    place = folder / "blocks" / "village.toml"
    place.rename(folder / "elsewhere.toml")
    place.symlink_to(folder / "elsewhere.toml")
    assert store.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)


def test_a_changed_date_is_no_edit(store, folder):
    os.utime(folder / "blocks" / "village.toml", (0, 0))
    assert store.hand_edits() == ()


def test_a_step_in_the_making_is_not_taken_for_an_edit(store, folder, monkeypatch):
    def interrupted(*arguments):
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr("trueup.lineage.store.files.working_files.WorkingFiles.bring", interrupted)
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


@pytest.mark.parametrize(
    ("place", "name"),
    [
        ("trueup.lineage.store.writing.step", "move_branch"),
        ("trueup.lineage.store.files.working_files", "exchange"),
        ("trueup.lineage.store.writing.index", "bring"),
        ("trueup.lineage.store.writing.unfinished", "forget"),
    ],
)
@pytest.mark.parametrize("moment", ["before", "after"])
def test_no_reader_takes_a_step_on_its_way_for_an_edit(
    store, folder, monkeypatch, place, name, moment
):
    module = importlib.import_module(place)
    whole, seen = getattr(module, name), []

    def look():
        with Store.open(folder) as other:
            seen.append(other.hand_edits())

    def watched(*arguments):
        if moment == "before":
            look()
        result = whole(*arguments)
        if moment == "after":
            look()
        return result

    monkeypatch.setattr(module, name, watched)
    monkeypatch.setattr(
        "trueup.lineage.store.files.working_files.exchange", watched
    ) if name == "exchange" else 0
    store.commit(
        {
            "blocks/village.toml": b"new\n",
            "patterns/tunic.toml": None,
            "patterns/cape.toml": b"c\n",
        },
        "Step",
        expected_head=store.head(),
    )
    assert seen
    assert set(seen) == {()}


class TestAnEditorThatSavesInMidStep:
    """It saves in the moment between our look at its file and the file's replacement."""

    def step(self, store, new):
        store.commit({"blocks/village.toml": new}, "Step", expected_head=store.head())

    def saving(self, save, monkeypatch):
        whole = working_files.exchange

        def late(new, place):
            save(place)
            return whole(new, place)

        monkeypatch.setattr(working_files, "exchange", late)

    def by_renaming(self, place):
        place.with_name("save").write_bytes(b"mine\n")
        os.replace(place.with_name("save"), place)

    def in_place(self, place):
        place.write_bytes(b"mine\n")

    @pytest.mark.parametrize("way", ["by_renaming", "in_place"])
    def test_its_text_stays_and_shows(self, store, folder, monkeypatch, way):
        self.saving(getattr(self, way), monkeypatch)
        self.step(store, b"new\n")
        assert (folder / "blocks" / "village.toml").read_bytes() == b"mine\n"
        assert store.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)

    def test_its_text_stays_though_the_writer_is_killed_just_then(self, store, folder, monkeypatch):
        def killed(*_):
            raise KeyboardInterrupt

        with monkeypatch.context() as during:
            self.saving(self.by_renaming, during)
            during.setattr(working_files.WorkingFiles, "give_back", killed)
            with pytest.raises(KeyboardInterrupt):
                self.step(store, b"new\n")
        with Store.open(folder) as again:
            assert (folder / "blocks" / "village.toml").read_bytes() == b"mine\n"
            assert again.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)

    def test_a_file_taken_out_that_was_saved_just_then_comes_back(self, store, folder, monkeypatch):
        replace = os.replace

        def late(source, target):
            if str(source).endswith("village.toml"):
                source.write_bytes(b"mine\n")
            replace(source, target)

        monkeypatch.setattr("trueup.lineage.store.files.working_files.os.replace", late)
        self.step(store, None)
        assert (folder / "blocks" / "village.toml").read_bytes() == b"mine\n"

    def test_a_file_saved_where_a_new_one_comes_stays(self, store, folder, monkeypatch):
        link = os.link

        def late(source, target):
            if str(target).endswith("cape.toml"):
                target.write_bytes(b"mine\n")
            link(source, target)

        monkeypatch.setattr("trueup.lineage.store.files.working_files.os.link", late)
        store.commit({"patterns/cape.toml": b"new\n"}, "Step", expected_head=store.head())
        assert (folder / "patterns" / "cape.toml").read_bytes() == b"mine\n"
