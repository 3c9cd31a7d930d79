"""No setting of git in a stranger's wardrobe runs, reads or writes anything, or changes answers."""

import subprocess
from pathlib import Path

import pytest

from tests.strangers.dividing import Trial
from tests.strangers.ordeal import Case
from tests.strangers.settings import all_settings, plant
from tests.strangers.watched import Watched
from tests.warm import Answer, environment


def test_the_list_is_that_of_the_git_at_hand() -> None:
    settings = all_settings()
    assert len(settings) > 700
    assert {"core.fsmonitor", "filter.evil.smudge", "alias.cat-file"} <= set(settings)


@pytest.mark.parametrize(("value", "where"), [("a program", "clone"), ("yes", "wardrobe")])
def test_every_setting_is_as_if_it_were_not_there(
    trueup: Watched,
    built: tuple[Path, Path],
    clean: list[Answer],
    tmp_path: Path,
    value: str,
    where: str,
) -> None:
    """All at once, but for those with which git itself answers nothing: these are refused.

    `run_all` sets them to everything else too, in both places.
    """
    trial = Trial(trueup, built, clean, tmp_path / "case", value, where)
    tried = trial.of(all_settings())
    assert tried.faults == []
    assert len(tried.answered) > 600, tried.refused


def test_settings_that_only_the_writing_of_an_index_reads_stop_no_step(
    trueup: Watched, built: tuple[Path, Path], clean: list[Answer], tmp_path: Path
) -> None:
    trial = Trial(trueup, built, clean, tmp_path / "case", "a program", "wardrobe")
    tried = trial.together([name for name in all_settings() if name.startswith("index.")])
    assert tried == (False, [])


def test_the_settings_would_run_it_by_plain_git(case: Case) -> None:
    """The trap is a trap: without this the tests above could not fail."""
    settings = ["core.fsmonitor", "diff.external", "filter.evil.clean", "core.pager"]
    plant(case.folder, settings, str(case.program))
    (case.folder / ".git" / "info").mkdir(exist_ok=True)
    (case.folder / ".git" / "info" / "attributes").write_text("* filter=evil\n")
    (case.folder / "wardrobe.toml").write_text("other")
    words = ["git", "-C", str(case.folder), "status"]
    subprocess.run(words, env=environment(case.outside), capture_output=True, check=False)
    assert case.marker.exists()
