"""A word of the command line, a drawing, a fitting: a terminal only shows what is in it."""

from pathlib import Path

import pytest
import tomlkit

from tests.escapes.hostile import TEXTS
from tests.escapes.showing import all_shown, shown
from tests.small_wardrobe import BODY


@pytest.mark.parametrize(
    "words",
    [
        ("{text}",),
        ("tree", "{text}"),
        ("tree", "--{text}"),
        ("tree", "--as-of", "{text}"),
        ("measure", "{text}"),
        ("measure", "blouse", "{text}"),
        ("history", "{text}"),
        ("history", "--since", "{text}"),
        ("explain", "{text}"),
        ("conflicts", "{text}"),
        ("decide", "{text}", "accept"),
        ("garment", "{text}"),
        ("note", "linen", "{text}", "--place", "{text}"),
        ("note", "linen", "other", "--place", "front.armhole", "--photo", "/{text}"),
        ("cut", "vest", "--name", "{text}"),
        ("cut", "vest", "--date", "{text}"),
        ("derive", "{text}", "--from", "village"),
        ("derive", "new", "--from", "{text}"),
        ("derive", "new", "--from", "village:{text}"),
        ("draft", "{text}", *BODY),
        ("draft", "new", *BODY, "--system", "{text}"),
        ("correct", "village", "{text}"),
        ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "{text}"),
        ("correct", "village", "scoop-armhole", "--piece", "{text}", "--by", "2mm"),
        ("correct", "village", "--from", "/{text}"),
        ("trace", "/{text}.svg", "new"),
        ("export", "blouse", "/nosuch/{text}"),
        ("export", "blouse", "/nosuch/{text}.svg"),
        ("sheet", "blouse", "/nosuch/{text}.pdf"),
        ("tree", "--picture", "/nosuch/{text}.svg"),
        ("mend", "{text}"),
        ("resolve", "{text}", "--by", "{text}"),
        ("promote", "blouse", "{text}", "--to", "{text}"),
        ("shared", "linen", "{text}"),
        ("diagnose", "linen", "{text}"),
        ("start", "/nosuch/{text}"),
        ("-C", "/nosuch/{text}", "tree"),
    ],
    ids=" ".join,
)
def test_a_word_of_the_command_line_is_shown_and_not_obeyed(
    folder: Path, words: tuple[str, ...]
) -> None:
    """What follows a slash is a name of a file; a name too long for one is refused as well."""
    at = [] if words[0] in ("-C", "start") else ["-C", str(folder)]
    for text in TEXTS.values():
        shown(*at, *[word.replace("{text}", text.replace("/", "")) for word in words])


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_drawing_is_shown_and_not_obeyed(folder: Path, text: str, tmp_path: Path) -> None:
    """XML itself allows few of these characters; as references of numbers it is asked again."""
    for written in (_escaped(text), "".join(f"&#{ord(each)};" for each in text)):
        drawing = tmp_path / "drawn.svg"
        drawing.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
            f"<title>{written}</title><desc>{written}</desc>"
            f'<path id="{written}" d="M 0 0 L 9 9"/><path id="front.{written}" d="M 0 0 L 9 0"/>'
            f'<path id="front.side" transform="{written}" d="{written}"/></svg>',
            encoding="utf-8",
        )
        shown("-C", str(folder), "trace", str(drawing), "new")
        shown("-C", str(folder), "trace", str(drawing), "new", "--name", f"{text}=front.side")
        shown("-C", str(folder), "trace", str(drawing), "new", "--name", f"a={text}")


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_fitting_is_shown_and_not_obeyed(folder: Path, text: str, tmp_path: Path) -> None:
    for document in (
        {"why": text, "corrections": [{"kind": "scoop-armhole", "piece": "front", "by": "2mm"}]},
        {"corrections": [{"kind": text}]},
        {"corrections": [{"kind": "scoop-armhole", "piece": text, "by": text}]},
        {"corrections": [{"kind": "scoop-armhole", text: text}]},
        {text: text},
    ):
        fitting = tmp_path / f"fitting{text.replace('/', '')[:60]}.toml"
        fitting.write_text(tomlkit.dumps(document), encoding="utf-8")
        shown("-C", str(folder), "correct", "village", "--from", str(fitting))
    all_shown(folder)
