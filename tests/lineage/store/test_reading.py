import itertools
import re

import pytest

from tests.refusals import refusing
from trueup.lineage.errors import (
    BadInput,
    BeyondLimits,
    Damaged,
    GitMissing,
    NoSuchFile,
    NotAWardrobe,
    UnknownRevision,
)
from trueup.lineage.store import Store


@pytest.fixture
def steps(store):
    """Three versions: the start, a corrected block, a new pattern."""
    first = store.head()
    second = store.commit({"blocks/village.toml": b"2\n"}, "Correct", expected_head=first)
    third = store.commit({"patterns/cape.toml": b"3\n"}, "Derive", expected_head=second)
    return first, second, third


def test_any_earlier_version_can_be_read(store, steps, files_at):
    first, second, third = steps
    assert files_at(store, first)["blocks/village.toml"] == b"kind = 'block'\n"
    assert files_at(store, second)["blocks/village.toml"] == b"2\n"
    assert "patterns/cape.toml" not in files_at(store, second)
    assert files_at(store, third)["patterns/cape.toml"] == b"3\n"


def test_readers_see_what_is_committed_and_not_what_lies_on_the_disk(store, folder, files_at):
    before = files_at(store)
    (folder / "blocks" / "village.toml").write_bytes(b"half a thou")
    (folder / "patterns" / "tunic.toml").unlink()
    assert files_at(store) == before


def test_a_version_has_many_names(store, steps, git):
    first, second, third = steps
    git("tag", "-a", "-m", "Opening night", "opening", second)
    assert store.resolve("HEAD") == store.resolve("main") == store.resolve(third[:8]) == third
    assert store.resolve("HEAD~2") == store.resolve(first) == first
    assert store.resolve("opening") == store.resolve("HEAD~1") == second


@pytest.mark.parametrize(
    "name",
    ["", " ", "nowhere", "HEAD~99", "--all", "-h", "0" * 40, "HEAD:wardrobe.toml", "a\nHEAD", "\0"],
)
def test_a_name_for_no_version_is_refused(store, name):
    with pytest.raises(UnknownRevision, match="no version"):
        store.resolve(name)
    with pytest.raises(UnknownRevision):
        store.listing(name)
    with pytest.raises(UnknownRevision):
        next(store.log(name))


def test_the_log_runs_newest_first(store, steps):
    assert [commit.id for commit in store.log()] == list(reversed(steps))
    assert [commit.id for commit in store.log("HEAD~1")] == [steps[1], steps[0]]


def test_the_log_can_follow_one_file_or_folder(store, steps):
    first, second, third = steps
    assert [c.id for c in store.log(paths=["blocks/village.toml"])] == [second, first]
    assert [c.id for c in store.log(paths=["patterns"])] == [third, first]
    assert list(store.log(paths=["patterns/*.toml"])) == []  # a name, and not a pattern of names


def test_the_log_is_read_no_further_than_asked(store, steps):
    assert [commit.id for commit in itertools.islice(store.log(), 1)] == [steps[2]]


def test_a_merge_made_by_plain_git_reads_well(store, steps, folder, git, files_at):
    git("switch", "--quiet", "-c", "side", steps[0])
    with Store.open(folder) as side:
        side.commit({"blocks/second.toml": b"s\n"}, "Draft a second", expected_head=side.head())
    git("switch", "--quiet", "main")
    git("merge", "--quiet", "--no-edit", "side")
    commits = list(store.log())
    assert len(commits) == 5
    assert len(commits[0].parents) == 2
    assert files_at(store)["blocks/second.toml"] == b"s\n"
    store.commit({"blocks/second.toml": b"t\n"}, "Correct it", expected_head=store.head())


def test_a_message_written_by_hand_reads_well(store, git):
    git("commit", "--allow-empty", "--quiet", "-m", "One\nline\n\nBody: yes\nand no", "-m", "End.")
    commit = next(store.log())
    assert commit.subject == "One line"
    assert commit.body == "Body: yes\nand no\n\nEnd."
    assert commit.trailers == {}
    git("commit", "--allow-empty", "--allow-empty-message", "--quiet", "-m", "")
    assert next(store.log()).subject == ""


def test_an_old_spelling_of_a_name_does_not_stop_the_log(store, git):
    raw = git("cat-file", "commit", "HEAD").encode().replace(b"Mary", b"M\xe4ry") + b"\n"
    odd = git("hash-object", "-t", "commit", "-w", "--stdin", "--literally", feed=raw)
    assert "ry Tailor" in next(store.log(odd)).author


