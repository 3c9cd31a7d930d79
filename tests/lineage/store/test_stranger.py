import os
from pathlib import Path

import pytest

from tests.refusals import refusing
from trueup.lineage.errors import Damaged, NotAWardrobe, UnsafePath
from trueup.lineage.store import Store

HOOKS = """
applypatch-msg pre-applypatch post-applypatch pre-commit pre-merge-commit
prepare-commit-msg commit-msg post-commit pre-rebase post-checkout post-merge pre-push pre-receive
update proc-receive post-receive post-update reference-transaction push-to-checkout pre-auto-gc
post-rewrite sendemail-validate fsmonitor-watchman post-index-change
"""


@pytest.fixture
def marker(tmp_path):
    """The file that any program started from the wardrobe leaves behind."""
    return tmp_path / "marker"


@pytest.fixture
def hostile(store, folder, git, marker, tmp_path):
    """A wardrobe whose every setting would start a program."""
    program = tmp_path / "program"
    program.write_text(f'#!/bin/sh\necho "$0 $@" >> {marker}\nexit 1\n')
    program.chmod(0o755)
    store.commit(
        {".gitattributes": b"* filter=evil diff=evil merge=evil text\n"},
        "Filter everything",
        expected_head=store.head(),
    )
    for place in (folder / ".git" / "hooks", tmp_path / "more-hooks"):
        place.mkdir()
        for hook in HOOKS.split():
            (place / hook).write_text(f"#!/bin/sh\necho {hook} >> {marker}\n")
            (place / hook).chmod(0o755)
    aliases = "\n".join(
        f"    {verb} = !{program}" for verb in ("cat-file", "ls-tree", "update-ref", "rev-list")
    )
    with (folder / ".git" / "config").open("a") as config:
        config.write(f"""
[core]
    fsmonitor = {program}
    sshCommand = {program}
    editor = {program}
    pager = {program}
    askPass = {program}
    gitProxy = {program}
    alternateRefsCommand = {program}
    attributesFile = {tmp_path}/attributes
    worktree = {tmp_path}/elsewhere
    autocrlf = true
    logAllRefUpdates = always
    splitIndex = true
[filter "evil"]
    clean = {program}
    smudge = {program}
    process = {program}
    required = true
[diff]
    external = {program}
[diff "evil"]
    textconv = {program}
    command = {program}
[merge "evil"]
    driver = {program}
[alias]
{aliases}
[gpg]
    program = {program}
[commit]
    gpgSign = true
[log]
    showSignature = true
[pager]
    log = {program}
    rev-list = {program}
[credential]
    helper = {program}
[trailer "x"]
    command = {program}
[protocol]
    allow = always
[protocol "ext"]
    allow = always
[extensions]
    partialClone = origin
[remote "origin"]
    url = ext::{program} %S
    promisor = true
    uploadpack = {program}
[gc]
    auto = 1
""")
    return folder


def use_everything(folder):
    with Store.open(folder) as store:
        store.hand_edits()
        store.commit(
            {"blocks/village.toml": b"new\r\n", "patterns/tunic.toml": None},
            "Correct",
            {"x": "y"},
            expected_head=store.head(),
        )
        list(store.log(paths=["blocks"]))
        assert store.read(store.listing("HEAD").values())
        assert store.listing("HEAD~1")
        assert store.hand_edits() == ()
        assert (folder / "blocks" / "village.toml").read_bytes() == b"new\r\n"
        assert store.read([store.listing("HEAD")["blocks/village.toml"]]) == {
            store.listing("HEAD")["blocks/village.toml"]: b"new\r\n"
        }


def test_nothing_in_a_strangers_wardrobe_runs(hostile, marker):
    use_everything(hostile)
    assert not marker.exists()


def test_a_folder_of_hooks_elsewhere_does_not_run(hostile, marker, git, tmp_path):
    git("config", "core.hooksPath", str(tmp_path / "more-hooks"))
    use_everything(hostile)
    assert not marker.exists()


def test_a_missing_content_is_not_fetched(hostile, marker):
    with Store.open(hostile) as store:
        blob = store.listing("HEAD")["blocks/village.toml"]
        (hostile / ".git" / "objects" / blob[:2] / blob[2:]).unlink()
        with pytest.raises(Damaged):
            store.read([blob])
    assert not marker.exists()


def test_an_interrupted_step_is_settled_without_running_anything(hostile, marker, monkeypatch):
    with Store.open(hostile) as store:
        with monkeypatch.context() as during:
            during.setattr("trueup.lineage.store.writing.index.bring", lambda *arguments: 1 / 0)
            with pytest.raises(ZeroDivisionError):
                store.commit({"blocks/village.toml": b"x"}, "X", expected_head=store.head())
        with store.writing():
            pass
    assert not marker.exists()


