"""The page of all that was done: in the trade's words and the wardrobe's unit."""

import re
from pathlib import Path
from typing import Any

from tests.cli.book.opened import opened, text

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")


def test_what_a_step_changed_is_told_in_the_unit_of_the_wardrobe(
    trueup: Any, tmp_path: Path
) -> None:
    trueup.made(*SCOOP, "--why", "it binds, 2 mm -> 4 mm")
    changed = trueup.made("history", "--effects", "--json").document["history"][0]
    trueup.made("book", str(tmp_path / "book.html"))
    page = opened(tmp_path / "book.html").page("history")
    step = page.partition("</li>\n<li>\n<h2>")[0]
    listed = re.findall(r"<li>([^<]+)</li>", step)
    told = {each["name"]: each for each in changed["measures"]}
    assert "front.armhole" in told
    for name, mm in told.items():
        (line,) = (each for each in listed if each.startswith(f"{name} "))
        before, after, by = (float(n) for n in re.findall(r"(-?[\d.]+) cm", line.replace("−", "-")))
        assert abs(before * 10 - mm["before_mm"]) <= 0.56
        assert abs(after * 10 - mm["after_mm"]) <= 0.56
        assert abs(after - before - by) < 1e-9
    assert "it binds, 2 mm → 4 mm" in text(step)


def test_what_was_seen_on_a_garment_is_told_in_words(trueup: Any, tmp_path: Path) -> None:
    trueup.made("cut", "blouse", "--name", "tea")
    trueup.made("note", "tea", "neck-gapes", "--place", "front.neck", "--amount", "4mm")
    trueup.made("book", str(tmp_path / "book.html"))
    assert "Note on tea: front neck gapes" in text(opened(tmp_path / "book.html").page("history"))
