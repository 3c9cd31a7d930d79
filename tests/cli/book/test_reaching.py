"""The page of a correction says which pages of the paper are printed anew, as `sheet` does."""

from pathlib import Path
from typing import Any

from trueup.cli.book.source import BookSource
from trueup.cli.book.views import view
from trueup.cli.opening import reading


def test_it_names_the_pages_that_the_sheet_prints(trueup: Any, tmp_path: Path) -> None:
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "12mm")
    asked = ("sheet", "blouse", str(tmp_path / "moved.pdf"), "--only-moved", "--json")
    pages = trueup.made(*asked).document["pages"]
    names = [f"{page['number']} ({page['place']})" for page in pages]
    with reading(trueup.folder) as opened:
        source = BookSource(opened, 5)
        last = next(iter(source.corrections))
        content = str(view(source, f"correction/{last}").content)
    assert f"On paper (A4): print pages {', '.join(names[:-1])} and {names[-1]} anew." in content