@pytest.mark.parametrize(
    "arguments",
    [
        ("--work-tree=.", "status"),
        ("--work-tree=.", "update-index", "--refresh"),
        ("update-ref", "refs/heads/side", "HEAD"),
        ("--work-tree=.", "diff", "HEAD~1"),
    ],
)
def test_plain_git_would_have_run_it(hostile, marker, git, arguments):
    """The trap is a trap: without this the tests above could not fail."""
    (hostile / "blocks" / "village.toml").write_bytes(b"other\n")
    git(*arguments, fails=True)
    assert marker.exists()


def test_plain_git_would_have_fetched(hostile, marker, git):
    blob = git("rev-parse", "HEAD:blocks/village.toml")
    (hostile / ".git" / "objects" / blob[:2] / blob[2:]).unlink()
    git("cat-file", "blob", blob, fails=True)
    assert marker.exists()


def test_inherited_variables_do_not_lead_to_another_repository(
    store, folder, git, tmp_path, monkeypatch
):
    other = tmp_path / "other"
    git("clone", "--quiet", str(folder), str(other))
    before = git("rev-parse", "HEAD", cwd=other)
    monkeypatch.setenv("GIT_DIR", str(other / ".git"))
    monkeypatch.setenv("GIT_WORK_TREE", str(other))
    monkeypatch.setenv("GIT_INDEX_FILE", str(other / ".git" / "index"))
    monkeypatch.setenv("GIT_OBJECT_DIRECTORY", str(other / ".git" / "objects"))
    monkeypatch.setenv("GIT_COMMON_DIR", str(other / ".git"))
    monkeypatch.setenv("GIT_NAMESPACE", "elsewhere")
    monkeypatch.setenv("GIT_PREFIX", "blocks/")
    monkeypatch.setenv("GIT_ICASE_PATHSPECS", "1")
    with Store.open(folder) as again:
        made = again.commit({"blocks/village.toml": b"n\n"}, "N", expected_head=again.head())
        assert next(again.log(paths=["blocks"])).id == made
    Store.create(tmp_path / "third", {"wardrobe.toml": b"x\n"}, "Start")
    for name in [name for name in os.environ if name.startswith("GIT_")]:
        monkeypatch.delenv(name)
    assert git("rev-parse", "HEAD", cwd=other) == before
    assert git("rev-parse", "HEAD") == made
    assert git("status", "--porcelain") == ""
    assert git("status", "--porcelain", cwd=tmp_path / "third") == ""


def test_a_replaced_commit_does_not_show_another_history(store, git):
    real = store.head()
    false = git("commit-tree", "-m", "False", "HEAD^{tree}")
    git("replace", real, false)
    assert next(store.log()).subject == "Start the village store"


class TestLinks:
    @pytest.fixture
    def outside(self, tmp_path):
        place = tmp_path / "outside"
        place.mkdir()
        (place / "village.toml").write_bytes(b"secret\n")
        return place

    def test_a_linked_folder_is_neither_read_nor_written(self, store, folder, outside):
        (folder / "blocks").rename(folder / "was")
        (folder / "blocks").symlink_to(outside)
        self.assert_refused(store, "blocks/village.toml")
        with pytest.raises(UnsafePath):
            store.commit({"blocks/new.toml": b""}, "X", expected_head=store.head())
        assert [path.name for path in outside.iterdir()] == ["village.toml"]

    def test_a_linked_file_is_neither_read_nor_written(self, store, folder, outside):
        (folder / "blocks" / "village.toml").unlink()
        (folder / "blocks" / "village.toml").symlink_to(outside / "village.toml")
        self.assert_refused(store, "blocks/village.toml")

    def test_a_link_to_nothing_is_refused_too(self, store, folder, outside):
        (folder / "patterns" / "cape.toml").symlink_to(outside / "new.toml")
        self.assert_refused(store, "patterns/cape.toml")
        assert not (outside / "new.toml").exists()

    def test_a_pipe_is_not_waited_for(self, store, folder):
        (folder / "blocks" / "village.toml").unlink()
        os.mkfifo(folder / "blocks" / "village.toml")
        self.assert_refused(store, "blocks/village.toml")

    def test_what_stands_in_a_folders_place_does_not_take_its_files_away(self, store, folder):
        (folder / "blocks").rename(folder / "was")
        (folder / "blocks").write_bytes(b"mine\n")
        self.assert_refused(store, "blocks/village.toml")
        assert {edit.kind for edit in store.hand_edits()} == {"changed"}

    def assert_refused(self, store, path):
        head = store.head()
        with pytest.raises(UnsafePath):
            store.working_file(path)
        assert path in [edit.path for edit in store.hand_edits()]
        with pytest.raises(UnsafePath):
            store.commit({path: b"new\n"}, "Write", expected_head=head)
        assert store.head() == head

    def test_a_link_put_in_the_way_of_an_interrupted_step_is_not_followed(
        self, store, folder, outside, monkeypatch
    ):
        with monkeypatch.context() as during:
            during.setattr(
                "trueup.lineage.store.writing.step.move_branch", lambda *arguments: 1 / 0
            )
            with pytest.raises(ZeroDivisionError):
                store.commit({"blocks/village.toml": b"x"}, "X", expected_head=store.head())
        (folder / "blocks").rename(folder / "was")
        (folder / "blocks").symlink_to(outside)
        Store.open(folder).close()
        assert (outside / "village.toml").read_bytes() == b"secret\n"

    @pytest.mark.parametrize(
        "inside", ["index", "logs/refs/heads/main", "refs/heads/main", "objects", "trueup", "HEAD"]
    )
    def test_gits_own_files_may_not_be_links(self, store, folder, tmp_path, inside):
        place = folder / ".git" / inside
        moved = tmp_path / "moved"
        place.rename(moved)
        place.symlink_to(moved)
        with pytest.raises(NotAWardrobe, match="link that leads elsewhere"):
            Store.open(folder)

    @pytest.mark.parametrize("pointer", ["link", "file", "commondir"])
    def test_gits_own_folder_may_not_be_elsewhere(self, store, folder, tmp_path, pointer):
        moved = tmp_path / "moved"
        if pointer == "commondir":
            (folder / ".git" / "commondir").write_text(f"{moved}\n")
        else:
            (folder / ".git").rename(moved)
        if pointer == "link":
            (folder / ".git").symlink_to(moved)
        if pointer == "file":
            (folder / ".git").write_text(f"gitdir: {moved}\n")
        with pytest.raises(NotAWardrobe, match="elsewhere"):
            Store.open(folder)

    def test_hooks_may_be_links(self, store, folder, outside):
        (folder / ".git" / "hooks").symlink_to(outside)
        Store.open(folder).close()