def test_a_clone_a_repack_and_packed_refs_change_nothing(
    store, steps, folder, git, tmp_path, files_at, assert_whole
):
    files = files_at(store)
    git("gc", "--quiet", "--aggressive", "--prune=now")
    git("pack-refs", "--all")
    assert files_at(store) == files
    store.commit({"blocks/village.toml": b"4\n"}, "Correct", expected_head=steps[2])
    assert_whole()
    git("clone", "--quiet", str(folder), str(tmp_path / "copy"))
    with Store.open(tmp_path / "copy") as copy:
        assert files_at(copy) == files_at(store)
        assert copy.hand_edits() == ()
        copy.commit({"blocks/village.toml": b"5\n"}, "Correct", expected_head=copy.head())
    assert git("status", "--porcelain", cwd=tmp_path / "copy") == ""


def test_a_shallow_clone_can_be_read_and_written(store, steps, folder, git, tmp_path):
    git("clone", "--quiet", "--depth=1", f"file://{folder}", str(tmp_path / "copy"))
    with Store.open(tmp_path / "copy") as copy:
        assert [commit.id for commit in copy.log()] == [steps[2]]
        copy.commit({"blocks/village.toml": b"5\n"}, "Correct", expected_head=copy.head())


def test_a_sha256_repository_works_too(tmp_path, files_at, git):
    place = tmp_path / "long"
    git("init", "--quiet", "-b", "main", "--object-format=sha256", str(place), cwd=tmp_path)
    (place / "wardrobe.toml").write_bytes(b"x\n")
    git("add", ".", cwd=place)
    git("commit", "--quiet", "-m", "Start", cwd=place)
    with Store.open(place) as store:
        store.commit({"blocks/a.toml": b"a\n"}, "Draft", expected_head=store.head())
        assert store.hand_edits() == ()
        assert files_at(store) == {"wardrobe.toml": b"x\n", "blocks/a.toml": b"a\n"}
    assert git("status", "--porcelain", cwd=place) == ""


class TestAFolderThatIsNoWardrobe:
    def test_missing(self, tmp_path):
        with pytest.raises(NotAWardrobe, match="no such folder"):
            Store.open(tmp_path / "nowhere")

    def test_without_git(self, tmp_path):
        (tmp_path / "wardrobe.toml").touch()
        with pytest.raises(NotAWardrobe, match=r"no \.git folder"):
            Store.open(tmp_path)

    def test_inside_a_wardrobe(self, store, folder):
        with pytest.raises(NotAWardrobe):
            Store.open(folder / "patterns")

    def test_another_project(self, folder, git):
        folder.mkdir()
        git("init", "--quiet")
        git("commit", "--allow-empty", "--quiet", "-m", "Start")
        with pytest.raises(NotAWardrobe, match=r"no wardrobe\.toml"):
            Store.open(folder)

    def test_no_version_yet(self, folder, git):
        folder.mkdir()
        git("init", "--quiet")
        (folder / "wardrobe.toml").touch()
        with pytest.raises(NotAWardrobe, match="no version yet"):
            Store.open(folder)

    def test_bare(self, store, folder, git, tmp_path):
        git("clone", "--quiet", "--bare", str(folder), str(tmp_path / "bare"))
        with pytest.raises(NotAWardrobe, match=r"no \.git folder"):
            Store.open(tmp_path / "bare")

    def test_a_second_work_tree(self, store, folder, git, tmp_path):
        git("worktree", "add", "--quiet", str(tmp_path / "tree"))
        with pytest.raises(NotAWardrobe, match="points elsewhere"):
            Store.open(tmp_path / "tree")


class TestADamagedWardrobe:
    def loose(self, folder, blob):
        path = folder / ".git" / "objects" / blob[:2] / blob[2:]
        path.chmod(0o644)
        return path

    def test_content_is_gone(self, store, folder):
        blob = store.listing("HEAD")["blocks/village.svg"]
        self.loose(folder, blob).unlink()
        with refusing(Damaged, match=blob):
            store.read([blob])

    def test_content_is_garbage(self, store, folder):
        blob = store.listing("HEAD")["blocks/village.svg"]
        self.loose(folder, blob).write_bytes(b"garbage")
        with pytest.raises(Damaged):
            store.read([blob])

    def test_the_latest_version_is_gone(self, store, folder):
        self.loose(folder, store.head()).unlink()
        with refusing(Damaged, match="latest version"):
            Store.open(folder)

    def test_the_branch_is_cut_off(self, store, folder):
        (folder / ".git" / "refs" / "heads" / "main").write_bytes(b"")
        with refusing(Damaged, match="latest version"):
            Store.open(folder)

    def test_the_tree_is_gone(self, store, folder, git):
        self.loose(folder, git("rev-parse", "HEAD^{tree}")).unlink()
        with pytest.raises(Damaged):
            store.listing("HEAD")

    def test_history_ends_early(self, store, folder):
        first = store.head()
        store.commit({}, "Step", expected_head=first)
        self.loose(folder, first).unlink()
        with pytest.raises(Damaged):
            list(store.log())

    @pytest.mark.parametrize("name", ["config", "HEAD"])
    def test_gits_own_file_is_garbage(self, store, folder, name):
        (folder / ".git" / name).write_bytes(b"[[[ \x00")
        with pytest.raises(Damaged):
            Store.open(folder)

    def test_a_later_format_of_git(self, store, folder, git):
        git("config", "core.repositoryFormatVersion", "99")
        with refusing(Damaged, match="99"):
            Store.open(folder)

    def test_content_is_absurdly_large(self, store, monkeypatch):
        monkeypatch.setattr("trueup.lineage.store.git.objects.LARGEST_FILE", 3)
        with pytest.raises(
            BeyondLimits, match=r"^(blocks|patterns|wardrobe|\.git)\S+ is more than"
        ):
            store.read(store.listing("HEAD").values())


