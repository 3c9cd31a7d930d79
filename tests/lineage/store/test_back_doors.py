"""What git reads inside a repository that could lead out of it, or show what was never recorded."""

import os
import shutil

import pytest

from trueup.lineage.errors import GitSlow, LeadsElsewhere, NotAWardrobe
from trueup.lineage.store import Store
from trueup.lineage.store.git import starting
from trueup.lineage.store.joins import neighbour


def test_a_forged_list_of_ancestors_shows_no_other_history(store, folder):
    store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    head = store.head()
    for place in (folder / ".git/trueup/no-grafts", folder / ".git/info/grafts"):
        place.parent.mkdir(exist_ok=True)
        place.write_text(f"{head}\n")
    assert [commit.subject for commit in store.log()] == ["Correct", "Start the village store"]


def test_objects_are_not_read_from_elsewhere(store, folder, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    (folder / ".git" / "objects").rename(elsewhere)
    (folder / ".git" / "objects" / "info").mkdir(parents=True)
    (folder / ".git" / "objects" / "info" / "alternates").write_text(f"{elsewhere}\n")
    with pytest.raises(LeadsElsewhere, match=r"alternates.*git clone"):
        Store.open(folder)


@pytest.mark.parametrize(
    "section",
    [
        "[include]\n\tpath = {pipe}\n",
        "[INCLUDE] path = {pipe}\n",
        '[includeIf "gitdir:**"]\n\tpath = {pipe}\n',
        "[core] bare = false\n[core][include] path = {pipe}\n",
        '[evil "#"][include]\n\tpath = {pipe}\n',
        '[evil "a;b"] [includeIf "gitdir:**"]\n\tpath = {pipe}\n',
    ],
)
def test_settings_that_read_another_file_are_refused_without_waiting(
    store, folder, tmp_path, section
):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with (folder / ".git" / "config").open("a") as config:
        config.write(section.format(pipe=pipe))
    with pytest.raises(LeadsElsewhere, match=r"\.git/config.*include"):
        Store.open(folder)


def test_a_word_in_a_comment_is_no_section(store, folder):
    with (folder / ".git" / "config").open("a") as config:
        config.write("# [include] is not used here\n")
    Store.open(folder).close()


def test_settings_beyond_any_size_are_refused(store, folder):
    with (folder / ".git" / "config").open("a") as config:
        config.write("#" * 1_000_000)
    with pytest.raises(LeadsElsewhere, match="larger than any"):
        Store.open(folder)


@pytest.mark.parametrize("name", ["config", "info/attributes", "packed-refs", "HEAD", "index"])
def test_a_pipe_among_gits_own_files_is_not_waited_for(store, folder, name):
    place = folder / ".git" / name
    place.parent.mkdir(exist_ok=True)
    place.unlink(missing_ok=True)
    os.mkfifo(place)
    with pytest.raises(NotAWardrobe, match="no plain file"):
        Store.open(folder)


def test_a_clone_that_never_answers_is_given_up(store, folder, git, tmp_path, monkeypatch):
    clone = tmp_path / "clone"
    git("clone", "--quiet", str(folder), str(clone))
    with Store.open(clone) as theirs:
        theirs.commit({"blocks/new.toml": b"x\n"}, "New", expected_head=theirs.head())
    waiting = tmp_path / "waiting-git"
    waiting.write_text(
        '#!/bin/sh\ncase " $* " in *" pack-objects "*) exec sleep 600 ;; esac\n'
        f'exec {shutil.which("git")} "$@"\n'
    )
    waiting.chmod(0o755)
    monkeypatch.setattr(starting, "git_program", lambda: str(waiting))
    monkeypatch.setattr(neighbour, "LONGEST_ANSWER", 1.0)
    with pytest.raises(GitSlow, match="pack-objects"):
        store.latest_of(clone)
