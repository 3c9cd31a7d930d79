"""Pictures on a page: scenes as SVG inside the HTML, and their keys as words beside them."""

from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup

from trueup.cli.drawing.key import KeyEntry, sample_scene
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.terminal.typesetting import typeset

_DECLARATION_ENDS = "?>\n"


def figure(scene: Scene, number: int) -> Markup:
    """Return a picture as HTML; `number` keeps it apart from the others of its page.

    It can be moved about by keyboard where it is wider than the page.
    """
    return Markup('<div class=picture tabindex=0 role=group aria-label="{}">{}</div>').format(
        f"Picture: {typeset(scene.title)}", _drawn(scene, number)
    )


def figure_of_pieces(
    scenes: Sequence[Scene], number: int, title: str, key: Sequence[KeyEntry] = ()
) -> Markup:
    """Return pieces drawn apart, side by side as far as there is room, and their key below."""
    pieces = Markup('<div class="picture pieces" tabindex=0 role=group aria-label="{}">{}</div>')
    drawn = Markup("\n").join(_drawn(scene, number) for scene in scenes)
    return pieces.format(f"Picture: {typeset(title)}", drawn) + key_list(key)


def key_list(key: Sequence[KeyEntry]) -> Markup:
    """Return the key of a picture as a list: a sample of each line or sign, and its words."""
    if not key:
        return Markup("")
    entries = Markup("\n").join(
        Markup("<li>{}{}</li>").format(_sample(entry), typeset(entry.text)) for entry in key
    )
    return Markup("<ul class=key>\n{}\n</ul>").format(entries)


@lru_cache(maxsize=256)
def _sample(entry: KeyEntry) -> Markup:
    """Return a sample, of which the words beside it say all to who has the page read out."""
    drawn = svg_text(sample_scene(entry)).partition(_DECLARATION_ENDS)[2]
    hidden = drawn.replace("<svg ", '<svg aria-hidden="true" focusable="false" ', 1)
    return Markup('<span class="shows {}">{}</span>').format(entry.sample.value, Markup(hidden))


def _drawn(scene: Scene, number: int) -> Markup:
    # The writer escapes every text it writes, so what it wrote is markup.
    return Markup(svg_text(scene, prefix=f"figure-{number}.").partition(_DECLARATION_ENDS)[2])
