"""Pictures on a page: scenes as SVG inside the HTML, and their keys as words beside them."""

from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup, escape

from trueup.cli.drawing.key import KeyEntry, sample_scene
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_element
from trueup.cli.terminal.typesetting import typeset

_UNSPOKEN = ' aria-hidden="true" focusable="false"'


def figure(scene: Scene, called: int | str) -> Markup:
    """Return a picture as HTML; what it is `called` keeps it apart from the others of its page.

    It can be moved about by keyboard where it is wider than the page.
    """
    return _picture("picture", scene.title, _drawn(scene, called))


def figure_of_pieces(
    scenes: Sequence[Scene], number: int, title: str, key: Sequence[KeyEntry] = ()
) -> Markup:
    """Return pieces drawn apart, side by side as far as there is room, and their key below."""
    drawn = "\n".join(_drawn(scene, number) for scene in scenes)
    return _picture('"picture pieces"', title, drawn) + key_list(key)


def key_list(key: Sequence[KeyEntry]) -> Markup:
    """Return the key of a picture as a list: a sample of each line or sign, and its words."""
    if not key:
        return Markup("")
    entries = "\n".join(_listed(entry) for entry in key)
    return Markup(f"<ul class=key>\n{entries}\n</ul>")


@lru_cache(maxsize=256)
def _listed(entry: KeyEntry) -> str:
    """Return a sample and its words, which say all to who has the page read out."""
    hidden = svg_element(sample_scene(entry), attributes=_UNSPOKEN)
    shows = f'<span class="shows {entry.sample.value}">{hidden}</span>'
    return f"<li>{shows}{escape(typeset(entry.text))}</li>"


def _picture(kind: str, title: str, drawn: str) -> Markup:
    """Return what was drawn as a picture of a kind, with its title."""
    label = escape(f"Picture: {typeset(title)}")
    return Markup(f'<div class={kind} tabindex=0 role=group aria-label="{label}">{drawn}</div>')


def _drawn(scene: Scene, called: int | str) -> str:
    # The writer escapes every text it writes, so what it wrote is markup.
    return svg_element(scene, prefix=f"figure-{called}.")
