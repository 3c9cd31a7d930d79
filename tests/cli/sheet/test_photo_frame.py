"""The printed frame for photographs, as other libraries read it, and its markers as OpenCV does."""

import json
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pypdfium2
import pytest

from tests.cli.conftest import run
from tests.cli.sheet.pdf import read
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.photo_frame import framed
from trueup.lineage.drawings.photographs.frame import dictionary
from trueup.lineage.drawings.photographs.frame.strips import STRIPS, markers_of

SIZES = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
DOTS = 10  # to a mm


@pytest.fixture(scope="module", params=list(SIZES))
def printed(request: Any) -> tuple[str, bytes]:
    return request.param, framed(request.param).content


def test_the_pages_lie_on_their_side_and_everything_is_between_the_margins(printed: Any) -> None:
    paper, content = printed
    pages = read(content)
    assert len(pages) == STRIPS / 4
    for page in pages:
        assert (page.width, page.height) == pytest.approx(SIZES[paper], abs=0.01)
        for point in page.reach():
            assert 9.9 < point.real < page.width - 9.9
            assert 9.9 < point.imag < page.height - 9.9


def test_the_rule_and_the_strips_are_true_to_size(printed: Any) -> None:
    _, content = printed
    for page in read(content):
        assert max(line.length for line in page.in_pen(InkPen.TEST)) == pytest.approx(50, abs=0.001)
        strips = [line for line in page.in_pen(InkPen.FRAME) if line.length > 500]
        assert [line.length for line in strips] == pytest.approx([572.0] * 4, abs=0.001)
        assert "Print at 100 %" in page.text
        assert "5 cm" in page.text


def test_every_marker_is_found_where_its_strip_has_it(printed: Any) -> None:
    _, content = printed
    found: dict[int, Any] = {}
    for page in pypdfium2.PdfDocument(content):
        grey = page.render(scale=25.4 / 72 * DOTS).to_numpy()[:, :, 0]
        settings = cv2.aruco.DetectorParameters()
        settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
        known = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_100)
        corners, numbers, _ = cv2.aruco.ArucoDetector(known, settings).detectMarkers(grey)
        for number, four in zip(np.ravel(numbers), corners, strict=True):
            assert number not in found
            found[int(number)] = (four.reshape(4, 2)[:, 0] + 1j * four.reshape(4, 2)[:, 1]) / DOTS
    assert sorted(found) == list(range(72))
    for strip in range(1, STRIPS + 1):
        markers = markers_of(strip)
        first = found[markers[0].number][0] - markers[0].corners[0]
        for marker in markers:
            wanted = first + np.array(marker.corners)
            assert np.abs(found[marker.number] - wanted).max() < 0.15
        ends = found[markers[-1].number][1] - found[markers[0].number][0]
        assert abs(ends) == pytest.approx(230.0, abs=0.15)


def test_the_same_paper_gives_the_same_bytes() -> None:
    assert framed("a4") == framed("a4")


def frame(*words: str) -> Any:
    return run("sheet", "--frame", *words)


def test_it_is_printed_outside_of_any_wardrobe(tmp_path: Path) -> None:
    file = tmp_path / "frame.pdf"
    answer = frame(str(file))
    assert answer.code == 0, answer.err
    assert "Print it at 100 %: the squares of a strip reach 23 cm" in answer.out
    assert file.read_bytes() == framed("a4").content
    again = frame(str(file), "--paper", "letter", "--force", "--json")
    assert json.loads(again.out)["paper"] == "letter"
    assert file.read_bytes() == framed("letter").content


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "Name the file to write and nothing else"),
        (("blouse", "frame.pdf"), "Name the file to write and nothing else"),
        (("frame.svg",), "frame.svg is not named as a PDF file"),
        (("frame.pdf", "--paper", "a0"), "--paper a4 or letter"),
        (("frame.pdf", "--lines", "seam"), "--frame goes with the file, --paper and --force"),
        (("frame.pdf", "--cut-list"), "--frame goes with the file, --paper and --force"),
    ],
)
def test_what_does_not_go_with_it_is_refused(
    words: tuple[str, ...], told: str, tmp_path: Path, monkeypatch: Any
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = frame(*words)
    assert answer.code == 2
    assert told in answer.err
    assert answer.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_without_opencv_one_sentence_says_what_to_install(tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(dictionary, "find_spec", lambda name: None)
    dictionary.dictionary.cache_clear()
    answer = frame(str(tmp_path / "frame.pdf"))
    dictionary.dictionary.cache_clear()
    assert answer.code == 2
    assert answer.err.count("\n") == 1
    assert "pip install 'trueup[photo]'" in answer.err
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_needs_a_node_otherwise() -> None:
    answer = run("sheet")
    assert answer.code == 2
    assert "Name the block or pattern to print" in answer.err
