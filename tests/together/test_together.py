"""Many at work on one wardrobe for a few seconds: every step once, no save lost, no reader misled.

`run_all` does the same for as long as it is told to.
"""

import shutil
from pathlib import Path

import pytest

from tests.small_wardrobe import build
from tests.together.crowd import Crowd
from tests.warm import Warm


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("built")
    with Warm(place / "home") as trueup:
        build(trueup, place / "wardrobe")
    return place / "wardrobe"


@pytest.mark.parametrize(("writers", "readers", "editors"), [(4, 1, 0), (2, 1, 1), (1, 1, 2)])
def test_every_step_is_there_once_and_no_save_is_lost(
    built: Path, tmp_path: Path, writers: int, readers: int, editors: int
) -> None:
    folder = Path(shutil.copytree(built, tmp_path / "wardrobe"))
    crowd = Crowd(folder, tmp_path / "home", pause=0.3)
    told = crowd.work(writers, readers, editors, seconds=3)
    assert crowd.settled() == []
    assert told.recorded
    assert told.read
    assert editors or not told.refused, told.sentences
