"""The id worked out from a list of files, judged by git itself."""

import random

import pytest

from trueup.lineage.store import Store
from trueup.lineage.store.git.objects import Listing, list_tree
from trueup.lineage.store.git.quiet_git import QuietGit

# Git sorts a folder as if its name ended in a stroke: between "a.b" and "a0".
NAMES = ("a", "a-b", "a.b", "a0", "ä", "A", "a b", "b", "blocks", "wardrobe.toml")
MODES = ("100644", "100644", "100644", "100755", "120000", "160000")


def some_paths(chance: random.Random) -> dict[str, str]:
    """Return paths with a mode each, none of them the folder of another."""
    found: dict[str, str] = {}
    for _ in range(chance.randrange(1, 40)):
        path = "/".join(chance.choice(NAMES) for _ in range(chance.randrange(1, 4)))
        above = {path[:at] for at, letter in enumerate(path) if letter == "/"}
        is_free = not above & found.keys() and not any(p.startswith(f"{path}/") for p in found)
        if is_free and path not in {"blocks", "wardrobe.toml"}:
            found[path] = chance.choice(MODES)
    return found


@pytest.mark.parametrize("seed", range(8))
def test_the_id_of_listed_files_is_the_one_git_gives_them(store: Store, folder, git, seed: int):
    head, listed = store.head(), {}
    git("read-tree", "--empty")
    for path, mode in some_paths(random.Random(seed)).items():
        blob = head if mode == "160000" else git("hash-object", "-w", "--stdin", feed=path.encode())
        git("update-index", "--add", "--cacheinfo", f"{mode},{blob},{path}")
        listed[path] = blob
    tree = git("write-tree")
    commit = git("commit-tree", tree, "-m", "Anything")
    found = list_tree(QuietGit(folder, folder / ".git"), commit)
    assert {*found, *found.links, *found.special} == listed.keys()
    assert found.tree(like=commit) == tree


def test_the_id_after_a_step_is_that_of_the_step(store: Store, git):
    before = store.listing("HEAD")
    writes = {"patterns/cape.toml": b"3\n", "patterns/tunic.toml": None, "blocks/village.toml": b""}
    commit = store.commit(writes, "Do three things", expected_head=store.head())
    assert store.listing(commit).tree(like=commit) == git("rev-parse", f"{commit}^{{tree}}")
    assert store.listing(commit) != before


def test_files_that_are_kept_are_of_one_id_with_those_that_were_listed(store: Store, git):
    git("update-index", "--chmod=+x", "blocks/village.svg")
    git("commit", "-q", "-m", "Let it be run")
    listed = store.listing("HEAD")
    assert listed.special
    kept = Listing.of(dict(listed), listed.special)
    assert kept == listed
    assert kept.tree(like=store.head()) == listed.tree(like=store.head())
