"""trueup trace of a photograph: its outlines are looked over like those of any drawing."""

from pathlib import Path
from typing import Any

import pytest

from tests.lineage.drawings.photographs.rendering import jpeg, photograph
from tests.lineage.drawings.photographs.test_photograph import CAMERAS, TABLES


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    scene, _ = TABLES["bodice"](CAMERAS["bodice"])
    file = tmp_path_factory.mktemp("photo") / "table.jpg"
    file.write_bytes(jpeg(photograph(scene), scene.camera.quality))
    return file


def test_the_lines_of_a_photograph_are_proposed_and_taken(trueup: Any, picture: Path) -> None:
    document = trueup("trace", str(picture), "card", "--json").document
    assert "strips of the frame" in document["size"]
    assert len(document["lines"]) >= 10
    trueup.made("trace", str(picture), "card", "--as-proposed")
    assert trueup("check", "card").code in (0, 1)


def test_a_picture_without_a_frame_is_refused(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "none.jpg"
    file.write_bytes(b"no picture")
    before = trueup.contents()
    answer = trueup("trace", str(file), "card")
    assert answer.code == 2
    assert "none.jpg" in answer.err
    assert trueup.contents() == before
