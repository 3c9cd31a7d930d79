"""Two clones of one wardrobe's repository: joined as one commit, read without running anything."""

import os
import shutil

import pytest

from tests.lineage.store.test_stranger import HOOKS
from tests.refusals import refusing
from trueup.lineage.errors import Damaged, HandEdited, MovedOn
from trueup.lineage.store import Store
from trueup.lineage.store.joins import neighbour
from trueup.lineage.store.joins.merge_errors import CannotJoin, HalfMerged, NotAClone

JOINED = {"patterns/blouse.toml": b"parent = 'village'\nboth\n"}


@pytest.fixture
def clone(store, folder, tmp_path, git):
    place = tmp_path / "clone"
    git("clone", "--quiet", str(folder), str(place))
    return place


def commit(store, path, content, message="Step"):
    return store.commit({path: content}, message, expected_head=store.head())


def test_a_joining_has_both_versions_as_parents(store, clone, git, assert_whole):
    ours = commit(store, "blocks/village.toml", b"ours\n")
    with Store.open(clone) as other:
        theirs = commit(other, "patterns/cape.toml", b"theirs\n")
    assert store.latest_of(clone) == theirs
    assert store.head() == ours
    assert len(store.merge_bases(ours, theirs)) == 1
    made = store.commit_merge(
        {"patterns/cape.toml": b"theirs\n"},
        "Join",
        {"Joins": theirs},
        expected_head=ours,
        joins=theirs,
    )
    assert git("log", "-1", "--format=%P") == f"{ours} {theirs}"
    assert next(store.log()).parents == (ours, theirs)
    assert assert_whole()["blocks/village.toml"] == b"ours\n"
    assert store.head() == made


def test_a_joining_on_a_version_that_moved_on_is_refused(store, clone):
    with Store.open(clone) as other:
        theirs = commit(other, "patterns/cape.toml", b"theirs\n")
    store.latest_of(clone)
    before = store.head()
    commit(store, "blocks/village.toml", b"ours\n")
    with pytest.raises(MovedOn):
        store.commit_merge({}, "Join", expected_head=before, joins=theirs)


def test_reading_a_clone_changes_neither_side(store, clone, folder, git):
    with Store.open(clone) as other:
        commit(other, "patterns/cape.toml", b"theirs\n")

    def files(place):
        return {p: p.read_bytes() for p in place.rglob("*") if p.is_file()}

    there, refs = files(clone), git("for-each-ref")
    store.latest_of(clone)
    assert files(clone) == there
    assert git("for-each-ref") == refs
    assert git("status", "--porcelain") == ""
    assert store.hand_edits() == ()


def test_nothing_of_a_strangers_clone_runs(store, clone, tmp_path):
    marker, program = tmp_path / "marker", tmp_path / "program"
    program.write_text(f'#!/bin/sh\necho "$0 $@" >> {marker}\nexit 1\n')
    program.chmod(0o755)
    with Store.open(clone) as other:
        theirs = commit(other, "patterns/cape.toml", b"theirs\n")
    for hook in HOOKS.split():
        (clone / ".git" / "hooks" / hook).write_text(f"#!/bin/sh\necho {hook} >> {marker}\n")
        (clone / ".git" / "hooks" / hook).chmod(0o755)
    with (clone / ".git" / "config").open("a") as config:
        config.write(f"""
[core]
    fsmonitor = {program}
    pager = {program}
    alternateRefsCommand = {program}
    sshCommand = {program}
[uploadpack]
    packObjectsHook = {program}
[remote "origin"]
    uploadpack = {program}
    promisor = true
    url = ext::{program} %S
[extensions]
    partialClone = origin
[alias]
    pack-objects = !{program}
    rev-list = !{program}
""")
    assert store.latest_of(clone) == theirs
    assert not marker.exists()


def test_a_clone_with_a_missing_object_brings_nothing_and_runs_nothing(store, clone):
    with Store.open(clone) as other:
        commit(other, "patterns/cape.toml", b"theirs\n")
        blob = other.listing("HEAD")["patterns/cape.toml"]
    (clone / ".git" / "objects" / blob[:2] / blob[2:]).unlink()
    with pytest.raises(NotAClone):
        store.latest_of(clone)


def test_a_clone_that_leads_elsewhere_is_refused(store, clone, tmp_path):
    shutil.move(clone / ".git", tmp_path / "elsewhere")
    (clone / ".git").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(NotAClone, match="points elsewhere"):
        store.latest_of(clone)


def test_another_wardrobe_is_refused_before_it_is_read(store, tmp_path, folder):
    other = tmp_path / "hats"
    Store.create(other, {"wardrobe.toml": b"name = 'Hats'\n"}, "Start").close()
    before = sorted(os.listdir(folder / ".git" / "objects"))
    with pytest.raises(NotAClone, match="no version in common"):
        store.latest_of(other)
    assert sorted(os.listdir(folder / ".git" / "objects")) == before


