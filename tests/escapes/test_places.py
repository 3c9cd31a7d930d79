"""The folder, a version, a setting of git may be called anything: a terminal only shows it."""

from pathlib import Path

import pytest

from tests.escapes.hostile import TEXTS
from tests.escapes.showing import ALL, READING, all_shown, git, shown


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_folder_may_be_called_anything(folder: Path, text: str, tmp_path: Path) -> None:
    place = tmp_path / text.replace("/", "").replace("\0", "")[:60]
    folder.rename(place)
    all_shown(place)
    shown("-C", str(place), "correct", "village", "deepen-dart", "--dart", "front.bust", "--by=1mm")
    (place / "wardrobe.toml").write_text("format = 99\n")
    for words in READING:
        shown("-C", str(place), *words)


def test_names_of_versions_are_shown_and_not_obeyed(folder: Path) -> None:
    head = git(folder, "rev-parse", "HEAD")
    for name in ("\x1b[31mred", "a\u202eb", "x\x9b31m"):
        for kind in ("heads", "tags", "remotes/origin"):
            (folder / ".git" / "refs" / kind).mkdir(parents=True, exist_ok=True)
            (folder / ".git" / "refs" / kind / name).write_text(f"{head}\n")
        for words in READING:
            shown("-C", str(folder), *words)
        shown("-C", str(folder), "mend", name)
        shown("-C", str(folder), "tree", "--as-of", name)
        (folder / ".git" / "HEAD").write_text(f"ref: refs/heads/{name}\n")
        shown("-C", str(folder), "tree")
        shown("-C", str(folder), "style", "vest", "lengthen", "--by", "1mm")
        (folder / ".git" / "HEAD").write_text("ref: refs/heads/main\n")


@pytest.mark.parametrize("section", ["user", "core", "include", "extensions", "\x1b[31m"])
def test_settings_of_git_are_shown_and_not_obeyed(folder: Path, section: str) -> None:
    lines = f'[{section}]\n\tname = "{ALL}"\n\tbare = "{ALL}"\n\tpath = "{ALL}"\n'
    text = lines.replace("\n\u2028", "\\n\u2028").replace("\nRecorded", "\\nRecorded")
    with (folder / ".git" / "config").open("a", encoding="utf-8", newline="") as config:
        config.write(text)
    for words in (*READING[:4], ("style", "vest", "lengthen", "--by", "1mm")):
        shown("-C", str(folder), *words)
