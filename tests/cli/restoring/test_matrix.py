"""Every file of a wardrobe, damaged in every way: a sample here, all of it by `matrix.py`."""

import random
from pathlib import Path

import pytest

from tests.cli.restoring import damage, judging
from tests.cli.restoring.matrix import case, files_of

BY_NAME = (".git/HEAD", ".git/refs/heads/main", ".git/index", ".git/packed-refs", ".git/config")
SAMPLE = 16


@pytest.mark.parametrize("place", BY_NAME)
@pytest.mark.parametrize("name", ["flipped", "folder"])
def test_a_name_or_list_of_gits_is_made_whole(
    told: Path, was: judging.Before, place: str, name: str, tmp_path: Path
) -> None:
    assert case(told, was, place, name, tmp_path) == []


@pytest.mark.parametrize("number", range(SAMPLE))
def test_any_file_damaged_in_any_way_is_made_whole_or_told(
    told: Path, was: judging.Before, number: int, tmp_path: Path
) -> None:
    chosen = random.Random(number)
    place = chosen.choice(sorted(files_of(told)))
    name = chosen.choice(sorted(damage.DAMAGES))
    assert case(told, was, place, name, tmp_path) == [], f"{place} {name}"