def test_without_git_installed_one_sentence_says_so(store, folder, monkeypatch, python):
    monkeypatch.setenv("PATH", str(folder))
    fresh = python(
        """
        import sys
        from pathlib import Path
        from trueup.lineage.errors import GitMissing
        from trueup.lineage.store import Store
        try:
            Store.open(Path(sys.argv[1]))
        except GitMissing as error:
            print(error)
        """,
        folder,
        is_anew=True,
    )
    output, complaint = fresh.communicate()
    assert output.strip() == str(GitMissing()), complaint


def test_git_vanishing_later_is_told_the_same_way(store, folder, monkeypatch):
    monkeypatch.setenv("PATH", str(folder))
    with pytest.raises(GitMissing, match="install git"):
        store.head()


def test_every_error_is_one_sentence(tmp_path):
    with pytest.raises(BadInput) as caught:
        Store.open(tmp_path)
    assert str(caught.value).endswith(".")
    assert "\n" not in str(caught.value)


def test_a_working_file_is_read_from_the_disk(store, folder):
    (folder / "blocks" / "village.toml").write_bytes(b"mine\n")
    assert store.working_file("blocks/village.toml") == b"mine\n"
    for path in ("blocks/none.toml", "none/none.toml", "blocks/village.toml/x"):
        with pytest.raises(NoSuchFile, match=path):
            store.working_file(path)


# --- histories and messages without end -----------------------------------------------------------


def test_of_a_message_without_end_the_beginning_is_read(store, git, monkeypatch):
    monkeypatch.setattr("trueup.lineage.store.git.history.LONGEST_MESSAGE", 2_000)
    text = "Longer\n\n" + "word " * 5_000 + "\n\nVerb: style\n"
    git("commit", "--quiet", "--allow-empty", "--file", "-", feed=text.encode())
    after, before = itertools.islice(store.log(), 2)
    assert (after.subject, before.subject) == ("Longer", "Start the village store")
    assert after.body.endswith("...")
    assert len(after.body) < 2_000
    assert after.trailers == {}


def test_more_messages_than_any_maker_writes_are_refused(store, git, monkeypatch):
    monkeypatch.setattr("trueup.lineage.store.git.history.LARGEST_HISTORY", 2_000)
    for number in range(5):
        git("commit", "--quiet", "--allow-empty", "-m", f"{number} {'word ' * 200}")
    assert next(store.log()).subject.startswith("4 ")
    with refusing(BeyondLimits, match="messages"):
        list(store.log())


def test_a_message_in_an_older_encoding_is_read_as_it_was_written(store, git):
    text = "Größer".encode("latin-1")
    git("-c", "i18n.commitEncoding=ISO-8859-1", "commit", "--quiet", "--allow-empty", "--file", "-",
        feed=text)  # fmt: skip
    assert next(store.log()).subject == "Größer"


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("1700000000 +0130", "2023-11-14T23:43:20+01:30"),
        ("1700000000 -0800", "2023-11-14T14:13:20-08:00"),
        ("0 +0000", "1970-01-01T00:00:00+00:00"),
    ],
)
def test_the_moment_of_a_step_is_told_by_its_makers_clock(store, git, written, meant):
    raw = re.sub(r"> \d+ [+-]\d{4}", f"> {written}", git("cat-file", "commit", "HEAD")) + "\n"
    made = git("hash-object", "-t", "commit", "-w", "--stdin", feed=raw.encode())
    assert next(store.log(made)).when.isoformat() == meant


def test_what_a_file_is_too_long_for_is_seen_without_reading_it_all(store, git):
    blob = git("hash-object", "-w", "--stdin", feed=b"x" * 5_000_000)
    assert store.read([blob], 100)[blob] == b"x" * 101


def test_the_differences_of_two_versions_are_bounded_too(store, git, monkeypatch):
    base = store.head()
    monkeypatch.setattr("trueup.lineage.store.git.objects.MOST_FILES", 3)
    with refusing(BeyondLimits, match="files"):
        store.listing(base)
