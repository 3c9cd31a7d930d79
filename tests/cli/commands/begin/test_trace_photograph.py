"""trueup trace with a photograph: the whole command, from the picture to a block."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.cli.trouble.test_bad_input import refused
from tests.lineage.drawings.photographs.rendering import Camera, jpeg, photograph
from tests.lineage.drawings.photographs.tables import bodice_table
from trueup.lineage.drawings.photographs.frame import dictionary

LONGEST = 370.0
"""The centre front of the bodice, mm."""


@pytest.fixture(scope="module")
def photo(tmp_path_factory: Any) -> Path:
    camera = Camera(2400, 1800, high=900, focal=0.72, leans=(3, -2), radial=(0.03, -0.01))
    file = tmp_path_factory.mktemp("photo") / "front.jpg"
    file.write_bytes(jpeg(photograph(bodice_table(camera)[0])))
    return Path(file)


def test_it_is_proposed_with_its_error_and_nothing_is_recorded(trueup: Any, photo: Path) -> None:
    before = trueup.contents()
    answer = trueup("trace", str(photo), "card")
    assert answer.code == 2
    assert "Size: measured by 8 strips of the frame" in answer.out
    assert "came out right to 0.0" in answer.out
    assert "nothing is recorded" in answer.err
    assert trueup.contents() == before


def test_it_becomes_a_block_as_long_as_the_card(trueup: Any, photo: Path) -> None:
    trueup.made("trace", str(photo), "card", "--as-proposed")
    measures = trueup.made("measure", "card", "--json").document["measures"]
    assert measures["piece-1.centre"] == pytest.approx(LONGEST, abs=1.0)
    assert measures["piece-1.waist.intake"] == pytest.approx(30.0, abs=1.0)
    # As sewn, its dart closed.
    assert measures["piece-1.hem"] == pytest.approx(240.0 - 30.0, abs=1.0)


def test_a_measured_line_checks_the_size(trueup: Any, photo: Path) -> None:
    longest = "piece-1.centre"
    answer = trueup("trace", str(photo), "card", "--measure", f"{longest}=370mm")
    assert "the size of the drawing holds" in answer.out
    sentence = refused(trueup, "trace", str(photo), "card", "--measure", f"{longest}=390mm")
    assert "front.jpg" in sentence


def test_a_strip_that_was_printed_smaller_makes_all_smaller(trueup: Any, photo: Path) -> None:
    trueup.made("trace", str(photo), "card", "--as-proposed", "--strip", "227.7mm")
    measures = trueup.made("measure", "card", "--json").document["measures"]
    assert measures["piece-1.centre"] == pytest.approx(LONGEST * 227.7 / 230, abs=1.0)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--strip", "97mm"), "far from the 230 mm that a strip is printed to"),
        (("--strip", "long"), "long"),
    ],
)
def test_a_strip_of_no_such_length_is_refused(
    trueup: Any, photo: Path, words: tuple[str, ...], told: str
) -> None:
    assert told in refused(trueup, "trace", str(photo), "card", *words)


def test_what_cannot_be_measured_is_refused_in_one_sentence(trueup: Any, tmp_path: Path) -> None:
    bare = tmp_path / "bare.jpg"
    bare.write_bytes(jpeg(np.full((600, 800, 3), 90, np.uint8)))
    assert "no strip of the frame is to be seen" in refused(trueup, "trace", str(bare), "card")
    none = tmp_path / "none.png"
    none.write_bytes(b"no picture")
    assert "cannot be read as a picture" in refused(trueup, "trace", str(none), "card")
    other = tmp_path / "scan.tiff"
    other.write_bytes(b"II*\x00")
    assert "give a JPEG, PNG or WebP" in refused(trueup, "trace", str(other), "card")
    drawing = tmp_path / "drawing.svg"
    drawing.write_text("<svg/>")
    sentence = refused(trueup, "trace", str(drawing), "card", "--strip", "229mm")
    assert "--strip is for photographs" in sentence


def test_without_opencv_one_sentence_says_what_to_install(
    trueup: Any, photo: Path, monkeypatch: Any
) -> None:
    monkeypatch.setattr(dictionary, "find_spec", lambda name: None)
    sentence = refused(trueup, "trace", str(photo), "card")
    assert "pip install 'trueup[photo]'" in sentence
