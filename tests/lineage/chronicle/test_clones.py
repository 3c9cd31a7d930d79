"""What the history tells is what git log tells, in every clone and across a merge."""

from pathlib import Path

import pytest

from tests.lineage.chronicle.conftest import Git, Lived
from trueup.lineage.chronicle import Chronicle, selection
from trueup.lineage.chronicle.over_time import over_time
from trueup.lineage.store import Commit
from trueup.lineage.wardrobe import Wardrobe


def told(folder: Path) -> list[tuple[object, ...]]:
    """Return everything the history tells, as plain values."""
    with Wardrobe.open(folder) as wardrobe:
        return [_told(entry.commit, entry) for entry in Chronicle(wardrobe).entries()]


def _told(commit: Commit, entry: object) -> tuple[object, ...]:
    effect = entry.effect  # type: ignore[attr-defined]
    return (
        commit,
        entry.steps,  # type: ignore[attr-defined]
        effect.measures,
        [(each.name, each.verdict, each.measures) for each in effect.patterns],
        [each.decision for each in entry.decided],  # type: ignore[attr-defined]
    )


def test_ids_dates_and_makers_are_those_of_git_log(merged: Path, run_git: Git) -> None:
    log = run_git(merged, "log", "--date-order", "--format=%H%x09%an <%ae>%x09%aI%x09%s")
    with Wardrobe.open(merged) as wardrobe:
        commits = [entry.commit for entry in Chronicle(wardrobe).entries()]
    lines = [
        "\t".join((each.id, each.author, each.when.isoformat(), each.subject)) for each in commits
    ]
    assert [line.replace("Z\t", "+00:00\t") for line in log.split("\n")] == lines


def test_a_clone_tells_the_same(lived_in: Lived, tmp_path: Path, run_git: Git) -> None:
    run_git(tmp_path, "clone", "-q", str(lived_in.folder), str(tmp_path / "clone"))
    assert told(tmp_path / "clone") == told(lived_in.folder)


def test_pushing_and_pulling_change_nothing_that_is_told(
    clones: tuple[Path, Path], tmp_path: Path, run_git: Git
) -> None:
    here, _ = clones
    store, third = tmp_path / "store.git", tmp_path / "third"
    run_git(tmp_path, "clone", "-q", "--bare", str(here), str(store))
    run_git(tmp_path, "clone", "-q", str(store), str(third))
    assert told(third) == told(here)


def test_a_merge_made_by_git_loses_no_step_of_either_maker(
    clones: tuple[Path, Path], merged: Path
) -> None:
    _, there = clones
    with Wardrobe.open(there) as wardrobe:
        theirs = {entry.commit.id for entry in Chronicle(wardrobe).entries()}
    with Wardrobe.open(merged) as wardrobe:
        chronicle = Chronicle(wardrobe)
        entries = list(chronicle.entries())
        assert theirs < {entry.commit.id for entry in entries}
        assert entries[0].is_join
        assert {entry.commit.author.partition(" <")[0] for entry in entries[1:3]} == {"Ana", "Bea"}
        places = {entry.commit.id: index for index, entry in enumerate(entries)}
        for entry in entries:
            assert all(places[parent] > places[entry.commit.id] for parent in entry.commit.parents)


def test_each_side_of_a_merge_is_told_from_its_own_version_before(
    clones: tuple[Path, Path], merged: Path
) -> None:
    _, there = clones
    alone = {each[0].id: each for each in told(there)}  # type: ignore[attr-defined]
    joined = {each[0].id: each for each in told(merged)}  # type: ignore[attr-defined]
    assert alone.keys() < joined.keys()
    for commit, each in alone.items():
        assert joined[commit] == each


def test_a_node_of_one_side_keeps_its_entries_after_the_merge(merged: Path) -> None:
    with Wardrobe.open(merged) as wardrobe:
        chronicle = Chronicle(wardrobe)
        for node, step in (("short", "Style short: lower-neck"),
                           ("flat", "Correct flat: scoop-armhole")):  # fmt: skip
            chosen = selection.of_node(chronicle.now.state.node(node))
            found = [each.commit.subject for each in chronicle.entries(selections=[chosen])]
            assert step in found


def test_a_merge_that_kept_one_side_still_tells_the_other(
    clones: tuple[Path, Path], run_git: Git
) -> None:
    here, there = clones
    run_git(here, "pull", "-q", "--no-rebase", "--no-edit", "-s", "ours", str(there), "main")
    with Wardrobe.open(here) as wardrobe:
        chronicle = Chronicle(wardrobe)
        chosen = selection.of_node(chronicle.now.state.node("flat"))
        found = [each.commit.subject for each in chronicle.entries(selections=[chosen])]
        assert "Correct flat: scoop-armhole" in found


def test_a_measure_over_time_is_told_once_across_a_merge(merged: Path) -> None:
    with Wardrobe.open(merged) as wardrobe:
        chronicle = Chronicle(wardrobe)
        found = over_time(chronicle, "flat", ["front.chest-width"])
        assert [each.entry.commit.subject for each in found] == [
            "Derive the pattern flat from village",
            "Correct flat: scoop-armhole",
        ]
        now = chronicle.now.summary("flat").measures["front.chest-width"]
        assert found[-1].value_mm == pytest.approx(now)


def test_a_clock_that_runs_behind_puts_no_step_before_what_it_follows(
    clones: tuple[Path, Path], run_git: Git, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, there = clones
    monkeypatch.setenv("GIT_COMMITTER_DATE", "2001-01-01T00:00:00+00:00")
    run_git(there, "commit", "-q", "--allow-empty", "-m", "An old clock")
    monkeypatch.delenv("GIT_COMMITTER_DATE")
    run_git(here, "pull", "-q", "--no-rebase", "--no-edit", str(there), "main")
    with Wardrobe.open(here) as wardrobe:
        commits = list(wardrobe.history())
    places = {commit.id: place for place, commit in enumerate(commits)}
    assert all(places[p] > places[c.id] for c in commits for p in c.parents)


def test_a_shallow_clone_tells_what_it_has(lived_in: Lived, tmp_path: Path, run_git: Git) -> None:
    place = tmp_path / "shallow"
    run_git(tmp_path, "clone", "-q", "--depth", "3", f"file://{lived_in.folder}", str(place))
    with Wardrobe.open(place) as wardrobe:
        entries = list(Chronicle(wardrobe).entries())
        assert len(entries) == 3
        assert entries[0].effect.patterns
        assert entries[0].effect.unreadable == ""