@pytest.mark.parametrize("names", ["1" * 40, "a list of files"])
def test_a_clone_whose_branch_names_no_version_is_told_as_damaged(store, clone, git, names):
    if names == "a list of files":
        names = git("rev-parse", "HEAD^{tree}", cwd=clone).strip()
    (clone / ".git" / "refs" / "heads" / "main").write_text(f"{names}\n")
    with pytest.raises(NotAClone, match=f"it is damaged .its latest version {names} cannot"):
        store.latest_of(clone)


def test_contents_too_large_to_read_are_refused(store, clone, monkeypatch):
    with Store.open(clone) as other:
        commit(other, "photos/big.jpg", b"0" * 5000)
    monkeypatch.setattr(neighbour, "LARGEST_FILE", 4000)
    with pytest.raises(NotAClone, match="too large"):
        store.latest_of(clone)


def test_a_link_the_other_side_put_in_is_seen(store, clone, git):
    base = store.head()
    (clone / "more").symlink_to("/etc")
    git("add", "more", cwd=clone)
    git("commit", "--quiet", "-m", "link", cwd=clone)
    theirs = store.latest_of(clone)
    assert store.special_files(base, theirs) == ("more",)


# --- what git left half merged -----------------------------------------------------------------


@pytest.fixture
def stopped(store, clone, git):
    """The commit git could not join by itself."""
    commit(store, "patterns/blouse.toml", b"parent = 'village'\nours\n")
    with Store.open(clone) as other:
        commit(other, "patterns/blouse.toml", b"parent = 'village'\ntheirs\n")
        theirs = commit(other, "patterns/cape.toml", b"cape\n")
    git("fetch", "--quiet", str(clone), "main")
    git("merge", "FETCH_HEAD", fails=True)
    assert git("ls-files", "--unmerged")
    return theirs


CAPE = {"patterns/cape.toml": b"cape\n"}


def test_the_fetched_and_the_half_merged_version_are_known(store, stopped):
    assert store.half_merged() == stopped
    assert store.resolve("FETCH_HEAD") == stopped


def test_a_half_merge_is_finished_by_its_joining(store, stopped, git, assert_whole):
    store.commit_merge({**JOINED, **CAPE}, "Join", expected_head=store.head(), joins=stopped)
    assert store.half_merged() is None
    assert git("ls-files", "--unmerged") == ""
    assert assert_whole()["patterns/cape.toml"] == b"cape\n"


def test_what_the_joining_leaves_as_ours_is_put_back(store, stopped, assert_whole):
    store.commit_merge({}, "Join", expected_head=store.head(), joins=stopped)
    files = assert_whole()
    assert files["patterns/blouse.toml"] == b"parent = 'village'\nours\n"
    assert "patterns/cape.toml" not in files


def test_no_other_step_is_made_meanwhile(store, stopped):
    with pytest.raises(HalfMerged, match="finish joining it"):
        commit(store, "patterns/tunic.toml", b"new\n")
    with pytest.raises(HalfMerged):
        store.hand_edits()


def test_a_file_resolved_by_hand_is_not_overwritten(store, stopped, folder, git):
    (folder / "patterns/blouse.toml").write_bytes(b"by hand\n")
    git("add", "patterns/blouse.toml")
    with pytest.raises(HandEdited):
        store.commit_merge({**JOINED, **CAPE}, "Join", expected_head=store.head(), joins=stopped)
    assert (folder / "patterns/blouse.toml").read_bytes() == b"by hand\n"
    assert store.half_merged() == stopped


def test_an_older_git_that_does_not_say_what_it_left_is_understood(
    store, stopped, folder, assert_whole
):
    (folder / ".git" / "AUTO_MERGE").unlink()
    (folder / "patterns/blouse.toml").write_bytes(b"parent = 'village'\nours\n")
    store.commit_merge({**JOINED, **CAPE}, "Join", expected_head=store.head(), joins=stopped)
    assert assert_whole()["patterns/blouse.toml"] == JOINED["patterns/blouse.toml"]


def test_more_than_one_other_version_at_a_time_is_refused(store, stopped, folder):
    with (folder / ".git" / "MERGE_HEAD").open("a") as file:
        file.write(f"{stopped}\n")
    with pytest.raises(CannotJoin, match="one after the other"):
        store.half_merged()


def test_texts_are_joined_where_their_lines_do_not_touch(store):
    base = b"a\nb\nc\nd\ne\n"
    ours, theirs = base.replace(b"a", b"A"), base.replace(b"e", b"E")
    assert store.merged_text(base, ours, theirs) == b"A\nb\nc\nd\nE\n"
    assert store.merged_text(base, base.replace(b"c", b"1"), base.replace(b"c", b"2")) is None
    assert store.merged_text(b"\0", b"\0ours", b"\0theirs") is None


def test_a_half_merge_that_no_git_writes_is_damage(store, folder):
    with (folder / ".git" / "MERGE_HEAD").open("wb") as file:
        file.truncate(2_000_000_000)
    with refusing(Damaged, match="MERGE_HEAD is damaged: it is larger than"):
        store.half_merged()