class TestTrees:
    def commit_tree(self, git, *entries: tuple[str, bytes, str]) -> str:
        raw = b"".join(
            f"{mode} ".encode() + name + b"\0" + bytes.fromhex(content)
            for mode, name, content in entries
        )
        tree = git("hash-object", "-t", "tree", "-w", "--stdin", "--literally", feed=raw)
        return git("commit-tree", "-m", "Hostile", tree)

    @pytest.mark.parametrize("name", [b"..", b".git", b"a\\b", b"a\nb", b".GIT"])
    def test_a_recorded_name_that_leads_out_is_refused(self, store, git, name):
        blob = store.listing("HEAD")["wardrobe.toml"]
        with pytest.raises(UnsafePath):
            store.listing(self.commit_tree(git, ("100644", name, blob)))

    def test_a_recorded_name_that_is_no_text_is_refused(self, store, git):
        blob = store.listing("HEAD")["wardrobe.toml"]
        with refusing(Damaged, match="not readable text"):
            store.listing(self.commit_tree(git, ("100644", b"a\xff", blob)))

    @pytest.mark.parametrize("name", [b"blocks", b"wardrobe.toml"])
    def test_a_recorded_link_in_the_wardrobes_place_is_refused(self, store, git, name):
        blob = store.listing("HEAD")["wardrobe.toml"]
        with pytest.raises(UnsafePath, match="recorded as a link"):
            store.listing(self.commit_tree(git, ("120000", name, blob)))

    def test_a_recorded_link_in_a_files_place_is_told_apart_from_files(self, store, folder, git):
        (folder / "patterns" / "cape.toml").symlink_to("../../secret.toml")
        git("add", "-A")
        git("-c", "user.name=x", "-c", "user.email=x@example.org", "commit", "-qm", "Hostile")
        found = store.listing("HEAD")
        assert list(found.links) == ["patterns/cape.toml"]
        assert "patterns/cape.toml" not in found
        assert store.hand_edits() == ()
        store.commit({"patterns/hat.toml": b"x\n"}, "Beside it", expected_head=store.head())
        assert (folder / "patterns" / "cape.toml").is_symlink()

    def test_a_recorded_link_elsewhere_is_no_file(self, store, git):
        blob = store.listing("HEAD")["wardrobe.toml"]
        commit = self.commit_tree(
            git, ("120000", b"link", blob), ("160000", b"module", store.head())
        )
        assert store.listing(commit) == {}


def test_an_absurd_step_of_a_stranger_writes_only_its_own_files(store, folder, git, tmp_path):
    """A wardrobe may come with an interrupted step in it; its names are not trusted either."""
    blob = store.listing("HEAD")["wardrobe.toml"]
    inner = git(
        "hash-object", "-t", "tree", "-w", "--stdin", "--literally",
        feed=b"100644 victim\0" + bytes.fromhex(blob),
    )  # fmt: skip
    outer = git(
        "hash-object", "-t", "tree", "-w", "--stdin", "--literally",
        feed=b"40000 ..\0" + bytes.fromhex(inner),
    )  # fmt: skip
    step = git("commit-tree", "-m", "Out", "-p", "HEAD", outer)
    (folder / ".git" / "trueup" / "step").write_text(f"{step} refs/heads/main\n")
    with pytest.raises(UnsafePath):
        Store.open(folder)
    assert not (tmp_path / "victim").exists()
    assert Path(folder / "wardrobe.toml").exists()
