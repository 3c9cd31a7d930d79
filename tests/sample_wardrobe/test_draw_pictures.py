"""The pictures of the README: all there, all shown, and as the program draws them now."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from tests.browser.chromium import Absent, chromium
from tests.checkout import IMPORTS
from tests.cli.drawing.legible import SVG, assert_legible
from trueup.sample_wardrobe.draw_pictures import FOLDER, IN_A_BROWSER, PICTURES

ROOT = Path(__file__).parents[2]
SVGS = sorted(name for name in PICTURES if name.endswith(".svg"))
OTHERS = sorted(set(PICTURES) - set(SVGS))
LARGEST = 150_000  # bytes, what a page of text loads along without a wait

# What differs each time the sample is played: days, versions, and ids made of them.
_NEW_EACH_TIME = r"\d{4}-\d\d-\d\d|\b[0-9a-f]{10}\b|(?<=-)[0-9a-f]{8}\b"


@pytest.fixture(scope="module")
def drawn_now(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pictures")
    names = list(PICTURES)
    if isinstance(chromium(shutil.which, os.environ), Absent):
        names = [name for name in PICTURES if name not in IN_A_BROWSER]
    # In a process of its own: only one browser can be driven in each.
    script = (sys.executable, "-m", "trueup.sample_wardrobe.draw_pictures")
    surroundings = {**os.environ, "PYTHONPATH": IMPORTS}
    subprocess.run([*script, *names, "--into", str(folder)], check=True, cwd=ROOT, env=surroundings)
    return folder


def root(file: Path) -> ElementTree.Element:
    return ElementTree.parse(file).getroot()


def texts(file: Path) -> list[str]:
    return [re.sub(_NEW_EACH_TIME, "#", e.text or "") for e in root(file).iter(f"{SVG}text")]


def named_lines(file: Path) -> dict[str, str | None]:
    return {e.attrib["id"]: e.attrib.get("d") for e in root(file).iter() if "id" in e.attrib}


def numbers(text: str | None) -> list[float]:
    return [float(number) for number in re.findall(r"-?\d+\.\d+", text or "")]


def test_the_readme_shows_every_picture_and_no_other_each_with_words_for_it():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", readme)
    folder = FOLDER.resolve().relative_to(ROOT).as_posix()
    assert sorted(file for _, file in shown) == sorted(f"{folder}/{name}" for name in PICTURES)
    for words, _ in shown:
        assert len(words.split()) >= 10


def test_every_picture_is_there_and_small():
    assert sorted(file.name for file in FOLDER.iterdir()) == sorted(PICTURES)
    for name in PICTURES:
        assert 1_000 < (FOLDER / name).stat().st_size < LARGEST, name


@pytest.mark.parametrize("name", SVGS)
def test_a_drawing_is_legible_and_as_it_is_drawn_now(name: str, drawn_now: Path):
    assert_legible(root(FOLDER / name))
    kept, now = FOLDER / name, drawn_now / name
    assert texts(kept) == texts(now), "draw the pictures again"
    lines, lines_now = named_lines(kept), named_lines(now)
    assert lines.keys() == lines_now.keys()
    for each, line in lines.items():
        # Hatches may be cut into other strokes by another version of the geometry library.
        if not each.endswith(("gained", "lost", "left-over")):
            assert numbers(line) == pytest.approx(numbers(lines_now[each]), abs=0.05), each


@pytest.mark.parametrize("name", OTHERS)
def test_a_page_is_an_image_with_ink_on_it(name: str, drawn_now: Path):
    made = [folder / name for folder in (FOLDER, drawn_now) if (folder / name).exists()]
    assert made
    for file in made:
        with Image.open(file) as image:
            assert image.width > 800
            shades = image.convert("L").histogram()
        assert sum(shades[:100]) > 2_000


def test_the_cap_conflict_waits_in_the_pictures():
    assert any("! 1 open conflict" in text for text in texts(FOLDER / "tree.svg"))
    assert any("! outside" in text for text in texts(FOLDER / "conflict.svg"))
    assert any(text.startswith("refit-cap (") for text in texts(FOLDER / "conflict.svg"))
