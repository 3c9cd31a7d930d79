"""Draw the pictures of the README from the sample wardrobe, each by the verb a maker would type.

    python -m trueup.sample_wardrobe.draw_pictures [NAME ...] [--into FOLDER]

The sample is played into a folder of its own and its block corrected, with nothing decided yet:
the sleeve cap no longer fits its armhole. A further picture is a further function marked with the
name of its file.
"""

import argparse
import contextlib
import io
import json
import tempfile
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from shutil import which
from typing import Any

import pypdfium2
from PIL import Image
from playwright.sync_api import ViewportSize, sync_playwright

from trueup.cli.demo.playing import play
from trueup.cli.demo.story import Story
from trueup.cli.demo.telling import sample_story
from trueup.cli.main import main

FOLDER = Path(__file__).parent / "pictures"
PDF_POINT_TO_PIXEL = 1.0
SHADES = 16  # of grey are enough for lines and words
BOOK_PAGE = ViewportSize(width=1000, height=1240)
EDGE = "front.armhole"
IN_A_BROWSER = ("book.png",)
"""Pictures that need Chromium on the machine."""


@dataclass(frozen=True)
class Store:
    """The sample wardrobe with its block corrected, and the command run in it."""

    folder: Path
    block: str

    def __call__(self, *words: str) -> str:
        """Return what a verb prints; raises RuntimeError with what it says where it fails."""
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = main(["-C", str(self.folder), *words])
        if code not in (0, 1):
            raise RuntimeError(err.getvalue())
        return out.getvalue()

    def answer(self, *words: str) -> Any:
        """Return what a verb answers as JSON."""
        return json.loads(self(*words, "--json"))


Draw = Callable[[Store, Path], None]

PICTURES: dict[str, Draw] = {}
"""How each picture is drawn, by the name of its file."""


def picture(name: str) -> Callable[[Draw], Draw]:
    """Return a decorator that makes a function the one that draws a picture."""

    def marked(draw: Draw) -> Draw:
        PICTURES[name] = draw
        return draw

    return marked


@picture("tree.svg")
def _tree(store: Store, file: Path) -> None:
    store("tree", "--picture", str(file))


@picture("compare.svg")
def _compare(store: Store, file: Path) -> None:
    store("compare", store.block, "--picture", str(file))


@picture("conflict.svg")
def _conflict(store: Store, file: Path) -> None:
    found = store.answer("conflicts", store.block)["conflicts"]
    cap = next(each for each in found if (each["kind"], each["edge"]) == ("seam", "cap"))
    store("conflicts", cap["id"], "--picture", str(file))


@picture("walk.svg")
def _walk(store: Store, file: Path) -> None:
    store("walk", store.block, "--picture", str(file))


@picture("sheet.png")
def _sheet(store: Store, file: Path) -> None:
    """Draw the page with the label of the first piece, and its neighbour on the left."""
    before = store.answer("compare", store.block)["from"]["commit"]
    pdf = file.with_suffix(".pdf")
    store("sheet", store.block, str(pdf), "--since", before)
    with contextlib.closing(pypdfium2.PdfDocument(pdf)) as document:
        texts = [page.get_textpage().get_text_bounded() for page in document]
        labelled = next(number for number, text in enumerate(texts) if "piece 1 of" in text)
        pages = [document[number].render(scale=PDF_POINT_TO_PIXEL) for number in _pair(labelled)]
        _side_by_side([page.to_pil() for page in pages]).save(file, optimize=True)
    pdf.unlink()


def _pair(second: int) -> tuple[int, int]:
    return second - 1, second


@picture("book.png")
def _book(store: Store, file: Path) -> None:
    """Draw the page of the block in the book, as a browser shows it, with an edge chosen."""
    book = file.with_suffix(".html")
    store("book", str(book), "--versions", "2")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport=BOOK_PAGE)
        page.goto(f"{book.as_uri()}#/block/{store.block}")
        page.get_by_text("Every edge, and where it comes from").click()
        page.get_by_role("button", name=EDGE, exact=True).click()
        page.get_by_text("Every edge, and where it comes from").click()
        page.evaluate("scrollTo(0, 0)")
        seen = page.screenshot()
        browser.close()
    Image.open(io.BytesIO(seen)).convert("L").quantize(SHADES).save(file, optimize=True)
    book.unlink()


def _side_by_side(pages: Sequence[Image.Image]) -> Image.Image:
    gap = 12
    width = sum(page.width for page in pages) + gap * (len(pages) + 1)
    joined = Image.new("L", (width, max(page.height for page in pages) + 2 * gap), 0xA0)
    left = gap
    for page in pages:
        joined.paste(page.convert("L"), (left, gap))
        left += page.width + gap
    return joined.quantize(SHADES)


def corrected_store(folder: Path, story: Story) -> Store:
    """Play a story into a new folder and make its correction, by the verb."""
    play(story, folder)
    told = story.correction
    store = Store(folder, told.node)
    options = [
        word
        for name, value in told.change.items()
        if name != "kind"
        for word in (f"--{name.replace('_', '-')}", str(value))
    ]
    store("correct", told.node, str(told.change["kind"]), *options, "--why", told.why)
    return store


def draw(names: Iterable[str], into: Path) -> None:
    """Draw pictures into a folder."""
    with tempfile.TemporaryDirectory() as place:
        store = corrected_store(Path(place) / "theatre-store", sample_story())
        for name in names:
            drawn = Path(place) / name
            PICTURES[name](store, drawn)
            (into / name).write_bytes(drawn.read_bytes())
            print(into / name)


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Draw the pictures of the README.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join(PICTURES))
    parser.add_argument("--into", type=Path, default=FOLDER)
    found = parser.parse_args()
    if unknown := [name for name in found.names if name not in PICTURES]:
        parser.error(f"there is no picture {', '.join(unknown)}; name {', '.join(PICTURES)}")
    return found


if __name__ == "__main__":
    asked = _asked()
    asked.into.mkdir(exist_ok=True)
    draw(asked.names or PICTURES, asked.into)
